// For the page that holds calculators of this guide in frames: gives each frame the height that it tells.
// It heeds only frames marked `data-brinebook`, only of the host that this script comes from, and only
// heights. Without it a frame keeps the height that the page gave it.

(function () {
  const LEAST = 320; // pixels
  const MOST = 30000;
  const origin = new URL(document.currentScript.src).origin;
  const frames = () =>
    [...document.querySelectorAll("iframe[data-brinebook]")].filter((frame) => new URL(frame.src, location.href).origin === origin);
  addEventListener("message", (event) => {
    const frame = event.origin === origin && frames().find((one) => one.contentWindow === event.source);
    const height = event.data?.brinebook === "height" && Number(event.data.height);
    if (frame && Number.isFinite(height) && height > 0) {
      frame.style.height = `${Math.min(Math.max(height, LEAST), MOST)}px`;
    }
  });
  // Those that were there before this script have told already.
  const ask = () => frames().forEach((frame) => frame.contentWindow.postMessage({ brinebook: "height?" }, "*"));
  document.readyState === "complete" ? ask() : addEventListener("load", ask);
  ask();
})();
