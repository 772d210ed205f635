// Puts HTML that Python has rendered into the page. Only what differs is changed, so that the focus,
// a selection, the place in a scrolled table and what a reader has opened stay as they are.

import { grouped } from "./shapes.js";

const filled = new WeakMap(); // what each element was filled with last
const chosen = new WeakSet(); // disclosures that the reader has opened or shut

/** The reader opens or shuts a disclosure: so it stays, whatever comes. */
export function choose(disclosure) {
  chosen.add(disclosure);
}

const places = new WeakMap(); // the places of a section by slot, as they were found last

/** Fill those places of a section that `slots` has HTML for. */
export function fillPlaces(section, slots = {}) {
  places.set(section, grouped(section.querySelectorAll("[data-slot]"), ({ dataset }) => dataset.slot));
  fillKnown(section, slots);
}

/** The same where no place has come or gone since: a long form isn't looked through for one of them. */
export function fillKnown(section, slots) {
  for (const [slot, html] of Object.entries(slots)) {
    places.get(section).get(slot)?.forEach((place) => fill(place, html));
  }
}

/** Make the content of an element that of `html`. */
export function fill(element, html) {
  if (filled.get(element) === html) {
    return;
  }
  filled.set(element, html);
  keepingOpen(element, () => alignNodes(element, [...element.childNodes], parsed(html)));
}

const laid = new WeakMap(); // the parts that each element was last made of: {name, html, nodes}

/**
 * Lay out an element in parts by name, in their order: each is whole elements of its own, and those
 * that are as they were are not looked at. Parts "a.b" stand inside of part "a", in the element that
 * says so (`data-parts`); where none of them is named, what is there stays.
 */
export function fillParts(element, order, parts) {
  const top = order.filter((name) => !name.includes("."));
  lay(element, top, parts);
  for (const holder of element.querySelectorAll("[data-parts]")) {
    const inside = order.filter((name) => name.startsWith(`${holder.dataset.parts}.`));
    inside.length && lay(holder, inside, parts);
  }
}

function lay(element, order, parts) {
  const before = laid.get(element) ?? [];
  keepingOpen(element, () => {
    const left = new Map(before.map((part) => [part.name, part]));
    const made = order.map((name) => {
      const old = left.get(name);
      left.delete(name);
      return renewed(element, old, name, parts[name]);
    });
    left.forEach(({ nodes }) => nodes.forEach((node) => node.remove()));
    before.length || takeOver(element, made);
    place(element, made.flatMap(({ nodes }) => nodes));
    laid.set(element, made);
  });
}

function renewed(element, old, name, html) {
  if (old?.html === html) {
    return old;
  }
  return { name, html, nodes: old ? alignNodes(element, old.nodes, parsed(html)) : parsed(html) };
}

/** What stands in an element as it was built is made like its first parts. */
function takeOver(element, made) {
  const built = [...element.childNodes];
  const twin = ({ dataset }) => dataset?.parts && built.find((one) => one.dataset?.parts === dataset.parts);
  const twins = new Map(made.flatMap(({ nodes }) => nodes).map((node) => [node, twin(node)]));
  const others = [...twins.keys()].filter((node) => !twins.get(node));
  const holders = new Set(twins.values());
  const now = alignNodes(element, built.filter((node) => !holders.has(node)), others);
  others.forEach((node, index) => twins.set(node, now[index]));
  made.forEach((part) => (part.nodes = part.nodes.map((node) => twins.get(node))));
}

/** Nodes in their order; those that are in it already stay where they are. */
function place(element, nodes) {
  let next = element.firstChild;
  for (const node of nodes) {
    if (node === next) {
      next = next.nextSibling;
    } else {
      element.insertBefore(node, next);
    }
  }
}

function parsed(html) {
  const template = document.createElement("template");
  template.innerHTML = html;
  return [...template.content.childNodes];
}

/** What the reader has opened or shut in an element stays so, through a change of it. */
function keepingOpen(element, change) {
  const kept = new Map(
    disclosures(element)
      .filter((one) => chosen.has(one))
      .map((one) => [one.dataset.key, one.open]),
  );
  change();
  for (const one of kept.size ? disclosures(element) : []) {
    const open = kept.get(one.dataset.key);
    if (open !== undefined) {
      choose(one);
      one.open = open;
      one.toggleAttribute("data-opened", open);
    }
  }
}

function disclosures(element) {
  return [...element.querySelectorAll("details[data-key]")];
}

/** Make some neighbours in an element like fresh ones; those that stand there then. */
function alignNodes(parent, present, wanted) {
  const after = present.at(-1)?.nextSibling ?? null;
  const made = wanted.map((node, index) => {
    const old = present[index];
    if (!old) {
      return parent.insertBefore(node, after);
    }
    return old.isEqualNode(node) ? old : align(old, node);
  });
  present.slice(wanted.length).forEach((node) => node.remove());
  return made;
}

/** Make an element like a fresh one, or put that in its place; the one that stands there then. */
function align(old, fresh) {
  const same = old.nodeName === fresh.nodeName && old.nodeType === fresh.nodeType;
  if (!same || old.dataset?.key !== fresh.dataset?.key) {
    old.replaceWith(fresh);
    return fresh;
  }
  if (old.nodeType !== Node.ELEMENT_NODE) {
    old.nodeValue = fresh.nodeValue;
  } else {
    alignAttributes(old, fresh);
    // What holds parts of its own is filled with them.
    old.dataset.parts && old.dataset.parts === fresh.dataset.parts || alignNodes(old, [...old.childNodes], [...fresh.childNodes]);
  }
  return old;
}

function alignAttributes(old, fresh) {
  const readersOwn = chosen.has(old) ? ["open", "data-opened"] : [];
  for (const { name } of [...old.attributes]) {
    if (!fresh.hasAttribute(name) && !readersOwn.includes(name)) {
      old.removeAttribute(name);
    }
  }
  for (const { name, value } of [...fresh.attributes]) {
    if (old.getAttribute(name) !== value && !readersOwn.includes(name)) {
      old.setAttribute(name, value);
    }
  }
}
