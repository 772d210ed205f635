"""Makes the browser's engine: Python, the calculators and what they need, as plain scripts.

What a reader's browser loads is one form of file for every host and for a folder opened by
double-click: classic scripts that carry one binary as gzip in a string, a character a byte, each a
part small enough to come over a slow line. On a host the page fetches such a file and takes the
bytes out of it; from a folder, where nothing may be fetched, the browser reads it as a script in an
encoding that leaves bytes alone (x-user-defined). The file names carry a hash of what is in them,
so that files of two editions can't be mixed and a browser may keep them.

    library    the part of Python's standard library that the calculators use, as bytecode
    packages   calc, Pint and what that needs, as bytecode, with their data files
    snapshot   the memory of a Python that has imported all this: saves half of the start, and a
               start from it needs neither library nor packages
    guide      what a guide has beyond the code: its records; see `guide_file`
    wasm       Python itself
    worker     the worker that runs it; and the loader that every page names

None of the others holds a record of a guide: a price that changes, or a guide with other equipment,
leaves them as they are, byte for byte. What has to be run while they are made rehearses with the
records of `rehearsal.toml`.

Steps that run Python do so in Node, in the very Python that the browser will run; each is kept in
the cache under a hash of all that went into it.
"""

from __future__ import annotations

import gzip
import hashlib
import json
import os
import re
import shutil
import subprocess
import tempfile
import tomllib
import zipfile
from collections.abc import Iterable, Mapping
from dataclasses import dataclass
from pathlib import Path
from typing import Any

from site_build.steps import Say, Trouble
from site_build.workshop import Workshop, hash_of

ROOT = Path(__file__).resolve().parent.parent
BROWSER = Path(__file__).resolve().parent / "browser"
STEPS = BROWSER / "build"
PYODIDE = ROOT / "node_modules" / "pyodide"
REHEARSAL = Path(__file__).resolve().parent / "rehearsal.toml"
RECORDS = "calc/equipment/records/"  # of the wheel's files those that are no code
REQUIREMENTS = ROOT / "requirements" / "browser.txt"

FIXED_DATE = (2026, 1, 1, 0, 0, 0)  # in zips: two builds give the same bytes
FIXED_EPOCH = "1767225600"  # the same date, for tools that read SOURCE_DATE_EPOCH
PART = 393_216  # bytes of a part
ESCAPED = {
    b"\\": b"\\\\",
    b'"': b'\\"',
    b"\n": b"\\n",
    b"\r": b"\\r",
}  # in a string; the first one first
NO_DOCSTRINGS = 2  # levels of Python's own optimisation
ALL_KEPT = 0


@dataclass(frozen=True)
class EngineFiles:
    """The finished scripts: the content of `assets/engine/`.

    `loader` is the one that every page names in a script element; it fetches the others when they
    are needed. `size` is that of all files together [bytes].
    """

    folder: Path
    names: tuple[str, ...]
    loader: str
    size: int

    def copy_to(self, target: Path) -> None:
        """Put the files into a folder of the site."""
        target.mkdir(parents=True, exist_ok=True)
        for name in self.names:
            shutil.copyfile(self.folder / name, target / name)


def build(cache_dir: Path, calc_dir: Path, node: Path, python: Path, say: Say) -> EngineFiles:
    """Make the engine for the calculators in `calc_dir`, or take what an earlier build left.

    Beside `calc_dir` stands its pyproject.toml. `python` has pip and hatchling. Raises Trouble when
    a step fails.
    """
    work = _Workshop(cache_dir / "engine", node, say)
    calc = _calc_wheel(work, calc_dir, python)
    wheels = _wheels(work, python)
    locked = _lock(work, wheels, calc)
    packages = _packages(work, locked, wheels, calc)
    whole_library = _whole_library(work)
    library = _library(work, whole_library, packages)
    edition = hash_of(packages.read_bytes(), library.read_bytes())
    snapshot = _snapshot(work, library, packages, edition)
    return _scripts(
        work,
        edition,
        {
            "wasm": PYODIDE / "pyodide.asm.wasm",
            "library": library,
            "packages": packages,
            "snapshot": snapshot,
        },
    )


