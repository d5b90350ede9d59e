// A job for the mock server: what was posted, in a file of one entry a line, and the state it gives.
import { appendFileSync, readFileSync } from 'node:fs';
import { basename } from 'node:path';
import { Panel } from './mock_panel.js';

const conditionWords = (conditions) =>
  conditions
    .split('; ')
    .map((one) =>
      one.replace(/^(.*)=unplugged$/, 'unplug $1').replace(/^(.*)@(.*)=lifted$/, 'lift conductor $1 at $2'),
    )
    .join('; ');

export class Refusal extends Error {
  constructor(status, text, more = {}) {
    super(text);
    this.status = status;
    this.error = { text, found: '', expected: '', nearest: [], ...more };
  }
}

export class Job {
  version = 0;
  readings = [];
  again = new Set(); // ids of readings made stale by a repair
  changes = [];
  #texts = new Map();

  constructor(file) {
    this.file = file;
    const [head, ...entries] = readFileSync(file, 'utf8')
      .split('\n')
      .filter(Boolean)
      .map((line) => JSON.parse(line));
    this.panel = new Panel(head.netlist);
    for (const { path, body } of entries) this.#apply(path, body);
  }

  /** Takes what was posted: {status, answer}; throws a Refusal. */
  post(path, body) {
    const text = JSON.stringify([path, body]);
    const before = this.#texts.get(body.id);
    if (before && before !== text) throw new Refusal(409, `The id ${body.id} is taken by something else.`);
    if (before) return { status: 200, answer: this.#answer(path, body) };
    this.#check(path, body);
    appendFileSync(this.file, `${JSON.stringify({ path, body })}\n`);
    const answer = this.#apply(path, body);
    this.version += 1;
    return { status: 201, answer };
  }

  #check(path, body) {
    if (!body.id || !body.time) throw new Refusal(422, 'An id and a time are needed.');
    if (path === 'readings') {
      for (const point of [body.from, body.to]) {
        if (!this.panel.point(point))
          throw new Refusal(422, `No point "${point}" in the drawing.`, {
            found: point,
            expected: 'a point of GD1',
            nearest: [`${point}1`],
          });
      }
      if (!/^(beep|open|OL|[\d.]+[kM]?)$/.test(body.value))
        throw new Refusal(422, `"${body.value}" is no value.`);
    }
    if (path === 'repairs' && !this.findings().some((one) => one.key === body.finding))
      throw new Refusal(409, 'This finding is gone.');
  }

