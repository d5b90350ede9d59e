// Keyboard and foot-switch. On the reading view space is always a beep and enter always open, also while one of
// the two answers has the focus: a foot-switch must not mean something else because of where a finger was before.
import { by } from './dom.js';
import { set, settings } from './settings.js';

const editable = 'input, textarea, select, [contenteditable]';
const active = 'button, a, summary';
const answers = '#beep, #open';

export function startKeys(bench, go, shownView) {
  const letters = {
    o: () => shownView() === 'read' && by('ohms').focus(),
    u: () => shownView() === 'read' && bench.undo(),
    s: () => shownView() === 'read' && bench.skip(),
    p: () => go('own'),
    '/': () => go('search'),
    r: () => go('read'),
    f: () => go('findings'),
    c: () => go('channels'),
    j: () => go('journal'),
    '?': () => go('more'),
    v: () => set({ speak: !settings.speak }),
  };

  /** "beep", "open", or "" where the key belongs to what has the focus. */
  function answerOf(event) {
    const value = { ' ': 'beep', Enter: 'open' }[event.key];
    const busy = event.target.closest(`${editable}, ${active}`);
    const free = shownView() === 'read' && !by('who').open && (!busy || busy.matches(answers));
    return value && free && !event.ctrlKey && !event.altKey && !event.metaKey ? value : '';
  }

  document.addEventListener('keydown', (event) => {
    const value = answerOf(event);
    if (value) {
      event.preventDefault();
      if (!event.repeat) bench.answer(value);
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
