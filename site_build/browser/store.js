// What a browser keeps for a page, where it may. Every name carries the guide's, since pages opened
// from folders may all share one store. Reading and writing never fail; writing tells whether it worked.
// What is found in a wrong shape is set aside under another name: kept, and out of the way.

const PREFIX = "brinebook:";
const ASIDE = "aside:";

const seen = new Map(); // what a text that was read or written last stands for: [text, value]
const found = {}; // what was set aside since the page was opened: name -> text
let tellAside = () => {};

export function keep(store, name, value) {
  try {
    const text = JSON.stringify(value);
    self[store].setItem(PREFIX + name, text);
    seen.set(`${store}:${name}`, [text, value]);
    return true;
  } catch {
    return false;
  }
}

/**
 * What is kept under a name and has the shape that `fits` looks for; else null. The same text is the
 * same value, which nobody may change: a long one isn't read anew with each keystroke.
 */
export function recall(store, name, fits) {
  let text;
  try {
    text = self[store].getItem(PREFIX + name);
  } catch {
    return null; // what can't be read isn't there
  }
  if (text === null) {
    return null;
  }
  const known = seen.get(`${store}:${name}`);
  if (known?.[0] === text) {
    return known[1];
  }
  try {
    const value = JSON.parse(text);
    if (fits(value)) {
      seen.set(`${store}:${name}`, [text, value]);
      return value;
    }
  } catch {
    // no JSON
  }
  setAside(store, name, text);
  return null;
}

/** @param {(found: object) => void} tell called with all that was set aside, at once and with each more */
export function onAside(tell) {
  tellAside = tell;
  Object.keys(found).length && tell(found);
}

function setAside(store, name, text) {
  found[name] = text;
  try {
    let place = PREFIX + ASIDE + name;
    while (![null, text].includes(self[store].getItem(place))) {
      place += "~";
    }
    self[store].setItem(place, text);
    self[store].removeItem(PREFIX + name);
  } catch {
    // no room for it elsewhere: it stays, and is passed over
  }
  tellAside(found);
}

export function forget(store, name) {
  try {
    self[store].removeItem(PREFIX + name);
  } catch {
    // what can't be kept needn't be forgotten
  }
}

/** The names of all that is kept. */
export function namesIn(store) {
  try {
    return Object.keys(self[store])
      .filter((name) => name.startsWith(PREFIX))
      .map((name) => name.slice(PREFIX.length));
  } catch {
    return [];
  }
}

/** Call `act` with a name when another tab has changed it, until `left`; null stands for all of them. */
export function watch(store, act, left) {
  const look = ({ key, storageArea }) => {
    let ours = false;
    try {
      ours = storageArea === self[store];
    } catch {
      // what can't be read doesn't change
    }
    if (ours && (key === null || key.startsWith(PREFIX))) {
      act(key === null ? null : key.slice(PREFIX.length));
    }
  };
  addEventListener("storage", look, { signal: left });
}
