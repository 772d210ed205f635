// One calculator of a page: hears the form, asks the engine, shows what comes back.

import { FIRST } from "./boats.js";
import { today } from "./device.js";
import { fieldOf, Form } from "./form.js";
import { Held, newName } from "./held.js";
import { Keep } from "./keep.js";
import { logsIn } from "./log.js";
import { isRecord, isState, isText } from "./shapes.js";
import { fillKnown, fillParts, fillPlaces } from "./slots.js";
import { Status } from "./status.js";
import { forget, keep, recall, watch } from "./store.js";
import { boat as boatWords, reset, tried } from "./words.js";
import { Whose } from "./whose.js";

const NOTHING = { touched: [], rows: {}, values: {} };
const SLOW = 150; // ms for what is seen first of an answer, where somebody types faster than that
const BREATH = 400; // ms, the most that a next key is waited for
const PAGE_TURNERS = ["p", "n", ",", "."]; // the theme's keys

export class Calculator {
  #section;
  #places; // of its own in the section, found once: a long form takes a while to look through
  #form;
  #status;
  #whose;
  #engine;
  #settings;
  #boats;
  #logs;
  #shared; // the fields whose values belong to the boat
  #built; // the form as it was in the page
  #undo = null; // the form before the last reset
  #asks = 0; // counts the answers that were asked for
  #asked; // what was typed when the last answer was asked for
  #opening = null; // what a link holds, until it is shown
  #aside = null; // shown in place of the boat: {mine}, of a link also {notice, linked: its fields}
  #trying = null; // a remedy until its answer is here: {texts, sentence}
  #beforeTry = null; // the form before the first remedy that was tried
  #before = null; // what "keep for my boat" has changed, until something else is done: {sheet, form}
  #kept = NOTHING; // what is kept of this form, as this tab knows it
  #held = new Held();
  #link; // the fragment that reproduces the answer that is shown
  #boat; // the one that is answered for: what is typed here is kept for each by itself
  #page = location.pathname; // the address is another one's as soon as the page is being turned
  #fragment = location.hash; // and so is this, of a link that is shown

