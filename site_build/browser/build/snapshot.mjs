// Takes the memory of a Python that has imported the calculators and run them once, and tries what
// it took: a fresh interpreter must start from it, and another without it.

import { orders, readBytes, startPython } from "./python.mjs";
import { writeFileSync } from "node:fs";

const { pyodide, library, packages: archive, edition, snapshot } = orders();
const packages = readBytes(archive);
const EXERCISE = `
import calc.browser
getattr(calc.browser, "exercise", lambda: None)()
`;

const python = await startPython({ pyodide, library, packages, forSnapshot: true });
python.globals.set("edition", edition);
python.runPython(`
import builtins, gc, importlib
import calc.browser

getattr(calc.browser, "warm", lambda: None)()
builtins.brinebook_edition = edition  # the worker asks for it: a snapshot of other calculators is refused
del edition
importlib.invalidate_caches()
gc.collect()
`);
const memory = python.makeMemorySnapshot();
writeFileSync(snapshot, memory);

for (const from of [memory, undefined]) {
  const trial = await startPython({ pyodide, library, packages, snapshot: from });
  trial.runPython(EXERCISE);
}
