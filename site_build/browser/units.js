// The reader's choice of units, the same for all pages: [data-units-choice] is a select, or one of a
// set of buttons that carry the choice as their value.

import { keep, recall } from "./store.js";

export class Units {
  built = "metric"; // what pages are built with
  chosen = recall("localStorage", "units") ?? this.built;

  /** @param {() => void} changed called when the reader has chosen others */
  constructor(changed) {
    this.#show();
    const choose = ({ target }) => {
      const control = target.closest?.("[data-units-choice]");
      const choice = control?.value;
      if (choice && choice !== this.chosen) {
        this.chosen = choice;
        keep("localStorage", "units", choice);
        this.#show();
        changed();
      }
    };
    document.addEventListener("change", choose);
    document.addEventListener("click", (event) => event.target.closest?.("button[data-units-choice]") && choose(event));
  }

  #show() {
    for (const control of document.querySelectorAll("[data-units-choice]")) {
      if (control.matches("button")) {
        control.setAttribute("aria-pressed", String(control.value === this.chosen));
      } else {
        control.value = this.chosen;
      }
    }
  }
}