  #apply(path, body) {
    this.#texts.set(body.id, JSON.stringify([path, body]));
    if (path === 'readings' || path === 'withdrawals') {
      const before = this.readings.find((row) => row.id === body.supersedes);
      if (before) before.superseded_by = body.id;
      const row = path === 'readings' ? body : { ...before, ...body, value: '' };
      for (const old of this.readings)
        if (this.panel.key(old) === this.panel.key(row)) this.again.delete(old.id);
      this.readings.push({ conditions: '', meter: '', note: '', supersedes: '', superseded_by: '', ...row });
    }
    if (path === 'repairs')
      this.findings()
        .find((one) => one.key === body.finding)
        ?.rows.forEach((row) => this.again.add(row.id));
    if (path === 'changes') {
      if (body.kind === 'temporary-made') this.changes.push(body);
      else
        this.changes = this.changes.filter(
          (one) => one.points.join() !== body.points.join() || one.text !== body.text,
        );
    }
    return this.#answer(path, body);
  }

  #answer(path, body) {
    if (path === 'readings') {
      const expect = this.panel.expected(body);
      return {
        id: body.id,
        standing: this.#judge(body),
        words: `read ${body.value}, drawn ${expect === 'beep' ? 'a beep' : 'no beep'}`,
      };
    }
    const rows = this.readings.filter((row) => this.again.has(row.id));
    return path === 'repairs'
      ? { id: body.id, points: rows.map((row) => row.from), again: rows.length }
      : { id: body.id };
  }

  #judge(row) {
    const beeps = row.value === 'beep' || (/^[\d.]+$/.test(row.value) && Number(row.value) < 30);
    return beeps === (this.panel.expected(row) === 'beep') ? 'agrees' : 'disagrees';
  }

  standing(row) {
    if (row.superseded_by || !row.value) return '';
    if (
      this.readings.some(
        (later) =>
          later !== row &&
          this.panel.key(later) === this.panel.key(row) &&
          later.value &&
          !later.superseded_by &&
          this.readings.indexOf(later) > this.readings.indexOf(row) &&
          this.#judge(row) !== this.#judge(later),
      )
    )
      return 'stale';
    return this.again.has(row.id) ? 'stale' : this.#judge(row);
  }

  /** Two neighbours of one strip that both read open are a swap; any other contradiction stands alone. */
  findings() {
    const wrong = this.readings.filter((row) => this.standing(row) === 'disagrees');
    const terminal = (row) => [row.from, row.to].map((point) => /^(X\d+):(\d+)/.exec(point)).find(Boolean);
    const found = [];
    const used = new Set();
    for (const row of wrong) {
      if (used.has(this.panel.key(row))) continue;
      const at = terminal(row);
      const other =
        at &&
        wrong.find(
          (one) => one !== row && terminal(one)?.[1] === at[1] && Math.abs(terminal(one)[2] - at[2]) === 1,
        );
      const rows = wrong.filter(
        (one) =>
          this.panel.key(one) === this.panel.key(row) ||
          (other && this.panel.key(one) === this.panel.key(other)),
      );
      rows.forEach((one) => used.add(this.panel.key(one)));
      found.push(this.#finding(rows, other, found.length + 1));
    }
    return found;
  }

  #finding(rows, swapped, number) {
    const [row] = rows;
    const wire = (one) =>
      this.panel.planned(one)?.proves.find((name) => /^\d+$/.test(name)) ??
      this.panel.place(one.to).replace(/wire (\w+).*/, '$1');
    const text = swapped
      ? `Wires ${wire(row)} and ${wire(swapped)} are exchanged at ${row.from} and ${swapped.from}.`
      : `Wire ${wire(row)} does not conduct between ${row.from} and ${row.to}: missing, broken, or loose at a clamp.`;
    return {
      key: `${swapped ? 's' : 'o'}${rows.map((one) => one.id).join('-')}`,
      number,
      text,
      rows,
      action: swapped
        ? `Exchange the two, then read both again.`
        : `Check both clamps first, then read ${row.from} to ${row.to} again.`,
      probability: swapped ? 0.93 : 0.62,
      others: swapped ? 1 : 3,
      readings: rows.map(
        (one) => `${one.id}: ${one.from} to ${one.to} read ${one.value}, drawn ${this.panel.expected(one)}`,
      ),
      next: swapped ? '' : `Next: read ${row.to} to ${row.from} again; a beep means a loose clamp.`,
      repairable: true,
    };
  }

  row(row) {
    return { ...row, standing: this.standing(row) };
  }

  #next() {
    const current = this.readings.filter((row) => row.value && !row.superseded_by);
    const taken = new Set(current.map((row) => this.panel.key(row)));
    const ask = (reading, why) => ({
      from: reading.from,
      to: reading.to,
      conditions: reading.conditions ?? '',
      method: 'beep',
      why,
      finding: null,
      condition_words: reading.conditions ? conditionWords(reading.conditions) : 'at rest',
      to_do: reading.conditions ? conditionWords(reading.conditions) : '',
      expect: this.panel.expected(reading),
      from_place: this.panel.place(reading.from),
      to_place: this.panel.place(reading.to),
      proves: (reading.proves ?? [])
        .slice(0, 3)
        .map((name) => (/^\d+$/.test(name) ? `wire ${name}` : name))
        .join(', '),
    });
    return [
      ...current
        .filter((row) => this.again.has(row.id))
        .map((row) => ask({ ...this.panel.planned(row), ...row }, 'again')),
      ...this.panel.plan
        .filter((reading) => !taken.has(this.panel.key(reading)))
        .map((reading) => ask(reading, 'plan')),
    ].slice(0, 40);
  }

  channels() {
    const findings = this.findings();
    return this.panel.channels.map(({ point, type, address, tag, text, field }) => {
      const about = this.readings.filter(
        (row) => row.value && !row.superseded_by && [row.from, row.to].includes(point),
      );
      const wrong = findings.filter((finding) =>
        finding.rows.some((row) => [row.from, row.to].includes(point)),
      );
      const proven = about.some((row) => this.standing(row) === 'agrees');
      return {
        point,
        type,
        address,
        tag,
        text,
        state: wrong.length ? 'faulty' : proven ? 'proven' : 'unproven',
        isolated: proven,
        unproven: proven ? [] : [`terminal ${field.split('.')[0]}`],
        findings: wrong.map((finding) => finding.number),
      };
    });
  }

  state() {
    const rows = this.readings.filter((row) => row.value && !row.superseded_by);
    const channels = this.channels();
    const count = (standing) => rows.filter((row) => this.standing(row) === standing).length;
    return {
      version: this.version,
      now: new Date().toISOString(),
      panel: this.panel.name,
      revision: this.panel.revision,
      job: basename(this.file),
      counts: {
        readings: rows.length,
        agree: count('agrees'),
        disagree: count('disagrees'),
        either: 0,
        unknown: 0,
        stale: count('stale'),
        unstable: 0,
        planned: this.panel.plan.length,
        planned_done: this.panel.plan.filter((one) =>
          rows.some((row) => this.panel.key(row) === this.panel.key(one)),
        ).length,
        channels: channels.length,
        channels_proven: channels.filter((one) => one.state === 'proven').length,
        channels_faulty: channels.filter((one) => one.state === 'faulty').length,
      },
      next: this.#next(),
      findings: this.findings().map(({ rows: _, ...finding }) => finding),
      open_changes: this.changes,
      last: this.readings
        .slice(-12)
        .reverse()
        .map((row) => this.row(row)),
      meters: this.panel.meters,
      cautions: [
        'Prove the panel dead before continuity tests.',
        'A jumper is an insulated, fused test lead.',
        'Local codes, the site’s isolation procedure and licensed persons decide.',
      ],
    };
  }
}
