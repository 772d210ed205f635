// Keeps the whole guide on the reader's device. All files of an edition come in together or not at
// all, and an edition goes on serving its pages until the reader takes the next one.

import { PrecacheController, PrecacheRoute } from "workbox-precaching";
import { registerRoute } from "workbox-routing";

/* global EDITION: {key, date, dates, time, moment, size, pages, engine}, put here by the build; the last two
   are lists of {url, revision, integrity} */

const PAUSES = [2_000, 5_000, 10_000]; // ms before what is missing is asked for again
const BREATHER = 3_000; // ms after a key or a click on a page in which no further file is begun
let typed = -BREATHER; // when a page has told of one last
let wanting; // the address of the last file that didn't come

// The engine's names carry their content: an edition that changes words fetches words.
const engine = controller("engine", EDITION.engine);
const pages = controller("pages", EDITION.pages);

function controller(name, entries) {
  const made = new PrecacheController({
    cacheName: `brinebook-${name}-${registration.scope}`,
    plugins: [{ requestWillFetch: inTurn, fetchDidFail: async ({ request }) => void (wanting = request.url) }],
  });
  made.addToCacheList(entries);
  // Searching for a word opens pages with it in the address.
  registerRoute(new PrecacheRoute(made, { ignoreURLParametersMatching: [/.*/] }));
  return made;
}

// What no edition has: the host may know it; where there is none, our own page says that it is unknown.
registerRoute(({ request }) => request.mode === "navigate", async ({ request }) => {
  try {
    return await fetch(request);
  } catch (error) {
    const page = await pages.matchPrecache(new URL("404.html", registration.scope).href);
    if (!page) {
      throw error;
    }
    // Its addresses begin at the root of a host, which need not be the guide's.
    const html = (await page.text()).replace(/ (href|src)="\//g, ` $1="${registration.scope}`);
    return new Response(html, { status: 404, headers: { "Content-Type": "text/html;charset=utf-8" } });
  }
});

addEventListener("install", (event) => {
  event.waitUntil(
    bringIn().catch(async (error) => {
      await tellPages(await causeOf(error));
      throw error;
    }),
  );
});

/** All files, in several goes: what has arrived is kept, in this go and in later ones. */
async function bringIn() {
  const event = { type: "install", waitUntil: () => {} }; // the real one would end with the first go
  for (const time of [...PAUSES, undefined]) {
    const outcomes = await Promise.allSettled([engine.install(event), pages.install(event)]);
    const errors = outcomes.filter(({ status }) => status === "rejected").map(({ reason }) => reason);
    if (!errors.length) {
      return;
    }
    if (time === undefined || errors.some(isFull)) {
      throw errors.find(isFull) ?? errors[0];
    }
    await new Promise((resolve) => setTimeout(resolve, time));
  }
}

/** Who types on a slow device waits for no copy. */
async function inTurn({ request, event }) {
  while (event?.type === "install" && performance.now() - typed < BREATHER) {
    await new Promise((resolve) => setTimeout(resolve, BREATHER / 10));
  }
  return request;
}

function isFull(error) {
  return error?.name === "QuotaExceededError";
}

/** Why the copy isn't complete: a key of words.js, and the file that it is about. */
async function causeOf(error) {
  if (isFull(error)) {
    return { failed: "full" };
  }
  const address = error?.details?.url ?? wanting;
  const file = address?.split(/[/?]/).filter(Boolean).findLast((part) => !part.startsWith("__"));
  try {
    const { ok, status } = await fetch(address, { cache: "reload" });
    return { failed: ok ? "changed" : status === 404 ? "absentFile" : "failed", file };
  } catch {
    return { failed: "failed" };
  }
}

addEventListener("activate", (event) => {
  // A page that came before its copy was there is served from it from now on.
  event.waitUntil(Promise.all([engine.activate(event), pages.activate(event)]).then(() => clients.claim()));
});

addEventListener("message", ({ data, ports }) => {
  if (data.ask === "edition") {
    const { key, date, dates, time, moment, size } = EDITION;
    ports[0].postMessage({ key, date, dates, time, moment, size });
  } else if (data.ask === "host") {
    // From here a host that can't be reached leaves no complaint on the page.
    fetch(location.href, { method: "HEAD", cache: "no-store" })
      .then(({ status }) => status, () => 0)
      .then((status) => ports[0].postMessage({ status }));
  } else if (data.ask === "wait") {
    typed = performance.now();
  } else if (data.ask === "use-now") {
    skipWaiting();
  }
});

async function tellPages(message) {
  for (const page of await clients.matchAll({ includeUncontrolled: true, type: "window" })) {
    page.postMessage(message);
  }
}
