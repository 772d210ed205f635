// The script of every page: wakes its calculators and looks after the offline copy.

import { loadAgain, typedBefore } from "./again.js";
import { Boats } from "./boats.js";
import { Calculator } from "./calculator.js";
import { download } from "./device.js";
import { button, element } from "./element.js";
import { Engine } from "./engine.js";
import { Links } from "./links.js";
import { lookAfterOfflineCopy } from "./offline.js";
import { Settings } from "./settings.js";
import { Sheet } from "./sheet.js";
import { choose } from "./slots.js";
import { StepCard } from "./stepcard.js";
import { onAside } from "./store.js";
import { aside as asideWords } from "./words.js";

const PATIENCE = 3_000; // ms after which a busy page counts as idle

function wake() {
  const sections = [...document.querySelectorAll("section.calc[data-calculator]")];
  const calculators = [];
  const sheets = [];
  const forms = () => [...calculators, ...sheets];
  const before = typedBefore();
  const again = () =>
    loadAgain({ forms: Object.fromEntries(forms().map((form) => [form.place, form.typed])), unkept: shared.boats.unkept });
  const beginCopy = once(() => lookAfterOfflineCopy(again));
  const engine = new Engine(() => {
    forms().forEach((form) => form.tell());
    // The page's own calculators come first on a slow line, and what they were asked meanwhile.
    engine.stage === "ready" && engine.rest().then(beginCopy);
    engine.stage === "failed" && beginCopy();
  }, again);
  const askAll = () => forms().forEach((form) => form.ask());
  const settings = new Settings(askAll);
  const shared = { engine, settings, boats: new Boats(askAll, before.unkept), before: before.forms };
  for (const section of sections) {
    calculators.push(new Calculator(section, shared));
  }
  for (const section of document.querySelectorAll("section.sheet[data-sheet]")) {
    sheets.push(new Sheet(section, shared));
  }
  document.querySelectorAll("[data-step-card]").forEach((tools) => new StepCard(tools, shared));
  new Links(engine, calculators);
  onAside(tellOfAside);
  // A page that a browser has kept for the back button hasn't heard what became of the boat meanwhile.
  addEventListener("pageshow", ({ persisted }) => persisted && askAll());
  document.addEventListener("click", noteWhatIsOpened);
  location.protocol === "file:" && beginCopy(); // there is nothing to fetch
  // Whoever pays for each megabyte gets the engine only when a form is touched.
  document.documentElement.dataset.brinebook = "awake"; // else the page itself says that it isn't
  const startNow = forms().length && !navigator.connection?.saveData;
  whenIdle(() => {
    startNow && engine.start();
    (!startNow || navigator.serviceWorker?.controller) && beginCopy();
  });
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
