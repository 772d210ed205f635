// Takes the memory of a Python that has imported the calculators and run them once, and tries what
// it took: a fresh interpreter must start from it and answer without any of its files, and another
// without it.

import { orders, readBytes, startPython } from "./python.mjs";
import { rmSync, writeFileSync } from "node:fs";

import { LateFiles, NO_LIBRARY } from "../late.js";
import { thinned } from "../memory.js";

const { pyodide, library, packages: archive, rehearsal, edition, snapshot } = orders();
const packages = readBytes(archive);
const [LARGEST, SMALL, WORD] = [1 << 22, 64, 8]; // bytes; all sizes up to the small one are tried
const EXERCISE = `
import calc.browser
calc.browser.begin(rehearsal)
calc.browser.exercise()
`;

/** Zeros into all memory that was given back: what stood in it would be packed and sent. */
function wipeFree({ _malloc, _free, HEAPU8 }) {
  const { grow } = WebAssembly.Memory.prototype;
  WebAssembly.Memory.prototype.grow = () => {
    throw new RangeError("only what is there is to be wiped");
  };
  const taken = [];
  for (let size = LARGEST; size > 0; size -= size > SMALL ? size / 2 : WORD) {
    for (let place = _malloc(size); place; place = _malloc(size)) {
      HEAPU8.fill(0, place, place + size);
      taken.push(place);
    }
  }
  taken.reverse().forEach((place) => _free(place)); // the last ones first: neighbours become one again
  WebAssembly.Memory.prototype.grow = grow;
}

let newborn;
const python = await startPython({ pyodide, library, packages, born: (memory) => (newborn = memory) });
python.globals.set("edition", edition);
python.globals.set("rehearsal", rehearsal);
python.runPython(`
import builtins, gc, importlib
import calc.browser

calc.browser.warm(rehearsal)
builtins.brinebook_edition = edition  # the worker asks for it: a snapshot of other calculators is refused
del edition, rehearsal
importlib.invalidate_caches()
gc.collect()
`);
wipeFree(python._module);
const memory = thinned(python.makeMemorySnapshot(), newborn);
writeFileSync(snapshot, memory);

const nothing = `${snapshot}.zip`;
writeFileSync(nothing, await NO_LIBRARY);
for (const files of [{ snapshot: memory, library: nothing }, { library, packages }]) {
  const trial = await startPython({ pyodide, ...files });
  const late = files.packages ? { with: (act) => act() } : new LateFiles(trial, () => {
    throw new Error("An answer reads a file that is not in the snapshot: see warm() of calc/browser.py");
  });
  trial.globals.set("rehearsal", rehearsal);
  await late.with(() => trial.runPython(EXERCISE));
}
rmSync(nothing);
