// Puts HTML that Python has rendered into the page. Only what differs is changed, so that the focus,
// a selection, the place in a scrolled table and what a reader has opened stay as they are.

const filled = new WeakMap(); // what each element was filled with last
const chosen = new WeakSet(); // disclosures that the reader has opened or shut

/** The reader opens or shuts a disclosure: so it stays, whatever comes. */
export function choose(disclosure) {
  chosen.add(disclosure);
}

/** Fill those places of a section that `slots` has HTML for. */
export function fillPlaces(section, slots = {}) {
  for (const place of section.querySelectorAll("[data-slot]")) {
    const html = slots[place.dataset.slot];
    if (html !== undefined) {
      fill(place, html);
    }
  }
}

/** Make the content of an element that of `html`. */
export function fill(element, html) {
  if (filled.get(element) === html) {
    return;
  }
  filled.set(element, html);
  const template = document.createElement("template");
  template.innerHTML = html;
  const kept = new Map(
    disclosures(element)
      .filter((one) => chosen.has(one))
      .map((one) => [one.dataset.key, one.open]),
  );
  alignChildren(element, template.content);
  for (const one of disclosures(element)) {
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

function alignChildren(live, fresh) {
  const wanted = [...fresh.childNodes];
  const present = [...live.childNodes];
  wanted.forEach((node, index) => {
    const old = present[index];
    if (!old) {
      live.append(node);
    } else if (!old.isEqualNode(node)) {
      align(old, node);
    }
  });
  present.slice(wanted.length).forEach((node) => node.remove());
}

function align(old, fresh) {
  const same = old.nodeName === fresh.nodeName && old.nodeType === fresh.nodeType;
  if (!same || old.dataset?.key !== fresh.dataset?.key) {
    old.replaceWith(fresh);
  } else if (old.nodeType !== Node.ELEMENT_NODE) {
    old.nodeValue = fresh.nodeValue;
  } else {
    alignAttributes(old, fresh);
    alignChildren(old, fresh);
  }
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
