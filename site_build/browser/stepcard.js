// A step card: a section of a page's own words, saved or printed as a card.

import { download, imprint, print, today } from "./device.js";
import { keep as words } from "./words.js";

const CARD = "text/html;charset=utf-8";

export class StepCard {
  #engine;
  #settings;
  #boats;
  #tools;

  constructor(tools, { engine, settings, boats }) {
    this.#tools = tools;
    this.#engine = engine;
    this.#settings = settings;
    this.#boats = boats;
    const acts = {
      card: ({ html, name }) => download(html, name, CARD),
      print: ({ html }) => (print(html), this.#say(words.printing)),
    };
    tools.addEventListener("click", ({ target }) => {
      const act = acts[target.closest("button")?.value];
      act && this.#make(act);
    });
  }

  async #make(use) {
    const { id, html, title } = this.#section();
    const hosted = location.protocol !== "file:";
    this.#engine.start();
    this.#say(this.#engine.stage === "ready" ? "" : words.wait);
    const request = {
      do: "step card",
      title,
      html,
      key: id,
      boat: this.#boats.name,
      day: today(),
      ...imprint(),
      address: hosted ? `${location.href.replace(/[?#].*$/s, "")}#${id}` : "",
      paper: this.#tools.querySelector("[data-paper]").value,
      ...this.#settings.chosen,
    };
    try {
      const response = await this.#engine.ask(this, JSON.stringify(request));
      const reply = response && JSON.parse(response);
      reply && this.#say(reply.error ?? "");
      reply && !reply.error && use(reply);
    } catch {
      this.#say(words.failed);
    }
  }

  /** The heading's words, and what stands between it and the tools. */
  #section() {
    const id = this.#tools.dataset.stepCard;
    const heading = document.getElementById(id);
    let html = "";
    for (let part = heading.nextElementSibling; part && part !== this.#tools; part = part.nextElementSibling) {
      html += part.outerHTML;
    }
    return { id, html, title: heading.textContent };
  }

  #say(sentence) {
    this.#tools.querySelector("[data-said]").textContent = sentence;
  }
}
