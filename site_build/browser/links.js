// Opens answer links: a fragment of the page's address that Python knows for one.

import { links as words } from "./words.js";

export class Links {
  #engine;
  #calculators;

  /** `left` is a signal that the page is no longer shown. */
  constructor(engine, calculators, left) {
    this.#engine = engine;
    this.#calculators = calculators;
    addEventListener("hashchange", () => this.#look(), { signal: left });
    this.#look();
  }

  async #look() {
    // A fragment that names a place of the page is no answer.
    if (location.hash.length < 2 || document.querySelector(":target") || !this.#calculators.length) {
      return;
    }
    this.#engine.start();
    try {
      const request = { do: "open", fragment: location.hash };
      const response = await this.#engine.ask(this, JSON.stringify(request));
      response && this.#open(JSON.parse(response));
    } catch {
      // the calculators say what became of the engine
    }
  }

  #open({ calculator, typed, notice, own, error }) {
    const wanted = this.#calculators.find(({ name }) => name === calculator);
    if (wanted) {
      wanted.open(typed, notice, own);
    } else if (error || calculator) {
      this.#calculators[0].refuse(error ?? words.elsewhere);
    }
  }
}