@dataclass(frozen=True)
class GuideFile:
    """A guide's own file among the engine's: its scripts by name, and the entry that leads to them,
    as every page of the guide carries it."""

    scripts: Mapping[str, bytes]
    entry: Mapping[str, Any]

    def copy_to(self, target: Path) -> None:
        """Put it into a folder of the site, beside the engine's files."""
        for name, data in self.scripts.items():
            (target / name).write_bytes(data)


def found(folder: Path) -> EngineFiles:
    """The engine whose finished scripts lie in a folder."""
    names = tuple(sorted(path.name for path in folder.glob("*.js")))
    loader = next(name for name in names if name.startswith("brinebook."))
    return EngineFiles(folder, names, loader, sum((folder / name).stat().st_size for name in names))


def guide_file(data: str) -> GuideFile:
    """The file that the engine begins with; `data` is JSON, see `calc.stock.data`."""
    scripts, entry = _parts("guide", data.encode())
    return GuideFile(scripts, entry)


# --- Steps and their cache -------------------------------------------------------------------


class _Workshop(Workshop):
    """The engine's steps, those in Node too."""

    def __init__(self, cache: Path, node: Path, say: Say) -> None:
        names = ("build/python.mjs", "archive.js", "memory.js")
        common = [(BROWSER / name).read_bytes() for name in names]
        super().__init__(cache, say, [(PYODIDE / "package.json").read_bytes(), *common])
        self.executable = node

    def node(self, step: str, title: str, **orders: Any) -> None:
        """Run one step in Node; its orders are JSON."""
        _run_node(self.executable, step, title, orders)


def _run_node(node: Path, step: str, title: str, orders: Mapping[str, Any]) -> None:
    with tempfile.TemporaryDirectory() as folder:
        file = Path(folder) / "orders.json"
        file.write_text(json.dumps(orders, default=str), encoding="utf-8")
        _program(title, [node, STEPS / f"{step}.mjs", file])


def _program(
    title: str,
    command: Iterable[str | Path],
    cwd: Path = ROOT,
    env: Mapping[str, str] | None = None,
) -> None:
    """Run a program to its end. Raises Trouble with its last lines when it fails."""
    done = subprocess.run(
        [str(word) for word in command],
        cwd=cwd,
        env={**os.environ, **(env or {})},
        stdin=subprocess.DEVNULL,
        capture_output=True,
        encoding="utf-8",
        errors="replace",
    )
    if done.returncode:
        last = [line[:300] for line in (done.stdout + done.stderr).splitlines()][-25:]
        raise Trouble(f"{title}: failed\n" + "\n".join(last))


def _step(*names: str) -> list[bytes]:
    return [(STEPS / f"{name}.mjs").read_bytes() for name in names]


# --- Wheels ----------------------------------------------------------------------------------


def _calc_wheel(work: _Workshop, calc_dir: Path, python: Path) -> Path:
    """The calculators' code, without any record."""
    project = calc_dir.parent
    names = [file.relative_to(project).as_posix() for file in _files(calc_dir)]
    names = [name for name in names if not name.startswith(RECORDS)]
    sources = {name: (project / name).read_bytes() for name in (*names, "pyproject.toml")}
    ingredients = [part for name, data in sources.items() for part in (name.encode(), data)]

    def make(folder: Path) -> None:
        with tempfile.TemporaryDirectory() as scratch:
            copied = {**sources, "LICENSE": (project / "LICENSE").read_bytes()}
            for name, data in copied.items():
                place = Path(scratch) / name
                place.parent.mkdir(parents=True, exist_ok=True)
                place.write_bytes(data)
            _program(
                "Packing calc into a wheel",
                [python, "-m", "hatchling", "build", "-t", "wheel", "-d", folder],
                cwd=Path(scratch),
                env={"SOURCE_DATE_EPOCH": FIXED_EPOCH},
            )

    folder = work.make("calc", "Packing the calculators into a wheel …", ingredients, make)
    return next(folder.glob("*.whl"))


def _files(folder: Path) -> list[Path]:
    return sorted(
        path for path in folder.rglob("*") if path.is_file() and "__pycache__" not in path.parts
    )


