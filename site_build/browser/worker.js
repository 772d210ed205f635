// The worker: Python with the calculators in it. It starts Python from the engine's files, which come
// by its intake (intake.js), and answers requests one after the other.
//
//   in:  {start: {edition, shown}}  start, with files that come while Python is being set up; shown:
//                                what the page's own calculators would be asked, as JSON text
//        {ask: number, request}  a request to calc.browser.handle, as JSON text
//   out: {want}                  library and packages are needed too, now
//        {ready: {snapshot}}     Python answers; whether the snapshot could be used
//        {failed, detail}        it can't be started: a key of words.js, and the cause
//        {answer: number, response}
//        {fault: number, detail, fatal}

import { loadPyodide } from "pyodide/pyodide.mjs";
import createPyodideModule from "pyodide/pyodide.asm.mjs";

import { writeFiles } from "./archive.js";
import { release } from "./gzip.js";
import { intake } from "./intake.js";
import { LateFiles, NO_LIBRARY } from "./late.js";
import { Memory } from "./memory.js";

// Nothing is fetched from here: this address only names what was handed in as files.
const HERE = "https://engine.invalid/";
const LIBRARY = `${HERE}library.zip`;

const files = intake();
let compiled = files.file("wasm").then((bytes) => WebAssembly.compile(bytes).finally(() => release(bytes)));
let memory; // what Python is to start from, if from a snapshot
let late; // what Python does without at first, if started from its memory
let handle;
let asked; // when something was asked for last, or answered, in ms
let took = 0; // the last answer, in ms
const QUIET = 200; // ms without a question
const PATIENCE = 4; // the same as a multiple of an answer: a slow device is typed on in longer pauses

// Pyodide fetches two things by itself. WebAssembly is compiled as soon as it is here, from bytes, so
// that no host's idea of its type matters.
self.fetch = async (address) =>
  new Response(String(address) === LIBRARY ? await (memory ? NO_LIBRARY : files.file("library")) : null);
WebAssembly.instantiateStreaming = async (_, imports) => {
  const module = await compiled;
  const instance = await WebAssembly.instantiate(module, imports);
  memory?.takeUp(instance);
  return { module, instance };
};

files.listen((data) => {
  if (data.start) {
    start(data.start).catch((error) => fail("start", error));
  } else if (data.ask) {
    asked = performance.now();
    answer(data.ask, data.request);
  }
});

async function start({ edition, shown }) {
  if (!wasmAllowed()) {
    return fail("wasm-forbidden");
  }
  // Of a file that doesn't come or is damaged Pyodide says nothing: it would wait for ever.
  for (const needed of [compiled, files.file("library"), files.file("packages"), files.file("guide")]) {
    needed.catch((error) => fail("damaged", error));
  }
  const python = (await fromSnapshot(edition)) ?? (await ordinary());
  const service = python.pyimport("calc.browser");
  const guide = new TextDecoder().decode(await files.file("guide"));
  await inFull(() => service.begin(guide));
  handle = service.handle;
  letGo(python);
  postMessage({ ready: { snapshot: python.fromSnapshot === true } });
  rehearse(service.rehearsal.callKwargs({ shown }));
}

/** Of what Python was started from nothing is needed any more: a third of all the memory that it takes. */
function letGo(python) {
  for (const name of ["wasm", "guide", "snapshot"]) {
    files.file(name).then(release, () => {}); // the snapshot may still come, or be damaged
  }
  compiled = undefined;
  delete python._api?.config?._loadSnapshot;
}

/** Step by step, while nothing is asked. */
async function rehearse(steps) {
  asked = performance.now(); // what waited for Python is asked just now
  do {
    await pause(0); // whatever is asked meanwhile comes first
    while (performance.now() - asked < Math.max(QUIET, PATIENCE * took)) {
      await pause(QUIET);
    }
  } while (!steps.next().done);
  steps.destroy();
}

function pause(time) {
  return new Promise((resolve) => setTimeout(resolve, time));
}

async function ordinary() {
  const brought = bring();
  const python = await load();
  const { library, packages } = await brought;
  writeFiles(python.FS, packages);
  [library, packages].forEach(release);
  python.runPython("import importlib; importlib.invalidate_caches()");
  return python;
}

/** What only some starts need. */
async function bring() {
  postMessage({ want: true });
  return { library: await files.file("library"), packages: await files.file("packages") };
}

/** What `act` gives; again, when it asked for a file that only came then. */
function inFull(act) {
  return late ? late.with(act) : act();
}

/** Python out of the snapshot, or nothing when it is damaged, or of another engine or edition. */
async function fromSnapshot(edition) {
  try {
    memory = new Memory(await files.first("snapshot"), files.file("snapshot"));
    const python = await load();
    if (python.runPython("import builtins; getattr(builtins, 'brinebook_edition', None)") !== edition) {
      return undefined;
    }
    // The snapshot holds the seed of its making.
    python.runPython("import sys; 'random' in sys.modules and sys.modules['random'].seed()");
    python.fromSnapshot = true;
    late = new LateFiles(python, bring);
    return python;
  } catch {
    return undefined;
  } finally {
    memory = undefined;
  }
}

async function load() {
  return loadPyodide({
    indexURL: HERE,
    createPyodideModule: memory?.creator(createPyodideModule) ?? createPyodideModule,
    lockFileContents: LOCK,
    packageBaseUrl: HERE,
    stdLibURL: LIBRARY,
    env: { PYTHONHASHSEED: "0" },
    enableRunUntilComplete: false,
    _loadSnapshot: memory?.head,
  });
}

async function answer(number, request) {
  const begun = performance.now();
  try {
    postMessage({ answer: number, response: await inFull(() => handle(request)) });
  } catch (error) {
    // Python goes on after its own exceptions, and after nothing else.
    const fatal = error?.name !== "PythonError";
    postMessage({ fault: number, detail: lastLine(error), fatal });
  }
  asked = performance.now();
  took = asked - begun;
}

function fail(reason, error) {
  postMessage({ failed: reason, detail: error && lastLine(error) });
}

function lastLine(error) {
  return String(error?.message ?? error).trim().split("\n").pop();
}

/** Whether this page's policy lets WebAssembly be compiled: the smallest module there is. */
function wasmAllowed() {
  try {
    return Boolean(new WebAssembly.Module(Uint8Array.of(0, 0x61, 0x73, 0x6d, 1, 0, 0, 0)));
  } catch {
    return false;
  }
}