  /** `before`: what was typed here before the page was loaded again, by form. */
  constructor(section, { engine, settings, boats, before, left }) {
    this.#section = section;
    this.#engine = engine;
    this.#settings = settings;
    this.#boats = boats;
    this.#boat = boats.shown;
    this.#places = {
      answer: section.querySelector("[data-slot=answer]"),
      reset: section.querySelector("[data-reset]"),
      tried: section.querySelector("[data-tried]"), // a form without remedies has none
      offer: section.querySelector("[data-keep-for-boat]"),
    };
    this.#status = new Status(section, engine);
    this.#whose = new Whose(section.querySelector("[data-whose]"));
    this.#shared = [...section.querySelectorAll("[data-shared]")].map(({ dataset }) => dataset.field);
    const form = section.querySelector("form");
    this.#form = new Form(form, () => this.keep());
    this.#built = this.#form.state();
    this.#listen(form);
    new Keep(section, engine, this);
    const logs = { engine, boats, form: this.#form, mine: () => !this.#aside, changed: () => this.keep() };
    const mine = before[this.place];
    this.#logs = logsIn(section, logs, mine?.logs);
    this.#resume(mine);
    watch("localStorage", (name) => name === this.#place && !this.#aside && this.#hear() && this.ask(), left);
    if (this.#form.touched || !settings.asBuilt || this.#ofBoat) {
      this.ask();
    }
  }

  get name() {
    return this.#section.dataset.calculator;
  }

  /** Its place among the forms of a page. */
  get place() {
    return this.name + (this.#section.dataset.prefix ?? "");
  }

  /** All that is typed here, to have it again when the page is loaded again. */
  get typed() {
    const aside = this.#aside && { ...this.#aside, linked: [...(this.#aside.linked ?? [])] };
    return { state: this.#form.state(), aside, logs: this.#logs.map(({ line }) => line) };
  }

  /** What the answer to the form is asked with; so are its card and its figures. */
  get request() {
    return {
      calculator: this.name,
      example: JSON.parse(this.#section.dataset.example || "{}"),
      typed: this.#form.typed(),
      sheet: this.#aside ? {} : this.#boats.sheet(this.#shared),
      own: this.#aside ? Boolean(this.#aside.own) : this.#boats.described,
      ...this.#settings.chosen,
      today: today(),
      prefix: this.#section.dataset.prefix ?? "",
      ...(this.#aside?.linked && { linked: [...this.#aside.linked] }),
    };
  }

  /** The name of the boat that the answer is for, if it is for one. */
  get boat() {
    return this.#aside ? "" : this.#boats.name;
  }

  /** The link's fragment, unless a newer answer is on its way. */
  get link() {
    return ["first", "current"].includes(this.#section.dataset.answer) ? this.#link : undefined;
  }

  /** The same, where the answer is that of a link, or of what was typed over it. */
  get linked() {
    return this.#aside?.notice ? this.link : undefined;
  }

  /**
   * Ask for the answer to what the form says now, or to what a link holds. While somebody is `typing`
   * on a slow device its rest waits for a next key: once it is begun, that would have to wait.
   */
  async ask(typing = false) {
    const begun = performance.now();
    this.#turnToBoat();
    const number = (this.#asks += 1);
    this.#engine.start();
    this.#status.wait();
    this.#asked = JSON.stringify(this.#form.typed());
    const opening = this.#opening;
    const trying = this.#trying;
    const filled = trying && { typed: { ...this.#form.typed(), ...trying.texts }, fill: true };
    const others =
      filled ??
      (opening && { typed: opening.typed, linked: Object.keys(opening.typed), own: opening.own, sheet: {}, fill: true });
    try {
      const reply = await this.#answer({ ...this.request, ...others });
      if (reply) {
        opening && opening === this.#opening && this.#putOpened(reply);
        trying && trying === this.#trying && this.#putTried(reply);
        this.#show(reply);
        const took = performance.now() - begun;
        typing && took > SLOW && (await new Promise((go) => setTimeout(go, Math.min(took, BREATH))));
        reply.more && number === this.#asks && (await this.#askRest());
      }
    } catch (failure) {
      this.#trying = null;
      this.#status.failed(failure);
    }
  }

  /** What stands folded behind the answer that is shown. */
  async #askRest() {
    const { units, decimal } = this.#settings.chosen;
    const reply = await this.#answer({ do: "rest", calculator: this.name, of: this.#held.name, units, decimal });
    if (reply?.lost) {
      this.ask(); // by another engine than the one that began it
    } else if (reply) {
      this.#showRest(reply);
    }
  }

  /** The reply to a request with all that it leaves as it was; nothing where it is overtaken. */
  async #answer(request) {
    const name = newName();
    const response = await this.#engine.ask(this, JSON.stringify({ ...request, as: name, over: this.#held.name }));
    const reply = response && JSON.parse(response);
    return reply && !reply.error && !reply.lost ? this.#held.take(name, reply) : reply;
  }

  /** Show what a link holds, in place of the reader's own values. */
  open(typed, notice, own) {
    this.#forgetTry();
    this.#opening = { typed, notice, own };
    this.#fragment = location.hash;
    this.#section.scrollIntoView({ block: "start" });
    this.ask();
  }

  /** Say why a link isn't shown. */
  refuse(sentence) {
    this.#whose.refuse(sentence);
  }

  /** Show how far the engine is. */
  tell() {
    this.#status.tell();
  }

  /** Keep what the reader has typed for whenever the page is opened again; whether another tab has typed since. */
  keep() {
    if (this.#aside?.notice) {
      keep("sessionStorage", this.#place, { fragment: this.#fragment, state: this.#form.state() });
    } else if (!this.#aside) {
      const heard = this.#hear();
      this.#kept = this.#form.touched ? this.#form.state() : NOTHING;
      this.#form.touched ? keep("localStorage", this.#place, this.#kept) : forget("localStorage", this.#place);
      return heard;
    }
    return false;
  }

  /** Take over what this form holds in another tab; whether that is something new. */
  #hear() {
    const theirs = recall("localStorage", this.#place, isState) ?? NOTHING;
    const changed = this.#form.merge(theirs, this.#kept);
    this.#kept = theirs;
    return changed.length > 0;
  }

  get #place() {
    const boat = this.#boat === FIRST ? "" : `@${this.#boat}`;
    return `form:${this.#page}:${this.place}${boat}`;
  }

  /** Another boat is shown now: what was typed here for that one, or nothing. */
  #turnToBoat() {
    if (!this.#aside && this.#boats.shown !== this.#boat) {
      this.#boat = this.#boats.shown;
      this.#before = null;
      this.#form.restore(this.#built);
      this.#resume();
      this.#offerUndo(null);
    }
  }

  /** Whether there is a boat of the reader's own to answer for. */
  get #ofBoat() {
    return this.#boats.described;
  }

  /** The fields typed into that the boat sheet could take. */
  get #forBoat() {
    return this.#form.own.filter((field) => this.#shared.includes(field) && !this.#form.isFaulty(field));
  }

  #resume(before) {
    const kept = recall("localStorage", this.#place, isState);
    this.#kept = kept ?? NOTHING;
    const state = before?.state ?? kept;
    state && this.#form.restore(state);
    const { aside } = before ?? {};
    this.#aside = aside ? { ...aside, linked: aside.notice && new Set(aside.linked) } : null;
  }

  #listen(form) {
    const changed = ({ target }) => {
      if (target.name) {
        this.#form.touch(target);
        this.#aside?.linked?.delete(fieldOf(target.name));
        // What was typed is told once more when the box is left.
        JSON.stringify(this.#form.typed()) !== this.#asked && this.#changed(true);
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
    this.#section.addEventListener("click", (event) => {
      const { target } = event;
      const remedy = target.closest("[data-try]");
      if (remedy) {
        this.#try(JSON.parse(remedy.dataset.try), remedy.dataset.told);
      } else if (target.closest("[data-undo-try]")) {
        this.#undoTry();
      }
      const link = target.closest("a[href^='#']");
      const place = link && this.#section.querySelector(`#${CSS.escape(link.hash.slice(1))}`);
      if (!place) {
        return;
      }
      event.preventDefault(); // the address may hold the link of an answer
      if (form.contains(place)) {
        reveal(place);
      } else {
        place.scrollIntoView();
      }
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
        this.#aside?.notice ? this.#backToMine() : this.#reset();
      } else if (button?.matches("[data-keep-for-boat]")) {
        this.#before ? this.#undoKeepForBoat() : this.#keepForBoat();
      }
    });
  }

  /** Fill in what a remedy names, over what the form holds, until that is undone or typed over. */
  #try(texts, sentence) {
    this.#trying = { texts, sentence };
    this.ask();
  }

  #putTried({ values = {} }) {
    const { texts, sentence } = this.#trying;
    const fields = Object.keys(texts);
    this.#trying = null;
    this.#beforeTry ??= this.#form.state();
    this.#form.release(fields);
    this.#form.set(values);
    this.#form.claim(fields);
    this.#before = null;
    this.#offerUndo(null);
    this.keep();
    const { tried: told } = this.#places;
    told.firstElementChild.textContent = tried(sentence);
    told.hidden = false;
    told.scrollIntoView({ block: "nearest" });
  }

  #undoTry() {
    this.#form.restore(this.#beforeTry);
    this.#changed();
  }

