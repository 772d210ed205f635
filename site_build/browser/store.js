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
