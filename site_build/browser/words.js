// What the page says about the engine and the offline copy. What calculators say comes from Python.
// A page in another language brings its words along, by the English ones: <script data-words>.

const told = JSON.parse(document.querySelector("script[data-words]")?.textContent || "{}");

/** A sentence in the page's language, its slots filled. */
function spoken(words, slots = {}) {
  return fill(told.words?.[words] ?? words, slots);
}

/** The sentence for a count, which stands in the slot {n}. */
function counted(count, one, many) {
  const form = told.forms?.[count < 200 ? count : 100 + (count % 100)];
  return fill(told.counts?.[one]?.[form] ?? (count === 1 ? one : many), { n: count });
}

/** A sentence in the page's language as a row of texts and of what stands in its slots. */
function parts(words, slots) {
  return (told.words?.[words] ?? words).split(/{(\w+)}/).map((part, index) => (index % 2 ? slots[part] : part));
}

function fill(words, slots) {
  return words.replaceAll(/{(\w+)}/g, (_, name) => slots[name] ?? "");
}

const megabytes = (bytes) => `${(bytes / 1e6).toFixed(1).replace(".", told.mark ?? ".")} MB`;

export const engine = {
  fetching: (total) => spoken("Getting the calculator: {size}.", { size: megabytes(total) }),
  soFar: (done) => spoken("{size} so far.", { size: megabytes(done) }),
  starting: spoken("Starting the calculator."),
  example: spoken("The answer below is still the page's example."),
  last: spoken("The answer below is the last that was computed."),
  ready: spoken("The answer follows what you type."),
  interrupted: spoken("The connection is interrupted. This goes on by itself when it is back; what has arrived is kept."),
  retry: spoken("Try again"),
  reload: spoken("Load the page again"),
  failed: (reason) => spoken("The calculator can't run: {reason}", { reason }),
  stopped: spoken("That took too long and was stopped. What you typed is kept: change a value to try again."),
  stumbled: (detail) =>
    spoken(
      "The calculator can't take these values together. What you typed is kept: change the value you changed last. ({detail})",
      { detail: fault(detail) },
    ),
};

const again = spoken("Try again; if that doesn't help, load the page again.");
const other = spoken("Take the guide with you as a file, at the foot of this page, or use another browser.");

export const reasons = {
  missing: (file) =>
    spoken("one of its files is not to be had. If you are connected, try again; if it stays so, whoever runs this site has to put it there ({file}).", { file }),
  edition: (file) =>
    spoken("this page is of an edition that the site no longer has. What you typed is kept when you load it again ({file}).", { file }),
  replaced: (file) => spoken("the site gives something else in place of one of its files. {again} ({file})", { again, file }),
  portal: (file) =>
    spoken("in place of one of its files a web page came. Perhaps this network wants you to sign in first: open another website to see, then try again ({file}).", { file }),
  cut: (file) => spoken("one of its files arrives cut short each time. Try again on another connection ({file}).", { file }),
  damaged: () => spoken("one of its files arrived damaged. {again}", { again }),
  "wasm-forbidden": () => spoken("this website, or your browser's settings, forbids WebAssembly, which it runs on. {other}", { other }),
  "worker-forbidden": () => spoken("this website, or your browser's settings, forbids the worker it runs in. {other}", { other }),
  sandboxed: () =>
    spoken("the page around this frame shuts it off from its own files. Whoever runs that page has to write {attribute} in the frame there.", {
      attribute: 'sandbox="allow-scripts allow-same-origin allow-popups"',
    }),
  "shut-off": () => spoken("this website shuts the page off from its own files (sandbox). {other}", { other }),
  slow: () => spoken("nothing more of its files has arrived for three minutes. What has arrived is kept: try again when the connection is better."),
  stuck: () => spoken("it gave no sign of life in time. Close other pages and programs. {again}", { again }),
  start: (detail) => spoken("it could not start. Close other pages, which need memory too. {again} ({detail})", { again, detail: fault(detail) }),
  crashed: (detail) => spoken("it ended, perhaps for want of memory. Close other pages. {again} ({detail})", { again, detail: fault(detail) }),
};

/** A fault's own words, which mean something to whoever mends it: short, and without addresses. */
function fault(detail) {
  return String(detail ?? "no reason given").replaceAll(/\S*:\/\/\S*/g, "…").slice(0, 120);
}

export const reset = {
  undo: spoken("Undo: bring my values back"),
  boat: spoken("Back to my boat's values"),
};

/** What stands over an answer to what was only tried. */
export const tried = (sentence) => spoken("Tried: {way}", { way: sentence });

export const whose = {
  unnamed: spoken("your boat"),
  sheet: spoken("boat sheet"),
  /** Whose values are shown, as texts and elements. */
  shown: (name, sheet, typed) =>
    typed
      ? parts("Shown for {name}, from your {sheet}, with what you typed on this page. ", { name, sheet })
      : parts("Shown for {name}, from your {sheet}. ", { name, sheet }),
  showExample: spoken("Show the page's example"),
  example: spoken("This is the page's example. "),
  back: (name) => spoken("Back to {name}", { name }),
  keep: spoken("Keep them for my boat"),
  mine: spoken("Back to mine"),
};

export const boat = {
  keep: (name) => (name ? spoken("Keep this for {name}", { name }) : spoken("Keep this for my boat")),
  undo: (name) =>
    name ? spoken("Undo: take it out of {name} again", { name }) : spoken("Undo: take it out of my boat again"),
};