  #forgetTry() {
    this.#trying = this.#beforeTry = null;
    this.#places.tried?.toggleAttribute("hidden", true);
  }

  #changed(typing = false) {
    this.#before = null;
    this.#forgetTry();
    this.#offerUndo(null);
    this.#status.note("");
    this.ask(typing); // Python begins; the page keeps what was typed meanwhile
    this.keep() && this.ask(typing);
  }

  /** Back to the page's example, or the boat's values; pressed again at once, back to the reader's own. */
  #reset() {
    this.#forgetTry();
    const before = this.#form.state();
    this.#form.restore(this.#undo ?? this.#built);
    this.#offerUndo(this.#undo ? null : before);
    this.#before = null;
    this.keep();
    this.ask();
  }

  #offerUndo(state) {
    this.#undo = state;
    this.#nameReset();
  }

  #nameReset() {
    const { reset: button } = this.#places;
    if (button) {
      button.dataset.label ??= button.textContent;
      const usual = !this.#aside && this.#ofBoat ? reset.boat : button.dataset.label;
      button.textContent = this.#undo ? reset.undo : usual;
      button.toggleAttribute("data-undo", Boolean(this.#undo));
    }
  }

  /** The page's example as it was built, whatever the boat is; what was typed waits. */
  #showExample() {
    this.#aside = { mine: this.#form.state() };
    this.#form.restore(this.#built);
    this.#changed();
  }

  #backToMine() {
    this.#form.restore(this.#aside.mine);
    this.#leaveAside();
    this.#changed();
  }

  #leaveAside() {
    if (this.#aside?.notice) {
      this.#whose.takeFocus();
      try {
        history.replaceState(null, "", location.pathname + location.search);
      } catch {
        // a page opened from a folder may not
      }
    }
    this.#aside = null;
  }

  #putOpened({ values = {} }) {
    const mine = this.#aside?.mine ?? this.#form.state();
    this.#form.restore(this.#built);
    this.#form.set(values);
    this.#form.claim(Object.keys(this.#opening.typed));
    this.#aside = { mine, own: this.#opening.own, notice: this.#opening.notice, linked: new Set(Object.keys(this.#opening.typed)) };
    this.#opening = null;
    this.#offerUndo(null);
    // The link may have been open here before, with something typed over it.
    const over = recall("sessionStorage", this.#place, isOver);
    if (over?.fragment === this.#fragment) {
      this.#form.restore(over.state);
      this.ask();
    }
  }

  #keepForBoat() {
    this.#forgetTry();
    const fields = this.#forBoat;
    const texts = this.#form.texts(fields);
    const kept = this.#boats.sheet(fields);
    const form = this.#form.state();
    this.#form.release(fields);
    this.#leaveAside();
    this.keep();
    this.#offerUndo(null);
    this.#before = { sheet: Object.fromEntries(fields.map((field) => [field, kept[field] ?? ""])), form };
    this.#boats.put(texts); // asks anew
  }

  /** The boat's sheet and the form as they were. */
  #undoKeepForBoat() {
    this.#forgetTry();
    const { sheet, form } = this.#before;
    this.#before = null;
    this.#form.restore(form);
    this.keep();
    this.#boats.put(sheet);
  }

  #show(reply) {
    const { order, parts, link, error, more } = reply;
    this.#form.show(reply, (slots, known) => (known ? fillKnown : fillPlaces)(this.#section, slots));
    order && fillParts(this.#places.answer, order, parts);
    this.#link = link;
    error ? this.#status.refused(error) : this.#status.answered(more);
    this.#showWhose();
  }

  /** What is folded behind the answer that is shown; where the form stays, nothing else is touched. */
  #showRest(reply) {
    if (!reply.same) {
      this.#show(reply);
      return;
    }
    fillParts(this.#places.answer, reply.order, reply.parts);
    this.#status.answered();
  }

  #showWhose() {
    const { name } = this.#boats;
    const some = this.#forBoat.length > 0;
    if (this.#aside?.notice) {
      this.#whose.link(this.#aside.notice, () => this.#backToMine(), some && (() => this.#keepForBoat()));
    } else if (this.#aside) {
      this.#whose.aside(name, () => this.#backToMine());
    } else if (this.#ofBoat) {
      this.#whose.boat(name, this.#form.touched, () => this.#showExample());
    } else {
      this.#whose.example();
    }
    const { offer } = this.#places;
    if (offer) {
      offer.hidden = !(some || this.#before) || Boolean(this.#aside?.notice);
      offer.textContent = this.#before ? boatWords.undo(name) : boatWords.keep(name);
    }
    this.#nameReset();
  }
}

/** What was typed over a link: {fragment, state}. */
const isOver = (value) => isRecord(() => true)(value) && isText(value.fragment) && isState(value.state);

/** Open what a field is folded away in, and go to it. */
function reveal(field) {
  for (let fold = field.closest("details"); fold; fold = fold.parentElement.closest("details")) {
    fold.open = true;
  }
  // A list has no box of its own: its first row, or what adds one.
  (field.matches("fieldset") ? field.querySelector("summary, input, select, [data-add-row]") : field)?.focus();
}
