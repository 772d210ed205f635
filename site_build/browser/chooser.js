// A long list of records is searched by typing: the words in the box over it leave those that have all
// of them in their name. What is chosen, and the ways out of the list, stay in it.

import { found as told } from "./words.js";

const LINES = 8; // of a list that lies open
const WAYS_OUT = ["", "none"]; // "not said", "not in the list"
const UNPARTED = { ø: "o", đ: "d", ł: "l", ı: "i", æ: "ae", œ: "oe", ß: "ss" }; // letters no accent comes off

const whole = new WeakMap(); // all options of a list that is narrowed

/** All choices of a list, those too that are left out of it just now. */
export function choices(list) {
  return whole.get(list) ?? [...list.options];
}

/** The boxes in a part of a form can be used from now on. */
export function ready(root) {
  root.querySelectorAll("[data-narrow]").forEach((box) => (box.disabled = false));
}

/** Hear what is searched for in a form. */
export function narrowing(form) {
  form.addEventListener("input", ({ target }) => target.matches("[data-narrow]") && narrow(target));
  form.addEventListener("keydown", (event) => {
    const { target, key } = event;
    if (target.matches("[data-narrow]") && ["Enter", "ArrowDown", "Escape"].includes(key)) {
      event.preventDefault();
      act(target, key);
    } else if (whole.has(target) && ["Enter", "Escape"].includes(key)) {
      event.preventDefault();
      widen(target);
    }
  });
  form.addEventListener("click", ({ target }) => {
    const list = target.closest("option")?.parentElement;
    list && widen(list);
  });
}

/** The whole list again. */
export function widen(list) {
  if (!whole.has(list)) {
    return;
  }
  put(list, whole.get(list));
  whole.delete(list);
  list.removeAttribute("size");
  const { box, says } = around(list);
  box.value = says.textContent = "";
}

function narrow(box) {
  const { list, says } = around(box);
  const words = plain(box.value).split(" ").filter(Boolean);
  if (!words.length) {
    widen(list);
    return;
  }
  const all = choices(list);
  const [now] = list.selectedOptions;
  const fits = all.filter((one) => !WAYS_OUT.includes(one.value) && words.every((word) => name(one).includes(word)));
  const out = all.filter((one) => one !== now && WAYS_OUT.includes(one.value));
  whole.set(list, all);
  put(list, [now, ...fits.filter((one) => one !== now), ...out].filter(Boolean)); // the chosen one first: nothing jumps
  list.size = Math.min(LINES, Math.max(2, [...list.options].filter(({ hidden }) => !hidden).length));
  list.scrollTop = 0;
  says.textContent = told(fits.length);
  box.dataset.found = fits.length === 1 ? fits[0].value : "";
}

function act(box, key) {
  const { list } = around(box);
  const only = whole.has(list) && box.dataset.found;
  if (key === "Escape") {
    box.value = "";
    widen(list);
  } else if (key === "Enter" && only) {
    const chosen = list.value;
    widen(list);
    list.value = only;
    list.value !== chosen && list.dispatchEvent(new Event("change", { bubbles: true }));
  } else {
    list.focus();
  }
}

/** Other options in a list that keeps its choice. */
function put(list, options) {
  const [now] = list.selectedOptions;
  list.replaceChildren(...options);
  now ? (now.selected = true) : (list.selectedIndex = -1);
}

/** A box, its list and what is told of them. */
function around(one) {
  const chooser = one.closest(".chooser");
  const [box, list, says] = chooser.children;
  return { box, list, says };
}

/** An option's words, with and without what stands between them: “kestrel60” is found too. */
function name(option) {
  const words = plain(option.text);
  return `${words} ${words.replaceAll(" ", "")}`;
}

/** Without accents and capitals. */
function plain(text) {
  const bare = text.normalize("NFKD").toLowerCase().replace(/\p{M}/gu, "");
  return bare.replace(/[øđłıæœß]/g, (letter) => UNPARTED[letter]).replace(/\s+/g, " ");
}
