// One channel at a time: what to do, where, what it must show, and the answers.
import { by, fill, make, mark, press, say } from './dom.js';
import { settings } from './settings.js';
import { alarm } from './signals.js';
import { clock } from './values.js';
import { answerMark, isRefused, markOf, nameOf, number } from './test_steps.js';
import { analogForm } from './analog_form.js';
import { startTestsList } from './tests_list.js';

const hows = [
  ['logic', 'by its logic'],
  ['substitute', 'with a box of real stop devices'],
  ['forced', 'forced'],
];

function placeLine({ use, point, place }) {
  return make(
    'section',
    { class: 'point' },
    make('p', { class: 'name' }, point),
    make('p', { class: 'probe' }, make('strong', {}, use), ' ', make('span', { class: 'place' }, place)),
  );
}

function heading(test, shown) {
  return [
    make(
      'p',
      { class: 'head' },
      make('strong', { id: 'test-name' }, nameOf(test)),
      mark(shown.replace(' ', '-'), ...markOf(shown)),
    ),
    make(
      'p',
      { class: 'faint' },
      [`${test.point} ${test.type} ${test.address}`, test.text].filter(Boolean).join(', '),
    ),
  ];
}

function answerLines(test, onWord) {
  const found = answerMark(test);
  if (!found) return [];
  const words = onWord ? `${found[1]}: offered on the word of ${settings.name}` : found[1];
  return [
    make('p', { class: `verdict ${test.answer}` }, mark(test.answer, found[0], words)),
    test.reasons.length
      ? make(
          'ul',
          { class: 'reasons' },
          test.reasons.map((one) => make('li', {}, one)),
        )
      : null,
  ];
}

const longest = (test) => Math.max(6, ...test.places.map(({ point }) => point.length));

/** The first one is of jumpers alone. */
const cautionsOf = (test, cautions) =>
  ['jumper', 'sensor', 'namur', 'none'].includes(test.test) ? cautions : cautions.slice(1);

