// Runs in the head of every page, before the theme and before the first picture: a plain script, so that
// it can speak for a page whose other scripts don't run.

(function () {
  const WAIT = 500; // ms for a page to come as far as its first verdict
  const AHEAD = 3000; // ms for which the theme's script waits for Python's first answers, while nobody touches the page
  const page = document.documentElement;
  page.dataset.scripts = "run"; // else the style sheet tells that none does
  page.classList.replace("no-js", "js"); // as the theme's script does later, and all style is computed anew then
  // On file:// the theme's search puts a shim in place of Worker; the calculators' engine needs the real one.
  self.bbNativeWorker = self.Worker;

  // What the theme keeps, under the address of the site: names and forms are the theme's.
  self.__md_scope = new URL("../../", document.currentScript.src);
  self.__md_hash = (text) => [...text].reduce((sum, letter) => (sum << 5) - sum + letter.charCodeAt(0), 0);
  // A browser that forbids storage throws as soon as it is named.
  const storage = (given, name) => given ?? self[name];
  self.__md_get = (key, given, scope = self.__md_scope) => {
    try {
      return JSON.parse(storage(given, "localStorage").getItem(`${scope.pathname}.${key}`));
    } catch {
      return null;
    }
  };
  self.__md_set = (key, value, given, scope = self.__md_scope) => {
    try {
      storage(given, "localStorage").setItem(`${scope.pathname}.${key}`, JSON.stringify(value));
    } catch {
      // It is chosen for this page alone.
    }
  };

  // The look that was chosen, or at a first visit the one that the device asks for by the theme's order
  // (mkdocs.yml, palette), before anything is painted in another one.
  const asks = (what) => matchMedia(what).matches;
  const scheme = asks("(prefers-color-scheme: dark)") ? "slate" : asks("(prefers-contrast: more)") ? "sun" : "paper";
  const colours = self.__md_get("__palette")?.color ?? { scheme };
  const paint = () => {
    for (const [key, value] of Object.entries(colours)) {
      document.body.setAttribute(`data-md-color-${key}`, value);
    }
  };
  new MutationObserver((_, watch) => document.body && (watch.disconnect(), paint())).observe(page, { childList: true });

  // A picture of the page down to its first verdict is made as soon as one of half of that. A page that takes
  // long to come is shown as far as it is there.
  const { expects } = document.currentScript.dataset;
  if (expects) {
    const verdict = Object.assign(document.createElement("link"), { rel: "expect", href: `#${expects}` });
    verdict.setAttribute("blocking", "render");
    document.currentScript.after(verdict);
    setTimeout(() => verdict.remove(), WAIT);
  }

  // Of the page's own script that isn't there, or doesn't run, nobody else could tell.
  const check = () => {
    if (page.dataset.brinebook) {
      return;
    }
    page.dataset.brinebook = "asleep";
    for (const form of document.querySelectorAll(".calc, .sheet")) {
      form.dataset.engine = "failed";
      form.addEventListener("input", () => (form.dataset.stale = ""));
    }
  };

  // The others run once the page is painted, each after the one before it: till then they would hold it up.
  const shim = new URL("../iframe-worker/shim.js", document.currentScript.src); // for search in a folder
  const add = (address) =>
    new Promise((resolve) => {
      const script = document.createElement("script");
      script.async = false; // in their order
      script.onload = script.onerror = resolve;
      script.src = address;
      document.head.append(script);
    });
  // What search finds by is gone through when somebody is about to search, or Python has answered what was
  // asked: till then it would take its time from that.
  let goThrough;
  const wanted = new Promise((resolve) => (goThrough = resolve));
  ["brinebook:rested", "brinebook:failed"].forEach((what) => addEventListener(what, goThrough, { once: true }));
  document.addEventListener("focusin", ({ target }) => target.closest?.("[data-md-component=search]") && goThrough());
  const laterOf = (Worker) =>
    class extends EventTarget {
      #worker;
      #held = [];

      constructor(...given) {
        super();
        wanted.then(() => {
          this.#worker = new Worker(...given);
          this.#worker.addEventListener("message", ({ data }) => this.dispatchEvent(new MessageEvent("message", { data })));
          this.#held.splice(0).forEach((message) => this.#worker.postMessage(...message));
        });
      }

      postMessage(...message) {
        this.#worker ? this.#worker.postMessage(...message) : this.#held.push(message);
      }
    };
  const addresses = (selector) => [...document.querySelectorAll(selector)].map(({ href }) => href);
  // The theme's script holds the page for long: it comes once Python has answered, or somebody does something.
  const wait = new Promise((resolve) => {
    const done = ["brinebook:rested", "brinebook:failed", "keydown", "pointerdown", "wheel", "touchstart"];
    done.forEach((what) => addEventListener(what, resolve, { once: true, capture: true, passive: true }));
  });
  // A key that opens the search, pressed before the theme listens, is told to it then.
  let pressed;
  const note = ({ key, target, ctrlKey, altKey, metaKey }) => {
    pressed ??= target === document.body && !(ctrlKey || altKey || metaKey) ? key : undefined;
  };
  addEventListener("keydown", note);
  let begun = false;
  const run = async () => {
    if (begun) {
      return;
    }
    begun = true;
    document.querySelectorAll("link[data-late]").forEach((sheet) => (sheet.media = "all"));
    await Promise.all(addresses("link[data-run='']").map(add));
    if (document.querySelector(".calc, .sheet")) {
      await Promise.race([wait, new Promise((resolve) => setTimeout(resolve, AHEAD))]);
    } else {
      goThrough();
    }
    location.protocol === "file:" && (await add(shim.href));
    const { Worker } = self;
    self.Worker = laterOf(Worker); // for the theme alone: a host's own scripts have the browser's
    await Promise.all(addresses("link[data-run=theme]").map(add));
    self.document$?.next(document); // the theme listens for an event that is past
    removeEventListener("keydown", note);
    pressed && document.body.dispatchEvent(new KeyboardEvent("keydown", { key: pressed, bubbles: true, cancelable: true }));
    self.Worker = Worker;
    check();
  };
  addEventListener("DOMContentLoaded", () => {
    requestAnimationFrame(() => setTimeout(run));
    setTimeout(run, document.hidden ? 0 : 1000); // where nothing is painted
  });
})();
