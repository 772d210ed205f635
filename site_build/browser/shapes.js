// What kept things look like. Whatever else is found was written by somebody else, or by a fault.

const MOST_ROWS = 999; // no list is that long; Python says how long it may be

export const isText = (value) => typeof value === "string";

export const isList = (of) => (value) => Array.isArray(value) && value.every(of);

export const isRecord = (of) => (value) =>
  value !== null && typeof value === "object" && !Array.isArray(value) && Object.values(value).every(of);

/** A value of a boat's sheet: a text, or the rows of a list. */
export const isSaid = (value) => isText(value) || isList(isRecord(isText))(value);

/** The state of a form. */
export const isState = (value) =>
  isRecord(() => true)(value) &&
  isList(isText)(value.touched) &&
  isRecord((count) => Number.isInteger(count) && count >= 0 && count <= MOST_ROWS)(value.rows) &&
  isRecord(isText)(value.values);

/** Things by what each is known by, in their order: name -> [thing]. */
export function grouped(things, nameOf) {
  const found = new Map();
  for (const one of things) {
    const name = nameOf(one);
    found.has(name) ? found.get(name).push(one) : found.set(name, [one]);
  }
  return found;
}
