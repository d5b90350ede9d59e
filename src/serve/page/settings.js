// Who reads, with which meter, and how the page behaves: one small record per browser.
import { kept } from './kept.js';

const usual = { name: '', meter: '', look: 'device', speak: false, tone: true, keys: true };

export const settings = { ...usual, ...kept.get('settings') };

const listeners = [];

export function set(change) {
  Object.assign(settings, change);
  kept.set('settings', settings);
  for (const listener of listeners) listener();
}

/** Calls `listener` now and after every change. */
export function follow(listener) {
  listeners.push(listener);
  listener();
}
