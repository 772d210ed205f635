// What the page says about the engine and the offline copy. What calculators say comes from Python.

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1)} MB`;

export const engine = {
  fetching: (total) => `Getting the calculator: ${megabytes(total)}.`,
  soFar: (done) => `${megabytes(done)} so far.`,
  starting: "Starting the calculator.",
  example: "The answer below is still the page's example.",
  last: "The answer below is the last that was computed.",
  ready: "The answer follows what you type.",
  interrupted: "The connection is interrupted. This goes on by itself when it is back; what has arrived is kept.",
  retry: "Try again",
  reload: "Load the page again",
  failed: (reason) => `The calculator can't run: ${reason}`,
  stopped: "That took too long and was stopped. What you typed is kept: change a value to try again.",
  stumbled: (detail) =>
    `The calculator can't take these values together. What you typed is kept: change the value you changed last. (${fault(detail)})`,
};

const again = "Try again; if that doesn't help, load the page again.";
const other = "Take the guide with you as a file, at the foot of this page, or use another browser.";

export const reasons = {
  missing: (file) =>
    `one of its files is not to be had. If you are connected, try again; if it stays so, whoever runs this site has to put it there (${file}).`,
  edition: (file) =>
    `this page is of an edition that the site no longer has. What you typed is kept when you load it again (${file}).`,
  replaced: (file) => `the site gives something else in place of one of its files. ${again} (${file})`,
  portal: (file) =>
    `in place of one of its files a web page came. Perhaps this network wants you to sign in first: open another website to see, then try again (${file}).`,
  cut: (file) => `one of its files arrives cut short each time. Try again on another connection (${file}).`,
  damaged: () => `one of its files arrived damaged. ${again}`,
  "wasm-forbidden": () => `this website, or your browser's settings, forbids WebAssembly, which it runs on. ${other}`,
  "worker-forbidden": () => `this website, or your browser's settings, forbids the worker it runs in. ${other}`,
  slow: () => "nothing more of its files has arrived for three minutes. What has arrived is kept: try again when the connection is better.",
  stuck: () => `it gave no sign of life in time. Close other pages and programs. ${again}`,
  start: (detail) => `it could not start. Close other pages, which need memory too. ${again} (${fault(detail)})`,
  crashed: (detail) => `it ended, perhaps for want of memory. Close other pages. ${again} (${fault(detail)})`,
};

/** A fault's own words, which mean something to whoever mends it: short, and without addresses. */
function fault(detail) {
  return String(detail ?? "no reason given").replaceAll(/\S*:\/\/\S*/g, "…").slice(0, 120);
}

export const reset = {
  undo: "Undo: bring my values back",
  boat: "Back to my boat's values",
};

/** What stands over an answer to what was only tried. */
export const tried = (sentence) => `Tried: ${sentence}`;

export const whose = {
  unnamed: "your boat",
  shown: "Shown for ",
  from: ", from your ",
  sheet: "boat sheet",
  typed: ", with what you typed on this page. ",
  showExample: "Show the page's example",
  example: "This is the page's example. ",
  back: (name) => `Back to ${name}`,
  keep: "Keep them for my boat",
  mine: "Back to mine",
};

export const boat = {
  keep: (name) => (name ? `Keep this for ${name}` : "Keep this for my boat"),
  undo: (name) => `Undo: take it out of ${name || "my boat"} again`,
};

export const sheet = {
  added: "A new boat, with an empty sheet.",
  cleared: (name) => `The sheet of ${name} is empty now.`,
  removed: (name) => `Removed: ${name}.`,
  unsaid: "This list is not said any more.",
  undo: "Undo",
  undone: "It is as it was.",
  failed: "That didn't work. Nothing has changed.",
  forgets:
    "Your browser can't keep this sheet, because it forbids it or has no room: it lasts as long as this page. Save it as a file.",
};

export const log = {
  wait: "Starting the calculator first.",
  notMine: "This is not your boat's log: go back to yours first.",
  replaced: "Add it as the reading of a new meter",
  undo: "Undo",
  undone: "The log is as it was.",
  failed: "That didn't work. The log is as it was, and so is what you typed.",
  forgets:
    "Your browser has no room for this log, or forbids keeping it: the new lines last as long as this page. Save the log as a file before you leave.",
};

