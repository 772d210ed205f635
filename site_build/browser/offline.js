// The page's side of the offline copy: asks for it, says how it stands, offers a new edition, removes it.

import { button, element } from "./element.js";
import { SIZE } from "./files.js";
import { isText } from "./shapes.js";
import { forget, keep, recall } from "./store.js";
import { offline as words } from "./words.js";

const ROOT = new URL("../../", document.currentScript.src); // this script lies in assets/engine/
const SCRIPT = new URL("sw.js", ROOT);
const LOOK_AGAIN = 600_000; // ms before a page that is looked at again asks for a new edition
const ANSWER_LIMIT = 3_000; // ms for a worker to answer, for instance which edition it keeps
const HOST_LIMIT = 20_000; // ms for the host to give sw.js
const TAKE_OVER_LIMIT = 10_000; // ms for an edition that was accepted to be in use
const TRY_AGAIN = 30_000; // ms before a copy that did not become complete is tried again
const GONE = [404, 410];

// Other guides on the same host have their own.
const MARK = `offline:${ROOT.pathname}`;
const TOLD_GONE = `offline-gone:${ROOT.pathname}`;

/** What the browser has for service workers; nothing where it has none, or forbids the question in a frame. */
export const serviceWorkers = (() => {
  try {
    return navigator.serviceWorker;
  } catch {
    return undefined;
  }
})();

/** @param {() => boolean} loadAgain loads the page again with what is typed on it; false if that can't be kept */
export async function lookAfterOfflineCopy(loadAgain) {
  if (!document.querySelector("[data-offline-status]")) {
    return; // a calculator in a frame of somebody else's page
  }
  const copy = new OfflineCopy(places(), loadAgain);
  if (location.protocol === "file:") {
    document.querySelectorAll("[data-guide-zip]").forEach((link) => (link.closest("p") ?? link).remove());
    copy.say(words.folder);
  } else if (!self.isSecureContext) {
    copy.say(words.insecure);
  } else if (!serviceWorkers) {
    copy.say(words.unable);
  } else {
    await copy.begin();
  }
}

class OfflineCopy {
  #status;
  #offer;
  #remove;
  #loadAgain;
  #registration;
  #coming; // the worker that is bringing files in, or was the last to
  #failure; // a sentence; only without it is a copy that isn't complete tried again
  #gone = ""; // that the host has no offline copy any more
  #again; // when a copy that isn't complete is tried again
  #looking = false; // whether new editions are asked for
  #accepted = false; // whether the reader has asked for another edition here
  #told = false; // whether it is said that another edition is in use elsewhere
  #shown = 0; // counts what was begun to be shown

  constructor({ status, offer, remove }, loadAgain) {
    this.#status = status;
    this.#offer = offer;
    this.#remove = remove;
    this.#loadAgain = loadAgain;
  }

