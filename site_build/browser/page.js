// The script of every page: wakes its calculators and looks after the offline copy.

import { Calculator } from "./calculator.js";
import { Engine } from "./engine.js";
import { lookAfterOfflineCopy } from "./offline.js";
import { Units } from "./units.js";

const PATIENCE = 3_000; // ms after which a busy page counts as idle

function wake() {
  const sections = [...document.querySelectorAll("section.calc[data-calculator]")];
  const calculators = [];
  const beginCopy = once(() => lookAfterOfflineCopy(() => calculators.forEach((one) => one.keep())));
  const engine = new Engine(() => {
    calculators.forEach((calculator) => calculator.tell());
    // The page's own calculators come first on a slow line.
    ["ready", "failed"].includes(engine.stage) && beginCopy();
  });
  const units = new Units(() => calculators.forEach((calculator) => calculator.ask()));
  for (const section of sections) {
    calculators.push(new Calculator(section, engine, units));
  }
  // Whoever pays for each megabyte gets the engine only when a form is touched.
  const startNow = sections.length && !navigator.connection?.saveData;
  whenIdle(() => {
    startNow && engine.start();
    (!startNow || navigator.serviceWorker?.controller) && beginCopy();
  });
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

function whenIdle(act) {
  const later = () =>
    self.requestIdleCallback ? requestIdleCallback(act, { timeout: PATIENCE }) : setTimeout(act, 200);
  document.readyState === "complete" ? later() : addEventListener("load", later, { once: true });
}

if (document.readyState === "loading") {
  addEventListener("DOMContentLoaded", wake, { once: true });
} else {
  wake();
}
