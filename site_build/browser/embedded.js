// Of a calculator in somebody else's page: it tells that page how tall it is, and takes the look that the
// reader's device asks for. Links lead out of the frame.

(function () {
  const inner = document.querySelector(".bb-embed__inner");
  document.documentElement.classList.replace("no-js", "js"); // as the theme's own script does elsewhere
  let chosen = null;
  try {
    chosen = self.__md_get("__palette");
  } catch {
    // The page's other scripts say what is the matter.
  }
  if (!chosen?.color) {
    const asks = (what) => matchMedia(what).matches;
    const look = asks("(prefers-contrast: more)") ? "sun" : asks("(prefers-color-scheme: dark)") ? "slate" : "paper";
    document.body.dataset.mdColorScheme = look;
  }
  addEventListener("click", ({ target }) => {
    const link = target.closest?.("a[href]");
    if (link && !link.getAttribute("href").startsWith("#") && !link.hasAttribute("download")) {
      link.target = "_blank";
      link.rel = "noopener";
    }
  });
  if (parent !== self) {
    // A height is no secret, and the page that holds this frame may be anybody's whom the host allows.
    const tell = () => parent.postMessage({ brinebook: "height", height: Math.ceil(inner.getBoundingClientRect().height) }, "*");
    new ResizeObserver(tell).observe(inner);
    addEventListener("message", ({ source, data }) => source === parent && data?.brinebook === "height?" && tell());
  }
})();
