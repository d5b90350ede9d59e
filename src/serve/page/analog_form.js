// The five points of an analog channel, with a field for what was seen at each.
import { fill, make, mark } from './dom.js';
import { markOf, number } from './test_steps.js';

const rounded = (value, places) => (value === null ? '' : String(Number(value.toFixed(places))));

/** The form; its `update(test)` shows new verdicts and leaves what is being typed. */
export function analogForm(test, tests) {
  const { analog } = test;
  if (!analog) return make('p', {}, 'The drawing states too little for a sheet: see ringtrue analog.');
  const error = make('p', { class: 'error', role: 'alert' });
  const rows = analog.points.map((point) => {
    const signal = `${rounded(point.signal, 3)} ${analog.signal_unit}`;
    const value = `${rounded(point.value, 3)} ${analog.unit}`;
    const id = `seen-${point.percent}`;
    const field = make('input', {
      id,
      inputmode: 'decimal',
      enterkeyhint: 'next',
      size: '6',
      autocomplete: 'off',
      'aria-describedby': 'seen-unit',
    });
    const log = make('button', { type: 'submit', 'aria-label': `Log ${point.percent} %` }, 'Log');
    const verdict = make('span', { class: 'seen-mark' });
    const words = analog.feeds
      ? [make('strong', {}, `${point.percent} %: feed ${signal}`), `, shows ${value}`]
      : [make('strong', {}, `${point.percent} %: command ${value}`), `, measures ${signal}`];
    return { point, field, log, verdict, words, id };
  });

  function submit(event) {
    event.preventDefault();
    const row = rows.find(({ field }) => event.target.contains(field));
    const seen = number(row.field.value);
    error.textContent = seen === null ? 'Type what was seen, such as 12.1.' : '';
    if (seen === null) {
      row.field.focus();
      return;
    }
    tests.log({ percent: String(row.point.percent), value: seen }, { stays: true });
    row.field.value = '';
    const next = rows[rows.indexOf(row) + 1];
    (next ?? row).field.focus();
  }

  const form = make(
    'div',
    { class: 'analog' },
    make(
      'p',
      { id: 'seen-unit', class: 'faint' },
      `Type what was seen in ${analog.seen_unit}; tolerance ${analog.tolerance_pct} % of span.`,
    ),
    rows.map(({ words, field, log, verdict, id }) =>
      make(
        'form',
        { class: 'seen-row', onsubmit: submit, autocomplete: 'off' },
        make('label', { for: id }, words),
        field,
        log,
        verdict,
      ),
    ),
    error,
  );
  /** A result is of a point if its `given` begins with the percentage. */
  form.update = ({ results }) => {
    for (const { point, verdict } of rows) {
      const row = results.find(({ given }) => given.startsWith(`${point.percent} %,`));
      fill(verdict, row ? mark(row.verdict, ...markOf(row.verdict)) : null);
    }
  };
  return form;
}
