// Elements are made, never parsed: whatever a drawing calls a point stays text.

/** An element with attributes (`onclick` and the like are listeners) and children. */
export function make(tag, attributes = {}, ...children) {
  const element = document.createElement(tag);
  for (const [name, value] of Object.entries(attributes)) {
    if (name.startsWith('on')) element.addEventListener(name.slice(2), value);
    else if (value === true) element.setAttribute(name, '');
    else if (value !== false && value !== null && value !== undefined) element.setAttribute(name, value);
  }
  element.append(...children.flat().filter((child) => child !== null && child !== undefined && child !== ''));
  return element;
}

/** A button; `data-focus` lets the focus find it again when its list is drawn anew. */
export function press(words, action, attributes = {}) {
  return make('button', { type: 'button', 'data-focus': words, onclick: action, ...attributes }, words);
}

/** A shape and a word: colour alone never says anything. */
export function mark(kind, shape, word) {
  return make('span', { class: `mark ${kind}` }, make('span', { 'aria-hidden': 'true' }, shape), ` ${word}`);
}

/** Puts new children into a box; the focus stays on what has the same `data-focus` there. */
export function fill(box, ...children) {
  const before = document.activeElement;
  const name = box.contains(before) ? before.dataset.focus : undefined;
  box.replaceChildren(...children.flat().filter((child) => child !== null && child !== undefined));
  if (name === undefined) return;
  const again = [...box.querySelectorAll('[data-focus]')].find((each) => each.dataset.focus === name);
  if (again) again.focus({ preventScroll: true });
}

export const by = (id) => document.getElementById(id);

/** Sets text only where it differs, so that nothing is announced twice. */
export function say(element, text) {
  if (element.textContent !== text) element.textContent = text;
}
