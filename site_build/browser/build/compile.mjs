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
    """A module without what nobody reads in a browser: of its own docstring the first line is read.
    Unless \`annotated\`, without its functions' annotations too; a class's make its fields."""
    tree = ast.parse(source, path)
    for node in ast.walk(tree):
        if isinstance(node, (ast.Module, ast.ClassDef, ast.FunctionDef, ast.AsyncFunctionDef)):
            shorten_docstring(node)
        if not annotated:
            if isinstance(node, (ast.FunctionDef, ast.AsyncFunctionDef)):
                node.returns = None
            elif isinstance(node, ast.arg):
                node.annotation = None
    return tree

def shorten_docstring(node):
    said = ast.get_docstring(node)
    if said is None:
        return
    if isinstance(node, ast.Module):
        short = said.partition("\\n")[0]
    else:
        short = "-" if isinstance(node, ast.ClassDef) else None  # a dataclass without any would make a long one
    node.body[0].value = ast.copy_location(ast.Constant(short), node.body[0].value)

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
