"""How much would the tests notice? Changes one thing at a time in a copy, and runs the tests on it.

    .venv/bin/python tests/mutate.py cautions
    .venv/bin/python tests/mutate.py constants [part of a file's name]

Not part of the suite: it takes from minutes to an hour. `cautions` takes out each row of the tables
of cautions, and each row's condition; `constants` makes the first number of each constant
that is marked "no source" a tenth larger. It prints what no test noticed, and the score.
"""

from __future__ import annotations

import ast
import io
import shutil
import subprocess
import sys
import tempfile
import tokenize
from collections.abc import Iterator
from itertools import pairwise
from pathlib import Path
from typing import NamedTuple

ROOT = Path(__file__).resolve().parents[1]
PARTS = ("calc", "tests", "docs", "site_build", "pyproject.toml", "mkdocs.yml", "DEVELOPERS.md")
PATIENCE = 1800  # seconds for the tests of one change

Change = tuple[Path, str, str]  # a file, what it says, what it says instead


def cautions() -> Iterator[Change]:
    """Every row of every table `CAUTIONS` without it, or with no condition."""
    for path in sorted((ROOT / "calc").rglob("*.py")):
        text = path.read_text("utf-8")
        tables = [
            made.value
            for made in ast.parse(text).body
            if isinstance(made, ast.Assign) and ast.unparse(made.targets) == "CAUTIONS"
        ]
        for table in tables:
            rows = [ast.unparse(row) for row in table.args]
            old = ast.get_source_segment(text, table)
            for index, row in enumerate(table.args):
                for other in [
                    [],
                    *([[ast.unparse(row.args[0])]] if isinstance(row, ast.Call) else []),
                ]:
                    kept = [*rows[:index], *other, *rows[index + 1 :]]
                    yield path.relative_to(ROOT), old, f"rules({', '.join(kept)})"


class Marked(NamedTuple):
    """A constant of a module that is marked "no source": its file, names and statement."""

    file: Path
    names: tuple[str, ...]
    made: ast.Assign | ast.AnnAssign
    text: str  # of the file


def marked() -> Iterator[Marked]:
    """Every constant of calc whose remark says "no source": behind it, in the lines above it or
    between its own, or in the docstring below, in whatever letters and however broken."""
    for path in sorted((ROOT / "calc").rglob("*.py")):
        text = path.read_text("utf-8")
        remarks = {
            token.start[0]: token.string.strip("#: ")
            for token in tokenize.generate_tokens(io.StringIO(text).readline)
            if token.type == tokenize.COMMENT
        }
        whole_lines = {n for n, one in enumerate(text.splitlines(), 1) if one.startswith("#")}
        for made, below in pairwise([*ast.parse(text).body, ast.Pass()]):
            if not isinstance(made, ast.Assign | ast.AnnAssign):
                continue
            first = made.lineno
            while first - 1 in whole_lines:
                first -= 1
            said = [remarks.get(n, "") for n in range(first, (made.end_lineno or first) + 1)]
            match below:
                case ast.Expr(value=ast.Constant(value=str(docstring))):
                    said.append(docstring)
            if "no source" in " ".join(" ".join(said).split()).lower():
                left = made.targets if isinstance(made, ast.Assign) else [made.target]
                names = [n.id for one in left for n in ast.walk(one) if isinstance(n, ast.Name)]
                yield Marked(path.relative_to(ROOT), tuple(names), made, text)


def constants(part: str = "") -> Iterator[Change]:
    """The first number of every constant that is marked "no source", a tenth larger."""
    for file, _, made, text in marked():
        numbers = [
            node
            for node in ast.walk(made.value or made)
            if isinstance(node, ast.Constant) and type(node.value) in (int, float) and node.value
        ]
        if part not in file.name or not numbers:
            continue
        one = min(numbers, key=lambda node: (node.lineno, node.col_offset))
        lines = text.splitlines(keepends=True)[made.lineno - 1 : made.end_lineno]
        old, row = "".join(lines), one.lineno - made.lineno
        line = lines[row].encode()
        larger = repr(float(str(one.value)) * 1.1).encode()
        lines[row] = (line[: one.col_offset] + larger + line[one.end_col_offset :]).decode()
        yield file, old, "".join(lines)


def noticed(change: Change, tests: list[str]) -> bool:
    """Whether a test fails in a copy with this change."""
    file, old, new = change
    with tempfile.TemporaryDirectory() as folder:
        copy = Path(folder)
        for part in PARTS:
            source = ROOT / part
            (shutil.copytree if source.is_dir() else shutil.copy)(source, copy / part)
        text = (copy / file).read_text("utf-8")
        (copy / file).write_text(text.replace(old, new, 1), "utf-8")
        command = [sys.executable, "-m", "pytest", "-n", "0", "-q", "-x", "-p", "no:cacheprovider",
                   "-m", "not browser", *tests]  # fmt: skip
        try:
            return (
                subprocess.run(command, cwd=copy, capture_output=True, timeout=PATIENCE).returncode
                == 1
            )
        except subprocess.TimeoutExpired:
            return True


def main(what: str, part: str = "") -> int:
    changes = list(cautions() if what == "cautions" else constants(part))
    tests = (
        ["tests/test_cautions.py"] if what == "cautions" else ["tests/test_practice.py", "tests"]
    )
    if noticed((Path("pyproject.toml"), "", ""), tests):
        print("The tests fail, or last too long, with nothing changed.")
        return 1
    missed = 0
    for file, old, new in changes:
        if not noticed((file, old, new), tests):
            missed += 1
            print(f"{file}: nobody noticed\n-{old.rstrip()}\n+{new.rstrip()}", flush=True)
    print(f"{len(changes) - missed} of {len(changes)} changes were noticed")
    return 0


if __name__ == "__main__":
    sys.exit(main(*sys.argv[1:]))
