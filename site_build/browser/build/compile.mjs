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

def bare(source, path, annotated):
    """A module without the docstrings of its functions; its own and its classes' may be read. Unless
    \`annotated\`, without its functions' annotations too: a class's make its fields, these nobody reads."""
    tree = ast.parse(source, path)
    for node in ast.walk(tree):
        if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
            if ast.get_docstring(node, clean=False):
                node.body[0].value = ast.copy_location(ast.Constant(None), node.body[0].value)
            node.returns = node.returns if annotated else None
        elif isinstance(node, ast.arg) and not annotated:
            node.annotation = None
    return tree

NO_COLUMNS = 13  # of the kinds of entry in a table of places: a line's distance follows, and no columns

def without_places(code):
    """Code whose instructions all stand in its first line: the tables of places are a fifth of all bytes."""
    count = len(code.co_code) // 2
    entries = [min(8, count - start) for start in range(0, count, 8)]
    table = b"".join(bytes((0x80 | NO_COLUMNS << 3 | size - 1, 0)) for size in entries)
    inner = tuple(without_places(one) if isinstance(one, type(code)) else one for one in code.co_consts)
    return code.replace(co_linetable=table, co_consts=inner)

def compile_source(source, path, optimize, annotated):
    source = source.to_bytes()
    tree = bare(source, path, annotated)
    code = without_places(compile(tree, path, "exec", dont_inherit=True, optimize=optimize))
    digest = _imp.source_hash(_RAW_MAGIC, source)
    return bytes(_bootstrap_external._code_to_hash_pyc(code, digest, False))

compile_source
`);
for (const { source, known_as, optimize, annotated, target } of files) {
  const compiled = compileSource(readBytes(source), known_as, optimize, annotated);
  mkdirSync(dirname(target), { recursive: true });
  writeFileSync(target, compiled.toJs());
  compiled.destroy();
}
