// The next reading in large type, and the answers.
import { by, say } from './dom.js';
import { settings } from './settings.js';
import { ohms, valueWords } from './values.js';

const reasons = {
  again: 'To be taken again: something on its path was changed.',
  plan: 'Next in the plan.',
  own: 'Points of your own choice.',
};

function reason(reading) {
  if (reading.supersedes) return `Corrects the reading ${valueWords(reading.was)}.`;
  if (reading.why === 'finding') return `Tells the explanations of finding ${reading.finding} apart.`;
  return reasons[reading.why] ?? '';
}

/** What is to be set at the panel for this reading: {title, words, same}, or null at rest after rest. */
export function conditionChange(previous, reading) {
  const now = reading.conditions ?? '';
  const was = previous?.conditions ?? '';
  const words = reading.to_do || reading.condition_words;
  if (now !== was && now) return { title: previous ? 'Condition changes:' : 'Set first:', words };
  if (now !== was)
    return { title: 'Back to rest:', words: reading.to_do || `put back: ${previous.condition_words || was}` };
  if (now) return { title: 'Still:', words: reading.condition_words, same: true };
  return reading.to_do ? { title: 'Set first:', words } : null;
}

function nothingWords(bench) {
  if (!bench.state) return 'Waiting for the job …';
  if (bench.trouble)
    return 'No more readings are known here until the job is reached. Other points can be read.';
  if (bench.state.next.length > 0) return 'The readings taken are being judged …';
  return 'All planned readings are taken. What stays unproven is under Channels.';
}

function showPoint(side, reading, previous) {
  say(by(side), reading[side]);
  say(by(`${side}-place`), reading[`${side}_place`] ?? '');
  by(`${side}-stays`).hidden = previous?.[side] !== reading[side];
}

function showCondition(change) {
  const box = by('condition');
  box.hidden = change === null;
  box.classList.toggle('same', change?.same === true);
  say(by('condition-change'), change?.title ?? '');
  say(by('condition-words'), change?.words ?? '');
}

function drawnWords(reading) {
  if (!reading.expect) return '';
  return `Drawn: ${reading.expect}${reading.proves ? `; proves ${reading.proves}` : ''}`;
}

function goneWords(gone) {
  if (!gone) return '';
  return gone === true
    ? 'No longer asked for. Skip goes on.'
    : `${gone.by} has read this: ${valueWords(gone.value)}. Skip goes on.`;
}

/** Draws what the bench shows. */
export function drawReading(bench) {
  const reading = bench.shown;
  by('asked').hidden = !reading;
  by('nothing').hidden = Boolean(reading);
  say(by('nothing'), reading ? '' : nothingWords(bench));
  showCondition(reading ? conditionChange(bench.previous, reading) : null);
  if (reading) {
    showPoint('from', reading, bench.previous);
    showPoint('to', reading, bench.previous);
    by('asked').style.setProperty('--letters', Math.max(4, reading.from.length, reading.to.length));
    say(by('drawn'), drawnWords(reading));
    say(by('why'), goneWords(reading.gone) || reason(reading));
    by('why').className = reading.gone ? 'gone' : reading.why;
    by('ohms-form').classList.toggle('wanted', reading.method === 'ohms');
  }
  const due = bench.due;
  by('due').hidden = !due;
  say(by('due'), due ? `Take first: ${due.from} to ${due.to}` : '');
  for (const id of ['beep', 'open', 'skip', 'log-ohms', 'log-kilohms', 'log-ol']) by(id).disabled = !reading;
  by('undo').disabled = !bench.last;
  say(by('undo'), bench.last ? `Undo: ${valueWords(bench.last.value)}` : 'Undo');
  by('undo').setAttribute(
    'aria-label',
    bench.last ? `Undo: ${bench.last.from} to ${bench.last.to}, ${bench.last.value}` : 'Undo',
  );
  say(by('caution'), bench.state?.cautions[0] ?? '');
}

/** Connects the answers. */
export function startReading(bench) {
  const field = by('ohms');

  function log(unit) {
    const value = ohms(field.value, unit);
    if (value === null) {
      say(by('ohms-error'), 'Type ohms such as 0.4, 1,5k or OL.');
      field.focus();
      return;
    }
    if (!bench.answer(value)) return;
    field.value = '';
    field.blur();
  }

  by('beep').addEventListener('click', () => bench.answer('beep'));
  by('open').addEventListener('click', () => bench.answer('open'));
  by('log-kilohms').addEventListener('click', () => log('k'));
  by('log-ol').addEventListener('click', () => bench.answer('OL') && (field.value = ''));
  by('undo').addEventListener('click', () => bench.undo());
  by('skip').addEventListener('click', () => bench.skip());
  by('due').addEventListener('click', () => bench.due && bench.show(bench.due));
  field.addEventListener('input', () => say(by('ohms-error'), ''));
  by('ohms-form').addEventListener('submit', (event) => {
    event.preventDefault();
    log('');
  });
  bench.addEventListener('change', () => drawReading(bench));
  bench.addEventListener('others', ({ detail: { row } }) => {
    const what = row.value ? valueWords(row.value) : 'withdrawn';
    say(by('others'), `${row.by}: ${row.from} to ${row.to} ${what}`);
  });
  bench.addEventListener('answered', ({ detail: { reading, asked } }) => {
    const differs =
      asked.method === 'beep' && ['beep', 'open'].includes(reading.value) && reading.value !== asked.expect;
    say(
      by('others'),
      bench.trouble && differs
        ? `${reading.value}, drawn ${asked.expect}: judged when the job is reached`
        : '',
    );
  });
  bench.addEventListener('note', ({ detail: { text } }) => say(by('others'), text));
}

/** The shortest name of who reads, for the header. */
export const readerWords = () => [settings.name, settings.meter].filter(Boolean).join(', ');
