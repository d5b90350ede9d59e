import { alarm, hush, speak } from './signals.js';
import { Bench } from './bench.js';
import { by, say } from './dom.js';
import { conditionChange, drawReading, startReading } from './read_view.js';
import { keepAwake } from './awake.js';
import { settings, follow } from './settings.js';
import { spokenReading } from './spoken.js';
import { startChannels } from './channels_view.js';
import { startFindings } from './findings_view.js';
import { startFrame } from './frame.js';
import { startJournal } from './journal_view.js';
import { startKeys } from './keys.js';
import { startMap } from './map_view.js';
import { startMore } from './more_view.js';
import { startOwn } from './own_view.js';
import { startSearch } from './search_view.js';
import { startTemporary } from './temporary_view.js';
import { startTests } from './tests_view.js';
import { Tests } from './tests.js';

const bench = new Bench();
const frame = startFrame(bench);
const { go } = frame;

startReading(bench);
startFindings(bench, go);
startJournal(bench, go, frame.whileShown);
const channels = startChannels(go, frame.whileShown);
startSearch(bench, go, channels.showPath);
frame.onEnter('map', startMap(frame.whileShown));
frame.onEnter('own', startOwn(bench, go));
frame.onEnter('temporary-form', startTemporary(bench, go));
frame.onEnter('search', () => by('search-words').focus());
const tests = new Tests(bench);
const testActs = startTests(bench, tests, frame.whileShown);
frame.onEnter('tests', (point) => point && tests.show(point));
const askWho = startMore(bench, go);
startKeys(bench, go, frame.shown, testActs);

/** What a bar has room for; the whole text stands under Findings. */
function gist(text) {
  const first = text.length > 100 ? text.split(/: | \(|; /)[0] : text;
  return first.length > 120 ? `${first.slice(0, 119)}…` : first;
}

function announce(text) {
  by('alarm').hidden = false;
  say(by('alarm-text'), text);
}

bench.addEventListener('contradiction', ({ detail: { text, words, by: who } }) => {
  announce(`✗ Contradicts the drawing: ${who ? `${who}, ` : ''}${text} ${words}`);
  alarm();
  if (!who) {
    hush();
    speak('Contradicts the drawing.');
    speakNext();
  }
});
bench.addEventListener('finding', ({ detail: { finding } }) =>
  announce(`✗ Finding ${finding.number}: ${gist(finding.text)}`),
);
bench.addEventListener('revised', ({ detail: { revision, readings } }) =>
  announce(`↻ Revision ${revision} touched readings: ${readings}`),
);
bench.addEventListener('answered', () => {
  hush();
  by('alarm').hidden = true;
  say(by('alarm-text'), '');
});

function speakNext() {
  const reading = bench.shown;
  if (!reading || frame.shown() !== 'read') return;
  const change = conditionChange(bench.previous, reading);
  speak(spokenReading(reading, change && !change.same ? `${change.title} ${change.words}` : ''));
}

bench.addEventListener('next', speakNext);
let spoke = settings.speak;
follow(() => {
  if (settings.speak && !spoke) speakNext();
  if (!settings.speak) hush();
  spoke = settings.speak;
});

by('alarm-show').addEventListener('click', () => go('findings'));
by('alarm-close').addEventListener('click', () => {
  by('alarm').hidden = true;
});

bench.addEventListener('change', () => {
  const several = bench.state?.meters.length > 1 && !bench.state.meters.includes(settings.meter);
  if (bench.state && (!settings.name || several)) askWho();
});

go('read');
drawReading(bench);
keepAwake();