def _wheels(work: _Workshop, python: Path) -> dict[str, Path]:
    """The pinned wheels of requirements/browser.txt, by file name."""

    def make(folder: Path) -> None:
        _program(
            "Fetching the wheels for the browser",
            [
                python,
                "-m",
                "pip",
                "download",
                "--quiet",
                "--no-deps",
                "--require-hashes",
                "--only-binary=:all:",
                f"--python-version={_python_version()}",
                "--implementation=cp",
                "--platform=any",
                "--no-input",
                "--disable-pip-version-check",
                "-d",
                folder,
                "-r",
                REQUIREMENTS,
            ],
        )

    folder = work.make(
        "wheels", "Fetching the wheels for the browser …", [REQUIREMENTS.read_bytes()], make
    )
    return {wheel.name: wheel for wheel in sorted(folder.glob("*.whl"))}


def _python_version() -> str:
    """The browser's: "3.14"."""
    lock = json.loads((PYODIDE / "pyodide-lock.json").read_text(encoding="utf-8"))
    return ".".join(lock["info"]["python"].split(".")[:2])


def _lock(work: _Workshop, wheels: Mapping[str, Path], calc: Path) -> list[dict[str, Any]]:
    """What micropip installed and froze: name, version, file name and hash of each wheel."""
    micropip = next(path for name, path in wheels.items() if name.startswith("micropip-"))
    wanted = [path for path in (*wheels.values(), calc) if path != micropip]

    def make(folder: Path) -> None:
        work.node(
            "resolve",
            "Resolving the packages for the browser",
            pyodide=PYODIDE,
            micropip={"path": micropip},
            wheels=[{"name": path.name, "path": path} for path in wanted],
            lock=folder / "lock.json",
        )

    ingredients = [REQUIREMENTS.read_bytes(), calc.read_bytes(), *_step("resolve")]
    folder = work.make("lock", "Resolving the packages for the browser …", ingredients, make)
    locked: list[dict[str, Any]] = json.loads((folder / "lock.json").read_text(encoding="utf-8"))
    missing = {path.name for path in wanted} - {entry["file_name"] for entry in locked}
    if missing:
        raise Trouble(f"micropip did not take: {', '.join(sorted(missing))}")
    return locked


# --- Bytecode --------------------------------------------------------------------------------


def _packages(
    work: _Workshop, locked: list[dict[str, Any]], wheels: Mapping[str, Path], calc: Path
) -> Path:
    """The archive of all packages, compiled, as they will stand in the browser's file system."""
    paths = {**wheels, calc.name: calc}
    site_packages = f"/lib/python{_python_version()}/site-packages/"

    def make(folder: Path) -> None:
        files: dict[str, bytes] = {}
        for entry in locked:
            files |= _unpacked(paths[entry["file_name"]], entry["sha256"])
        sources = {name: data for name, data in files.items() if name.endswith(".py")}
        # Pages show how a module's docstring begins, and assertions belong to the calculators.
        compiled = _compiled(work, folder, sources, site_packages, ALL_KEPT, annotated=False)
        kept = {name: data for name, data in files.items() if name not in sources} | compiled
        archive = _archive({site_packages + name: data for name, data in kept.items()})
        (folder / "packages.bin").write_bytes(archive)

    ingredients = [json.dumps(locked).encode(), *_step("compile")]
    return work.make("packages", "Compiling the packages …", ingredients, make) / "packages.bin"


def _unpacked(wheel: Path, sha256: str) -> dict[str, bytes]:
    """A wheel's files by name; of its own records only what tells its version."""
    if hashlib.sha256(wheel.read_bytes()).hexdigest() != sha256:
        raise Trouble(f"{wheel.name} is not the file that micropip froze")
    with zipfile.ZipFile(wheel) as packed:
        return {
            # Behind its fields a package's own page stands in it.
            name: data.partition(b"\n\n")[0] if name.endswith("METADATA") else data
            for name in sorted(packed.namelist())
            if not name.endswith("/")
            and not re.search(r"/testsuite/|\.data/|\.dist-info/(?!METADATA$)", name)
            for data in [packed.read(name)]
        }