export function startTests(bench, tests, whileShown) {
  const region = make('div', { id: 'test', role: 'region', 'aria-label': 'Channel to test', tabindex: '0' });
  const asked = make('p', { id: 'test-asked' });
  const left = make('button', { type: 'button', id: 'test-left', 'aria-keyshortcuts': 'Space' });
  const right = make('button', { type: 'button', id: 'test-right', 'aria-keyshortcuts': 'Enter' });
  const two = make('div', { class: 'two' }, left, right);
  const fields = make('div', { id: 'test-fields' });
  const none = make('button', { type: 'button', id: 'test-none', 'aria-keyshortcuts': 'x' });
  const offer = make('button', {
    type: 'button',
    id: 'test-offer',
    class: 'strong',
    'aria-keyshortcuts': 'w',
  });
  const undo = make('button', { type: 'button', id: 'test-undo', 'aria-keyshortcuts': 'u' }, 'Undo');
  const skip = make('button', { type: 'button', id: 'test-skip', 'aria-keyshortcuts': 's' }, 'Skip');
  const all = make('button', { type: 'button', id: 'test-all', 'aria-keyshortcuts': 'l' }, 'All channels');
  const said = make('p', { id: 'test-said', role: 'status' });
  const one = make(
    'div',
    { id: 'test-one' },
    region,
    make(
      'div',
      { id: 'test-answers' },
      asked,
      fields,
      offer,
      two,
      make('div', { class: 'small' }, undo, none, skip, all),
    ),
  );
  by('tests').append(make('h1', { class: 'unseen', tabindex: '-1' }, 'I/O test'), said, one);
  const list = startTestsList(tests, (open) => {
    one.hidden = open;
  });
  let fieldsOf = '';

  function volts(id, words) {
    return [
      make('label', { for: id }, words),
      make('input', { id, inputmode: 'decimal', size: '5', autocomplete: 'off' }),
    ];
  }

  /** How an output was driven, and volts beside its answer; null where something typed is no number. */
  function measured() {
    if (tests.test.type !== 'DO') return {};
    const typed = ['on', 'off'].map((name) => [name, by(`volts-${name}`).value.trim()]);
    const read = typed.map(([name, text]) => [name, text === '' ? '' : number(text)]);
    const wrong = read.find(([, value]) => value === null);
    say(by('volts-error'), wrong ? 'Type volts such as 23.9, or nothing.' : '');
    if (wrong) by(`volts-${wrong[0]}`).focus();
    return wrong ? null : { stimulus: by('how').value, ...Object.fromEntries(read) };
  }

  function answer(side) {
    const more = tests.step ? measured() : null;
    if (more) tests.answer(side, more);
  }

  /** Fields are kept while the channel stays, so that nothing typed is lost when others log. */
  function drawFields(test) {
    const kind = isRefused(test) || tests.isOnHold ? 'none' : test.type;
    const key = `${test.point} ${kind}`;
    if (kind === 'AI' || kind === 'AO') {
      if (key !== fieldsOf) fill(fields, analogForm(test, tests));
      fields.firstElementChild?.update?.(test);
    } else if (key !== fieldsOf) {
      fill(
        fields,
        kind === 'DO'
          ? make(
              'div',
              { class: 'volts' },
              make('label', { for: 'how' }, 'How'),
              make(
                'select',
                { id: 'how' },
                hows.map(([how, words]) =>
                  make('option', { value: how, selected: how === test.stimulus }, words),
                ),
              ),
              volts('volts-on', 'Volts on'),
              volts('volts-off', 'Volts off'),
              make('p', { id: 'volts-error', class: 'error', role: 'alert' }),
            )
          : [],
      );
    }
    fieldsOf = key;
  }

  function resultLine(row) {
    return make(
      'li',
      { class: 'card' },
      make(
        'div',
        { class: 'acts' },
        make(
          'p',
          {},
          mark(row.shown.replace(' ', '-'), ...markOf(row.shown)),
          ` ${[row.given, row.value].filter(Boolean).join(': ')}`,
        ),
        press('Withdraw', () => tests.withdraw(row.id), {
          'data-focus': `withdraw ${row.id}`,
          'aria-label': `Withdraw the result of ${row.by} at ${clock(row.time)}`,
        }),
      ),
      make(
        'p',
        { class: 'faint' },
        [row.by, clock(row.time), row.revision && `revision ${row.revision}`].filter(Boolean).join(', '),
        row.reason ? `: ${row.reason}` : '',
      ),
    );
  }

  function drawChannel(test) {
    region.style.setProperty('--letters', longest(test));
    const onWord = test.answer === 'hold' && !tests.isOnHold;
    fill(
      region,
      heading(test, tests.shownOf(test)),
      make('p', { class: 'what' }, test.what === 'none' ? 'No test here' : test.what),
      answerLines(test, onWord),
      make('p', { class: 'act' }, tests.isOnHold ? `Once that is settled: ${test.do}` : test.do),
      test.places.length ? make('div', { class: 'places' }, test.places.map(placeLine)) : null,
      test.responds ? make('p', {}, `Responds: ${test.responds}`) : null,
      test.led ? make('p', {}, `LED: ${test.led}`) : null,
      test.expect ? make('p', {}, `Expected: ${test.expect}`) : null,
      test.stands_for ? make('p', { class: 'faint' }, test.stands_for) : null,
      test.results.length ? make('ul', { class: 'list' }, test.results.map(resultLine)) : null,
      make('p', { class: 'faint caution' }, cautionsOf(test, tests.cautions).join(' ')),
    );
  }

  function choice(button, [, words], key) {
    fill(button, make('span', { class: 'answer' }, words), make('span', { class: 'key' }, key));
  }

  function draw() {
    const { test, step } = tests;
    list.draw();
    all.textContent = 'All channels';
    if (!test) {
      fill(region, make('p', {}, tests.trouble || 'The drawing lists no channels.'));
      for (const element of [two, none, offer, asked]) element.hidden = true;
      return;
    }
    drawChannel(test);
    drawFields(test);
    one.classList.toggle('long', test.analog !== null && !isRefused(test));
    two.hidden = !step;
    none.hidden = !step?.none;
    asked.hidden = !step;
    offer.hidden = !tests.isOnHold;
    say(offer, `Offer it on my word: ${settings.name}`);
    undo.disabled = !tests.canUndo;
    if (!step) return;
    const before = tests.answered;
    fill(
      asked,
      before.length ? make('span', { class: 'faint' }, `${before.join('; ')}. `) : null,
      make('strong', {}, `${step.words}: ${step.ask[0].toLowerCase()}${step.ask.slice(1)}`),
      ` (expected: ${step.expected})`,
    );
    choice(left, step.left, 'space');
    choice(right, step.right, 'enter');
    say(none, step.none ?? '');
  }

  const acts = {
    answer,
    none: () => answer('none'),
    offer: () => tests.offer(),
    undo: () => tests.undo(),
    skip: () => tests.skip(),
    all: () => list.toggle(),
    isAsking: () => !one.hidden,
  };
  left.addEventListener('click', () => answer('left'));
  right.addEventListener('click', () => answer('right'));
  for (const [button, act] of [
    [none, acts.none],
    [offer, acts.offer],
    [undo, acts.undo],
    [skip, acts.skip],
    [all, acts.all],
  ])
    button.addEventListener('click', act);
  tests.addEventListener('change', draw);
  tests.addEventListener('said', ({ detail: { text, isFailed } }) => {
    said.classList.toggle('error', isFailed);
    say(said, `${isFailed ? '✗ ' : ''}${text}`);
    if (isFailed) alarm();
  });
  whileShown('tests', () => tests.load());
  return acts;
}
