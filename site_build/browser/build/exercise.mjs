// Runs every calculator's examples and notes which modules of the standard library that took, plus
// those that Python needs to report a fault.

import { orders, readBytes, startPython, writeJson } from "./python.mjs";

const { pyodide, library, packages, modules } = orders();
const python = await startPython({ pyodide, library, packages: readBytes(packages) });
const origins = python.runPython(`
import sys, traceback
import calc.browser

for hook in ("warm", "exercise"):
    getattr(calc.browser, hook, lambda: None)()
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
