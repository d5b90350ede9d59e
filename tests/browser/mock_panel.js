// A panel for the mock server: points, wires and channels of a netlist folder, and the plan of GD1.
import { readFileSync } from 'node:fs';
import { join } from 'node:path';

const conducting = /^(terminal|pe-terminal|disconnect|fuse|breaker|isolator|plug|contact-nc|path|resistor)$/;
const sided = /^(terminal|pe-terminal|disconnect|fuse|plug)$/;

/** The rows of a CSV file as objects; quoted fields may hold commas, not line ends. */
function rows(folder, name) {
  const lines = readFileSync(join(folder, name), 'utf8')
    .split(/\r?\n/)
    .filter(Boolean)
    .map((line) =>
      [...line.matchAll(/("(?:[^"]|"")*"|[^,]*)(?:,|$)/g)].map((field) =>
        field[1].replace(/^"|"$/g, '').replaceAll('""', '"'),
      ),
    );
  const [header, ...rest] = lines;
  return rest.map((fields) => Object.fromEntries(header.map((column, at) => [column, fields[at] ?? ''])));
}

export class Panel {
  constructor(folder) {
    this.plan = JSON.parse(readFileSync(new URL('gd1_plan.json', import.meta.url), 'utf8'));
    const about = Object.fromEntries(rows(folder, 'panel.csv').map((row) => [row.key, row.value]));
    this.name = about.panel;
    this.revision = about.revision;
    this.meters = rows(folder, 'meters.csv').map((row) => row.meter);
    this.sheets = new Map();
    this.joined = new Map();
    const strips = new Set();
    for (const part of rows(folder, 'parts.csv')) {
      const between = sided.test(part.kind) && part.a === 'int' ? '.' : ':';
      if (between === '.') strips.add(part.part);
      const ends = [part.a, part.b].filter(Boolean).map((end) => part.part + between + end);
      ends.forEach((end) => this.#add(end, part.sheet));
      if (conducting.test(part.kind) && ends.length === 2) this.#join(...ends);
    }
    const whole = (point) => (strips.has(point) ? `${point}.int` : point);
    this.whole = whole;
    this.wires = rows(folder, 'conductors.csv').map((row) => ({
      ...row,
      from: whole(row.from),
      to: whole(row.to),
    }));
    for (const wire of this.wires) {
      this.#add(wire.from, wire.sheet);
      this.#add(wire.to, wire.sheet);
      this.#join(wire.from, wire.to);
    }
    this.channels = rows(folder, 'channels.csv');
    this.channels.forEach((channel) => this.#add(channel.point, ''));
  }

  #add(point, sheet) {
    if (!this.sheets.get(point)) this.sheets.set(point, sheet);
    if (!this.joined.has(point)) this.joined.set(point, point);
  }

  #net(point) {
    let net = point;
    while (this.joined.get(net) !== net) net = this.joined.get(net);
    return net;
  }

  #join(one, other) {
    this.#add(one, '');
    this.#add(other, '');
    this.joined.set(this.#net(one), this.#net(other));
  }

  /** The point's whole name, or null where the drawing lacks it. */
  point(typed) {
    const bare = this.whole(typed.slice(typed.indexOf('@') + 1));
    return this.joined.has(bare) ? bare : null;
  }

  /** The same for the same points under the same conditions, whichever way the probes were held. */
  key({ from, to, conditions }) {
    return [
      ...[from, to].map((point) => (point.includes('@') ? point : this.point(point))).sort(),
      conditions ?? '',
    ].join('|');
  }

  planned(reading) {
    return this.plan.find((one) => this.key(one) === this.key(reading));
  }

  expected(reading) {
    const planned = this.planned(reading);
    if (planned) return planned.expect;
    return this.#net(this.point(reading.from)) === this.#net(this.point(reading.to)) ? 'beep' : 'open';
  }

  place(point) {
    const at = this.point(point) ?? point;
    const numbers = this.wires
      .filter((wire) => wire.wire && (wire.from === at || wire.to === at))
      .map((wire) => `wire ${wire.wire}`);
    return [...numbers.slice(0, 2), `sheet ${this.sheets.get(at) || '?'}`].join(', ');
  }

  search(text) {
    const part = text.toLowerCase();
    const found = (name) => name.toLowerCase().includes(part);
    const channels = this.channels
      .filter((one) => found(one.tag) || found(one.address) || found(one.point))
      .map((one) => ({
        kind: 'channel',
        name: one.tag,
        text: `${one.point} ${one.address} ${one.text}`,
        sheet: '',
        points: [one.point, one.field].filter(Boolean),
      }));
    const wires = this.wires
      .filter((wire) => wire.wire === text)
      .map((wire) => ({
        kind: 'wire',
        name: wire.wire,
        text: `${wire.from} to ${wire.to}`,
        sheet: wire.sheet,
        points: [wire.from, wire.to],
      }));
    const points = [...this.joined.keys()]
      .filter(found)
      .sort((one, other) => one.length - other.length)
      .map((point) => ({
        kind: 'point',
        name: point,
        text: this.place(point),
        sheet: this.sheets.get(point),
        points: [point],
      }));
    return [...wires, ...points.slice(0, 12), ...channels].slice(0, 20);
  }
}
