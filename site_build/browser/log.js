// The tools of a log's field: a line to add, a file to merge or to save. Python reads, merges and
// judges; what it gives back goes into the boat's sheet, and from there into the form.

import { download, today } from "./device.js";
import { button } from "./element.js";
import { log as words } from "./words.js";

const MOST_TO_READ = 20_000_000; // bytes of a file; Python says what is too much for a log

/** The logs of a section; lines that were typed before come back. */
export function logsIn(section, shared, lines = []) {
  return [...section.querySelectorAll("[data-log-tools]")].map((tools, index) => {
    const made = new Log(tools, shared);
    made.line = lines[index] ?? {};
    return made;
  });
}

class Log {
  #tools;
  #engine;
  #boats;
  #form;
  #field;
  #mine;
  #changed;

  /**
   * @param {() => boolean} mine whether the form shows the reader's own values, or none
   * @param {() => void} changed called before the log in the boat's sheet changes
   */
  constructor(tools, { engine, boats, form, mine, changed }) {
    this.#tools = tools;
    this.#engine = engine;
    this.#boats = boats;
    this.#form = form;
    this.#mine = mine;
    this.#changed = changed;
    this.#field = tools.closest("[data-field]").dataset.field;
    tools.hidden = false;
    this.#cell("date").value = today();
    const file = tools.querySelector("[data-log-file]");
    const acts = {
      add: () => this.#add(),
      open: () => file.click(),
      csv: () => this.#save("csv"),
      json: () => this.#save("json"),
    };
    tools.addEventListener("click", ({ target }) => acts[target.closest("button")?.value]?.());
    tools.addEventListener("keydown", ({ key, target }) => key === "Enter" && target.matches("input") && this.#add());
    file.addEventListener("change", async () => {
      const [chosen] = file.files;
      chosen && (await this.#merge(chosen));
      file.value = "";
    });
  }

  /** A line that is typed and not yet added. */
  get line() {
    return Object.fromEntries(this.#cells.map((cell) => [cell.dataset.logCell, cell.value]));
  }

  set line(texts) {
    this.#cells.forEach((cell) => (cell.value = texts[cell.dataset.logCell] ?? cell.value));
  }

  /** The reader's log: as typed on this page, or the boat's. The page's example is nobody's. */
  get #text() {
    const typed = this.#form.typed();
    return (Object.hasOwn(typed, this.#field) ? typed : this.#boats.sheet([this.#field]))[this.#field] ?? "";
  }

  async #add(more = {}) {
    const reply = await this.#change({ do: "log add", cells: this.line, today: today(), ...more });
    if (reply?.offer) {
      this.#say(reply.said, button("", words.replaced, () => this.#add({ instead: true })));
    } else if (typeof reply?.log === "string") {
      const typed = this.#cells.filter((cell) => cell.type === "text");
      typed.forEach((cell) => (cell.value = ""));
      typed[0].focus();
    }
  }

  async #merge(file) {
    await this.#change({ do: "log merge", text: await file.slice(0, MOST_TO_READ).text() });
  }

  async #save(kind) {
    const reply = await this.#ask({ do: "log file", log: this.#shown, kind, boat: this.#boats.name });
    reply && download(reply.text, reply.name, `${reply.type};charset=utf-8`);
  }

  /** The log that the form shows, be it the example's. */
  get #shown() {
    return this.#form.texts([this.#field])[this.#field];
  }

  /** Ask for a changed log and keep it; the reply, once it is kept. */
  async #change(request) {
    if (!this.#mine()) {
      this.#say(words.notMine);
      return undefined;
    }
    const before = this.#text;
    const reply = await this.#ask({ ...request, log: before });
    if (!reply) {
      return undefined;
    }
    const done = typeof reply.log === "string";
    done && this.#write(reply.log);
    this.#say(reply.said, ...(done ? [button("quiet", words.undo, () => this.#undo(before))] : []));
    return reply;
  }

  #undo(before) {
    this.#write(before);
    this.#say(words.undone);
  }

  #write(text) {
    this.#form.release([this.#field]);
    this.#changed();
    this.#boats.put({ [this.#field]: text });
  }

  async #ask(request) {
    this.#engine.start();
    this.#say(this.#engine.stage === "ready" ? "" : words.wait);
    try {
      const response = await this.#engine.ask(this, JSON.stringify({ field: this.#field, ...request }));
      const reply = response && JSON.parse(response);
      this.#say(reply?.error ?? "");
      return reply?.error ? undefined : reply;
    } catch {
      this.#say(words.failed);
      return undefined;
    }
  }

  get #cells() {
    return [...this.#tools.querySelectorAll("[data-log-cell]")];
  }

  #cell(name) {
    return this.#cells.find((cell) => cell.dataset.logCell === name);
  }

  /** A sentence with its ways on; that the device can't keep the log is said as long as it is so. */
  #say(sentence, ...ways) {
    const forgets = sentence && !this.#boats.remembers ? [" ", words.forgets] : [];
    this.#tools.querySelector("[data-log-said]").replaceChildren(sentence, " ", ...ways, ...forgets);
  }
}
