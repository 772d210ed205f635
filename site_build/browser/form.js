// A calculator's form as values: what the reader has touched, and the whole state, to keep and to
// bring back. Nothing here knows a field by name.
//
// Names: "field" with its unit in "field.unit"; a row's fields "group.0.field", "group.0.field.unit".

import { choices, narrowing, ready, widen } from "./chooser.js";

const UNIT = ".unit";
const IN_ROW = /^(.+?)\.(\d+)\.(.+)$/;
const NUMBERED = ["name", "id", "for", "data-slot", "data-key", "aria-describedby", "aria-labelledby", "aria-controls", "list"];

export class Form {
  #form;
  #touched = new Set(); // names of fields, and of row groups
  #settled = {}; // what boxes say better once they are left
  #onSettled;

  /** @param {(fields: string[]) => void} onSettled called when fields that were typed into say the same better */
  constructor(form, onSettled) {
    this.#form = form;
    this.#onSettled = onSettled;
    describe(form);
    narrowing(form);
    form.addEventListener("input", () => (this.#settled = {}));
    form.addEventListener("focusout", () => this.settle());
    // A browser may have put back what was typed before a reload.
    for (const control of this.#controls()) {
      if (!isAsBuilt(control)) {
        this.touch(control);
      }
    }
  }

  get touched() {
    return this.#touched.size > 0;
  }

  touch(control) {
    this.#touched.add(fieldOf(control.name));
  }

  /** All fields and groups of rows. */
  get fields() {
    return [...new Set(this.#controls().map((control) => fieldOf(control.name))), ...this.#groups().map((group) => group.dataset.rows)];
  }

  /** Take fields for the reader's own. */
  claim(fields) {
    fields.forEach((field) => this.#touched.add(field));
  }

  /** Give fields back: they follow the values that come from elsewhere. */
  release(fields = [...this.#touched]) {
    fields.forEach((field) => this.#touched.delete(field));
  }

  /** The fields that can't be taken as they are. */
  get faulty() {
    return this.#controls()
      .filter((control) => control.getAttribute("aria-invalid") === "true")
      .map((control) => fieldOf(control.name));
  }

  /** What the reader has typed, as the calculator takes it: {field: text, group: [{field: text}]}. */
  typed() {
    return this.texts([...this.#touched]);
  }

  /** The same of any fields. */
  texts(fields) {
    const texts = this.#texts();
    return Object.fromEntries(
      fields.map((field) => [
        field,
        this.#group(field) ? this.#rows(field).map((row) => texts.row(row)) : texts.field(field),
      ]),
    );
  }

  /** Set controls that the reader has not touched; a list that isn't the reader's gets its length. */
  set(values) {
    for (const group of this.#groups()) {
      if (!this.#touched.has(group.dataset.rows)) {
        const inGroup = Object.keys(values).map((name) => IN_ROW.exec(name)).filter((found) => found?.[1] === group.dataset.rows);
        resize(group, Math.max(0, ...inGroup.map((found) => Number(found[2]) + 1)));
      }
    }
    for (const control of this.#controls()) {
      const text = values[control.name];
      if (text !== undefined && !this.#touched.has(fieldOf(control.name))) {
        put(control, text);
      }
    }
  }

  /** Set controls that the reader has typed into and left: a typed unit goes to its place. */
  settle(values = this.#settled) {
    this.#settled = values;
    // Nobody types into a list of units: it follows even while it has the focus.
    const { activeElement: focused } = document;
    const left = Object.keys(values).filter((name) => focused?.options || name !== focused?.name);
    for (const control of this.#controls().filter(({ name }) => left.includes(name))) {
      put(control, values[control.name]);
    }
    const busy = Object.keys(values).some((name) => !left.includes(name));
    if (left.length && !busy) {
      this.#settled = {};
      this.#onSettled([...new Set(left.map(fieldOf))]);
    }
  }

  /** Set attributes of controls; null takes one away. */
  setAttributes(attributes) {
    for (const control of this.#controls()) {
      for (const [name, value] of Object.entries(attributes[control.name] ?? {})) {
        if (value === null) {
          control.removeAttribute(name);
        } else if (control.getAttribute(name) !== value) {
          control.setAttribute(name, value);
        }
      }
    }
  }

  /** Show the fields that are asked and hide those that aren't, now. */
  hide(fields) {
    for (const field of this.#form.querySelectorAll("[data-field]")) {
      const hidden = fields.includes(field.dataset.field);
      if (field.hidden !== hidden && !field.parentElement.closest("[data-row]")) {
        field.hidden = hidden;
      }
    }
  }

  state() {
    return {
      touched: [...this.#touched],
      rows: Object.fromEntries(this.#groups().map((group) => [group.dataset.rows, rowsIn(group).length])),
      values: Object.fromEntries(this.#controls().filter(counts).map((control) => [control.name, get(control)])),
    };
  }

  restore({ touched, rows, values }) {
    for (const [name, count] of Object.entries(rows)) {
      const group = this.#group(name);
      group && resize(group, count);
    }
    for (const control of this.#controls()) {
      if (values[control.name] !== undefined && takes(control, values[control.name])) {
        put(control, values[control.name]);
      }
    }
    const { fields } = this; // an older edition may have had others
    this.#touched = new Set(touched.filter((field) => fields.includes(field)));
  }

  /** Take over what another tab has typed since both had `base`; what was typed here since then stays. */
  merge(theirs, base) {
    const mine = this.state();
    const changed = this.fields.filter((field) => {
      const before = said(field, base);
      return said(field, theirs) !== before && said(field, mine) === before;
    });
    for (const field of changed) {
      theirs.touched.includes(field) ? this.#take(field, theirs) : this.#touched.delete(field);
    }
    return changed;
  }

  #take(field, { rows, values }) {
    const group = this.#group(field);
    group && resize(group, rows[field] ?? 0);
    for (const control of this.#controls()) {
      const text = values[control.name];
      if (fieldOf(control.name) === field && text !== undefined && takes(control, text)) {
        put(control, text);
      }
    }
    this.#touched.add(field);
  }

  /** A new row at the end; the focus goes there. */
  addRow(group) {
    append(group).querySelector("input, select").focus();
    this.#touched.add(group.dataset.rows);
  }

  removeRow(row) {
    const group = row.closest("[data-rows]");
    row.remove();
    rowsIn(group).forEach(number);
    (rowsIn(group).at(-1)?.querySelector("summary, input, select") ?? group.querySelector("[data-add-row]"))?.focus();
    this.#touched.add(group.dataset.rows);
  }

  #controls() {
    return [...this.#form.elements].filter(
      ({ name, type }) => name && !["button", "submit", "reset", "fieldset", "output"].includes(type),
    );
  }

  #groups() {
    return [...this.#form.querySelectorAll("[data-rows]")];
  }

  #group(name) {
    return this.#form.querySelector(`[data-rows="${CSS.escape(name)}"]`);
  }

  #rows(name) {
    return rowsIn(this.#group(name)).map((_, index) => `${name}.${index}.`);
  }

  #texts() {
    const values = new Map(this.#controls().filter(counts).map((control) => [control.name, get(control)]));
    const field = (name) => {
      const value = values.get(name) ?? "";
      const unit = values.get(name + UNIT);
      return value.trim() && unit ? `${value} ${unit}` : value;
    };
    const row = (prefix) =>
      Object.fromEntries(
        [...values.keys()]
          .filter((name) => name.startsWith(prefix) && !name.endsWith(UNIT))
          .map((name) => [name.slice(prefix.length), field(name)]),
      );
    return { field, row };
  }
}

/** What a state says of a field, as one text; nothing where the reader has not touched it. */
function said(field, state) {
  if (!state?.touched.includes(field)) {
    return "";
  }
  const values = Object.entries(state.values).filter(([name]) => fieldOf(name) === field);
  return JSON.stringify([state.rows[field], values.sort()]);
}

/** The field, or the group of rows, that a control belongs to. */
export function fieldOf(name) {
  const row = IN_ROW.exec(name);
  return row ? row[1] : name.endsWith(UNIT) ? name.slice(0, -UNIT.length) : name;
}

/** Of a set of radio buttons only the chosen one has a value. */
function counts(control) {
  return control.type !== "radio" || control.checked;
}

function get(control) {
  return control.type === "checkbox" ? (control.checked ? "yes" : "no") : control.value;
}

function put(control, text) {
  if (control.type === "checkbox") {
    control.checked = text === "yes";
  } else if (control.type === "radio") {
    control.checked = control.value === text;
  } else if (control.value !== text) {
    control.options && widen(control); // what it is set to may not be among those that were searched for
    control.value = text;
  }
}

/** Whether a list of choices has this one; an older edition may have had others. */
function takes(control, text) {
  return !control.options || choices(control).some(({ value }) => value === text);
}

function isAsBuilt(control) {
  if (control.type === "checkbox" || control.type === "radio") {
    return control.checked === control.defaultChecked;
  }
  if (control.options) {
    const chosen = [...control.options].findIndex((option) => option.defaultSelected);
    return control.selectedIndex === Math.max(chosen, 0);
  }
  return control.value === control.defaultValue;
}

function rowsIn(group) {
  return [...group.querySelectorAll("[data-row]")];
}

function resize(group, count) {
  rowsIn(group).slice(count).forEach((row) => row.remove());
  while (rowsIn(group).length < count) {
    append(group);
  }
}

function append(group) {
  const row = group.querySelector("template[data-row-template]").content.firstElementChild.cloneNode(true);
  group.querySelector("[data-row-list]").append(row);
  rowsIn(group).forEach(number);
  describe(row);
  return row;
}

/**
 * Tie each control to its description by element, no longer by name: browsers that offer to fill
 * forms in read a whole form anew, half a keystroke's work, when the words behind a name change.
 */
function describe(root) {
  ready(root);
  for (const control of root.querySelectorAll("[aria-describedby]")) {
    const names = control.getAttribute("aria-describedby").split(" ");
    control.ariaDescribedByElements = names.map((name) => document.getElementById(name)).filter(Boolean);
  }
}

/** Give a row, which may carry another number or the template's "#", the number of its place. */
function number(row, index) {
  const group = row.closest("[data-rows]").dataset.rows; // a Python name
  const numbered = new RegExp(`\\b(${group}[.-])(?:\\d+|#)(?=[.-]|$)`, "g");
  for (const element of [row, ...row.querySelectorAll("*")]) {
    for (const name of NUMBERED) {
      const value = element.getAttribute(name);
      const renumbered = value?.replace(numbered, (_, before) => before + index);
      if (value !== null && renumbered !== value) {
        element.setAttribute(name, renumbered);
      }
    }
    if (element.hasAttribute("data-row-number")) {
      element.textContent = index + 1;
    }
  }
}
