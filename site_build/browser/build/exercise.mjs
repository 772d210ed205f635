// Runs every calculator's examples and notes which modules of the standard library that took, plus
// those that Python needs to report a fault.

import { orders, readBytes, startPython, writeJson } from "./python.mjs";

const { pyodide, library, packages, rehearsal, modules } = orders();
const python = await startPython({ pyodide, library, packages: readBytes(packages) });
python.globals.set("rehearsal", rehearsal);
const origins = python.runPython(`
import sys, traceback
import calc.browser

calc.browser.warm(rehearsal)
calc.browser.begin(rehearsal)
calc.browser.exercise()
try:
    raise ValueError("a fault, so that all that reports one is loaded")
except ValueError as fault:
    "".join(traceback.TracebackException.from_exception(fault, capture_locals=True).format())

sorted({
    module.__spec__.origin
    for module in sys.modules.values()
    if getattr(module, "__spec__", None) and module.__spec__.origin
})
`);
writeJson(modules, origins.toJs());
