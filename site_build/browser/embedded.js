// Of a calculator in somebody else's page: it tells that page how tall it is. Links lead out of the frame.

(function () {
  const inner = document.querySelector(".bb-embed__inner");
  document.documentElement.classList.replace("no-js", "js"); // as the theme's own script does elsewhere
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
