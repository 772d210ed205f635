// Keeps the whole guide on the reader's device. All files of an edition come in together or not at
// all, and an edition goes on serving its pages until the reader takes the next one.

import { PrecacheController, PrecacheRoute } from "workbox-precaching";
import { registerRoute } from "workbox-routing";

/* global EDITION: {key, date, size, pages, engine}, put here by the build; the last two are lists
   of {url, revision, integrity} */

// The engine's names carry their content: an edition that changes words fetches words.
const engine = controller("engine", EDITION.engine);
const pages = controller("pages", EDITION.pages);

function controller(name, entries) {
  const made = new PrecacheController({ cacheName: `brinebook-${name}-${registration.scope}` });
  made.addToCacheList(entries);
  // Searching for a word opens pages with it in the address.
  registerRoute(new PrecacheRoute(made, { ignoreURLParametersMatching: [/.*/] }));
  return made;
}

addEventListener("install", (event) => {
  event.waitUntil(
    Promise.all([engine.install(event), pages.install(event)]).catch(async (error) => {
      await tellPages({ failed: error?.name === "QuotaExceededError" ? "full" : "failed" });
      throw error;
    }),
  );
});

addEventListener("activate", (event) => {
  // A page that came before its copy was there is served from it from now on.
  event.waitUntil(Promise.all([engine.activate(event), pages.activate(event)]).then(() => clients.claim()));
});

addEventListener("message", ({ data, ports }) => {
  if (data.ask === "edition") {
    ports[0].postMessage({ key: EDITION.key, date: EDITION.date, size: EDITION.size });
  } else if (data.ask === "use-now") {
    skipWaiting();
  }
});

async function tellPages(message) {
  for (const page of await clients.matchAll({ includeUncontrolled: true, type: "window" })) {
    page.postMessage(message);
  }
}
