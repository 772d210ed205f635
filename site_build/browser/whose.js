// The line over a form that says whose values it shows, with the ways to others.

import { button, element } from "./element.js";
import { fill } from "./slots.js";
import { whose as words } from "./words.js";

export class Whose {
  #line;
  #built; // what the page was built with: its example
  #shown = "example";

  constructor(line) {
    this.#line = line;
    this.#built = [...(line?.childNodes ?? [])];
  }

  /** The page's example, since there is no boat to show. */
  example() {
    this.#show("example", ...this.#built);
  }

  /** A boat's values, perhaps with some that were typed here. */
  boat(name, typed, showExample) {
    const link = element("a", "", words.sheet);
    link.href = this.#line?.dataset.sheetPage ?? "";
    const shown = words.shown(element("strong", "", name || words.unnamed), link, typed);
    const example = button("quiet", words.showExample, showExample);
    this.#show(`boat ${typed} ${name}`, ...shown, example);
  }

  /** The page's example, though there is a boat. */
  aside(name, back) {
    this.#show(`aside ${name}`, words.example, button("quiet", words.back(name || words.unnamed), back));
  }

  /** What a link brought; the notice is HTML of Python's. */
  link(notice, back, keep) {
    const told = element("span", "whose-notice", "");
    fill(told, notice);
    const ways = keep ? [button("", words.keep, keep), " "] : [];
    this.#show(`link ${notice} ${Boolean(keep)}`, told, " ", ...ways, button("quiet", words.mine, back));
  }

  /** The focus goes to the line when the button that had it is about to go. */
  takeFocus() {
    if (this.#line?.contains(document.activeElement)) {
      this.#line.tabIndex = -1;
      this.#line.focus();
    }
  }

  /** A sentence about a link that can't be shown. */
  refuse(sentence) {
    this.#line?.after(element("p", "whose-refused", sentence));
    this.#line?.nextElementSibling.setAttribute("role", "status");
  }

  /** Only what differs is exchanged: the focus may be on one of the buttons. */
  #show(what, ...parts) {
    if (this.#line && what !== this.#shown) {
      this.#shown = what;
      this.#line.dataset.whose = what.split(" ")[0];
      this.#line.replaceChildren(...parts);
    }
  }
}
