"""The licences of all that a built site carries: names and versions from the locks, texts included.

Texts come from the packages as they are installed; of what brings none along they are kept in
`licences/`. A package without a text is a fault: the site must not go out without it.
"""

from __future__ import annotations

import csv
import json
import re
from collections.abc import Iterator
from dataclasses import dataclass
from html import escape
from importlib import metadata
from pathlib import Path

from calc.frame.render.spaces import in_english
from site_build import machine
from site_build.steps import Trouble

HERE = Path(__file__).parent / "licences"
NOT_SHIPPED = {"micropip"}  # of the browser's packages: it only resolves them at build time
THEME = ("mkdocs-material", "mkdocs")  # what of the build's packages stands in the pages
BANNER = re.compile(r"/\*!(.*?)\*/", re.DOTALL)


@dataclass(frozen=True)
class Licence:
    """What a site carries of somebody else's: its name, version, licence's name, and the texts."""

    name: str
    version: str
    licence: str
    text: str


def all_of_them() -> list[Licence]:
    """Every licence, ours first. Raises Trouble for a package whose text can't be found."""
    packed = machine.PACKED / "licences.json"
    if packed.is_file():
        return [Licence(**one) for one in json.loads(packed.read_text("utf-8"))]
    own = (machine.ROOT / "LICENSE").read_text("utf-8")
    found = [Licence("Brinebook", "", "MIT", own), *_python(), *_wheels(), *_scripts(), *_fonts()]
    for one in found:
        if not one.text.strip():
            raise Trouble(f"The licence of {one.name} {one.version} can't be found.")
    return found


def as_html() -> str:
    """The licences as a list to unfold."""
    return "".join(
        f'<details class="licence" data-search-exclude{in_english()}><summary>{escape(one.name)} '
        f'{escape(one.version)} <span class="count">{escape(one.licence)}</span></summary>'
        f"<pre>{escape(one.text)}</pre></details>"
        for one in all_of_them()
    )


def as_text() -> str:
    """The licences as one text file."""
    line = "=" * 78
    return "\n".join(
        f"{line}\n{one.name} {one.version} ({one.licence})\n{line}\n\n{one.text.strip()}\n"
        for one in all_of_them()
    )


def _python() -> Iterator[Licence]:
    package = machine.NODE_MODULES / "pyodide"
    lock = json.loads((package / "pyodide-lock.json").read_text("utf-8"))
    version = json.loads((package / "package.json").read_text("utf-8"))["version"]
    mozilla = (HERE / "MPL-2.0.txt").read_text("utf-8")
    where = "Its source is at github.com/pyodide/pyodide, under the tag of this version.\n\n"
    yield Licence("Pyodide", version, "MPL-2.0", where + mozilla)
    python = (HERE / "Python.txt").read_text("utf-8")
    yield Licence("CPython and its library", lock["info"]["python"], "PSF-2.0", python)
    tools = "Emscripten's authors; musl: Rich Felker and others\n\n"
    yield Licence(
        "Emscripten's runtime and musl",
        lock["info"]["platform"].removeprefix("emscripten_").replace("_", "."),
        "MIT",
        tools + (HERE / "MIT.txt").read_text("utf-8"),
    )


def _wheels() -> Iterator[Licence]:
    for name, version in _locked("browser"):
        if name not in NOT_SHIPPED:
            yield _installed(name, version)


def _locked(name: str) -> list[tuple[str, str]]:
    lock = (machine.ROOT / "requirements" / f"{name}.txt").read_text("utf-8")
    return re.findall(r"^([\w.-]+)==(\S+)", lock, re.MULTILINE)


def _installed(name: str, version: str) -> Licence:
    found = metadata.distribution(name)
    about = found.metadata
    told = next((about[key] for key in ("License-Expression", "License") if key in about), "")
    if not told or len(told) > 40:
        classes = about.get_all("Classifier") or []
        told = next((c.rpartition("::")[2].strip() for c in classes if c.startswith("License")), "")
    files = [line[0] for line in csv.reader((found.read_text("RECORD") or "").splitlines())]
    texts = [
        Path(str(found.locate_file(file))).read_text("utf-8")
        for file in files
        if re.search(r"dist-info/(.*/)?(LICEN[CS]E|COPYING|NOTICE)", file)
    ]
    return Licence(name, version, told, "\n\n".join(texts))


def _scripts() -> Iterator[Licence]:
    theme = dict(_locked("build"))
    for name in THEME:
        yield _installed(name, theme[name])
    yield Licence("Parts of the theme's scripts", "", "MIT", _banners())
    lock = json.loads((machine.ROOT / "package-lock.json").read_text("utf-8"))["packages"]
    for name in lock[""]["dependencies"]:
        if name.startswith("workbox-"):
            at = lock[f"node_modules/{name}"]
            text = (machine.NODE_MODULES / name / "LICENSE").read_text("utf-8")
            yield Licence(name, at["version"], at["license"], text)


def _banners() -> str:
    """The notices that the theme's bundled scripts carry, each once, and the licence they name."""
    material = Path(str(metadata.distribution("mkdocs-material").locate_file("material")))
    notices: dict[str, None] = {}
    for script in sorted((material / "templates/assets/javascripts").rglob("*.js")):
        for notice in BANNER.findall(script.read_text("utf-8")):
            notices[re.sub(r"(?m)^\s*\*? ?", "", notice).strip()] = None
    return "\n\n".join([*notices, (HERE / "MIT.txt").read_text("utf-8")])


def _fonts() -> Iterator[Licence]:
    lock = json.loads((machine.ROOT / "package-lock.json").read_text("utf-8"))["packages"]
    for name in lock[""]["devDependencies"]:
        if name.startswith("@fontsource/"):
            at = lock[f"node_modules/{name}"]
            text = (machine.NODE_MODULES / name / "LICENSE").read_text("utf-8")
            yield Licence(name.rpartition("/")[2], at["version"], at["license"], text)
    cards = machine.ROOT / "calc/frame/render/fonts/LICENSE.txt"
    yield Licence("The cards' font", "", "OFL-1.1", cards.read_text("utf-8"))
