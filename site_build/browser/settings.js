// How the reader wants numbers shown, the same for all pages: their units and their decimal mark.
// [data-units-choice] and [data-decimal-choice] are selects, or buttons that carry the choice as value.

import { isText } from "./shapes.js";
import { keep, recall } from "./store.js";

// What pages are built with: the decimal mark is that of their language.
const BUILT = {
  units: "metric",
  decimal: document.querySelector("[data-decimal-choice][aria-pressed=true]")?.value ?? ".",
};
const NAMES = Object.keys(BUILT);

export class Settings {
  #chosen = Object.fromEntries(
    NAMES.map((name) => [name, recall("localStorage", name, (value) => offers(name, value)) ?? BUILT[name]]),
  );

  /** @param {() => void} changed called when the reader has chosen others */
  constructor(changed) {
    this.show();
    const choose = ({ target }) => {
      const name = NAMES.find((one) => target.matches?.(`[data-${one}-choice]`));
      if (name && target.value && target.value !== this.#chosen[name]) {
        this.#chosen[name] = target.value;
        keep("localStorage", name, target.value);
        this.show();
        changed();
      }
    };
    document.addEventListener("change", choose);
    document.addEventListener("click", (event) => event.target.matches?.("button") && choose(event));
  }

  /** As requests carry them. */
  get chosen() {
    return { ...this.#chosen };
  }

  get asBuilt() {
    return NAMES.every((name) => this.#chosen[name] === BUILT[name]);
  }

  /** Show what is chosen, on a page that has just come too. */
  show() {
    for (const name of NAMES) {
      for (const control of document.querySelectorAll(`[data-${name}-choice]`)) {
        if (control.matches("button")) {
          control.setAttribute("aria-pressed", String(control.value === this.#chosen[name]));
        } else {
          control.value = this.#chosen[name];
        }
      }
    }
    this.#cite();
    this.#offerUnits();
  }

  /** A line for a log is typed in the reader's units, unless something stands there already. */
  #offerUnits() {
    for (const list of document.querySelectorAll("select[data-us]")) {
      if (!list.closest(".control").querySelector("input").value) {
        list.value = list.dataset[this.#chosen.units] ?? list.dataset.metric;
      }
    }
  }

  /** Numbers in sentences carry what they read in other units and styles. */
  #cite() {
    const { units, decimal } = this.#chosen;
    const ways = decimal === BUILT.decimal ? [units] : [`${units}Mark`, units];
    for (const cited of document.querySelectorAll(".cited")) {
      cited.dataset.built ??= cited.textContent;
      cited.textContent = ways.map((way) => cited.dataset[way]).find(Boolean) ?? cited.dataset.built;
    }
  }
}

/** Whether a page lets one choose this; a page without the choice takes what others offer. */
function offers(name, value) {
  const choices = [...document.querySelectorAll(`[data-${name}-choice]`)];
  const offered = choices.flatMap((one) => (one.matches("button") ? [one] : [...one.options]));
  return isText(value) && (!offered.length || offered.some((one) => one.value === value));
}
