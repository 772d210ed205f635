// The boat sheet's page: the boats and their files, the form, and what the boat can answer so far.

import { download, today } from "./device.js";
import { button, element } from "./element.js";
import { fieldOf, Form } from "./form.js";
import { logsIn } from "./log.js";
import { fillPlaces } from "./slots.js";
import { Status } from "./status.js";
import { sheet as words, whose } from "./words.js";

const MOST_TO_READ = 20_000_000; // bytes of a file; Python says what is too much for a boat
const STEP = 25; // ms in which verdicts are found before the first are shown; for the next ones twice as much

export class Sheet {
  #section;
  #form;
  #status;
  #engine;
  #settings;
  #boats;
  #logs;
  #asking = { verdicts: {}, sheet: {}, file: {} }; // each is overtaken only by the next of its kind

  constructor(section, { engine, settings, boats, before }) {
    this.#section = section;
    this.#engine = engine;
    this.#settings = settings;
    this.#boats = boats;
    this.#status = new Status(section, engine);
    const form = section.querySelector("form");
    this.#form = new Form(form, (fields) => fields.forEach((field) => this.#write(field)));
    this.#listen(form);
    const tools = section.querySelector("[data-sheet-tools]"); // the start has none
    tools && this.#listenToTools(tools);
    const logs = { engine, boats, form: this.#form, mine: () => true, changed: () => this.#say("") };
    this.#logs = logsIn(section, logs, before[this.place]?.logs);
    this.#showBoats();
    if (Object.keys(boats.sheet()).length || !settings.asBuilt) {
      this.ask();
    }
  }

  get place() {
    return "sheet";
  }

  /** What is typed and not yet in the boat. */
  get typed() {
    return { logs: this.#logs.map(({ line }) => line) };
  }

  /**
   * Ask what the boat that is shown can answer, and then what its sheet looks like. Where no verdict is shown
   * they come as they are found; else none goes before another stands in its place.
   */
  async ask() {
    this.#showBoats();
    this.#engine.start();
    this.#status.wait();
    const request = {
      sheet: this.#boats.sheet(),
      pages: JSON.parse(this.#section.dataset.pages),
      fields: this.#form.fields,
      sheetPage: this.#section.dataset.sheetPage,
      today: today(),
      ...this.#settings.chosen,
    };
    const bare = !this.#section.querySelector("[data-dashboard]");
    bare && (request.within = STEP);
    const shown = async (what) => {
      const response = await this.#engine.ask(this.#asking[what], JSON.stringify({ do: what, ...request }));
      const reply = response && JSON.parse(response);
      reply && this.#show(reply);
      if (!reply?.more) {
        return reply;
      }
      this.#status.answered(true);
      request.within *= 2;
      return shown(what);
    };
    try {
      const listed = shown("verdicts");
      const filled = bare ? listed.then((reply) => reply && shown("sheet")) : shown("sheet");
      const [verdicts, sheet] = await Promise.all([listed, filled]);
      const refused = verdicts?.error ?? sheet?.error;
      if (refused) {
        this.#status.refused(refused);
      } else if (verdicts && sheet) {
        this.#status.answered();
      }
    } catch (failure) {
      this.#status.failed(failure);
    }
  }

  tell() {
    this.#status.tell();
  }

  #listen(form) {
    const changed = ({ target }) => target.name && this.#write(fieldOf(target.name));
    form.addEventListener("input", changed);
    form.addEventListener("change", changed);
    form.addEventListener("submit", (event) => event.preventDefault());
    form.addEventListener("keydown", (event) => event.key.length === 1 && event.stopPropagation());
    form.addEventListener("click", ({ target }) => {
      const group = target.closest("[data-rows]");
      if (target.closest("[data-add-row]")) {
        this.#form.addRow(group);
        this.#write(group.dataset.rows);
      } else if (target.closest("[data-remove-row]")) {
        this.#form.removeRow(target.closest("[data-row]"));
        this.#write(group.dataset.rows);
      } else if (target.closest("[data-unsay]")) {
        const { rows } = group.dataset;
        const said = this.#boats.sheet([rows]);
        this.#boats.put({ [rows]: "" });
        this.#offerUndo(words.unsaid, () => this.#boats.put(said));
        group.querySelector("[data-add-row]").focus();
      }
    });
  }

  #listenToTools(tools) {
    const file = tools.querySelector("[data-boat-file]");
    const acts = {
      another: () => this.#another(),
      save: () => this.#save(),
      open: () => file.click(),
      clear: () => this.#undoably(words.cleared, () => this.#boats.clear()),
      remove: () => this.#undoably(words.removed, () => this.#boats.remove()),
    };
    tools.addEventListener("click", ({ target }) => acts[target.closest("button")?.value]?.());
    tools.querySelector("[data-boats]").addEventListener("change", ({ target }) => {
      this.#say("");
      this.#boats.show(target.value);
    });
    file.addEventListener("change", async () => {
      const [chosen] = file.files;
      chosen && (await this.#read(chosen));
      file.value = "";
    });
  }

  /** A field as it stands in the form goes into the sheet. */
  #write(field) {
    const [[, value]] = Object.entries(this.#form.texts([field]));
    const said = typeof value === "string" && !value.trim() ? "" : value;
    // What was typed is told once more when the box is left.
    if (JSON.stringify(said) !== JSON.stringify(this.#boats.sheet([field])[field] ?? "")) {
      this.#say("");
      this.#boats.put({ [field]: said });
    }
  }

  #another() {
    const { shown } = this.#boats;
    this.#boats.add();
    this.#offerUndo(words.added, () => {
      this.#boats.remove();
      this.#boats.show(shown);
    });
    this.#section.querySelector("[name=name]")?.focus();
  }

