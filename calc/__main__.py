"""`python3 -m calc`: the calculators at a terminal, in the project's own Python if need be."""

from __future__ import annotations

import importlib.util
import os
import sys
from pathlib import Path

NEEDED = ("pint", "segno")
ROOT = Path(__file__).resolve().parents[1]
OWN = ROOT / ".venv" / ("Scripts/python.exe" if os.name == "nt" else "bin/python")


def command() -> int:
    """Answers; goes on in the project's virtual environment where this Python lacks a package."""
    if all(map(importlib.util.find_spec, NEEDED)):
        from .terminal import main

        return main()
    if OWN.exists() and Path(sys.prefix).resolve() != (ROOT / ".venv").resolve():
        arguments = [str(OWN), "-m", "calc", *sys.argv[1:]]
        if os.name == "nt":
            import subprocess

            return subprocess.run(arguments).returncode
        os.execv(arguments[0], arguments)
    print(
        "The calculators need Pint and segno. In a clone, run “python3 -m site_build serve” once: "
        "it installs them.",
        file=sys.stderr,
    )
    return 1


if __name__ == "__main__":
    sys.exit(command())
