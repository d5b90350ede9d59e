// What was logged here and isn't yet acknowledged by the job. It is written down before it is sent, one entry of
// localStorage for each, so that pages of one browser never overwrite each other's. Every page sends whatever
// waits, oldest first: an entry sent twice has the same id and the same text, which the job takes once. So a page
// that is gone needs no heir.
import { kept } from './kept.js';

const later = new Set([401, 403, 404, 408, 425, 429]);
const longestPause = 15_000;

export class Outbox {
  #session = Array.from(crypto.getRandomValues(new Uint8Array(6)), (byte) => (byte % 36).toString(36)).join(
    '',
  );
  #count = 0;
  #sending = false;
  #timer = 0;
  #pause = 500;

  /**
   * `heard` has job(), the id of the job now reached or "", and name(), what people call it; it hears changed(),
   * taken(item, answer), refused(item, error) and contact(trouble).
   */
  constructor(heard) {
    this.heard = heard;
    window.addEventListener('storage', () => heard.changed());
  }

  /** Keeps `body` for `path` and returns it with its new id. */
  add(path, body) {
    this.#count += 1;
    const whole = { id: `${this.#session}-${this.#count}`, ...body };
    const order = Math.max(0, ...this.#entries('out.').map((item) => item.order)) + 1;
    kept.set(`out.${whole.id}`, {
      id: whole.id,
      order,
      job: this.heard.job(),
      name: this.heard.name(),
      path,
      text: JSON.stringify(whole),
    });
    this.heard.changed();
    this.send();
    return whole;
  }

  /** Whether this page gave that id. */
  made(id) {
    return id.startsWith(`${this.#session}-`);
  }

  /** What waits for this job, oldest first; `body` is what was logged. */
  waiting() {
    return this.#entries('out.').filter((item) => item.job === this.heard.job());
  }

  /** What waits for another job that this browser had served from the same address. */
  elsewhere() {
    return this.#entries('out.').filter((item) => item.job !== this.heard.job());
  }

  /** What the job did not take; each has `error`. */
  refused() {
    return this.#entries('refused.');
  }

  /** Takes an entry off the list of what was refused. */
  dismiss(id) {
    kept.remove(`refused.${id}`);
    this.heard.changed();
  }

  /** Sends at once what waits; called whenever there is reason to hope. */
  async send() {
    if (this.#sending || this.heard.job() === '') return;
    this.#sending = true;
    clearTimeout(this.#timer);
    for (let item = this.waiting()[0]; item; item = this.waiting()[0]) {
      const pause = await this.#try(item);
      if (pause === 0) continue;
      this.#timer = setTimeout(() => this.send(), pause);
      break;
    }
    this.#sending = false;
  }

  /** Resolves to 0 when the entry is off the list, otherwise to the milliseconds until the next try. */
  async #try(item) {
    let answer;
    let content;
    try {
      const stop = new AbortController();
      const clock = setTimeout(() => stop.abort(), 10_000);
      answer = await fetch(item.path, {
        method: 'POST',
        headers: { 'Content-Type': 'application/json' },
        body: item.text,
        redirect: 'error',
        signal: stop.signal,
      });
      content = await answer.json();
      clearTimeout(clock);
    } catch {
      // No answer, or one that isn't the job's: a sign-in page of the Wi-Fi, a proxy's error.
      return this.#wait('no answer');
    }
    if (
      answer.ok &&
      content &&
      (content.id === item.id || (content.id === undefined && item.path !== 'readings'))
    ) {
      kept.remove(`out.${item.id}`);
      this.#pause = 500;
      this.heard.contact('');
      this.heard.taken(item, content);
      return 0;
    }
    const error = content?.error;
    if (!error || answer.status >= 500 || later.has(answer.status)) {
      return this.#wait(error?.text ?? 'no answer', 1000 * Number(answer.headers.get('Retry-After')));
    }
    kept.set(`refused.${item.id}`, { ...item, body: undefined, status: answer.status, error });
    kept.remove(`out.${item.id}`);
    this.heard.contact('');
    this.heard.refused(item, error);
    return 0;
  }

  #wait(trouble, asked = 0) {
    this.#pause = Math.min(longestPause, this.#pause * 2);
    this.heard.contact(trouble);
    return Math.max(asked || 0, this.#pause * (0.75 + Math.random() / 4));
  }

  #entries(start) {
    return kept
      .names(start)
      .map((name) => kept.get(name))
      .filter((item) => item !== null)
      .map((item) => ({ ...item, body: JSON.parse(item.text) }))
      .sort((one, other) => one.order - other.order || (one.id < other.id ? -1 : 1));
  }
}
