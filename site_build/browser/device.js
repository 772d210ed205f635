// What a page hands to the device: files, the clipboard, the printer; and the day it is there.

// A card's font, as the card writes it.
const FACE = /@font-face\{font-family:"([^"]*)";font-weight:(\d+);src:url\(data:font\/woff2;base64,([^)]*)\)[^}]*\}/g;

/** Save a text as a file. */
export function download(text, name, type) {
  const link = document.createElement("a");
  link.href = URL.createObjectURL(new Blob([text], { type }));
  link.download = name;
  document.body.append(link);
  link.click();
  link.remove();
  setTimeout(() => URL.revokeObjectURL(link.href), 60_000); // some browsers read it late
}

/** Put a text on the clipboard; tells whether that was allowed. */
export async function copy(text) {
  try {
    await navigator.clipboard.writeText(text);
    return true;
  } catch {
    return false;
  }
}

/**
 * Print a document of its own, which works from a folder too. A PDF is named by its title. Its style and its
 * fonts are handed over as objects: a strict host allows none that stand in a page.
 */
export function print(html) {
  const frame = document.createElement("iframe");
  frame.className = "bb-print";
  frame.title = "";
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  const strict = "adoptedStyleSheets" in document;
  frame.srcdoc = strict ? "<!doctype html><title></title>" : html;
  frame.addEventListener(
    "load",
    async () => {
      strict && (await fillIn(frame.contentWindow, html));
      const { title } = document;
      document.title = frame.contentDocument.title;
      frame.contentWindow.addEventListener("afterprint", () => {
        document.title = title;
        setTimeout(() => frame.remove());
      });
      frame.contentWindow.focus();
      frame.contentWindow.print();
    },
    { once: true },
  );
  document.querySelectorAll("iframe.bb-print").forEach((old) => old.remove());
  document.body.append(frame);
}

async function fillIn(view, html) {
  const { document: empty } = view;
  let style = "";
  const bare = html.replaceAll(/<style>([^]*?)<\/style>/g, (_, rules) => ((style += rules), ""));
  style = style.replaceAll(FACE, (_, family, weight, bytes) => {
    empty.fonts.add(new view.FontFace(family, fromBase64(bytes).buffer, { weight }));
    return "";
  });
  const sheet = new view.CSSStyleSheet();
  sheet.replaceSync(style);
  const full = new DOMParser().parseFromString(bare, "text/html");
  empty.replaceChild(empty.importNode(full.documentElement, true), empty.documentElement);
  empty.adoptedStyleSheets = [sheet];
  await Promise.allSettled([...empty.fonts].map((face) => face.load()));
}

/** What a card tells of the guide that it comes from, as the page has it. */
export function imprint() {
  const told = (name) => document.querySelector(`meta[name=brinebook-${name}]`)?.content ?? "";
  return { edition: told("edition"), house: told("house") };
}

/** The day on the reader's clock, as 2026-05-31. */
export function today() {
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}

function fromBase64(text) {
  if (Uint8Array.fromBase64) {
    return Uint8Array.fromBase64(text);
  }
  return Uint8Array.from(atob(text), (character) => character.charCodeAt(0));
}