  async begin() {
    let served = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      if (this.#accepted) {
        this.#takeUp();
      } else if (served) {
        this.#tellOfOther();
      }
      served = true; // the first copy serves the files that this page has; another one is a new edition
    });
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      this.#failure = data.failed === "failed" ? undefined : words[data.failed]?.(data.file);
      this.#registration && this.#show(this.#coming); // it may have ended before its reason came
    });
    try {
      this.#registration = await navigator.serviceWorker.getRegistration(ROOT);
    } catch {
      this.say(words.forbidden);
      return;
    }
    const busy = () => this.#coming?.state === "installing" && this.#coming.postMessage({ ask: "wait" });
    ["input", "click"].forEach((kind) => document.addEventListener(kind, busy));
    const unasked = !navigator.connection?.saveData && recall("localStorage", MARK, isText) !== "removed";
    await (this.#registration || unasked ? this.#keep() : this.#offerToKeep());
  }

  say(sentence, button) {
    this.#status.replaceChildren(sentence, ...(button ? [" ", button] : []));
    this.#remove.replaceChildren();
  }

  async #keep() {
    const late = setTimeout(() => this.say(words.late), HOST_LIMIT);
    try {
      this.#registration = await navigator.serviceWorker.register(SCRIPT, {
        scope: ROOT.pathname,
        updateViaCache: "none",
      });
    } catch (error) {
      this.say((await causeAtHost()) ?? (error.name === "SecurityError" ? words.forbidden : words.failed()));
      return;
    } finally {
      clearTimeout(late);
    }
    this.#registration.addEventListener("updatefound", () => this.#watch());
    this.#watch();
    this.#registration.active && this.#lookForHost();
    if (this.#looking) {
      return; // this was another go
    }
    this.#looking = true;
    let looked = performance.now();
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden && performance.now() - looked > LOOK_AGAIN) {
        looked = performance.now();
        this.#registration.update().catch(() => {}); // no network: nothing new
      }
    });
  }

  /** A host that has no worker any more is told of once. */
  async #lookForHost() {
    const { status } = (await reply(this.#registration.active, "host")) ?? {};
    if (GONE.includes(status) && recall("localStorage", TOLD_GONE, isText) === null) {
      keep("localStorage", TOLD_GONE, "told");
      this.#gone = words.gone;
      this.#show();
    } else if (status === 200) {
      forget("localStorage", TOLD_GONE);
    }
  }

  /** Show how things stand, now and whenever a worker has come further. */
  #watch() {
    this.#coming = this.#registration.installing ?? this.#coming;
    const coming = this.#coming;
    coming?.addEventListener("statechange", () => this.#show(coming));
    this.#show(coming);
  }

  async #show(coming) {
    const { active, waiting } = this.#registration;
    this.#shown += 1;
    const shown = this.#shown;
    const [now, next] = await Promise.all([active, waiting].map((worker) => worker && editionOf(worker)));
    if (shown !== this.#shown) {
      return;
    }
    if (active) {
      this.say([now ? words.ready(now) : words.silent, this.#gone].join(" ").trim());
      this.#remove.replaceChildren(button("bb-offline-remove", words.remove, () => this.#forget()));
    } else {
      const broken = coming?.state === "redundant";
      this.say(broken ? (this.#failure ?? words.failed()) : words.storing);
      clearTimeout(this.#again);
      this.#again = broken && !this.#failure && setTimeout(() => this.#keep(), TRY_AGAIN);
    }
    // Gone back before it was taken: what waits is what is there.
    const other = waiting && !(now && next && now.key === next.key);
    if (!this.#told && !this.#accepted) {
      other ? this.#offerUpdate(waiting, now, next) : this.#offer.replaceChildren();
    }
  }

  #offerUpdate(waiting, now, next) {
    const accept = button("bb-update-accept", words.accept, () => {
      this.#accepted = true;
      waiting.addEventListener("statechange", () => waiting.state === "activated" && this.#takeUp());
      waiting.postMessage({ ask: "use-now" });
      setTimeout(() => this.#told || this.#offer.replaceChildren(words.stuck), TAKE_OVER_LIMIT);
    });
    const older = now?.moment && next?.moment && next.moment < now.moment;
    const sentence = now && next ? (older ? words.older : words.newer)(next, now) : words.update;
    this.#offer.replaceChildren(sentence, " ", accept);
  }

  /** The edition that was accepted here is in use. */
  #takeUp() {
    this.#loadAgain() || this.#tellOfOther(words.unkept);
  }

  /** Another tab has taken another edition: what is typed here is the reader's to finish. */
  #tellOfOther(first = words.elsewhere) {
    this.#told = true;
    const again = button("bb-update-reload", words.again, () => this.#loadAgain() || location.reload());
    this.#offer.replaceChildren(first, " ", again);
  }

  #offerToKeep(before = "") {
    const accept = button("bb-offline-keep", words.keep, () => {
      keep("localStorage", MARK, "wanted");
      this.#keep();
    });
    this.say(`${before} ${words.offer(SIZE)}`.trim(), accept);
  }

  async #forget() {
    keep("localStorage", MARK, "removed");
    await this.#registration.unregister();
    // Ours, and what an older worker of this very place has left.
    for (const name of await caches.keys()) {
      if (/^(brinebook|workbox)-/.test(name) && name.endsWith(this.#registration.scope)) {
        await caches.delete(name);
      }
    }
    this.#offer.replaceChildren();
    this.#offerToKeep(words.removed);
  }
}

/** Why the host's sw.js can't be a worker, in a sentence; nothing if it can, or if nobody answers. */
async function causeAtHost() {
  try {
    const { ok, status, headers } = await fetch(SCRIPT, { method: "HEAD", cache: "no-store" });
    const type = headers.get("content-type") ?? "";
    if (!ok) {
      return GONE.includes(status) ? words.absent : undefined;
    }
    return /(java|ecma)script/.test(type) ? undefined : words.type(type);
  } catch {
    return undefined;
  }
}

/** What a worker says of its edition; null from one that isn't ours or doesn't answer in time. */
async function editionOf(worker) {
  const said = await reply(worker, "edition");
  return isText(said?.key) ? said : null;
}

function reply(worker, ask) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    setTimeout(resolve, ANSWER_LIMIT, null);
    worker.postMessage({ ask }, [port2]);
  });
}

/** Where to say it: the theme's own places, or new ones at the end of the footer. */
function places() {
  const place = (mark) => {
    const found = document.querySelector(`[${mark}]`);
    if (found) {
      return found;
    }
    const made = element("span", "bb-offline", "");
    made.setAttribute(mark, "");
    (document.querySelector(".md-footer") ?? document.body).append(made);
    return made;
  };
  return {
    status: place("data-offline-status"),
    offer: place("data-update-offer"),
    remove: place("data-offline-remove"),
  };
}
