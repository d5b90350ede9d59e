// A picture that the job draws, in a frame of its own that scrolls.
import { make } from './dom.js';

/** The frame, and `draw(address)`, which asks for the picture; what is asked for last is what stands there. */
export function pictureBox(label) {
  const box = make('div', { class: 'picture', tabindex: '0', role: 'region', 'aria-label': label });
  let asked = 0;
  let drawn = '';

  async function draw(address) {
    const mine = ++asked;
    let text = '';
    let picture = null;
    let trouble = 'The job gave no picture. Try again when it is reached.';
    try {
      const width = Math.max(0, box.clientWidth - 24);
      const answer = await fetch(`${address}${address.includes('?') ? '&' : '?'}width=${width}`, {
        cache: 'no-store',
      });
      if (answer.ok) {
        text = await answer.text();
        picture = new DOMParser().parseFromString(text, 'image/svg+xml').documentElement;
      } else {
        trouble = (await answer.json()).error?.text ?? trouble;
      }
    } catch {
      picture = null;
    }
    if (mine !== asked || (text !== '' && text === drawn)) return;
    if (picture?.localName !== 'svg') {
      drawn = '';
      box.replaceChildren(make('p', {}, trouble));
      return;
    }
    drawn = text;
    picture.querySelectorAll('script, foreignObject').forEach((element) => element.remove());
    box.replaceChildren(document.importNode(picture, true));
  }

  return { box, draw };
}
