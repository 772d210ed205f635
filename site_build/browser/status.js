// The line that says how far the engine is, beside each form that waits for it.

import { button, element } from "./element.js";
import * as words from "./words.js";

const GRACE = 300; // ms: an answer usually comes sooner, and a word that flashes by helps nobody

export class Status {
  #section;
  #engine;
  #line;
  #shown = false; // whether an answer has come; else the built one stands
  #notice = ""; // a sentence about the last request, in place of the engine's
  #alarm; // when an answer is late
  #said; // what the line says, but for how far the engine is
  #progress; // where it says that

  constructor(section, engine) {
    this.#section = section;
    this.#engine = engine;
    this.#line = section.querySelector("[data-engine-status]");
  }

  /** An answer is on its way. */
  wait() {
    this.#section.dataset.answer = "waiting";
    clearTimeout(this.#alarm);
    this.#alarm = setTimeout(() => this.#stale(true), GRACE);
    this.tell();
  }

  /** It has come; of the answer that there is `more` of, what is seen first. */
  answered(more = false) {
    this.#section.dataset.answer = more ? "first" : "current";
    clearTimeout(this.#alarm);
    this.#stale(false);
    this.#shown = true;
    this.note("");
  }

  /** In its place a sentence came: what is shown is still the answer to something else. */
  refused(sentence) {
    this.#stale(true);
    this.note(sentence);
  }

  /** It will not come. */
  failed({ reason, detail }) {
    const sentence = { stopped: words.engine.stopped, stumbled: words.engine.stumbled(detail) };
    this.#stale(true);
    this.note(sentence[reason] ?? "");
  }

  /** Whether the verdict in sight is for other values than the form's: it is covered then. */
  #stale(is) {
    this.#section.toggleAttribute("data-stale", is);
  }

  note(sentence) {
    this.#notice = sentence;
    this.tell();
  }

  tell() {
    const { stage, failure, done, total, interrupted } = this.#engine;
    if (this.#section.dataset.engine !== stage) {
      this.#section.dataset.engine = stage; // the same once more would have its style computed anew
    }
    this.#section.toggleAttribute("data-cut", interrupted && stage === "fetching");
    if (stage !== "ready" && this.#section.dataset.answer === "waiting") {
      this.#stale(true);
    }
    if (!this.#line) {
      return;
    }
    // What stands below is not the answer to what the form says now: which is it then?
    const below = this.#shown ? words.engine.last : words.engine.example;
    const aside = this.#section.dataset.answer === "waiting" ? below : "";
    if (stage === "fetching") {
      const how = interrupted ? words.engine.interrupted : words.engine.fetching(total);
      this.#say(`${how} ${aside}`, { progress: words.engine.soFar(done) });
    } else if (stage === "starting") {
      this.#say(`${words.engine.starting} ${aside}`);
    } else if (stage === "ready") {
      this.#section.dataset.engineStart = this.#engine.fromSnapshot ? "snapshot" : "ordinary";
      this.#say(this.#notice || words.engine.ready);
    } else if (stage === "failed") {
      const reason = words.reasons[failure.reason](failure.detail ?? failure.message);
      const ways = { edition: { reload: true }, sandboxed: {}, "shut-off": {} }; // in vain is nothing offered
      this.#say(`${words.engine.failed(reason)} ${below}`, ways[failure.reason] ?? { retry: true });
    }
  }

  #say(text, { progress = "", retry = false, reload = false } = {}) {
    const said = JSON.stringify([text.trim(), progress !== "", retry, reload]);
    if (said === this.#said) {
      progress && (this.#progress.firstChild.data = progress); // a text alone: the page's style stands as it is
      return;
    }
    this.#said = said;
    const parts = [element("span", "bb-engine-text", text.trim())];
    if (progress) {
      this.#progress = element("span", "bb-engine-progress", progress);
      this.#progress.setAttribute("aria-hidden", "true"); // not read out at every step
      parts.push(" ", this.#progress);
    }
    if (retry) {
      parts.push(" ", button("bb-engine-retry", words.engine.retry, () => this.#engine.retry()));
    }
    if (reload) {
      parts.push(" ", button("bb-engine-reload", words.engine.reload, () => this.#engine.loadAgain() || location.reload()));
    }
    this.#line.replaceChildren(...parts);
  }
}
