// Takes the memory of a Python that has imported the calculators and run them once, and tries what
// it took: a fresh interpreter must start from it and answer without any of its files, and another
// without it.

import { orders, readBytes, startPython } from "./python.mjs";
import { rmSync, writeFileSync } from "node:fs";

import { LateFiles, NO_LIBRARY } from "../late.js";
import { thinned } from "../memory.js";

const { pyodide, library, packages: archive, rehearsal, edition, snapshot } = orders();
const packages = readBytes(archive);
const EXERCISE = `
import calc.browser
calc.browser.begin(rehearsal)
calc.browser.exercise()
`;

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
