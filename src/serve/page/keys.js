// Keyboard and foot-switch. On the reading view space is always a beep and enter always open, on that of I/O tests
// always the left and the right answer, also while one of the two has the focus: a foot-switch must not mean
// something else because of where a finger was before.
import { by } from './dom.js';
import { set, settings } from './settings.js';

const editable = 'input, textarea, select, [contenteditable]';
const active = 'button, a, summary';
const answers = '#beep, #open, #test-left, #test-right';

/** `tests` holds what can be done on the view of I/O tests. */
export function startKeys(bench, go, shownView, tests) {
  const pads = {
    read: { ' ': () => bench.answer('beep'), Enter: () => bench.answer('open') },
    tests: { ' ': () => tests.answer('left'), Enter: () => tests.answer('right') },
  };
  const onTests = (act) => shownView() === 'tests' && act();
  const letters = {
    o: () => shownView() === 'read' && by('ohms').focus(),
    u: () => (shownView() === 'read' ? bench.undo() : onTests(tests.undo)),
    s: () => (shownView() === 'read' ? bench.skip() : onTests(tests.skip)),
    x: () => onTests(tests.none),
    w: () => onTests(tests.offer),
    l: () => onTests(tests.all),
    t: () => go('tests'),
    p: () => go('own'),
    '/': () => go('search'),
    r: () => go('read'),
    f: () => go('findings'),
    c: () => go('channels'),
    j: () => go('journal'),
    '?': () => go('more'),
    v: () => set({ speak: !settings.speak }),
  };

  /** What answers, or null where the key belongs to what has the focus. */
  function answerOf(event) {
    const act = pads[shownView()]?.[event.key];
    const busy = event.target.closest(`${editable}, ${active}`);
    const asks = shownView() !== 'tests' || tests.isAsking();
    const free = asks && !by('who').open && (!busy || busy.matches(answers));
    return act && free && !event.ctrlKey && !event.altKey && !event.metaKey ? act : null;
  }

  document.addEventListener('keydown', (event) => {
    const act = answerOf(event);
    if (act) {
      event.preventDefault();
      if (!event.repeat) act();
      return;
    }
    if (event.ctrlKey || event.altKey || event.metaKey || event.isComposing || by('who').open) return;
    if (event.key === 'Escape') {
      document.activeElement?.blur();
      go('read');
      return;
    }
    if (!settings.keys || event.target.closest(editable) || !Object.hasOwn(letters, event.key)) return;
    event.preventDefault();
    if (!event.repeat) letters[event.key]();
  });
  // Some browsers press a button when space is let go.
  document.addEventListener('keyup', (event) => answerOf(event) && event.preventDefault());
  // What a finger pressed doesn't keep the focus, or the next foot-switch would press it again.
  document.addEventListener('click', (event) => {
    const button = event.target.closest('button');
    if (button && event.detail > 0 && document.activeElement === button) button.blur();
  });
}
