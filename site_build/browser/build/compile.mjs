// Compiles Python sources to bytecode, in the Python that will run it. The bytecode is of the
// "unchecked" kind: Python takes it as it is and asks for no source.

import { orders, readBytes, startPython } from "./python.mjs";
import { mkdirSync, writeFileSync } from "node:fs";
import { dirname } from "node:path";

const { pyodide, files } = orders();
const python = await startPython({ pyodide });
const compileSource = python.runPython(`
import _imp
import ast
from importlib import _bootstrap_external
from importlib.util import MAGIC_NUMBER

_RAW_MAGIC = int.from_bytes(MAGIC_NUMBER, "little")

def without_docstrings(source, path):
    """A module without the docstrings of its functions; its own and its classes' may be read."""
    tree = ast.parse(source, path)
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)) and ast.get_docstring(node, clean=False):
            node.body[0].value = ast.copy_location(ast.Constant(None), node.body[0].value)
    return tree

def compile_source(source, path, optimize):
    source = source.to_bytes()
    code = compile(without_docstrings(source, path), path, "exec", dont_inherit=True, optimize=optimize)
    digest = _imp.source_hash(_RAW_MAGIC, source)
    return bytes(_bootstrap_external._code_to_hash_pyc(code, digest, False))

compile_source
`);
for (const { source, known_as, optimize, target } of files) {
  const compiled = compileSource(readBytes(source), known_as, optimize);
  mkdirSync(dirname(target), { recursive: true });
  writeFileSync(target, compiled.toJs());
  compiled.destroy();
}
