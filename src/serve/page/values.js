// What a person types as a reading, as the job takes it.

const number = /^(\d+\.?\d*|\.\d+)\s*([kM]?)$/;
const letterAsPoint = /^(\d+)([kM])(\d+)$/;

/** "1,5 kΩ" gives "1.5k", "1" gives "1 ohm", "ol" gives "OL"; null if it is neither ohms nor OL. `unit` is "" or "k". */
export function ohms(typed, unit = '') {
  const text = typed
    .trim()
    .replace(/\s*(Ω|Ω|ohms?|R)$/i, '')
    .replace(',', '.')
    .replace(/K$/, 'k');
  if (/^o\.?l\.?$/i.test(text)) return 'OL';
  const split = letterAsPoint.exec(text);
  if (split) return `${split[1]}.${split[3]}${split[2]}`;
  const found = number.exec(text);
  if (!found || (found[2] && unit)) return null;
  const value = `${found[1]}${found[2] || unit}`;
  return value === '1' ? '1 ohm' : value; // alone in a file, a bare 1 may be a yes, or a meter over range
}

/** "beep", "open", "0.4 Ω", "1.5 kΩ", "OL". */
export const valueWords = (value) =>
  /\d$/.test(value) ? `${value} Ω` : value.replace(/([kM])$/, ' $1Ω').replace(/ ohm$/, ' Ω');

const standings = {
  agrees: ['✓', 'agrees'],
  disagrees: ['✗', 'contradicts the drawing'],
  either: ['≈', 'fits either way'],
  unknown: ['?', 'not in the drawing'],
  stale: ['↻', 'to be taken again'],
  unstable: ['∿', 'unsteady'],
  waiting: ['…', 'waiting to be sent'],
  '': ['–', 'no longer counts'],
};

/** The shape and the word of a standing. */
export const standing = (name) => standings[name] ?? ['?', name];

/** "08:15:00" by the clock of the device. */
export const clock = (time) =>
  new Date(time).toLocaleTimeString([], {
    hour: '2-digit',
    minute: '2-digit',
    second: '2-digit',
    hour12: false,
  });
