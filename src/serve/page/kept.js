// What outlives the page, in localStorage. Where a browser keeps nothing, the page's memory stands in and
// `lasting` is false.

const memory = new Map();
const prefix = 'ringtrue.';

function storage() {
  try {
    return window.localStorage;
  } catch {
    return null;
  }
}

export const kept = {
  lasting: true,

  get(name) {
    if (memory.has(name)) return memory.get(name);
    const text = storage()?.getItem(prefix + name) ?? null;
    try {
      return text === null ? null : JSON.parse(text);
    } catch {
      return null;
    }
  },

  set(name, value) {
    try {
      storage().setItem(prefix + name, JSON.stringify(value));
      memory.delete(name);
    } catch {
      memory.set(name, value);
      this.lasting = false;
    }
  },

  remove(name) {
    memory.delete(name);
    storage()?.removeItem(prefix + name);
    if (memory.size === 0) this.lasting = true;
  },

  /** Names that begin with `start`, of this page and of all others of this browser. */
  names(start) {
    const all = new Set([...memory.keys()]);
    const place = storage();
    for (let at = 0; place && at < place.length; ++at) {
      const key = place.key(at);
      if (key.startsWith(prefix)) all.add(key.slice(prefix.length));
    }
    return [...all].filter((name) => name.startsWith(start));
  },
};