def _whole_library(work: _Workshop) -> Path:
    """Python's whole standard library as bytecode."""

    def make(folder: Path) -> None:
        with zipfile.ZipFile(PYODIDE / "python_stdlib.zip") as packed:
            names = sorted(name for name in packed.namelist() if name.endswith(".py"))
            sources = {name: packed.read(name) for name in names}
        # Python's own single dispatch goes by annotations.
        compiled = _compiled(work, folder, sources, _library_path(), NO_DOCSTRINGS, annotated=True)
        _write_zip(folder / "library.zip", compiled)

    ingredients = _step("compile")
    return (
        work.make("whole-library", "Compiling Python's library …", ingredients, make)
        / "library.zip"
    )


def _library(work: _Workshop, whole: Path, packages: Path) -> Path:
    """That part of the library which was in use after every calculator had run."""

    def make(folder: Path) -> None:
        work.node(
            "exercise",
            "Running the calculators in the browser's Python",
            pyodide=PYODIDE,
            library=whole,
            packages=packages,
            rehearsal=rehearsal(),
            modules=folder / "modules.json",
        )
        origins = json.loads((folder / "modules.json").read_text(encoding="utf-8"))
        prefix = _library_path()
        used = sorted(name.removeprefix(prefix) for name in origins if name.startswith(prefix))
        with zipfile.ZipFile(whole) as packed:
            _write_zip(folder / "library.zip", {name: packed.read(name) for name in used})

    ingredients = [whole.read_bytes(), packages.read_bytes(), *_step("exercise")]
    ingredients.append(REHEARSAL.read_bytes())
    title = "Finding out what the calculators use of Python's library …"
    return work.make("library", title, ingredients, make) / "library.zip"


def _library_path() -> str:
    return f"/lib/python{_python_version().replace('.', '')}.zip/"


def _compiled(
    work: _Workshop,
    folder: Path,
    sources: Mapping[str, bytes],
    known_as: str,
    optimize: int,
    annotated: bool,
) -> dict[str, bytes]:
    """Bytecode for sources, by file name; tracebacks will name them as standing in `known_as`.

    Without annotations (of functions) where nothing reads them.
    """
    files: list[dict[str, Any]] = []
    with tempfile.TemporaryDirectory(dir=folder) as scratch:
        for number, (name, data) in enumerate(sorted(sources.items())):
            source = Path(scratch) / f"{number}.py"
            source.write_bytes(data)
            files.append(
                {
                    "source": source,
                    "known_as": known_as + name,
                    "optimize": optimize,
                    "annotated": annotated,
                    "target": source.with_suffix(".pyc"),
                }
            )
        work.node("compile", "Compiling for the browser", pyodide=PYODIDE, files=files)
        return {
            f"{name}c": file["target"].read_bytes()
            for name, file in zip(sorted(sources), files, strict=True)
        }


def _archive(files: Mapping[str, bytes]) -> bytes:
    """Files in one piece; browser/archive.js tells the form and takes it apart."""
    index: dict[str, tuple[int, int]] = {}
    start = 0
    for path, data in sorted(files.items()):
        index[path] = (start, len(data))
        start += len(data)
    head = json.dumps(index, separators=(",", ":")).encode()
    return (
        len(head).to_bytes(4, "little") + head + b"".join(data for _, data in sorted(files.items()))
    )


def _write_zip(path: Path, files: Mapping[str, bytes]) -> None:
    """Stored, not packed: the whole is packed later, and Python then reads it faster."""
    with zipfile.ZipFile(path, "w", zipfile.ZIP_STORED) as packed:
        for name, data in sorted(files.items()):
            packed.writestr(zipfile.ZipInfo(name, FIXED_DATE), data)


def rehearsal() -> str:
    """The records of `rehearsal.toml`, as the engine takes a guide's."""
    return json.dumps({"records": tomllib.loads(REHEARSAL.read_text("utf-8"))})


# --- Snapshot and scripts --------------------------------------------------------------------


def _snapshot(work: _Workshop, library: Path, packages: Path, edition: str) -> Path:
    def make(folder: Path) -> None:
        work.node(
            "snapshot",
            "Taking the snapshot of a started Python",
            pyodide=PYODIDE,
            library=library,
            packages=packages,
            rehearsal=rehearsal(),
            edition=edition,
            snapshot=folder / "snapshot.bin",
        )

    late = (BROWSER / "late.js").read_bytes()
    ingredients = [edition.encode(), REHEARSAL.read_bytes(), late, *_step("snapshot")]
    title = "Taking a snapshot of a started Python …"
    return work.make("snapshot", title, ingredients, make) / "snapshot.bin"


