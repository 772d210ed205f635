// The script of every page: wakes its calculators and looks after the offline copy.

import { Calculator } from "./calculator.js";
import { Engine } from "./engine.js";
import { lookAfterOfflineCopy } from "./offline.js";
import { Units } from "./units.js";

const PATIENCE = 3_000; // ms after which a busy page counts as idle

function wake() {
  const sections = [...document.querySelectorAll("section.calc[data-calculator]")];
  const calculators = [];
  if (sections.length) {
    const engine = new Engine(() => calculators.forEach((calculator) => calculator.tell()));
    const units = new Units(() => calculators.forEach((calculator) => calculator.ask()));
    for (const section of sections) {
      calculators.push(new Calculator(section, engine, units));
    }
    // Whoever pays for each megabyte gets them only when a form is touched.
    if (!navigator.connection?.saveData) {
      whenIdle(() => engine.start());
    }
  }
  whenIdle(() => lookAfterOfflineCopy(() => calculators.forEach((calculator) => calculator.keep())));
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
