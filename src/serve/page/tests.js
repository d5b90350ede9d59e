// The I/O tests as the job has them, and what waits here to be sent.
import { settings } from './settings.js';
import { ask } from './link.js';
import { isRefused, nameOf, stepsOf } from './test_steps.js';

const bounce = 300; // ms in which a second answer can only be a bouncing switch

/** Dispatches `change`, and `said` with `event.detail`. */
export class Tests extends EventTarget {
  all = [];
  cautions = [];
  trouble = '';
  shown = null; // point of the channel shown
  #answers = {}; // to the steps of the channel shown
  #word = new Set(); // points whose jumper is offered on the tester's word
  #mine = []; // results logged here that can be withdrawn, oldest first
  #known = null; // ids of results seen
  #answeredAt = -bounce;

  constructor(bench) {
    super();
    this.bench = bench;
    bench.addEventListener('result', ({ detail: { item, answer } }) => {
      const test = this.all.find((one) => one.point === answer.channel);
      const why = answer.words ? `: ${answer.words}` : '';
      const name = test ? nameOf(test) : item.body.channel;
      this.#say(`${name}: ${answer.shown || answer.verdict}${why}`, answer.verdict === 'fail');
    });
    bench.addEventListener('change', () => this.#tell());
  }

  get test() {
    return this.all.find((one) => one.point === this.shown) ?? null;
  }

  /** The step that is asked now, or null. */
  get step() {
    if (!this.test || this.isOnHold) return null;
    return stepsOf(this.test).find((step) => !(step.field in this.#answers)) ?? null;
  }

  get isOnHold() {
    return this.test?.answer === 'hold' && !this.#word.has(this.shown);
  }

  /** What was answered so far, in words. */
  get answered() {
    return stepsOf(this.test)
      .filter((step) => step.field in this.#answers)
      .map((step) => {
        const value = this.#answers[step.field];
        const choice = [step.left, step.right].find(([one]) => one === value);
        return `${step.words}, ${step.ask.toLowerCase()}: ${choice ? choice[1].toLowerCase() : 'not looked'}`;
      });
  }

  get canUndo() {
    return Object.keys(this.#answers).length > 0 || this.#mine.length > 0;
  }

  /** "pass", "not tested", "waiting"... */
  shownOf(test) {
    const waits = this.bench.outbox
      .waiting()
      .some((item) => item.path === 'results' && item.body.channel === test.point);
    return waits ? 'waiting' : test.shown;
  }

  async load() {
    try {
      const { tests, cautions } = await ask('tests');
      this.all = tests;
      this.cautions = cautions;
      this.trouble = '';
      this.#news();
      if (!this.test) this.shown = this.#following(null);
    } catch {
      this.trouble = 'The job is not reached; this may be out of date.';
    }
    this.#tell();
  }

  show(point) {
    this.shown = point;
    this.#answers = {};
    this.#tell();
  }

  skip() {
    if (this.test) this.show(this.#following(this.shown));
  }

  /** The tester takes it on themselves that the jumper is on hold; their name stands in the record. */
  offer() {
    if (!this.isOnHold) return;
    this.#word.add(this.shown);
    this.#tell();
  }

  /** `side` is "left", "right", or "none" for what was not looked at; false if a switch bounced. */
  answer(side, more = {}) {
    const { step } = this;
    const isBounce = performance.now() - this.#answeredAt < bounce;
    if (!step || isBounce || (side === 'none' && !step.none)) return false;
    this.#answeredAt = performance.now();
    this.#answers[step.field] = side === 'none' ? '' : step[side][0];
    if (this.step) this.#tell();
    else this.log({ ...this.#answers, ...more });
    return true;
  }

  /** Logs a result of the channel shown; goes on to the next channel unless it stays. */
  log(seen, { stays = false } = {}) {
    const said = Object.fromEntries(Object.entries(seen).filter(([, value]) => value !== ''));
    const word = this.test.answer === 'hold' ? { unproven: settings.name } : {};
    const { id } = this.bench.test({ channel: this.shown, ...said, ...word });
    this.#mine.push({ id, point: this.shown });
    this.#known?.add(id);
    if (stays) this.#tell();
    else this.skip();
  }

  /** One step back, or else the last result is withdrawn. */
  undo() {
    const fields = Object.keys(this.#answers);
    if (fields.length > 0) {
      delete this.#answers[fields.at(-1)];
      this.#tell();
      return;
    }
    const last = this.#mine.pop();
    if (!last) return;
    this.bench.withdrawResult(last.id);
    this.show(last.point);
    this.#say(`Withdrawn: the last result of ${nameOf(this.test)}.`);
  }

  withdraw(id) {
    this.#mine = this.#mine.filter((one) => one.id !== id);
    this.bench.withdrawResult(id);
    this.#tell();
  }

  /** The next channel that has a test and no result of this revision, in the order of the list and round. */
  #following(point) {
    const at = this.all.findIndex((test) => test.point === point);
    const round = [...this.all.slice(at + 1), ...this.all.slice(0, at + 1)];
    const open = round.filter((test) => test.point !== point);
    const isOpen = (test) => ['not tested', 'other revision'].includes(this.shownOf(test)) && !isRefused(test);
    const next = open.find(isOpen) ?? open[0];
    return next?.point ?? point;
  }

  /** Results of others are told; nothing of the first load is new. */
  #news() {
    const rows = this.all.flatMap((test) => test.results.map((row) => ({ test, row })));
    for (const { test, row } of rows) {
      if (this.#known && !this.#known.has(row.id) && !this.bench.outbox.made(row.id))
        this.#say(`${row.by}: ${nameOf(test)} ${row.shown}`);
    }
    this.#known = new Set([...(this.#known ?? []), ...rows.map(({ row }) => row.id)]);
  }

  #say(text, isFailed = false) {
    this.dispatchEvent(new CustomEvent('said', { detail: { text, isFailed } }));
  }

  #tell() {
    this.dispatchEvent(new CustomEvent('change'));
  }
}
