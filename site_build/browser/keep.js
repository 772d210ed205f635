// The tools under an answer: its link, its card, its figures and pictures.

import { copy, download, imprint, print, today } from "./device.js";
import { button } from "./element.js";
import { keep as words } from "./words.js";

const CARD = "text/html;charset=utf-8";

export class Keep {
  #engine;
  #calculator;
  #place;

  constructor(section, engine, calculator) {
    this.#engine = engine;
    this.#calculator = calculator;
    this.#place = section.querySelector("[data-keep]");
    const asks = document.querySelector("meta[name=brinebook-ask]")?.content;
    if (asks && this.#place) {
      const ask = button("bb-ask-us", words.askUs, () => {});
      ask.value = "ask";
      this.#place.querySelector("p").append(" ", ask);
    }
    const acts = {
      link: () => this.#copyLink(),
      text: () => this.#copyFigures(),
      csv: () => this.#saveFigures(),
      card: () => this.#card(({ html, name }) => download(html, name, CARD)),
      ask: () => this.#askUs(),
      print: () => this.#card(({ html }) => (print(html), this.#say(words.printing))),
    };
    this.#place?.addEventListener("click", ({ target }) => acts[target.closest("button")?.value]?.());
    section.addEventListener("click", ({ target }) => {
      const picture = target.closest("[data-picture-svg]")?.value;
      picture !== undefined && this.#savePicture(picture);
    });
  }

  async #copyLink() {
    const fragment = this.#calculator.link ?? (await this.#ask({}))?.link;
    if (!fragment) {
      return;
    }
    // From a folder the page's own address leads nobody else anywhere.
    const folder = location.protocol === "file:";
    const hosted = folder && document.querySelector("meta[name=brinebook-hosted]")?.content;
    const sentence = hosted ? words.linkOfHost : folder ? words.linkOfFolder : words.linkCopied;
    this.#give(`${hosted || addressOfPage()}#${fragment}`, sentence);
  }

  /** A letter, or a page of whoever made this guide, with the link to the answer; a reader sends it herself. */
  async #askUs() {
    const fragment = this.#calculator.link ?? (await this.#ask({}))?.link;
    if (!fragment) {
      return;
    }
    const hosted = document.querySelector("meta[name=brinebook-hosted]")?.content;
    // The path of a folder is nobody's business, and leads nowhere.
    const link = `${location.protocol === "file:" ? (hosted ?? "") : addressOfPage()}#${fragment}`;
    const to = document.querySelector("meta[name=brinebook-ask]").content;
    if (to.startsWith("mailto:")) {
      const [subject, body] = [document.title, `${words.askedAbout}\n${link}\n`].map(encodeURIComponent);
      location.href = `${to}?subject=${subject}&body=${body}`;
      this.#say(words.letter);
    } else {
      open(`${to}${to.includes("?") ? "&" : "?"}answer=${encodeURIComponent(link)}`, "_blank", "noopener");
      this.#say(words.askedThere);
    }
  }

  async #copyFigures() {
    const reply = await this.#ask({ do: "figures", house: imprint().house });
    reply && this.#give(reply.text, words.figuresCopied);
  }

  async #saveFigures() {
    const reply = await this.#ask({ do: "figures" });
    reply && download(reply.csv, reply.name, "text/csv;charset=utf-8");
  }

  async #savePicture(picture) {
    const reply = await this.#ask({ do: "picture", picture });
    reply && download(reply.svg, reply.name, "image/svg+xml");
  }

  async #card(use) {
    const reply = await this.#ask({
      do: "card",
      boat: this.#calculator.boat,
      day: today(),
      ...imprint(),
      address: location.protocol === "file:" ? "" : addressOfPage(),
      paper: this.#place.querySelector("[data-paper]").value,
    });
    reply && use(reply);
  }

  /** The reply to a request about the answer that is shown, or nothing and a sentence why. */
  async #ask(more) {
    this.#engine.start();
    this.#say(this.#engine.stage === "ready" ? "" : words.wait);
    try {
      const response = await this.#engine.ask(this, JSON.stringify({ ...this.#calculator.request, ...more }));
      const reply = response && JSON.parse(response);
      reply && this.#say(reply.error ?? "");
      return reply?.error ? undefined : reply;
    } catch {
      this.#say(words.failed);
      return undefined;
    }
  }

  /** On the clipboard, or where a browser forbids that, selected in a field. */
  async #give(text, sentence) {
    const byHand = this.#place.querySelector("[data-by-hand]");
    byHand.hidden = await copy(text);
    this.#say(byHand.hidden ? sentence : `${words.byHand} ${sentence === words.linkOfFolder ? words.linkOfFolder : ""}`.trim());
    if (!byHand.hidden) {
      byHand.value = text;
      byHand.focus();
      byHand.select();
    }
  }

  #say(sentence) {
    const said = this.#place?.querySelector("[data-said]");
    said && (said.textContent = sentence);
  }
}

/** The address of the guide's page with this calculator, from a frame too. */
function addressOfPage() {
  const page = document.querySelector("meta[name=brinebook-page]")?.content ?? location.href;
  return new URL(page, location.href).href.replace(/[?#].*$/s, "");
}
