// A reading at points of one's own choice.
import { by, fill, make, press } from './dom.js';
import { asking } from './search_view.js';

function pointField(id, label) {
  const list = make('div', { class: 'acts', role: 'group', 'aria-label': `Matches for ${label}` });
  const input = make('input', {
    id,
    autocomplete: 'off',
    autocapitalize: 'none',
    spellcheck: 'false',
    enterkeyhint: 'next',
  });
  const search = asking((matches) => {
    const points = [...new Set((matches ?? []).flatMap((match) => match.points))].slice(0, 6);
    fill(
      list,
      points
        .filter((point) => point !== input.value)
        .map((point) =>
          press(point, () => {
            input.value = point;
            fill(list);
            input.focus();
          }),
        ),
    );
  });
  input.addEventListener('input', () => search(input.value));
  return { input, parts: [make('label', { for: id }, label), input, list], clear: () => fill(list) };
}

/** Returns `open({from, to, conditions})`, which fills the form. */
export function startOwn(bench, go) {
  const from = pointField('own-from', 'Red probe');
  const to = pointField('own-to', 'Black probe');
  const conditions = make('input', {
    id: 'own-conditions',
    autocomplete: 'off',
    autocapitalize: 'none',
    spellcheck: 'false',
  });
  const error = make('p', { class: 'error', role: 'alert' });

  function submit(event) {
    event.preventDefault();
    const reading = {
      from: from.input.value.trim(),
      to: to.input.value.trim(),
      conditions: conditions.value.trim(),
    };
    const lacking = !reading.from ? from : !reading.to ? to : null;
    error.textContent = lacking
      ? 'Two points are needed.'
      : reading.from === reading.to
        ? 'The two points must differ.'
        : '';
    if (error.textContent) return (lacking ?? to).input.focus();
    bench.show({ ...reading, condition_words: reading.conditions, why: 'own', pinned: true });
    go('read');
    return undefined;
  }

  by('own').append(
    make('h1', { tabindex: '-1' }, 'Other points'),
    make(
      'form',
      { onsubmit: submit, autocomplete: 'off' },
      ...from.parts,
      ...to.parts,
      make('label', { for: 'own-conditions' }, 'Conditions, empty at rest (as in G1=unplugged)'),
      conditions,
      error,
      make('button', { type: 'submit', class: 'strong' }, 'Read these'),
    ),
  );

  return (given = {}) => {
    from.input.value = given.from ?? '';
    to.input.value = given.to ?? '';
    conditions.value = given.conditions ?? '';
    error.textContent = '';
    from.clear();
    to.clear();
    (given.from ? to : from).input.focus();
  };
}
