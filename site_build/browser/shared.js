// The engine of a page. Several calculators of the guide in one page of somebody else's share one: frames
// of one origin see each other, the first of them has the engine, and the others ask that.

import { Engine } from "./engine.js";

const EDITION = "meta[name=brinebook-guide]";

/** @param {() => void} tell called whenever the engine's stage or progress has changed */
export function engineFor(tell, loadAgain) {
  if (!document.body.classList.contains("bb-embed")) {
    return new Engine(tell, loadAgain);
  }
  const records = document.querySelector(EDITION)?.content;
  const found = siblings().find((one) => one.records === records);
  if (found) {
    // Its frame may be taken away: then this one begins anew, with an engine of its own.
    const again = () => setTimeout(() => location.reload());
    found.tells.add(tell);
    found.guests.add(again);
    addEventListener("pagehide", () => {
      found.tells.delete(tell);
      found.guests.delete(again);
    });
    return found.engine;
  }
  const tells = new Set([tell]);
  const guests = new Set();
  const engine = new Engine(() => tells.forEach((one) => one()), loadAgain);
  self.bbShared = { engine, tells, guests, records };
  addEventListener("pagehide", () => guests.forEach((one) => one()));
  return engine;
}

/** What other frames of this origin, in the same page, share. */
function siblings() {
  return Array.from({ length: parent === self ? 0 : parent.length }, (_, index) => {
    try {
      return parent[index] === self ? undefined : parent[index].bbShared;
    } catch {
      return undefined; // somebody else's frame
    }
  }).filter(Boolean);
}
