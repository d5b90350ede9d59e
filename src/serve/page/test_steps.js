// What is asked of whoever tries a channel, step by step. Knows no page.

/** The name a person knows the channel by. */
export const nameOf = (test) => test.tag || test.address || test.point;

/** No jumper, simulator or device may be used here, so nothing is asked. */
export const isRefused = (test) => test.answer === 'refused' || test.test === 'none';

const led = (words, expected, field) => ({
  field,
  words,
  ask: 'The LED',
  expected,
  left: ['lit', 'LIT'],
  right: ['dark', 'DARK'],
});

/** The questions of a digital input in the order in which they are answered with one hand. */
function inputSteps(test) {
  const [acted, back] = test.lit_when_acted ? ['lit', 'dark'] : ['dark', 'lit'];
  return [
    led(test.acted, acted, 'led'),
    {
      field: 'bit',
      words: test.acted,
      ask: 'The bit at the controller',
      expected: test.lit_when_acted ? '1' : '0',
      left: ['1', '1'],
      right: ['0', '0'],
      none: 'Not read',
    },
    {
      field: 'only_this',
      words: test.acted,
      ask: 'Did another channel change?',
      expected: 'none changed',
      left: ['yes', 'NONE'],
      right: ['no', 'ANOTHER'],
      none: 'Not looked',
    },
    led(test.back, back, 'back'),
  ];
}

const outputSteps = [
  {
    field: 'responded',
    words: 'driven on, then off',
    ask: 'Does it respond?',
    expected: 'it does',
    left: ['yes', 'YES'],
    right: ['no', 'NO'],
  },
];

/** Steps with two answers each; none for analog channels, and where nothing may be done. */
export function stepsOf(test) {
  if (isRefused(test) || test.type === 'AI' || test.type === 'AO') return [];
  return test.type === 'DO' ? outputSteps : inputSteps(test);
}

/** "1", "23,9" -> "23.9"; null if it is no number. */
export function number(typed) {
  const text = typed.trim().replace(',', '.').replace('−', '-');
  return /^[+-]?(\d+\.?\d*|\.\d+)$/.test(text) ? text : null;
}

const marks = {
  pass: ['✓', 'pass'],
  fail: ['✗', 'fail'],
  'LED only': ['◐', 'LED only'],
  incomplete: ['◐', 'incomplete'],
  'not tested': ['□', 'not tested'],
  'other revision': ['↺', 'passed before a revision that touched it'],
  waiting: ['…', 'waiting to be sent'],
};

/** The shape and the word of what is shown of a channel. */
export const markOf = (shown) => marks[shown] ?? ['?', shown];

const answers = {
  refused: ['✗', 'Refused'],
  hold: ['!', 'On hold'],
  offered: ['→', 'Offered'],
};
export const answerMark = (test) => answers[test.answer] ?? null;
