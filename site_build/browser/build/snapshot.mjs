// Takes the memory of a Python that has imported the calculators and run them once, and tries what
// it took: a fresh interpreter must start from it, and another without it.

import { orders, readBytes, startPython } from "./python.mjs";
import { writeFileSync } from "node:fs";

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

for (const from of [memory, undefined]) {
  const trial = await startPython({ pyodide, library, packages, snapshot: from });
  trial.globals.set("rehearsal", rehearsal);
  trial.runPython(EXERCISE);
}
