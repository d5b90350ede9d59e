// What stands around every view: header, bars, tabs; which view is shown.
import { by, say } from './dom.js';
import { follow, settings } from './settings.js';
import { kept } from './kept.js';
import { readerWords } from './read_view.js';

const views = [...document.querySelectorAll('main')];

export function startFrame(bench) {
  const entered = new Map(); // view -> what to do with what is given on entering
  const loads = new Map(); // view -> what to load while it is shown
  let shown = '';
  let loadTimer = 0;

  function load() {
    clearTimeout(loadTimer);
    loadTimer = 0;
    loads.get(shown)?.();
  }

  function go(view, given) {
    const before = shown;
    shown = view;
    for (const each of views) each.hidden = each.id !== view;
    for (const button of document.querySelectorAll('header [data-view], nav [data-view]')) {
      if (button.dataset.view === view) button.setAttribute('aria-current', 'page');
      else button.removeAttribute('aria-current');
    }
    document.title = `${by(view).dataset.title} – ${bench.state?.panel ?? 'bench page'}`;
    if (before !== '' && before !== view) {
      window.scrollTo(0, 0);
      by(view).querySelector('h1').focus({ preventScroll: true });
    }
    load();
    entered.get(view)?.(given);
  }

  function sendingWords() {
    const waiting = bench.outbox.waiting();
    const refused = bench.outbox.refused().length;
    const what = waiting.every((item) => item.path === 'readings')
      ? ['reading', 'readings']
      : ['entry', 'entries'];
    const count = `${waiting.length} ${what[waiting.length === 1 ? 0 : 1]} waiting`;
    const trouble = bench.trouble === 'no answer' ? 'Offline' : bench.trouble;
    const old = waiting.length && Date.now() - firstSeen(waiting[0].id) > 1000;
    const offline = waiting.length ? `${trouble}, ${count}` : `${trouble}: readings are kept here`;
    return [
      bench.state?.trouble ? `The job can't be read any further: ${bench.state.trouble}` : '',
      trouble ? offline : old ? `Sending, ${count}` : '',
      refused ? `${refused} not taken by the job` : '',
      waiting.length && !kept.lasting ? 'This browser keeps nothing: leave the page open' : '',
    ]
      .filter(Boolean)
      .join('. ');
  }

  let seen = { id: '', at: 0 };
  function firstSeen(id) {
    if (seen.id !== id) seen = { id, at: Date.now() };
    return seen.at;
  }

  function drawBars() {
    const words = sendingWords();
    by('sending').hidden = words === '';
    say(by('sending-text'), words);
    by('sending').classList.toggle('refused', bench.outbox.refused().length > 0);
    by('sending-show').hidden = bench.outbox.refused().length === 0;
  }

  function drawHeader() {
    const { state } = bench;
    if (!state) return;
    say(by('panel'), `${state.panel} ${state.revision}`);
    const { planned, planned_done: done, channels, channels_proven: proven } = state.counts;
    say(by('read-count'), `${done} of ${planned} read,`);
    say(by('proven-count'), `${proven} of ${channels} channels`);
    say(by('finding-count'), state.findings.length ? ` ✗${state.findings.length}` : '');
  }

  let version;
  bench.addEventListener('change', () => {
    drawHeader();
    drawBars();
    if (bench.state?.version !== version && loads.has(shown) && !loadTimer) loadTimer = setTimeout(load, 400);
    version = bench.state?.version;
  });
  setInterval(drawBars, 1000);
  follow(() => {
    by('to-more').setAttribute('aria-label', readerWords() ? `More: ${readerWords()}` : 'More');
    if (settings.look === 'device') delete document.documentElement.dataset.look;
    else document.documentElement.dataset.look = settings.look;
  });
  document.addEventListener('click', (event) => {
    const button = event.target.closest('[data-view]');
    if (button) go(button.dataset.view);
  });

  return {
    go,
    shown: () => shown,
    onEnter: (view, what) => entered.set(view, what),
    whileShown: (view, what) => loads.set(view, what),
  };
}
