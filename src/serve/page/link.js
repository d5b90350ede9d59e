// The way to the job: a stream of states, and questions.

const quiet = 15_000;

/** The answer to a GET as JSON; throws an Error with the job's own sentence. */
export async function ask(address) {
  const answer = await fetch(address, { redirect: 'error', cache: 'no-store' });
  const content = await answer.json();
  if (!answer.ok) throw new Error(content?.error?.text ?? `The job answered ${answer.status}.`);
  return content;
}

/** Keeps `took(state)` supplied for ever. `contact(trouble)` hears whether the job is reached: "" if it is. */
export function listen(took, contact) {
  let stream;
  let pause = 1000;
  let last = 0;
  let version;

  function open() {
    stream?.close();
    stream = new EventSource('stream');
    stream.addEventListener('state', (event) => {
      pause = 1000;
      take(JSON.parse(event.data));
    });
    stream.addEventListener('error', () => {
      contact('no answer');
      // The browser tries again by itself, unless it was answered by something that is no stream.
      if (stream.readyState === EventSource.CLOSED) {
        setTimeout(open, pause);
        pause = Math.min(15_000, pause * 2);
      }
    });
  }

  function take(state) {
    last = Date.now();
    version = state.version;
    contact('');
    took(state);
  }

  // A Wi-Fi that drops says nothing: whoever hears nothing for a while asks.
  async function watch() {
    if (Date.now() - last < quiet) return;
    try {
      const state = await ask('state');
      const missed = state.version !== version;
      take(state);
      if (missed) open();
    } catch {
      contact('no answer');
      if (stream.readyState === EventSource.OPEN) open();
    }
  }

  open();
  setInterval(watch, 5000);
  window.addEventListener('online', open);
}