export const sheet = {
  added: spoken("A new boat, with an empty sheet."),
  cleared: (name) => spoken("The sheet of {name} is empty now.", { name }),
  removed: (name) => spoken("Removed: {name}.", { name }),
  unsaid: spoken("This list is not said any more."),
  undo: spoken("Undo"),
  undone: spoken("It is as it was."),
  failed: spoken("That didn't work. Nothing has changed."),
  forgets:
    spoken(
      "Your browser can't keep this sheet, because it forbids it or has no room: it lasts as long as this page. Save it as a file.",
    ),
};

export const log = {
  wait: spoken("Starting the calculator first."),
  notMine: spoken("This is not your boat's log: go back to yours first."),
  replaced: spoken("Add it as the reading of a new meter"),
  undo: spoken("Undo"),
  undone: spoken("The log is as it was."),
  failed: spoken("That didn't work. The log is as it was, and so is what you typed."),
  forgets:
    spoken(
      "Your browser has no room for this log, or forbids keeping it: the new lines last as long as this page. Save the log as a file before you leave.",
    ),
};

export const keep = {
  askUs: spoken("Ask us about this boat"),
  askedAbout: spoken("My question about this answer:"),
  letter: spoken("A letter with the link to this answer is open: it goes when you send it. The link holds the values that you typed."),
  askedThere: spoken("A page of ours is open: its address holds the link to this answer, with the values that you typed."),
  wait: spoken("Starting the calculator first."),
  linkCopied: spoken("The link is on the clipboard. Whoever opens it sees this answer and these values."),
  linkOfHost: spoken("The link is on the clipboard. It leads to the guide on the web, as this copy on your device opens for nobody else."),
  linkOfFolder:
    spoken(
      "The link leads to the copy of the guide on this device: it works here and for nobody else. To send an answer, send its card or its figures.",
    ),
  printing: spoken("To keep it as a file, choose “Save as PDF” where your device asks for a printer."),
  figuresCopied: spoken("The figures are on the clipboard."),
  byHand: spoken("Your browser doesn't let a page use the clipboard: copy it from here."),
  failed: spoken("That didn't work. Try it once more."),
};

export const aside = {
  told: (count) =>
    counted(
      count,
      "One thing that this guide had kept on your device could not be read. It was put aside and is not deleted; the page goes on without it.",
      "{n} things that this guide had kept on your device could not be read. It was put aside and is not deleted; the page goes on without it.",
    ),
  save: spoken("Save it as a file"),
};

/** How many of a long list have what is searched for. */
export const found = (count) =>
  count
    ? counted(count, "{n} found: Enter takes it", "{n} found, in the list below")
    : spoken("None found: type less of the name");

export const links = {
  elsewhere: spoken("This link belongs to another page of the guide."),
};

/** By which an edition is told apart from others of the same day; older ones have its date in one language. */
const named = (edition) =>
  spoken("of {date} (build {key})", {
    date: [edition.dates?.[document.documentElement.lang] ?? edition.date, edition.time].filter(Boolean).join(", "),
    key: edition.key.slice(0, 6),
  });

export const offline = {
  folder: spoken("This is your own copy of the guide: it needs no network."),
  insecure:
    spoken(
      "Your browser keeps offline copies only of https addresses, and this isn't one. Take the guide with you as a file.",
    ),
  unable: spoken("This browser can't keep an offline copy. Take the guide with you as a file."),
  storing: spoken("Putting this guide aside for offline use."),
  ready: (edition) =>
    spoken("Ready for offline use: {size} on this device, edition {edition}.", {
      size: megabytes(edition.size),
      edition: named(edition),
    }),
  silent:
    spoken(
      "Something else than this guide's offline copy, or a very old one, answers for this address on your device, and doesn't say what it is. If pages look old, remove it.",
    ),
  gone: spoken("This site no longer offers offline copies. Yours stays as it is, until you remove it."),
  offer: (size) =>
    spoken("This guide can be kept on this device for offline use: about {size}.", { size: megabytes(size) }),
  keep: spoken("Keep it"),
  full: () => spoken("This device has no room for an offline copy. The guide works while you are connected."),
  forbidden: spoken("Your browser's settings forbid an offline copy. The guide works while you are connected."),
  absent: spoken("This site offers no offline copy: a file for it (sw.js) is not there. Take the guide with you as a file."),
  type: (type) =>
    spoken("This site can't give an offline copy: it serves sw.js as “{type}” in place of a script. Whoever runs it has to mend that. Take the guide with you as a file.", { type }),
  late: spoken("The offline copy waits for the site, which doesn't answer. The guide works while you are connected."),
  failed: () =>
    spoken("The offline copy is not complete. What has arrived is kept, and the rest is tried again. The guide works while you are connected."),
  changed: (file) =>
    spoken("The offline copy is not complete: the site gives another file than this edition's in one place ({file}). Perhaps it is being changed just now: your next visit tries again. If it stays so, whoever runs the site has to copy its files unchanged.", { file }),
  absentFile: (file) =>
    spoken("The offline copy is not complete: one file is not on the site ({file}). Your next visit tries again. If it stays so, whoever runs the site has to put it there.", { file }),
  remove: spoken("Remove the offline copy"),
  removed: spoken("The offline copy is removed."),
  update: spoken("Another edition of this guide is here."),
  newer: (next, now) => 
    spoken("A newer edition of this guide is here, {next}. This one is {now}.", { next: named(next), now: named(now) }),
  older: (next, now) => 
    spoken("The site has gone back to an older edition, {next}. This one is {now}.", { next: named(next), now: named(now) }),
  accept: spoken("Use it now"),
  elsewhere: spoken("Another edition is in use in another window. This page is still of the former one."),
  again: spoken("Load this page again"),
  unkept: spoken("What you typed here could not be kept for that: save it first."),
  stuck: spoken("The other edition doesn't take over. Close all pages of this guide and open it again."),
};
