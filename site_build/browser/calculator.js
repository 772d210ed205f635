// One calculator of a page: hears the form, asks the engine, shows what comes back.

import { element } from "./element.js";
import { Form } from "./form.js";
import { fill } from "./slots.js";
import { forget, keep, recall } from "./store.js";
import * as words from "./words.js";

const PAGE_TURNERS = ["p", "n", ",", "."]; // the theme's keys

export class Calculator {
  #section;
  #form;
  #status;
  #engine;
  #units;
  #built; // the form as it was in the page
  #undo = null; // the form before the last reset
  #shown = false; // whether an answer has come; else the built one stands
  #notice = ""; // a sentence about the last request, in place of the engine's

  constructor(section, engine, units) {
    this.#section = section;
    this.#engine = engine;
    this.#units = units;
    this.#status = section.querySelector("[data-engine-status]");
    const form = section.querySelector("form");
    form.autocomplete = "off";
    this.#form = new Form(form);
    this.#built = this.#form.state();
    this.#listen(form);
    this.#resume();
    if (this.#form.touched || units.chosen !== units.built) {
      this.ask();
    }
  }

  /** Ask for the answer to what the form says now. */
  async ask() {
    this.#engine.start();
    this.#section.dataset.answer = "waiting";
    this.tell();
    const request = {
      calculator: this.#section.dataset.calculator,
      example: JSON.parse(this.#section.dataset.example || "{}"),
      typed: this.#form.typed(),
      units: this.#units.chosen,
      prefix: this.#section.dataset.prefix ?? "",
    };
    try {
      const response = await this.#engine.ask(this, JSON.stringify(request));
      response && this.#show(JSON.parse(response));
    } catch (failure) {
      const sentence = { stopped: words.engine.stopped, stumbled: words.engine.stumbled(failure.detail) };
      this.#notice = sentence[failure.reason] ?? "";
      this.tell();
    }
  }

  /** Show how far the engine is. */
  tell() {
    if (!this.#status) {
      return;
    }
    const { stage, failure, done, total } = this.#engine;
    this.#section.dataset.engine = stage;
    // What stands below is not the answer to what the form says now: which is it then?
    const below = this.#shown ? words.engine.last : words.engine.example;
    const aside = this.#section.dataset.answer === "waiting" ? below : "";
    if (stage === "fetching") {
      this.#say(`${words.engine.fetching(total)} ${aside}`, { progress: words.engine.soFar(done) });
    } else if (stage === "starting") {
      this.#say(`${words.engine.starting} ${aside}`);
    } else if (stage === "ready") {
      this.#section.dataset.engineStart = this.#engine.fromSnapshot ? "snapshot" : "ordinary";
      this.#say(this.#notice || words.engine.ready);
    } else if (stage === "failed") {
      const reason = words.reasons[failure.reason](failure.detail ?? failure.message);
      this.#say(`${words.engine.failed(reason)} ${below}`, { retry: true });
    }
  }

  /** Keep the form over a reload of the page in this tab. */
  keep() {
    keep("sessionStorage", this.#name, this.#form.state());
  }

  get #name() {
    return `form:${location.pathname}:${this.#section.dataset.calculator}${this.#section.dataset.prefix ?? ""}`;
  }

  #resume() {
    const state = recall("sessionStorage", this.#name);
    forget("sessionStorage", this.#name);
    if (state) {
      this.#form.restore(state);
    }
  }

  #listen(form) {
    const changed = ({ target }) => {
      if (target.name) {
        this.#form.touch(target);
        this.#changed();
      }
    };
    form.addEventListener("input", changed);
    form.addEventListener("change", changed);
    form.addEventListener("focusin", () => this.#engine.start());
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("keydown", (event) => {
      if (PAGE_TURNERS.includes(event.key) && !event.ctrlKey && !event.metaKey && !event.altKey) {
        event.stopPropagation();
      }
    });
    this.#section.addEventListener("click", ({ target }) => {
      const link = target.closest("a[href^='#']");
      const field = link && form.querySelector(`#${CSS.escape(link.hash.slice(1))}`);
      field && reveal(field);
    });
    form.addEventListener("click", ({ target }) => {
      const button = target.closest("button");
      if (button?.matches("[data-add-row]")) {
        this.#form.addRow(button.closest("[data-rows]"));
        this.#changed();
      } else if (button?.matches("[data-remove-row]")) {
        this.#form.removeRow(button.closest("[data-row]"));
        this.#changed();
      } else if (button?.matches("[data-reset]")) {
        this.#reset();
      }
    });
  }

  #changed() {
    this.#offerUndo(null);
    this.#notice = "";
    this.ask();
  }

  /** Back to the page's example; pressed again at once, back to the reader's own values. */
  #reset() {
    const before = this.#form.state();
    this.#form.restore(this.#undo ?? this.#built);
    this.#offerUndo(this.#undo ? null : before);
    this.ask();
  }

  #offerUndo(state) {
    this.#undo = state;
    const button = this.#section.querySelector("[data-reset]");
    if (button) {
      button.dataset.label ??= button.textContent;
      button.textContent = state ? words.reset.undo : button.dataset.label;
      button.toggleAttribute("data-undo", Boolean(state));
    }
  }

  #show({ slots = {}, values, attributes = {}, hidden, error }) {
    values && this.#form.set(values);
    hidden && this.#form.hide(hidden);
    for (const element of this.#section.querySelectorAll("[data-slot]")) {
      const html = slots[element.dataset.slot];
      if (html !== undefined) {
        fill(element, html);
      }
    }
    this.#form.setAttributes(attributes);
    this.#section.dataset.answer = "current";
    this.#shown = true;
    this.#notice = error ?? "";
    this.tell();
  }

  #say(text, { progress, retry = false } = {}) {
    const parts = [element("span", "bb-engine-text", text.trim())];
    if (progress) {
      parts.push(" ", element("span", "bb-engine-progress", progress));
      parts.at(-1).setAttribute("aria-hidden", "true"); // not read out at every step
    }
    if (retry) {
      const button = element("button", "bb-engine-retry", words.engine.retry);
      button.type = "button";
      button.addEventListener("click", () => this.#engine.retry());
      parts.push(" ", button);
    }
    const holder = element("p", "", "");
    holder.append(...parts);
    if (holder.innerHTML !== this.#status.innerHTML) {
      this.#status.replaceChildren(...parts);
    }
  }
}

/** Open what a field is folded away in, and go to it. */
function reveal(field) {
  for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) {
    fold.open = true;
  }
  field.focus();
}
