"""How much would the tests notice? Changes one thing at a time in a copy, and runs the tests on it.

    .venv/bin/python tests/mutate.py cautions
    .venv/bin/python tests/mutate.py constants [part of a file's name]

Not part of the suite: it takes from minutes to an hour. `cautions` takes out each row of the tabless
of cautions, and each row's condition; `constants` makes each number in a line that is marked
"no source" a tenth larger. It prints what no test noticed, and the score.
"""

from __future__ import annotations

import ast
import re
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

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


def constants(part: str = "") -> Iterator[Change]:
    """The first number of every line of calc marked "no source", there or above, a tenth larger."""
    for path in sorted((ROOT / "calc").rglob("*.py")):
        file = path.relative_to(ROOT)
        above = ""
        for line in path.read_text("utf-8").splitlines(keepends=True) if part in file.name else ():
            code, _, remark = line.partition("#")
            found = _NUMBER.search(code)
            if "no source" in remark + above and found and float(found[0]):
                changed = f"{code[: found.start()]}{float(found[0]) * 1.1!r}{code[found.end() :]}"
                yield file, line, changed + line[len(code) :]
            above = line if line.lstrip().startswith("#") else ""


_NUMBER = re.compile(r"(?<=[=(\s])\d+(?:\.\d+)?(?:e-?\d+)?(?=[,)\s])")


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
