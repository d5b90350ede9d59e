// What the page knows: the job's state, what waits to be sent, and which reading stands under the probes.
import { settings } from './settings.js';
import { inOrder, keyOf, samePoints, touches } from './order.js';
import { Outbox } from './outbox.js';
import { listen } from './link.js';

const settling = 1500; // ms in which a reading just shown may still give way: no probe is on its points yet
const bounce = 300; // ms in which a second answer can only be a bouncing switch
const repairing = 10_000; // ms in which what a repair asks for may come first: the finger was on the screen
const unseen = 5000; // ms after which a reading the job took need not be hidden any more

/** Dispatches `change`, `contradiction`, `finding`, `others`, `note`, `next`; details in `event.detail`. */
export class Bench extends EventTarget {
  state = null;
  trouble = '';
  shown = null; // the reading asked for: one of State.next, or one's own with `pinned`
  previous = null; // what was taken last on this page
  #shownAt = 0;
  #answeredAt = -bounce;
  #ahead = 0; // ms by which the job's clock is ahead of the device's
  #start = '';
  #skipped = [];
  #mine = []; // readings logged here that can be undone, oldest first
  #settled = new Map(); // id -> {key, at}: taken by the job, not yet seen in a state
  #outdated = 0; // readings that revisions of the netlist have made stale
  #rows = new Map(); // id -> standing as last seen
  #findings = new Set();

  constructor() {
    super();
    this.outbox = new Outbox({
      job: () => this.state?.job_id ?? '',
      name: () => (this.state ? `${this.state.panel}, ${this.state.job}` : ''),
      changed: () => this.#tell('change'),
      taken: (item, answer) => this.#taken(item, answer),
      refused: (item, error) => this.#refused(item, error),
      contact: (trouble) => this.#contact(trouble),
    });
    listen(
      (state) => this.#take(state),
      (trouble) => this.#contact(trouble),
    );
  }

  /** What this page would take, in order, the one shown included. */
  get order() {
    return this.state ? inOrder(this.state.next, this.#takenKeys(), this.#skipped, this.#start) : [];
  }

  /** A reading that stands before the one shown, which is held because the probes may be on its points. */
  get due() {
    const first = this.order[0];
    return first && first.why !== 'plan' && this.shown && keyOf(first) !== keyOf(this.shown) ? first : null;
  }

  /** The reading that undo() would withdraw, or null. */
  get last() {
    return this.#mine.at(-1) ?? null;
  }

  get #meter() {
    const meters = this.state?.meters ?? [];
    return meters.includes(settings.meter) ? settings.meter : (meters[0] ?? '');
  }

