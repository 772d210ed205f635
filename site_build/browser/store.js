// What a browser keeps for a page, where it may. Every name carries the guide's, since pages opened
// from folders may all share one store. Reading and writing never fail; writing tells whether it worked.

const PREFIX = "brinebook:";

export function keep(store, name, value) {
  try {
    self[store].setItem(PREFIX + name, JSON.stringify(value));
    return true;
  } catch {
    return false;
  }
}

export function recall(store, name) {
  try {
    return JSON.parse(self[store].getItem(PREFIX + name));
  } catch {
    return null;
  }
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

/** Call `act` with a name when another tab has changed it; null stands for all of them. */
export function watch(store, act) {
  addEventListener("storage", ({ key, storageArea }) => {
    let ours = false;
    try {
      ours = storageArea === self[store];
    } catch {
      // what can't be read doesn't change
    }
    if (ours && (key === null || key.startsWith(PREFIX))) {
      act(key === null ? null : key.slice(PREFIX.length));
    }
  });
}
