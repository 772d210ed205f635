// The line that says how far the engine is, beside each form that waits for it.

import { button, element } from "./element.js";
import * as words from "./words.js";

export class Status {
  #section;
  #engine;
  #line;
  #shown = false; // whether an answer has come; else the built one stands
  #notice = ""; // a sentence about the last request, in place of the engine's

  constructor(section, engine) {
    this.#section = section;
    this.#engine = engine;
    this.#line = section.querySelector("[data-engine-status]");
  }

  /** An answer is on its way. */
  wait() {
    this.#section.dataset.answer = "waiting";
    this.tell();
  }

  /** It has come, perhaps with a sentence of its own. */
  answered(notice = "") {
    this.#section.dataset.answer = "current";
    this.#shown = true;
    this.note(notice);
  }

  /** It will not come. */
  failed({ reason, detail }) {
    const sentence = { stopped: words.engine.stopped, stumbled: words.engine.stumbled(detail) };
    this.note(sentence[reason] ?? "");
  }

  note(sentence) {
    this.#notice = sentence;
    this.tell();
  }

  tell() {
    const { stage, failure, done, total } = this.#engine;
    this.#section.dataset.engine = stage;
    if (!this.#line) {
      return;
    }
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

  #say(text, { progress, retry = false } = {}) {
    const parts = [element("span", "bb-engine-text", text.trim())];
    if (progress) {
      parts.push(" ", element("span", "bb-engine-progress", progress));
      parts.at(-1).setAttribute("aria-hidden", "true"); // not read out at every step
    }
    if (retry) {
      parts.push(" ", button("bb-engine-retry", words.engine.retry, () => this.#engine.retry()));
    }
    const holder = element("p", "", "");
    holder.append(...parts);
    if (holder.innerHTML !== this.#line.innerHTML) {
      this.#line.replaceChildren(...parts);
    }
  }
}