  /** By the clock of the job, so that all tablets agree. */
  time() {
    return new Date(Date.now() + this.#ahead).toISOString();
  }

  /** Logs the answer for the reading shown; false if there is none, or if a switch bounced. */
  answer(value) {
    if (!this.shown || !settings.name || performance.now() - this.#answeredAt < bounce) return false;
    this.#answeredAt = performance.now();
    const asked = this.shown;
    this.#start = this.#following(asked);
    const reading = this.outbox.add('readings', {
      from: asked.from,
      to: asked.to,
      value,
      conditions: asked.conditions ?? '',
      by: settings.name,
      time: this.time(),
      meter: this.#meter,
      note: '',
      ...(asked.supersedes ? { supersedes: asked.supersedes } : {}),
    });
    this.#rows.set(reading.id, '');
    this.#mine = this.#mine.filter((one) => one.id !== asked.supersedes).concat({ ...reading, asked });
    this.previous = asked;
    this.#tell('answered', { reading, asked });
    this.#show(this.order[0] ?? null);
    return true;
  }

  skip() {
    if (!this.shown) return;
    const key = keyOf(this.shown);
    this.#start = this.#following(this.shown);
    if (!this.shown.pinned) this.#skipped = this.#skipped.filter((one) => one !== key).concat(key);
    this.#show(this.order[0] ?? null);
  }

  undo() {
    const last = this.#mine.pop();
    if (!last) return;
    this.withdraw(last.id);
    const asked = last.asked ?? { from: last.from, to: last.to, conditions: last.conditions, why: 'own' };
    this.show({ ...asked, supersedes: undefined, pinned: true });
    this.#tell('note', { text: `Withdrawn: ${last.from} to ${last.to}.` });
  }

  withdraw(id) {
    this.#mine = this.#mine.filter((one) => one.id !== id);
    this.#settled.delete(id);
    this.outbox.add('withdrawals', { supersedes: id, by: settings.name, time: this.time() });
  }

  /** "Moved as proposed": what is to be read again then stands first. */
  repair(finding) {
    this.outbox.add('repairs', { finding: finding.key, by: settings.name, time: this.time() });
    this.#show(this.order[0] ?? null);
    this.#shownAt += repairing - settling;
  }

  change(kind, points, text) {
    this.outbox.add('changes', { kind, points, text, by: settings.name, time: this.time() });
  }

  /** Logs what a channel showed. */
  test(seen) {
    const who = { by: settings.name, time: this.time(), meter: this.#meter };
    return this.outbox.add('results', { ...seen, ...who });
  }

  withdrawResult(id) {
    this.outbox.add('result-withdrawals', { supersedes: id, by: settings.name, time: this.time() });
  }

  /** Puts a reading under the probes by the person's own act; it stays until it is answered or skipped. */
  show(reading) {
    this.#show(reading);
    this.#shownAt = -settling;
  }

  /** Goes on in the plan with the first reading that touches this part; false if none of those known does. */
  goOn(part) {
    const found = this.order.find((reading) => touches(reading, part));
    if (!found) return false;
    const key = keyOf(found);
    this.#skipped = this.#skipped.filter((one) => one !== key);
    if (found.why === 'plan') this.#start = key;
    this.show(found);
    return true;
  }

  /** Keys of the plan as this page goes through it. */
  #plan() {
    return this.order
      .filter((reading) => reading.why === 'plan')
      .map(keyOf)
      .filter((key) => !this.#skipped.includes(key));
  }

  #following(asked) {
    const plan = this.#plan();
    const at = plan.indexOf(keyOf(asked));
    return at < 0 ? this.#start : plan[(at + 1) % plan.length];
  }

  #show(reading) {
    this.shown = reading;
    this.#shownAt = performance.now();
    this.#tell('change');
    if (reading) this.#tell('next', { reading });
  }

  /** Which readings are taken though the job's list may still ask for them. */
  #takenKeys() {
    const waiting = this.outbox.waiting();
    const withdrawn = new Set(
      waiting.filter((item) => item.path === 'withdrawals').map((item) => item.body.supersedes),
    );
    const taken = waiting
      .filter((item) => item.path === 'readings' && !withdrawn.has(item.id))
      .map((item) => keyOf(item.body));
    return new Set([...taken, ...[...this.#settled.values()].map((one) => one.key)]);
  }

  #take(state) {
    const first = this.state === null;
    const before = this.#plan();
    this.state = state;
    const plan = new Set(this.#plan());
    if (!plan.has(this.#start)) this.#start = before.find((key) => plan.has(key)) ?? '';
    this.#ahead = Date.parse(state.now) - Date.now();
    const asked = new Set(state.next.map(keyOf));
    this.#skipped = this.#skipped.filter((key) => asked.has(key));
    const seen = new Set(state.last.map((row) => row.id));
    for (const [id, one] of this.#settled) {
      if (!asked.has(one.key) || seen.has(id) || performance.now() - one.at > unseen)
        this.#settled.delete(id);
    }
    if (first) this.#remember();
    this.#news(first);
    this.#settle();
    this.outbox.send();
  }

  /** After the page was loaded anew, what this person logged before can still be undone. */
  #remember() {
    const waiting = this.outbox.waiting();
    const gone = new Set(waiting.map((item) => item.body.supersedes));
    this.#mine = this.state.last
      .filter((row) => row.by === settings.name && row.value && !row.superseded_by)
      .reverse()
      .concat(waiting.filter((item) => item.path === 'readings').map((item) => item.body))
      .filter((row) => !gone.has(row.id));
    waiting.forEach((item) => this.#rows.set(item.id, ''));
  }

  /** What is new in a state is told; nothing of the first one is new. */
  #news(first) {
    const { outdated } = this.state.counts;
    if (!first && outdated > this.#outdated)
      this.#tell('revised', { revision: this.state.revision, readings: outdated - this.#outdated });
    this.#outdated = outdated;
    for (const row of [...this.state.last].reverse()) {
      const before = this.#rows.get(row.id);
      this.#rows.set(row.id, row.standing);
      if (first) continue;
      const own = before !== undefined || this.outbox.made(row.id);
      if (!own) this.#tell('others', { row });
      if (row.standing === 'disagrees' && before !== 'disagrees') {
        this.#tell('contradiction', {
          text: `${row.from} to ${row.to}`,
          words: `read ${row.value}`,
          by: row.by === settings.name ? '' : row.by,
        });
      }
    }
    for (const finding of this.state.findings) {
      const known = this.#findings.has(finding.text);
      this.#findings.add(finding.text);
      if (!first && !known) this.#tell('finding', { finding });
    }
    const open = new Set(this.state.findings.map((finding) => finding.text));
    this.#findings.forEach((text) => open.has(text) || this.#findings.delete(text));
  }

  /** The reading shown is held: it gives way only while no probe can be on its points yet. */
  #settle() {
    const { order, shown } = this;
    const fresh = performance.now() - this.#shownAt < settling;
    const now = shown && order.find((reading) => keyOf(reading) === keyOf(shown));
    if (shown?.pinned) return this.#tell('change');
    if (!shown || (fresh && (!now || order[0].why !== 'plan') && order[0] !== now))
      return this.#show(order[0] ?? null);
    this.shown = now ?? {
      ...shown,
      gone: this.state.last.find((row) => row.value && samePoints(row, shown)) ?? true,
    };
    return this.#tell('change');
  }

  #judged(reading, { standing, words }) {
    this.#settled.set(reading.id, { key: keyOf(reading), at: performance.now() });
    const text = `${reading.from} to ${reading.to}`;
    if (standing !== 'disagrees') {
      if (standing !== 'agrees') this.#tell('note', { text: `${text}: ${words}` });
      return;
    }
    if (this.#rows.get(reading.id) !== 'disagrees') this.#tell('contradiction', { text, words, by: '' });
    this.#rows.set(reading.id, 'disagrees');
  }

  #taken(item, answer) {
    if (item.path === 'readings') this.#judged(item.body, answer);
    if (item.path === 'results') this.#tell('result', { item, answer });
    if (item.path === 'repairs') {
      const again = answer.again === 1 ? '1 reading' : `${answer.again} readings`;
      this.#tell('note', { text: `Repair logged: ${again} to be taken again.` });
    }
    this.#tell('change');
  }

  #refused(item, error) {
    this.#mine = this.#mine.filter((one) => one.id !== item.id);
    this.#tell('note', { text: `Not taken by the job: ${error.text}` });
    this.#tell('change');
  }

  #contact(trouble) {
    const regained = this.trouble && !trouble;
    if (this.trouble !== trouble) {
      this.trouble = trouble;
      this.#tell('change');
    }
    if (regained) this.outbox.send();
  }

  #tell(type, detail) {
    this.dispatchEvent(new CustomEvent(type, { detail }));
  }
}
