// The latest readings with who, when and what; what waits; what the job did not take.
import { by, fill, make, mark, press } from './dom.js';
import { ask } from './link.js';
import { keyOf } from './order.js';
import { clock, standing, valueWords } from './values.js';

const whatToDo = {
  409: 'If it is a repair, look at the findings again; if it is a reading, take it again.',
  422: 'Put the points, the value or what keeps the test back right and log it again.',
};

export function startJournal(bench, go, whileShown) {
  let rows = [];
  let newest = 50;
  const refused = make('section', { 'aria-label': 'Not taken by the job' });
  const list = make('ol', { class: 'list' });
  const note = make('p', { role: 'status' });
  const older = press('Show older ones', () => {
    newest += 100;
    load();
  });

  const what = (row) => `${row.from} to ${row.to}`;

  function correct(row) {
    const asked = bench.state.next.find((reading) => keyOf(reading) === keyOf(row));
    bench.show({
      ...asked,
      from: row.from,
      to: row.to,
      conditions: row.conditions,
      condition_words: asked?.condition_words ?? row.conditions,
      why: 'own',
      supersedes: row.id,
      was: row.value,
      pinned: true,
    });
    go('read');
  }

  function ending(row, all) {
    if (!row.superseded_by) return null;
    const later = all.find((one) => one.id === row.superseded_by);
    const how = later && later.value ? `corrected to ${valueWords(later.value)}` : 'withdrawn';
    return make('p', {}, later ? `${how} by ${later.by} at ${clock(later.time)}` : how);
  }

  function line(row, all) {
    const [shape, word] = standing(row.standing);
    const text = [
      make('strong', {}, what(row)),
      ` ${valueWords(row.value)}`,
      row.conditions ? ` (${row.conditions})` : '',
    ];
    const counts = !row.superseded_by;
    return make(
      'li',
      { class: counts ? 'card' : 'card gone' },
      make('p', {}, counts ? text : make('del', {}, text)),
      make(
        'p',
        { class: 'faint' },
        `${row.by}, ${clock(row.time)}${row.meter ? `, ${row.meter}` : ''}${row.note ? `: ${row.note}` : ''}`,
      ),
      counts
        ? make(
            'div',
            { class: 'acts' },
            make('p', {}, mark(row.standing || 'none', shape, word), row.why_stale ? `: ${row.why_stale}` : ''),
            press('Undo', () => bench.withdraw(row.id), {
              'data-focus': `undo ${row.id}`,
              'aria-label': `Undo ${what(row)}`,
            }),
            press('Correct', () => correct(row), {
              'data-focus': `correct ${row.id}`,
              'aria-label': `Correct ${what(row)}`,
            }),
          )
        : ending(row, all),
    );
  }

  function refusal(item) {
    const { error, body } = item;
    const reading = item.path === 'readings';
    return make(
      'article',
      { class: 'card refused' },
      make('h2', {}, make('span', { 'aria-hidden': 'true' }, '✗ '), 'Not taken by the job'),
      make(
        'p',
        {},
        reading
          ? `${what(body)} ${valueWords(body.value)}`
          : `${item.path}: ${body.channel ?? body.text ?? body.supersedes ?? body.finding ?? ''}`,
      ),
      make(
        'p',
        {},
        error.text,
        error.found ? ` Found: ${error.found}.` : '',
        error.expected ? ` Expected: ${error.expected}.` : '',
      ),
      error.nearest?.length ? make('p', {}, `Nearest: ${error.nearest.join(', ')}`) : null,
      make(
        'p',
        {},
        make('strong', {}, 'Do: '),
        whatToDo[item.status] ?? 'Log it again, or write it down before you put it away.',
      ),
      make(
        'div',
        { class: 'acts' },
        reading
          ? press(
              'Read it again',
              () => {
                bench.outbox.dismiss(item.id);
                go('own', { from: body.from, to: body.to, conditions: body.conditions });
              },
              { 'data-focus': `again ${item.id}` },
            )
          : null,
        item.path === 'results'
          ? press(
              'Test it again',
              () => {
                bench.outbox.dismiss(item.id);
                go('tests', body.channel);
              },
              { 'data-focus': `again ${item.id}` },
            )
          : null,
        press('Put away', () => bench.outbox.dismiss(item.id), { 'data-focus': `away ${item.id}` }),
      ),
    );
  }

  /** Logged here while this address served another job. */
  function stray(item) {
    return make(
      'article',
      { class: 'card' },
      make(
        'p',
        {},
        `Waits for the job ${item.name}: `,
        item.path === 'readings' ? `${what(item.body)} ${valueWords(item.body.value)}` : item.path,
      ),
    );
  }

  function draw() {
    const waiting = bench.outbox
      .waiting()
      .filter((item) => item.path === 'readings')
      .map((item) => item.body);
    const withdrawing = new Map(
      bench.outbox
        .waiting()
        .filter((item) => item.body.supersedes)
        .map((item) => [item.body.supersedes, item.id]),
    );
    const known = new Set(rows.map((row) => row.id));
    const all = waiting
      .filter((row) => !known.has(row.id))
      .reverse()
      .map((row) => ({ ...row, standing: 'waiting' }))
      .concat(rows)
      .map((row) => ({ ...row, superseded_by: row.superseded_by || withdrawing.get(row.id) }));
    fill(
      refused,
      bench.outbox.refused().map(refusal),
      bench.state ? bench.outbox.elsewhere().map(stray) : [],
    );
    fill(
      list,
      all.filter((row) => row.value).map((row) => line(row, all)),
    );
    older.hidden = rows.length < newest;
  }

  async function load() {
    try {
      rows = (await ask(`readings?newest=${newest}`)).readings;
      note.textContent = rows.length ? '' : 'No reading yet.';
    } catch {
      note.textContent = 'The job is not reached; later readings of others are missing here.';
    }
    draw();
  }

  by('journal').append(make('h1', { tabindex: '-1' }, 'Journal'), refused, note, list, older);
  whileShown('journal', load);
  bench.addEventListener('change', draw);
}
