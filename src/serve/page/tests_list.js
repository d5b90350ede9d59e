// All channels with what is shown of each, and the sheet that is printed.
import { by, fill, make, mark, press } from './dom.js';
import { answerMark, markOf, nameOf } from './test_steps.js';

const kinds = ['all', 'not tested', 'fail', 'LED only', 'incomplete', 'other revision', 'pass'];

function sheetRow(test) {
  const answer = answerMark(test);
  const places = test.places.map(({ use, point, place }) => `${use} ${point}${place ? ` (${place})` : ''}`);
  return make(
    'tr',
    {},
    make('th', { scope: 'row' }, `${test.point} ${test.tag}`),
    make('td', {}, test.do),
    make('td', {}, places.join('; ')),
    make('td', {}, [test.led, test.expect].filter(Boolean).join(': ')),
    make('td', {}, answer ? [answer[1], ...test.reasons].join('. ') : ''),
    make('td', {}, test.shown),
    make('td', {}, ''),
  );
}

/** `opened(open)` hears whether the list stands in place of the channel. */
export function startTestsList(tests, opened) {
  let only = 'all';
  const choices = make('div', { class: 'choices', role: 'group', 'aria-label': 'Which channels' });
  const found = make('p', { role: 'status' });
  const list = make('ul', { class: 'list' });
  const sheet = make('table', { id: 'sheet' });
  const back = press('Back to the test', () => toggle());
  const box = make(
    'div',
    { id: 'test-list', hidden: true },
    make('h2', { tabindex: '-1' }, 'Channels to test'),
    make('div', { class: 'acts' }, back, press('Print the sheet', print)),
    choices,
    found,
    list,
  );
  by('tests').append(box, sheet);

  function toggle(open = box.hidden) {
    box.hidden = !open;
    opened(open);
    draw();
    if (open) box.querySelector('h2').focus();
    else by('test').focus({ preventScroll: true });
  }

  function print() {
    fill(
      sheet,
      make('caption', {}, `I/O tests. ${tests.cautions.join(' ')}`),
      make(
        'thead',
        {},
        make(
          'tr',
          {},
          ['Channel', 'Do', 'Where', 'LED and expected', 'Jumper', 'Shown', 'By'].map((words) =>
            make('th', { scope: 'col' }, words),
          ),
        ),
      ),
      make('tbody', {}, tests.all.map(sheetRow)),
    );
    window.print();
  }

  function line(test) {
    const shown = tests.shownOf(test);
    return make(
      'li',
      { class: 'card' },
      make(
        'div',
        { class: 'head' },
        mark(shown.replace(' ', '-'), ...markOf(shown)),
        press('Test', () => {
          tests.show(test.point);
          toggle(false);
        }, { 'data-focus': `test ${test.point}`, 'aria-label': `Test ${nameOf(test)}` }),
      ),
      make('p', {}, make('strong', {}, nameOf(test)), ` ${test.point} ${test.type} ${test.address}`),
      make('p', { class: 'faint' }, test.what === 'none' ? 'no test here' : test.what),
    );
  }

  function draw() {
    if (box.hidden) return;
    const wanted = tests.all.filter((test) => only === 'all' || tests.shownOf(test) === only);
    const tested = tests.all.filter((test) => test.shown !== 'not tested').length;
    fill(
      choices,
      kinds.map((kind) =>
        press(kind === 'all' ? 'All' : kind, () => {
          only = kind;
          draw();
        }, { 'aria-pressed': String(only === kind) }),
      ),
    );
    found.textContent = `${wanted.length} of ${tests.all.length} channels, ${tested} tested. ${tests.trouble}`;
    fill(list, wanted.map(line));
  }

  return { draw, toggle };
}
