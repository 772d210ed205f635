// The page's side of the offline copy: asks for it, says how it stands, offers a new edition, removes it.

import { button, element } from "./element.js";
import { SIZE } from "./files.js";
import { keep, recall } from "./store.js";
import { offline as words } from "./words.js";

const ROOT = new URL("../../", document.currentScript.src); // this script lies in assets/engine/
const LOOK_AGAIN = 600_000; // ms before a page that is looked at again asks for a new edition

/** @param {() => void} keepForms called before the page is loaded anew for a new edition */
export async function lookAfterOfflineCopy(keepForms) {
  const copy = new OfflineCopy(places());
  if (location.protocol === "file:") {
    document.querySelectorAll("[data-guide-zip]").forEach((link) => (link.closest("p") ?? link).remove());
    copy.say(words.folder);
  } else if (!self.isSecureContext) {
    copy.say(words.insecure);
  } else if (!navigator.serviceWorker) {
    copy.say(words.unable);
  } else {
    await copy.begin(keepForms);
  }
}

class OfflineCopy {
  #status;
  #offer;
  #remove;
  #registration;
  #failure = words.failed;

  constructor({ status, offer, remove }) {
    this.#status = status;
    this.#offer = offer;
    this.#remove = remove;
  }

  async begin(keepForms) {
    let served = Boolean(navigator.serviceWorker.controller);
    navigator.serviceWorker.addEventListener("controllerchange", () => {
      // The first copy serves the files that this page has; another one is a new edition.
      if (served) {
        keepForms();
        location.reload();
      }
      served = true;
    });
    navigator.serviceWorker.addEventListener("message", ({ data }) => {
      this.#failure = words[data.failed] ?? this.#failure;
    });
    try {
      this.#registration = await navigator.serviceWorker.getRegistration(ROOT);
    } catch {
      return this.say(words.forbidden);
    }
    const unasked = !navigator.connection?.saveData && recall("localStorage", "offline") !== "removed";
    return this.#registration || unasked ? this.#keep() : this.#offerToKeep();
  }

  say(sentence, button) {
    this.#status.replaceChildren(sentence, ...(button ? [" ", button] : []));
    this.#remove.replaceChildren();
  }

  async #keep() {
    try {
      this.#registration = await navigator.serviceWorker.register(new URL("sw.js", ROOT), {
        scope: ROOT.pathname,
        updateViaCache: "none",
      });
    } catch (error) {
      return this.say(error.name === "SecurityError" ? words.forbidden : words.failed);
    }
    this.#registration.addEventListener("updatefound", () => this.#watch());
    this.#watch();
    let looked = performance.now();
    document.addEventListener("visibilitychange", () => {
      if (!document.hidden && performance.now() - looked > LOOK_AGAIN) {
        looked = performance.now();
        this.#registration.update().catch(() => {}); // no network: nothing new
      }
    });
  }

  /** Show how things stand, now and whenever a worker has come further. */
  #watch() {
    const coming = this.#registration.installing;
    coming?.addEventListener("statechange", () => this.#show(coming));
    this.#show(coming);
  }

  async #show(coming) {
    const { active, waiting } = this.#registration;
    if (active) {
      const { size, date } = await editionOf(active);
      this.say(words.ready(size, date));
      this.#remove.replaceChildren(button("bb-offline-remove", words.remove, () => this.#forget()));
      waiting && this.#offerUpdate(waiting);
    } else {
      this.say(coming?.state === "redundant" ? this.#failure : words.storing);
    }
  }

  #offerUpdate(waiting) {
    const accept = button("bb-update-accept", words.accept, () => waiting.postMessage({ ask: "use-now" }));
    this.#offer.replaceChildren(words.update, " ", accept);
  }

  #offerToKeep(before = "") {
    const accept = button("bb-offline-keep", words.keep, () => {
      keep("localStorage", "offline", "wanted");
      this.#keep();
    });
    this.say(`${before} ${words.offer(SIZE)}`.trim(), accept);
  }

  async #forget() {
    keep("localStorage", "offline", "removed");
    await this.#registration.unregister();
    for (const name of await caches.keys()) {
      if (name.startsWith("brinebook-") && name.endsWith(this.#registration.scope)) {
        await caches.delete(name);
      }
    }
    this.#offer.replaceChildren();
    this.#offerToKeep(words.removed);
  }
}

function editionOf(worker) {
  return new Promise((resolve) => {
    const { port1, port2 } = new MessageChannel();
    port1.onmessage = ({ data }) => resolve(data);
    worker.postMessage({ ask: "edition" }, [port2]);
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
