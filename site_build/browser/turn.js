// Turns to another page of the guide without losing the engine: the page is fetched, what is of the
// page takes the old one's place, and the rest stays. Only on a host, and where the browser can tell of
// a navigation and let a script do it; everywhere else, and whenever anything is odd, pages load as ever.

import { lookAtQuery } from "./search.js";

// Of the page, and in every page: what is in these elements, or what these elements are.
const INSIDE = [".md-main__inner", "[data-md-component=skip]"];
const IN_HEAD = [
  "title",
  "meta[name=description]",
  "meta[name=brinebook-hosted]",
  "link[rel=prev]",
  "link[rel=next]",
  "link[rel=canonical]",
].join();
const ALIKE = ["link[data-run][href*='assets/engine/']", "meta[name=brinebook-guide]", "meta[name=brinebook-edition]"];

/**
 * @param {object} acts
 * @param {() => void} acts.leave what belongs to the old page ends
 * @param {() => void} acts.wake what belongs to the new page begins
 * @param {() => Promise<void>} acts.rest waits until all that was asked is answered
 */
export function turnPages({ leave, wake, rest }) {
  if (!self.navigation || !location.protocol.startsWith("http") || !self.NavigateEvent) {
    return;
  }
  const places = new Map(); // how far a page was scrolled, by its entry in the history
  let shown = new URL(location.href);
  navigation.addEventListener("navigate", (event) => {
    const { key } = navigation.currentEntry;
    places.set(key, scrollY);
    const to = new URL(event.destination.url);
    if (event.canIntercept && isTurn(event, to, shown)) {
      const back = event.navigationType === "traverse" && places.get(event.destination.key);
      event.intercept({ scroll: "manual", focusReset: "manual", handler: () => turn(event, to, back) });
    } else if (event.hashChange) {
      shown = to;
    }
  });

  async function turn(event, to, back) {
    const fresh = await fetched(to, event.signal);
    if (event.signal.aborted) {
      return;
    }
    if (!fresh) {
      location.reload(); // the address is the new one already
      return;
    }
    leave();
    shown = to;
    put(fresh);
    event.scroll();
    self.document$?.next(document); // the theme looks after tables, details and such in the new page
    wake();
    to.hash.length > 1 && document.querySelector(":target") ? undefined : focusOnHeading();
    performance.mark("brinebook:turned");
    if (typeof back === "number") {
      scrollToAgain(back);
    }
  }

  /** Where it was; once more when the answers are there and have made it longer, unless a reader was quicker. */
  async function scrollToAgain(place) {
    scrollTo({ top: place, behavior: "instant" });
    const reached = scrollY;
    const page = shown;
    await rest();
    requestAnimationFrame(() => {
      shown === page && scrollY === reached && scrollTo({ top: place, behavior: "instant" });
    });
  }
}

/** Whether this leads to another page in the same folder: addresses in what stays hold there too. */
function isTurn(event, to, shown) {
  const kind = !event.hashChange && event.downloadRequest === null && !event.formData;
  const other = to.origin === shown.origin && to.pathname !== shown.pathname;
  const near = folderOf(to) === folderOf(shown) && /(\/|\.html)$/.test(to.pathname);
  return kind && other && near && event.navigationType !== "reload";
}

function folderOf({ pathname }) {
  return pathname.replace(/[^/]*$/, "");
}

/** The page as a document; nothing if it can't be had, or isn't of the very same guide. */
async function fetched(to, signal) {
  try {
    const response = await fetch(to.href.replace(/#.*$/s, ""), { signal, headers: { Accept: "text/html" } });
    const type = response.headers.get("Content-Type") ?? "";
    if (!response.ok || response.redirected || !type.startsWith("text/html")) {
      return undefined;
    }
    const fresh = new DOMParser().parseFromString(await response.text(), "text/html");
    const parts = [document, fresh].map((one) => one.querySelectorAll("[data-of-page]").length);
    const same = ALIKE.every((one) => named(fresh, one) === named(document, one));
    return same && parts[0] === parts[1] && INSIDE.every((one) => fresh.querySelector(one)) ? fresh : undefined;
  } catch {
    return undefined;
  }
}

function named(page, selector) {
  const found = page.querySelector(selector);
  return found?.getAttribute("href") ?? found?.content;
}

function put(fresh) {
  const pairs = [...INSIDE, "[data-of-page]"].map((one) => [document, fresh].map((page) => [...page.querySelectorAll(one)]));
  for (const [olds, news] of pairs) {
    olds.forEach((old, index) => old.replaceWith(document.adoptNode(news[index])));
  }
  document.head.querySelectorAll(IN_HEAD).forEach((old) => old.remove());
  document.head.append(...[...fresh.head.querySelectorAll(IN_HEAD)].map((one) => document.adoptNode(one)));
  document.querySelectorAll("[popover]:popover-open").forEach((one) => one.hidePopover());
  const search = document.getElementById("__search");
  search?.checked && search.click();
  const query = document.querySelector(".md-search__input");
  if (query?.value) {
    query.value = "";
    lookAtQuery();
  }
}

/** A screen reader reads it, and the tab key goes on from there. */
function focusOnHeading() {
  const heading = document.querySelector("main h1");
  if (heading) {
    heading.tabIndex = -1;
    heading.addEventListener("blur", () => heading.removeAttribute("tabindex"), { once: true });
    heading.focus({ preventScroll: true });
  }
}
