// Of the page for unknown addresses alone. Its addresses begin at the root of the host, or at the path that
// the guide was built for, for nobody knows how deep the unknown address is. Where the guide lies elsewhere,
// this script, which the page asks for at every depth, knows from its own address where: it writes the page anew.

(function () {
  const page = document.documentElement;
  const script = document.currentScript;
  const home = script.dataset.home; // as the page's addresses begin
  const here = new URL(script.dataset.depth, location.href).pathname;
  if (page.dataset.home || location.protocol === "file:") {
    return;
  }
  page.dataset.home = here;
  if (here === home) {
    return;
  }
  const write = () => {
    const moved = page.outerHTML
      .replace(/<script data-depth[^]*?<\/script>/g, "")
      .replace(/ data-home="[^"]*"/, "")
      .replaceAll(/ (href|src)="(\/[^"]*)"/g, (whole, name, address) =>
        address.startsWith(home) ? ` ${name}="${here}${address.slice(home.length)}"` : whole,
      )
      .replaceAll(/"(base|search)": ?"(\/[^"]*)"/g, (whole, name, address) =>
        address.startsWith(home) ? `"${name}":"${here}${address.slice(home.length)}"` : whole,
      );
    document.open();
    document.write(`<!doctype html>${moved}`);
    document.close();
  };
  // Not at once: a page that is opened anew in the midst of that event is never finished.
  addEventListener("DOMContentLoaded", () => setTimeout(write));
})();