  #undoably(sentence, act) {
    const memory = this.#boats.memory();
    act();
    this.#offerUndo(sentence(memory.sheet.name || whose.unnamed), () => this.#boats.bringBack(memory));
  }

  async #save() {
    const reply = await this.#ask({ do: "boat file", sheet: this.#boats.sheet() });
    reply && download(reply.text, reply.name, "application/json");
  }

  /** A file's boat: in the place of an empty sheet, or beside the boats that are there. */
  async #read(file) {
    const reply = await this.#ask({ do: "read boat file", text: await file.slice(0, MOST_TO_READ).text() });
    if (!reply) {
      return;
    }
    const memory = this.#boats.memory();
    const beside = Object.keys(memory.sheet).length > 0;
    beside && this.#boats.add();
    this.#boats.put(reply.sheet);
    this.#offerUndo(reply.notice, () => {
      beside ? this.#boats.remove() : this.#boats.clear();
      this.#boats.bringBack(memory);
    });
  }

  async #ask(request) {
    this.#engine.start();
    try {
      const response = await this.#engine.ask(this.#asking.file, JSON.stringify(request));
      const reply = response && JSON.parse(response);
      reply && this.#say(reply.error ?? "");
      return reply?.error ? undefined : reply;
    } catch {
      this.#say(words.failed);
      return undefined;
    }
  }

  #show({ slots, values, settled, hidden, attributes }) {
    values && this.#showValues(values, settled, hidden); // rows come first, then what is said in them
    fillPlaces(this.#section, slots);
    attributes && this.#form.setAttributes(attributes);
  }

  #showValues(values, settled, hidden) {
    this.#put(values);
    this.#form.settle(settled);
    this.#form.hide(hidden);
    const said = this.#boats.sheet();
    for (const way of this.#section.querySelectorAll("[data-unsay]")) {
      way.hidden = said[way.closest("[data-rows]").dataset.rows] === undefined;
    }
  }

  /** Fields that say what the sheet says stay as they were typed. */
  #put(values) {
    const sheet = this.#boats.sheet();
    const texts = this.#form.texts(this.#form.fields);
    this.#form.release();
    this.#form.claim(
      Object.keys(texts).filter((field) => JSON.stringify(texts[field]) === JSON.stringify(sheet[field] ?? "")),
    );
    this.#form.set(values);
  }

  #showBoats() {
    const select = this.#section.querySelector("[data-boats]");
    if (!select) {
      return;
    }
    const boats = this.#boats.all;
    const { shown } = this.#boats;
    const options = (boats.length ? boats : [{ id: shown, name: "" }]).map(({ id, name }) => {
      const option = element("option", "", String(name) || whose.unnamed);
      option.value = id;
      return option;
    });
    select.replaceChildren(...options);
    select.value = shown;
    this.#section.querySelector("[data-forgets]").textContent = this.#boats.remembers ? "" : words.forgets;
  }

  /** A sentence, and a way back until something else is done. */
  #offerUndo(sentence, undo) {
    const act = () => {
      this.#say(words.undone);
      undo();
    };
    this.#say(sentence, button("", words.undo, act));
  }

  #say(sentence, ...more) {
    this.#section.querySelector("[data-said]")?.replaceChildren(sentence, " ", ...more);
  }
}
