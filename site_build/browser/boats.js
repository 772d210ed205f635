// The reader's boats, kept on this device. Every value is an entry of its own: two tabs that write
// different fields can't take each other's away, and of the same field the last one written counts.
//
//   boat             the one that is shown
//   boat:ID          this boat exists
//   boat:ID.FIELD    a value of its sheet, as typed

import { isSaid, isText } from "./shapes.js";
import { forget, keep, namesIn, recall, watch } from "./store.js";

const STORE = "localStorage";
const SHOWN = "boat";
const ENTRY = /^boat:([a-z0-9]+)(?:\.(.*))?$/s;
export const FIRST = "1"; // a reader's only boat

export class Boats {
  #changed;
  #unkept; // what can't be stored lives as long as this page

  /**
   * @param {() => void} changed called when a boat has changed, here or in another tab
   * @param {[string, unknown][]} unkept what the page could not store before it was loaded again
   */
  constructor(changed, unkept = []) {
    this.#changed = changed;
    this.#unkept = new Map(unkept);
    watch(STORE, (name) => (name === null || name === SHOWN || ENTRY.test(name)) && changed());
  }

  /** Whether what is written will be there the next time. */
  get remembers() {
    return !this.#unkept.size && keep(STORE, "trial", true) && (forget(STORE, "trial"), true);
  }

  /** What can't be stored, to hand over to the page when it is loaded again. */
  get unkept() {
    return [...this.#unkept];
  }

  /** All boats, the oldest first: [{id, name}]. */
  get all() {
    const ids = new Set(this.#entries().map(([, id]) => id));
    return [...ids].sort().map((id) => ({ id, name: this.#read(`boat:${id}.name`) ?? "" }));
  }

  /** The boat that is shown. */
  get shown() {
    const ids = this.all.map(({ id }) => id);
    const wanted = this.#read(SHOWN);
    return ids.includes(wanted) ? wanted : (ids[0] ?? FIRST);
  }

  get name() {
    return String(this.#read(`boat:${this.shown}.name`) ?? "");
  }

  /** Whether anything is said of the boat that is shown. */
  get described() {
    const shown = this.shown;
    return this.#entries().some(([, id, field]) => id === shown && field !== undefined);
  }

  /** The values of the boat that is shown, or those of them that are named. */
  sheet(names) {
    const shown = this.shown;
    return Object.fromEntries(
      this.#entries()
        .filter(([, id, field]) => id === shown && field !== undefined && (names?.includes(field) ?? true))
        .map(([entry, , field]) => [field, this.#read(entry)])
        .filter(([, value]) => value !== null)
        .sort(([one], [other]) => (one < other ? -1 : 1)),
    );
  }

  /** Write values into the sheet of the boat that is shown; an empty text takes one out. */
  put(values) {
    const shown = this.shown;
    for (const [field, value] of Object.entries(values)) {
      const entry = `boat:${shown}.${field}`;
      value === "" ? this.#erase(entry) : this.#write(entry, value);
    }
    this.#changed();
  }

  show(id) {
    this.#write(SHOWN, id);
    this.#changed();
  }

  /** A further boat, which is shown. */
  add() {
    let id = Date.now().toString(36);
    while (this.all.some((boat) => boat.id === id)) {
      id += "0";
    }
    this.#write(`boat:${id}`, true);
    this.show(id);
  }

  /** Empty the sheet of the boat that is shown. */
  clear() {
    const shown = this.shown;
    this.#write(`boat:${shown}`, true);
    this.#eraseAll(([, id, field]) => id === shown && field !== undefined);
  }

  /** Take away the boat that is shown. */
  remove() {
    const shown = this.shown;
    this.#eraseAll(([, id]) => id === shown);
  }

  /** All that is needed to bring back the boat that is shown. */
  memory() {
    return { id: this.shown, sheet: this.sheet() };
  }

  bringBack({ id, sheet }) {
    this.#write(`boat:${id}`, true);
    this.#write(SHOWN, id);
    this.put(sheet);
  }

  #eraseAll(concerned) {
    this.#entries()
      .filter(concerned)
      .forEach(([entry]) => this.#erase(entry));
    this.#changed();
  }

  /** Entries of boats: [name, id, field], the field undefined where the boat itself is meant. */
  #entries() {
    const names = new Set([...namesIn(STORE), ...this.#unkept.keys()]);
    return [...names].map((name) => ENTRY.exec(name)).filter(Boolean);
  }

  #read(name) {
    return this.#unkept.has(name) ? this.#unkept.get(name) : recall(STORE, name, name === SHOWN ? isText : isSaid);
  }

  #write(name, value) {
    if (keep(STORE, name, value)) {
      this.#unkept.delete(name);
    } else {
      this.#unkept.set(name, value);
    }
  }

  #erase(name) {
    this.#unkept.delete(name);
    forget(STORE, name);
  }
}
