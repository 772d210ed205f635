// Runs in the head of every page, before the theme and before the first picture: a plain script, so that
// it can speak for a page whose other scripts don't run.

(function () {
  const page = document.documentElement;
  page.dataset.scripts = "run"; // else the style sheet tells that none does
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

  // The look that was chosen, before anything is painted in another one.
  const colours = self.__md_get("__palette")?.color;
  const paint = () => {
    for (const [key, value] of Object.entries(colours)) {
      document.body.setAttribute(`data-md-color-${key}`, value);
    }
  };
  if (colours) {
    new MutationObserver((_, watch) => document.body && (watch.disconnect(), paint())).observe(page, { childList: true });
  }

  // Of the page's own script that isn't there, or doesn't run, nobody else could tell.
  addEventListener("load", () => {
    if (page.dataset.brinebook) {
      return;
    }
    page.dataset.brinebook = "asleep";
    for (const form of document.querySelectorAll(".calc, .sheet")) {
      form.dataset.engine = "failed";
      form.addEventListener("input", () => (form.dataset.stale = ""));
    }
  });
})();
