// What a page hands to the device: files, the clipboard, the printer; and the day it is there.

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

/** Print a document of its own, which works from a folder too. A PDF is named by its title. */
export function print(html) {
  const frame = document.createElement("iframe");
  frame.className = "bb-print";
  frame.title = "";
  frame.setAttribute("aria-hidden", "true");
  frame.tabIndex = -1;
  frame.srcdoc = html;
  frame.addEventListener(
    "load",
    () => {
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

/** The day on the reader's clock, as 2026-05-31. */
export function today() {
  const now = new Date();
  return new Date(now - now.getTimezoneOffset() * 60_000).toISOString().slice(0, 10);
}