def _scripts(work: _Workshop, edition: str, binaries: Mapping[str, Path]) -> EngineFiles:
    """Write every binary as scripts, bundle the worker and the loader."""
    our_scripts = [path.read_bytes() for path in sorted(BROWSER.glob("*.js"))]
    lock = (ROOT / "package-lock.json").read_bytes()
    ingredients = [edition.encode(), str(PART).encode(), lock, *our_scripts, *_step("bundle")]
    ingredients += [path.read_bytes() for path in binaries.values()]

    def make(folder: Path) -> None:
        entries = [_write_worker(work, folder)]
        for name, path in binaries.items():
            entries.append(_write_binary(folder, name, path.read_bytes()))
        manifest = {"edition": edition, "files": entries}
        boot = _bundled(work, folder, "boot.js", {}).decode("ascii")
        loader = _bundled(work, folder, "page.js", {"ENGINE": manifest, "BOOT": boot})
        hashed = f"brinebook.{hash_of(loader)}.js"
        (folder / hashed).write_bytes(loader)

    return found(work.make("scripts", "Writing the engine's scripts …", ingredients, make))


def _write_binary(folder: Path, name: str, data: bytes) -> dict[str, Any]:
    """Write a binary as parts; the entry of the manifest that leads to them."""
    scripts, entry = _parts(name, data)
    for file, script in scripts.items():
        (folder / file).write_bytes(script)
    return entry


def _parts(name: str, data: bytes) -> tuple[dict[str, bytes], dict[str, Any]]:
    """A binary's scripts by file name, and its entry for the manifest."""
    packed = gzip.compress(data, 9, mtime=0)
    key = f"{name}.{hash_of(data)}"
    parts = [packed[start : start + PART] for start in range(0, len(packed), PART)]
    scripts = {
        f"{key}.{number}.js": (
            f'(self.brinebookFiles??={{}})["{key}.{number}"]="'.encode() + in_string(part) + b'";\n'
        )
        for number, part in enumerate(parts, 1)
    }
    sizes = [len(part) for part in parts]
    entry = {"name": name, "key": key, "parts": sizes, "size": len(packed), "bytes": len(data)}
    return scripts, entry


def in_string(data: bytes) -> bytes:
    """Bytes as they stand between the quotes of a script."""
    for plain, escaped in ESCAPED.items():
        data = data.replace(plain, escaped)
    return data


def _write_worker(work: _Workshop, folder: Path) -> dict[str, Any]:
    """Write the worker's script twice: packed like the rest, and plain.

    Unpacked it becomes a Blob worker, which works from a folder and whatever type a host gives to
    scripts. The plain file is loaded by a worker that has begun, on a quick line (`boot.js`);
    and where a policy forbids Blob workers, it is the worker.
    """
    defines = {
        # Pyodide asks for its own address; it gets one that leads nowhere.
        "import.meta.url": "https://engine.invalid/pyodide.mjs",
        "LOCK": _empty_lock(),
    }
    # Pyodide refuses classic workers, which it knows by this function.
    code = b"self.importScripts=undefined;" + _bundled(work, folder, "worker.js", defines)
    plain = f"plainworker.{hash_of(code)}"
    (folder / f"{plain}.js").write_bytes(code)
    return _write_binary(folder, "worker", code) | {"plain": plain}


def _empty_lock() -> dict[str, Any]:
    """Pyodide's list of packages without the packages: none is ever asked of another host."""
    lock: dict[str, Any] = json.loads((PYODIDE / "pyodide-lock.json").read_text(encoding="utf-8"))
    return {**lock, "packages": {}}


def bundle(node: Path, entry: Path, target: Path, defines: Mapping[str, Any]) -> None:
    """Bundle a script with all that it imports; `defines` are values for names in it."""
    orders = {"entry": entry, "target": target, "defines": defines}
    _run_node(node, "bundle", f"Bundling {entry.name}", orders)


def _bundled(work: _Workshop, folder: Path, entry: str, defines: Mapping[str, Any]) -> bytes:
    with tempfile.TemporaryDirectory(dir=folder) as scratch:
        target = Path(scratch) / entry
        bundle(work.executable, BROWSER / entry, target, defines)
        return target.read_bytes()
