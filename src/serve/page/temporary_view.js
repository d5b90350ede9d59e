// Temporary changes: logged when made, in sight while open, logged when undone.
import { by, fill, make, press } from './dom.js';
import { clock } from './values.js';

const words = (change) => `${change.text || 'temporary change'} at ${change.points.join(', ')}`;

/** Returns `open({points})`, which fills the form. */
export function startTemporary(bench, go) {
  const points = make('input', {
    id: 'change-points',
    autocomplete: 'off',
    autocapitalize: 'none',
    spellcheck: 'false',
  });
  const text = make('input', { id: 'change-text', autocomplete: 'off' });
  const error = make('p', { class: 'error', role: 'alert' });
  const list = make('ul', { class: 'list' });
  let drawn = '';

  const key = (kind, change) => `${kind} ${change.points.join(' ')} ${change.text}`;

  /** Open ones as the job has them, with what waits to be sent. */
  function open() {
    const waiting = bench.outbox
      .waiting()
      .filter((item) => item.path === 'changes')
      .map((item) => item.body);
    const undone = new Set(
      waiting.filter((one) => one.kind === 'temporary-undone').map((one) => key('', one)),
    );
    return (bench.state?.open_changes ?? [])
      .concat(waiting.filter((one) => one.kind === 'temporary-made'))
      .filter((one) => !undone.has(key('', one)));
  }

  const undone = (change, name) =>
    press('Undone', () => bench.change('temporary-undone', change.points, change.text), {
      'data-focus': key(name, change),
      'aria-label': `Undone: ${words(change)}`,
    });

  function draw() {
    const changes = open();
    const now = JSON.stringify(changes);
    if (now === drawn) return;
    drawn = now;
    by('temporary').hidden = changes.length === 0;
    fill(
      by('temporary'),
      changes.length === 0
        ? []
        : changes.length === 1
          ? [
              make('p', {}, make('span', { 'aria-hidden': 'true' }, '⚠ '), `Open: ${words(changes[0])}`),
              undone(changes[0], 'bar'),
            ]
          : [
              make(
                'p',
                {},
                make('span', { 'aria-hidden': 'true' }, '⚠ '),
                `${changes.length} temporary changes open`,
              ),
              press('Show', () => go('temporary-form')),
            ],
    );
    fill(
      list,
      changes.length === 0
        ? make('li', {}, 'None.')
        : changes.map((change) =>
            make(
              'li',
              { class: 'card' },
              make('p', {}, make('strong', {}, words(change))),
              make('p', { class: 'faint' }, `${change.by}, ${clock(change.time)}`),
              undone(change, 'list'),
            ),
          ),
    );
  }

  function submit(event) {
    event.preventDefault();
    const names = points.value.split(/[\s,;]+/).filter(Boolean);
    error.textContent = !names.length
      ? 'Name at least one point.'
      : !text.value.trim()
        ? 'Say what was changed, such as: jumper.'
        : '';
    if (error.textContent) return (names.length ? text : points).focus();
    bench.change('temporary-made', names, text.value.trim());
    points.value = '';
    text.value = '';
    return undefined;
  }

  by('temporary-form').append(
    make('h1', { tabindex: '-1' }, 'Temporary changes'),
    make(
      'form',
      { onsubmit: submit, autocomplete: 'off' },
      make('label', { for: 'change-points' }, 'Points, such as X1:5 X1:6'),
      points,
      make('label', { for: 'change-text' }, 'What was changed'),
      text,
      error,
      make('button', { type: 'submit', class: 'strong' }, 'Log it as made'),
    ),
    make('h2', {}, 'Open ones'),
    list,
  );
  bench.addEventListener('change', draw);

  return (given) => {
    if (given?.points) points.value = given.points.join(' ');
  };
}
