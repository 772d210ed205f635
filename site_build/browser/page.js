// The script of every page: wakes its calculators and looks after the offline copy.

import { loadAgain, typedBefore } from "./again.js";
import { Boats } from "./boats.js";
import { Calculator } from "./calculator.js";
import { download } from "./device.js";
import { button, element } from "./element.js";
import { Links } from "./links.js";
import { lookAfterOfflineCopy, serviceWorkers } from "./offline.js";
import { hearWhatIsPutIn } from "./search.js";
import { Settings } from "./settings.js";
import { engineFor } from "./shared.js";
import { Sheet } from "./sheet.js";
import { choose } from "./slots.js";
import { StepCard } from "./stepcard.js";
import { onAside } from "./store.js";
import { turnPages } from "./turn.js";
import { aside as asideWords } from "./words.js";

const PATIENCE = 3_000; // ms after which a busy page counts as idle

function wake() {
  let page = { forms: [], left: new AbortController() }; // what belongs to the page that is shown
  const before = typedBefore();
  const again = () =>
    loadAgain({ forms: Object.fromEntries(page.forms.map((form) => [form.place, form.typed])), unkept: boats.unkept });
  const beginCopy = once(() => lookAfterOfflineCopy(again));
  const rested = () => {
    dispatchEvent(new Event("brinebook:rested")); // the theme's script waits for it: first.js
    beginCopy();
  };
  const tell = () => {
    page.forms.forEach((form) => form.tell());
    // The page's own calculators come first, and what they were asked meanwhile.
    engine.stage === "ready" && engine.rest().then(rested);
    engine.stage === "failed" && beginCopy();
  };
  const engine = engineFor(tell, again);
  const askAll = () => page.forms.forEach((form) => form.ask());
  const settings = new Settings(askAll);
  const boats = new Boats(askAll, before.unkept);
  page = wakePage({ engine, settings, boats, before: before.forms });
  engine.stage !== "idle" && tell(); // it is another frame's, and may run already
  onAside(tellOfAside);
  hearWhatIsPutIn();
  // A page that a browser has kept for the back button hasn't heard what became of the boat meanwhile.
  addEventListener("pageshow", ({ persisted }) => persisted && askAll());
  document.addEventListener("click", noteWhatIsOpened);
  // In the other language stands the answer that a link has led to, with what was typed over it.
  const carry = ({ target }) => carryAnswer(target.closest?.("a[data-language]"), page.forms);
  ["click", "auxclick"].forEach((kind) => document.addEventListener(kind, carry));
  location.protocol === "file:" && beginCopy(); // there is nothing to fetch
  document.documentElement.dataset.brinebook = "awake"; // else the page itself says that it isn't
  // Whoever pays for each megabyte gets the engine only when a form is touched.
  const startsNow = () => page.forms.length && !navigator.connection?.saveData;
  startsNow() && engine.start(); // the page is painted: first.js
  whenIdle(() => {
    (!startsNow() || serviceWorkers?.controller) && beginCopy();
  });
  turnPages({
    leave() {
      page.left.abort();
      engine.forget();
    },
    wake() {
      settings.show();
      page = wakePage({ engine, settings, boats, before: {} });
      engine.retry(); // a page that is loaded tries again, too
      whenIdle(() => startsNow() && engine.start());
      engine.stage !== "idle" && tell();
    },
    rest: () => engine.rest(),
  });
}

/** What belongs to a page: its forms, in their order, and a way to end all that listens for it. */
function wakePage(shared) {
  const left = new AbortController();
  const given = { ...shared, left: left.signal };
  const all = (selector, Kind) => [...document.querySelectorAll(selector)].map((one) => new Kind(one, given));
  const calculators = all("section.calc[data-calculator]", Calculator);
  const sheets = all("section.sheet[data-sheet]", Sheet);
  all("[data-step-card]", StepCard);
  new Links(shared.engine, calculators, left.signal);
  return { forms: [...calculators, ...sheets], left };
}

/** What the device kept for this guide in a shape that it doesn't know. */
function tellOfAside(found) {
  const save = button("", asideWords.save, () =>
    download(JSON.stringify(found, null, 1), "set-aside.json", "application/json"),
  );
  let line = document.querySelector(".bb-aside");
  if (!line) {
    line = element("p", "bb-aside", "");
    line.setAttribute("role", "status");
    (document.querySelector("section.calc, section.sheet, main h1") ?? document.body.lastElementChild).before(line);
  }
  line.replaceChildren(asideWords.told(Object.keys(found).length), " ", save);
}

/** On paper stands what a reader has opened; the theme opens everything when a page is printed. */
function noteWhatIsOpened({ target }) {
  const fold = target.closest?.("summary")?.parentElement;
  if (fold) {
    fold.toggleAttribute("data-opened", !fold.open);
    choose(fold);
  }
}

function carryAnswer(link, forms) {
  const linked = forms.map((form) => form.linked).find(Boolean);
  link && (link.hash = linked ?? location.hash);
}

function once(act) {
  let done = false;
  return () => {
    if (!done) {
      done = true;
      act();
    }
  };
}

/** After the first picture of the page, when nothing else is to be done. */
function whenIdle(act) {
  const later = () =>
    self.requestIdleCallback ? requestIdleCallback(act, { timeout: PATIENCE }) : setTimeout(act, 200);
  requestAnimationFrame(() => setTimeout(later));
}

if (document.readyState === "loading") {
  addEventListener("DOMContentLoaded", wake, { once: true });
} else {
  wake();
}
