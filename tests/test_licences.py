"""All that a site carries is named with its version and its licence's text."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from site_build import licences, machine

ROOT = Path(__file__).parents[1]
pytestmark = pytest.mark.skipif(
    not machine.NODE_MODULES.exists(), reason="needs the npm packages, which --quick may lack"
)


def test_every_locked_package_that_is_shipped_has_its_licence() -> None:
    told = {one.name.lower().replace("-", "_"): one for one in licences.all_of_them()}
    lock = (ROOT / "requirements/browser.txt").read_text("utf-8")
    shipped = dict(re.findall(r"^([\w.-]+)==(\S+)", lock, re.M))
    shipped.pop("micropip")
    npm = json.loads((ROOT / "package.json").read_text("utf-8"))
    fonts = {n: v for n, v in npm["devDependencies"].items() if n.startswith("@fontsource")}
    shipped |= {n.rpartition("/")[2]: v for n, v in (npm["dependencies"] | fonts).items()}
    for name, version in shipped.items():
        one = told[name.lower().replace("-", "_")]
        assert one.version == version and one.licence
        assert len(one.text) > 500, name


def test_the_texts_are_those_of_their_licences() -> None:
    texts = {one.name: one.text for one in licences.all_of_them()}
    assert "Mozilla Public License" in texts["Pyodide"] and "Exhibit A" in texts["Pyodide"]
    assert "PYTHON SOFTWARE FOUNDATION LICENSE" in texts["CPython and its library"]
    assert "lunr" in texts["Parts of the theme's scripts"]
    assert "SIL OPEN FONT LICENSE" in texts["The cards' font"].upper()
    for text in texts.values():
        assert text[:200] in licences.as_text()
