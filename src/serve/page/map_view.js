// The whole panel as a map of what the readings show, and each terminal strip with its landings.
import { by, fill, make, press } from './dom.js';
import { ask } from './link.js';
import { pictureBox } from './picture_box.js';

/** Returns what to do on entering with the name of a strip, or of a point on one. */
export function startMap(whileShown) {
  const map = pictureBox('Map of the panel');
  const strip = make('section', { id: 'strip', hidden: true, 'aria-label': 'Terminal strip' });
  const choices = make('div', { class: 'choices', role: 'group', 'aria-label': 'Terminal strips' });
  let strips = [];
  let shown = ''; // the strip
  let landings = null; // its picture

  const drawStrip = () => landings?.draw(`strip?name=${encodeURIComponent(shown)}`);

  function close() {
    const before = shown;
    shown = '';
    landings = null;
    strip.hidden = true;
    drawChoices();
    choices.querySelector(`[data-focus="${CSS.escape(`strip ${before}`)}"]`)?.focus();
  }

  function show(name) {
    shown = name;
    landings = pictureBox(`Picture of strip ${name}`);
    strip.hidden = false;
    fill(
      strip,
      make('h2', { tabindex: '-1' }, `Strip ${name}`),
      landings.box,
      press('Close the strip', close),
    );
    strip.querySelector('h2').focus();
    drawStrip();
    drawChoices();
  }

  function drawChoices() {
    fill(
      choices,
      strips.map((name) =>
        press(name, () => show(name), {
          'data-focus': `strip ${name}`,
          'aria-label': `Strip ${name}`,
          'aria-pressed': String(name === shown),
        }),
      ),
    );
  }

  async function load() {
    map.draw('map');
    drawStrip();
    strips = await ask('strips').then(
      (answer) => answer.strips,
      () => strips,
    );
    drawChoices();
  }

  by('map').append(
    make('h1', { tabindex: '-1' }, 'Map of the panel'),
    strip,
    make('p', {}, 'Landings on a terminal strip:'),
    choices,
    map.box,
  );
  whileShown('map', load);
  return (name) => name && show(name);
}
