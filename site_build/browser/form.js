// A calculator's form as values: what the reader has touched, and the whole state, to keep and to
// bring back. Nothing here knows a field by name.
//
// Names: "field" with its unit in "field.unit"; a row's fields "group.0.field", "group.0.field.unit".

import { choices, narrowing, ready, widen } from "./chooser.js";
import { grouped } from "./shapes.js";

const UNIT = ".unit";
const IN_ROW = /^(.+?)\.(\d+)\.(.+)$/;
const NUMBERED = ["name", "id", "for", "data-slot", "data-key", "aria-describedby", "aria-labelledby", "aria-controls", "list"];

export class Form {
  #form;
  #touched = new Set(); // names of fields, and of row groups
  #settled = {}; // what boxes say better once they are left
  #onSettled;
  #found; // its parts by name, looked for again when rows have come or gone
  #astray = true; // whether controls may show something else than an answer has put into them last

  /** @param {(fields: string[]) => void} onSettled called when fields that were typed into say the same better */
  constructor(form, onSettled) {
    this.#form = form;
    this.#onSettled = onSettled;
    describe(form);
    narrowing(form);
    form.addEventListener("input", () => (this.#settled = {}));
    form.addEventListener("focusout", () => this.settle());
    // A browser may have put back what was typed before a reload.
    for (const control of this.#parts.controls) {
      if (!isAsBuilt(control)) {
        this.touch(control);
      }
    }
  }

  get #parts() {
    return (this.#found ??= partsOf(this.#form));
  }

  #lookAgain() {
    this.#found = undefined;
    this.#astray = true;
  }

  get touched() {
    return this.#touched.size > 0;
  }

  touch(control) {
    this.#touched.add(fieldOf(control.name));
  }

  /** All fields and groups of rows. */
  get fields() {
    return [...new Set([...this.#parts.byField.keys(), ...this.#parts.groups.keys()])];
  }

  /** Those of them that are the reader's own. */
  get own() {
    return [...this.#touched];
  }

  /** Take fields for the reader's own. */
  claim(fields) {
    fields.forEach((field) => this.#touched.add(field));
  }

  /** Give fields back: they follow the values that come from elsewhere. */
  release(fields = [...this.#touched]) {
    fields.forEach((field) => this.#touched.delete(field));
    this.#astray = true;
  }

  /** Whether a field can't be taken as it is. */
  isFaulty(field) {
    const controls = this.#parts.byField.get(field) ?? [];
    return controls.some((control) => control.getAttribute("aria-invalid") === "true");
  }

  /** What the reader has typed, as the calculator takes it: {field: text, group: [{field: text}]}. */
  typed() {
    return this.texts([...this.#touched]);
  }

  /** The same of any fields. */
  texts(fields) {
    const { groups } = this.#parts;
    return Object.fromEntries(fields.map((field) => [field, groups.has(field) ? this.#rows(field) : this.#text(field)]));
  }

  /**
   * Show what an answer says of the form: `slots`, `values`, `settled`, `attributes` and the fields
   * that are `hidden`. Where nothing has been put elsewhere since the last one, its `changes` do.
   * @param {(slots: object, known: boolean) => void} fill fills slots, whose places are known
   */
  show({ slots, values, settled, attributes, hidden, changes }, fill) {
    const few = changes && !this.#astray && !reachesRows(changes) ? changes : undefined;
    const made = few ?? { slots, values, attributes };
    few ? this.#put(few.values) : values && this.set(values);
    this.settle(settled);
    hidden && this.hide(hidden);
    fill(made.slots, Boolean(few));
    made.attributes && this.setAttributes(made.attributes);
    this.#astray = !changes && !values;
  }

  /** Set controls that the reader has not touched; a list that isn't the reader's gets its length. */
  set(values) {
    const counts = new Map();
    for (const [, group, index] of Object.keys(values).map((name) => IN_ROW.exec(name)).filter(Boolean)) {
      counts.set(group, Math.max(counts.get(group) ?? 0, Number(index) + 1));
    }
    for (const [name, group] of this.#parts.groups) {
      this.#touched.has(name) || this.#resize(group, counts.get(name) ?? 0);
    }
    this.#put(values);
  }

  #put(values) {
    for (const [name, text] of Object.entries(values)) {
      this.#touched.has(fieldOf(name)) || this.#parts.byName.get(name)?.forEach((control) => put(control, text));
    }
  }

  /** Set controls that the reader has typed into and left: a typed unit goes to its place. */
  settle(values = this.#settled) {
    this.#settled = values;
    // Nobody types into a list of units: it follows even while it has the focus.
    const { activeElement: focused } = document;
    const left = Object.keys(values).filter((name) => focused?.options || name !== focused?.name);
    for (const name of left) {
      this.#parts.byName.get(name)?.forEach((control) => put(control, values[name]));
    }
    const busy = Object.keys(values).some((name) => !left.includes(name));
    if (left.length && !busy) {
      this.#settled = {};
      this.#onSettled([...new Set(left.map(fieldOf))]);
    }
  }

  /** Set attributes of controls; null takes one away. */
  setAttributes(attributes) {
    for (const [field, given] of Object.entries(attributes)) {
      for (const control of this.#parts.byName.get(field) ?? []) {
        for (const [name, value] of Object.entries(given)) {
          if (value === null) {
            control.removeAttribute(name);
          } else if (control.getAttribute(name) !== value) {
            control.setAttribute(name, value);
          }
        }
      }
    }
  }

  /** Show the fields that are asked and hide those that aren't, now. */
  hide(fields) {
    const away = new Set(fields);
    for (const [name, field] of this.#parts.asked) {
      const hidden = away.has(name);
      if (field.hidden !== hidden) {
        field.hidden = hidden;
      }
    }
  }

  state() {
    return {
      touched: [...this.#touched],
      rows: Object.fromEntries([...this.#parts.groups].map(([name, group]) => [name, rowsIn(group).length])),
      values: Object.fromEntries(this.#parts.controls.filter(counts).map((control) => [control.name, get(control)])),
    };
  }

  restore({ touched, rows, values }) {
    this.#astray = true;
    for (const [name, count] of Object.entries(rows)) {
      const group = this.#parts.groups.get(name);
      group && this.#resize(group, count);
    }
    for (const control of this.#parts.controls) {
      if (values[control.name] !== undefined && takes(control, values[control.name])) {
        put(control, values[control.name]);
      }
    }
    const { fields } = this; // an older edition may have had others
    this.#touched = new Set(touched.filter((field) => fields.includes(field)));
  }

  /** Take over what another tab has typed since both had `base`; what was typed here since then stays. */
  merge(theirs, base) {
    if (theirs === base) {
      return [];
    }
    const mine = this.state();
    const changed = this.fields.filter((field) => {
      const before = said(field, base);
      return said(field, theirs) !== before && said(field, mine) === before;
    });
    for (const field of changed) {
      theirs.touched.includes(field) ? this.#take(field, theirs) : this.release([field]);
    }
    return changed;
  }

  #take(field, { rows, values }) {
    this.#astray = true;
    const group = this.#parts.groups.get(field);
    group && this.#resize(group, rows[field] ?? 0);
    for (const control of this.#parts.byField.get(field) ?? []) {
      const text = values[control.name];
      if (text !== undefined && takes(control, text)) {
        put(control, text);
      }
    }
    this.#touched.add(field);
  }

  /** A new row at the end; the focus goes there. */
  addRow(group) {
    append(group).querySelector("input, select").focus();
    this.#lookAgain();
    this.#touched.add(group.dataset.rows);
  }

  removeRow(row) {
    const group = row.closest("[data-rows]");
    row.remove();
    rowsIn(group).forEach(number);
    this.#lookAgain();
    (rowsIn(group).at(-1)?.querySelector("summary, input, select") ?? group.querySelector("[data-add-row]"))?.focus();
    this.#touched.add(group.dataset.rows);
  }

  #resize(group, count) {
    if (rowsIn(group).length !== count) {
      resize(group, count);
      this.#lookAgain();
    }
  }

  /** What stands in a list, row by row. */
  #rows(group) {
    const rows = rowsIn(this.#parts.groups.get(group)).map(() => ({}));
    for (const control of (this.#parts.byField.get(group) ?? []).filter(counts)) {
      const [, , index, name] = IN_ROW.exec(control.name);
      if (!name.endsWith(UNIT)) {
        rows[index][name] = this.#text(control.name);
      }
    }
    return rows;
  }

  #text(name) {
    const value = this.#value(name) ?? "";
    const unit = this.#value(name + UNIT);
    return value.trim() && unit ? `${value} ${unit}` : value;
  }

  #value(name) {
    const control = this.#parts.byName.get(name)?.find(counts);
    return control && get(control);
  }
}

/** The controls of a form, in their order, by name and by field; its lists; and what is asked outside of them. */
function partsOf(form) {
  const controls = [...form.elements].filter(
    ({ name, type }) => name && !["button", "submit", "reset", "fieldset", "output"].includes(type),
  );
  const fields = [...form.querySelectorAll("[data-field]")].filter((one) => !one.parentElement.closest("[data-row]"));
  return {
    controls,
    byName: grouped(controls, ({ name }) => name),
    byField: grouped(controls, ({ name }) => fieldOf(name)),
    groups: new Map([...form.querySelectorAll("[data-rows]")].map((group) => [group.dataset.rows, group])),
    asked: fields.map((field) => [field.dataset.field, field]),
  };
}

/** Whether changes reach into lists: then rows may come or go. */
function reachesRows({ values, gone = {} }) {
  return [...Object.keys(values), ...(gone.values ?? [])].some((name) => IN_ROW.test(name));
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
