// Any point, wire or channel: where it is, and on from there.
import { by, fill, make, press } from './dom.js';
import { ask } from './link.js';
import { partOf } from './order.js';

/** Asks as one types; `draw(matches)` gets the newest answer alone, or null when the job isn't reached. */
export function asking(draw) {
  let timer = 0;
  let newest = 0;
  return (text) => {
    clearTimeout(timer);
    const mine = ++newest;
    if (text.trim() === '') return draw([]);
    timer = setTimeout(async () => {
      const matches = await ask(`search?q=${encodeURIComponent(text)}`).then(
        (answer) => answer.matches,
        () => null,
      );
      if (mine === newest) draw(matches);
    }, 150);
    return undefined;
  };
}

export function startSearch(bench, go, showPath) {
  const list = make('ul', { class: 'list' });
  const note = make('p', { role: 'status' });
  const field = make('input', {
    id: 'search-words',
    type: 'search',
    autocomplete: 'off',
    autocapitalize: 'none',
    spellcheck: 'false',
  });

  function goOn(part) {
    if (bench.goOn(part)) return go('read');
    note.textContent = `None of the next ${bench.order.length} readings touches ${part}.`;
    return undefined;
  }

  function acts(match) {
    const points = match.points.length ? match.points : [match.name];
    return make(
      'div',
      { class: 'acts' },
      points.map((point) =>
        press(`Read ${point}`, () => go('own', { from: point, to: '' }), {
          'data-focus': `read ${match.name} ${point}`,
        }),
      ),
      [...new Set(points.map(partOf))].map((part) =>
        press(`Go on at ${part}`, () => goOn(part), { 'data-focus': `on ${match.name} ${part}` }),
      ),
      [...new Set(points.filter((point) => /\.(int|ext)$/.test(point)).map(partOf))].map((strip) =>
        press(`Strip ${strip}`, () => go('map', strip), { 'data-focus': `strip ${match.name} ${strip}` }),
      ),
      match.kind === 'channel'
        ? press(
            'Path',
            () => {
              go('channels');
              showPath(points[0]);
            },
            { 'data-focus': `path ${match.name}` },
          )
        : null,
      press('Temporary change', () => go('temporary-form', { points }), {
        'data-focus': `change ${match.name}`,
      }),
    );
  }

  const search = asking((matches) => {
    note.textContent =
      matches === null
        ? 'The job is not reached; search needs it.'
        : matches.length || !field.value.trim()
          ? ''
          : 'Nothing of that name in the drawing.';
    fill(
      list,
      (matches ?? []).map((match) =>
        make(
          'li',
          { class: 'card' },
          make(
            'p',
            {},
            make('strong', {}, match.name),
            ` ${match.kind}${match.sheet ? `, sheet ${match.sheet}` : ''}`,
          ),
          make('p', {}, match.text),
          acts(match),
        ),
      ),
    );
  });
  field.addEventListener('input', () => search(field.value));
  by('search').append(
    make('h1', { tabindex: '-1' }, 'Search'),
    make('label', { for: 'search-words' }, 'Point, wire, tag or address'),
    field,
    note,
    list,
  );
}
