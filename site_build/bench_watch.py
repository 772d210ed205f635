"""What the bench puts into a page to take its times, and the plain pages it compares with."""

from __future__ import annotations

# Marks moments of a page's life in ms from the start of its navigation: the first paint of the
# answer, each stage of the engine, a boat's first verdict and all of them, and its sheet.
STOPWATCH = """
const marks = (self.brinebookMarks = {});
new PerformanceObserver((list) => {
  for (const entry of list.getEntries()) marks.answer ??= entry.renderTime;
}).observe({ type: "element", buffered: true });
const listed = () => document.querySelector("[data-dashboard]");
const summedUp = () => document.querySelector(".dashboard-sum")?.textContent.trim(); // all of them
new MutationObserver(() => {
  const sentences = marks.answer ? [] : document.querySelectorAll('[data-slot="answer"] p');
  for (const sentence of [...sentences].slice(0, 2)) {
    for (const part of [sentence, ...sentence.children]) {
      part.setAttribute("elementtiming", "answer");
    }
  }
  const stage = document.querySelector("[data-engine]")?.dataset.engine;
  if (stage) marks[stage] ??= performance.now();
  if (stage === "ready" && listed()) marks.verdict ??= performance.now();
  if (stage === "ready" && summedUp()) marks.verdicts ??= performance.now();
  if (document.querySelector('.sheet[data-answer="current"]')) marks.sheet ??= performance.now();
}).observe(document, {
  subtree: true, childList: true, characterData: true,
  attributes: true, attributeFilter: ["data-engine", "data-answer"],
});
"""

# Times each input event: until what is seen first of the answer has changed, until that is painted,
# and until the whole answer is.
KEYSTROKE_WATCH = """
self.brinebookStrokes = [];
let stroke = null;
addEventListener("input", (event) => { stroke ??= { start: event.timeStamp }; }, true);
const painted = () => new Promise((resolve) => requestAnimationFrame(() => {
  const { port1, port2 } = new MessageChannel(); // its message comes once the frame is painted
  port1.onmessage = () => resolve(performance.now());
  port2.postMessage(null);
}));
const section = document.querySelector('[data-slot="answer"]').closest("[data-calculator]");
new MutationObserver(async () => {
  const one = stroke;
  const { answer } = section.dataset;
  if (!one || answer === "waiting") return;
  if (answer === "current") stroke = null;
  if (!one.changed) {
    one.changed = performance.now() - one.start;
    painted().then((moment) => { one.painted = moment - one.start; });
  }
  if (answer === "current") {
    one.whole = await painted() - one.start;
    self.brinebookStrokes.push(one);
  }
}).observe(section, { attributes: true, attributeFilter: ["data-answer"] });
"""

# Follows a link to another page, which is turned to and not loaded: until a frame shows it, and
# until its calculator has an answer to what the form and the boat say.
TURN = """async (next) => {
  const begun = performance.now();
  const heading = document.querySelector("main h1");
  const until = async (there) => {
    while (!there()) await new Promise(requestAnimationFrame);
    return performance.now() - begun;
  };
  [...document.querySelectorAll("a[href]")].find((one) => one.href === next).click();
  const shown = await until(() => !heading.isConnected && document.querySelector("main h1"));
  const current = 'section.calc[data-answer="current"]';
  return { shown, answer: await until(() => document.querySelector(current)) };
}"""

# Times each request that goes to the engine until its response, in ms; the rest of an answer, which
# is asked for after what is seen first, left out.
ROUND_TRIPS = """
self.brinebookTrips = [];
const Native = self.Worker;
self.Worker = class extends Native {
  #sent = new Map();
  constructor(...given) {
    super(...given);
    this.addEventListener("message", ({ data }) => {
      const sent = this.#sent.get(data.answer);
      if (sent) self.brinebookTrips.push(performance.now() - sent);
    });
  }
  postMessage(message, ...more) {
    const ofRest = message.ask && JSON.parse(message.request).do === "rest";
    if (message.ask && !ofRest) this.#sent.set(message.ask, performance.now());
    super.postMessage(message, ...more);
  }
};
"""

# A long loop, the yardstick of a processor: its time in ms, and the same in a worker.
LOOP = """() => {
  const begun = performance.now();
  let sum = 0;
  for (let step = 0; step < 60e6; step++) sum = (sum * 31 + step) % 1009;
  return performance.now() - begun + 0 * sum; // a sum that nobody wants isn't worked out
}"""
LOOP_IN_WORKER = """(loop) => new Promise((done) => {
  const script = new Blob([`postMessage((${loop})())`]);
  new Worker(URL.createObjectURL(script)).onmessage = ({ data }) => done(data);
})"""

# Notes that a reader was ever told to try again.
RETRY_WATCH = """
self.brinebookRetry = false;
new MutationObserver(() => {
  self.brinebookRetry ||= Boolean(document.querySelector(".bb-engine-retry"));
}).observe(document, { subtree: true, childList: true });
"""

# What holds up the first paint, as the browser itself says.
BLOCKING = """() => performance.getEntriesByType("resource")
  .filter((entry) => entry.renderBlockingStatus === "blocking")
  .map((entry) => [new URL(entry.name).pathname, entry.decodedBodySize])"""

# The ordinary way to run the same packages: Pyodide as it comes, in a module worker.
STOCK_PAGE = """<!doctype html><html data-engine="loading"><meta charset="utf-8">
<title>Stock</title>
<script type="module">
  const worker = new Worker("worker.mjs", { type: "module" });
  worker.onmessage = ({ data }) => { document.documentElement.dataset.engine = data; };
</script></html>
"""
STOCK_WORKER = """import { loadPyodide } from "./pyodide.mjs";
const python = await loadPyodide({ indexURL: new URL(".", import.meta.url).href });
postMessage("python");
const packages = await (await fetch("packages.zip")).arrayBuffer();
const target = python.runPython("import sysconfig; sysconfig.get_path('purelib')");
python.unpackArchive(packages, "zip", { extractDir: target });
python.runPython("import importlib; importlib.invalidate_caches(); import calc.frame.service");
postMessage("ready");
"""
STOCK_FILES = (
    "pyodide.mjs",
    "pyodide.asm.mjs",
    "pyodide.asm.wasm",
    "python_stdlib.zip",
    "pyodide-lock.json",
)
