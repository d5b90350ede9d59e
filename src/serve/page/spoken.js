// Designations as they are said: "X1:5" is "X one colon five", "A1:0.3" is "A one, zero point three".

const ones = [
  'zero',
  'one',
  'two',
  'three',
  'four',
  'five',
  'six',
  'seven',
  'eight',
  'nine',
  'ten',
  'eleven',
  'twelve',
  'thirteen',
  'fourteen',
  'fifteen',
  'sixteen',
  'seventeen',
  'eighteen',
  'nineteen',
];
const tens = ['', '', 'twenty', 'thirty', 'forty', 'fifty', 'sixty', 'seventy', 'eighty', 'ninety'];
const signs = {
  '+': 'plus',
  '-': 'minus',
  '/': 'slash',
  '@': 'at',
  '=': 'equals',
  '.': 'point',
  '%': 'percent',
  '#': 'number',
};
const sides = { int: 'internal side', ext: 'external side' };

function numberWords(digits) {
  if (digits.length > 2 || (digits.length === 2 && digits[0] === '0'))
    return [...digits].map((digit) => ones[digit]).join(' ');
  const value = Number(digits);
  if (value < 20) return ones[value];
  return value % 10 ? `${tens[Math.floor(value / 10)]} ${ones[value % 10]}` : tens[value / 10];
}

function letters(text) {
  return (text.match(/\d+|[A-Za-z]|[^\sA-Za-z\d]/g) ?? [])
    .map((piece) => (/\d/.test(piece) ? numberWords(piece) : (signs[piece] ?? piece.toUpperCase())))
    .join(' ');
}

/** A point, spelt. */
export function spokenPoint(point) {
  const [, name, side] = /^(.*?)(?:\.(int|ext))?$/s.exec(point);
  const pieces = name.split(':');
  const colon = /\d\.\d/.test(pieces.at(-1)) ? ', ' : ' colon ';
  return pieces.map(letters).join(colon) + (side ? `, ${sides[side]}` : '');
}

/** A sentence in which designations such as K3 or X1:5 are spelt and words are left. */
export function spokenSentence(text) {
  return text.replace(/[A-Za-z]*\d[\w:.+\-@/]*/g, (name) => spokenPoint(name.replace(/\.$/, '')));
}

/** What is said for the next reading; `condition` is what must be done first, or "". */
export function spokenReading(reading, condition) {
  const points = `${spokenPoint(reading.from)}, to ${spokenPoint(reading.to)}`;
  return condition ? `${spokenSentence(condition)}. ${points}` : points;
}
