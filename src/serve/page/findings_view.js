// What the readings say is wrong, what to do, and "moved as proposed".
import { by, fill, make, press } from './dom.js';

const guard = 700; // ms in which a second press on the same card can only be an accident

export function startFindings(bench, go) {
  let asking = ''; // key of the finding whose repair is to be confirmed
  let askedAt = 0;
  let drawn = '';

  function ask(finding) {
    asking = finding.key;
    askedAt = performance.now();
    draw();
    by('findings').querySelector('.confirm button')?.focus();
  }

  function confirm(finding) {
    if (performance.now() - askedAt < guard) return;
    asking = '';
    bench.repair(finding);
    go('read');
  }

  function repair(finding) {
    if (!finding.repairable) return null;
    if (asking !== finding.key)
      return press('Moved as proposed', () => ask(finding), { 'data-focus': `repair ${finding.key}` });
    const no = () => {
      asking = '';
      draw();
    };
    return make(
      'div',
      { class: 'confirm', role: 'group', 'aria-label': 'Confirm the repair' },
      make(
        'p',
        {},
        `Log that finding ${finding.number} is repaired as proposed? What it touches must be read again.`,
      ),
      press('Not yet', no, { 'data-focus': `repair ${finding.key}` }),
      press('Yes, it is moved', () => confirm(finding), {
        class: 'strong',
        'data-focus': `confirm ${finding.key}`,
      }),
    );
  }

  function likelihood(finding) {
    const others = finding.others === 1 ? '1 other explanation' : `${finding.others} other explanations`;
    const percent = `Likelihood ${Math.round(finding.probability * 100)} %`;
    return finding.others ? `${percent}; ${others}` : percent;
  }

  function card(finding) {
    return make(
      'article',
      { class: 'card finding' },
      make('h2', {}, make('span', { 'aria-hidden': 'true' }, '✗ '), `Finding ${finding.number}`),
      make('p', { class: 'likelihood' }, likelihood(finding)),
      make('p', { class: 'text' }, finding.text),
      make('p', { class: 'action' }, make('strong', {}, `${finding.remedy}: `), finding.action),
      finding.next ? make('p', {}, finding.next) : null,
      make(
        'details',
        {},
        make(
          'summary',
          { 'data-focus': `readings ${finding.key}` },
          finding.readings.length === 1 ? 'From 1 reading' : `From ${finding.readings.length} readings`,
        ),
        make(
          'ul',
          {},
          finding.readings.map((reading) => make('li', {}, reading)),
        ),
      ),
      repair(finding),
    );
  }

  function contradiction(text) {
    return make('article', { class: 'card' }, make('p', {}, make('span', { 'aria-hidden': 'true' }, '∿ '), text));
  }

  function draw() {
    const list = bench.state?.findings ?? [];
    const against = bench.state?.contradictions ?? [];
    const now = JSON.stringify([list, against, asking]);
    if (now === drawn) return;
    drawn = now;
    const open = new Set(
      [...by('findings').querySelectorAll('details[open] summary')].map((summary) => summary.dataset.focus),
    );
    fill(
      by('findings'),
      make('h1', { tabindex: '-1' }, 'Findings'),
      list.length
        ? list.map(card)
        : make('p', {}, 'No reading contradicts the drawing so far. What is not read is not proven.'),
      against.length ? make('h2', {}, 'Readings that contradict each other') : null,
      against.map(contradiction),
    );
    for (const summary of by('findings').querySelectorAll('summary'))
      summary.parentElement.open = open.has(summary.dataset.focus);
  }

  bench.addEventListener('change', draw);
  draw();
}