export const keep = {
  askUs: "Ask us about this boat",
  askedAbout: "My question about this answer:",
  letter: "A letter with the link to this answer is open: it goes when you send it. The link holds the values that you typed.",
  askedThere: "A page of ours is open: its address holds the link to this answer, with the values that you typed.",
  wait: "Starting the calculator first.",
  linkCopied: "The link is on the clipboard. Whoever opens it sees this answer and these values.",
  linkOfHost: "The link is on the clipboard. It leads to the guide on the web, as this copy on your device opens for nobody else.",
  linkOfFolder:
    "The link leads to the copy of the guide on this device: it works here and for nobody else. " +
    "To send an answer, send its card or its figures.",
  printing: "To keep it as a file, choose “Save as PDF” where your device asks for a printer.",
  figuresCopied: "The figures are on the clipboard.",
  byHand: "Your browser doesn't let a page use the clipboard: copy it from here.",
  failed: "That didn't work. Try it once more.",
};

export const aside = {
  told: (count) =>
    `${count === 1 ? "One thing" : `${count} things`} that this guide had kept on your device could not be read. ` +
    "It was put aside and is not deleted; the page goes on without it.",
  save: "Save it as a file",
};

export const links = {
  elsewhere: "This link belongs to another page of the guide.",
};

/** By which an edition is told apart from others of the same day. */
const named = (edition) => `of ${[edition.date, edition.time].filter(Boolean).join(", ")} (build ${edition.key.slice(0, 6)})`;

export const offline = {
  folder: "This is your own copy of the guide: it needs no network.",
  insecure:
    "Your browser keeps offline copies only of https addresses, and this isn't one. Take the guide with you as a file.",
  unable: "This browser can't keep an offline copy. Take the guide with you as a file.",
  storing: "Putting this guide aside for offline use.",
  ready: (edition) => `Ready for offline use: ${megabytes(edition.size)} on this device, edition ${named(edition)}.`,
  silent:
    "Something else than this guide's offline copy, or a very old one, answers for this address on your device, and doesn't say what it is. If pages look old, remove it.",
  gone: "This site no longer offers offline copies. Yours stays as it is, until you remove it.",
  offer: (size) => `This guide can be kept on this device for offline use: about ${megabytes(size)}.`,
  keep: "Keep it",
  full: () => "This device has no room for an offline copy. The guide works while you are connected.",
  forbidden: "Your browser's settings forbid an offline copy. The guide works while you are connected.",
  absent: "This site offers no offline copy: a file for it (sw.js) is not there. Take the guide with you as a file.",
  type: (type) =>
    `This site can't give an offline copy: it serves sw.js as “${type}” in place of a script. Whoever runs it has to mend that. Take the guide with you as a file.`,
  late: "The offline copy waits for the site, which doesn't answer. The guide works while you are connected.",
  failed: () =>
    "The offline copy is not complete. What has arrived is kept, and the rest is tried again. The guide works while you are connected.",
  changed: (file) =>
    `The offline copy is not complete: the site gives another file than this edition's in one place (${file}). Perhaps it is being changed just now: your next visit tries again. If it stays so, whoever runs the site has to copy its files unchanged.`,
  absentFile: (file) =>
    `The offline copy is not complete: one file is not on the site (${file}). Your next visit tries again. If it stays so, whoever runs the site has to put it there.`,
  remove: "Remove the offline copy",
  removed: "The offline copy is removed.",
  update: "Another edition of this guide is here.",
  newer: (next, now) => `A newer edition of this guide is here, ${named(next)}. This one is ${named(now)}.`,
  older: (next, now) => `The site has gone back to an older edition, ${named(next)}. This one is ${named(now)}.`,
  accept: "Use it now",
  elsewhere: "Another edition is in use in another window. This page is still of the former one.",
  again: "Load this page again",
  unkept: "What you typed here could not be kept for that: save it first.",
  stuck: "The other edition doesn't take over. Close all pages of this guide and open it again.",
};
