"""The one wheel: installed where there is no Node.js, an edition is begun, checked and built by it,
and its site answers."""

from __future__ import annotations

import subprocess
import sys
from pathlib import Path

import pytest
from playwright.sync_api import Page

from calc import browser, equipment, stock
from site_build import kit, machine, server, wheel

from . import live

RECORDS = """[bank.gull]
name = "Gull, 24 V 300 Ah"
chemistry = "agm"
capacity = "300 Ah"
voltage = "24 V"
"""
PAGE = """# Our bank

```calculator power
boat = "ketch"
bank = "gull"
```
"""


@pytest.fixture(scope="module")
def installed(built_site: Path, tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A virtual environment with nothing but the wheel and what it asks for. `built_site` has made
    the engine."""
    assert built_site.is_dir()
    folder = tmp_path_factory.mktemp("wheel")
    made = wheel.build(folder, lambda said: None, kit.kit(lambda said: None))
    assert made.stat().st_size < 30e6
    home = folder / "venv"
    subprocess.run([sys.executable, "-m", "venv", "--without-pip", home], check=True)
    python = home / ("Scripts/python.exe" if machine.WINDOWS else "bin/python")
    ours = [sys.executable, "-m", "pip", "--python", python, "install", "--no-input", "--quiet"]
    subprocess.run([*ours, "--disable-pip-version-check", "--only-binary=:all:", made], check=True)
    return home


def brinebook(home: Path, *words: str | Path) -> subprocess.CompletedProcess[str]:
    """Run a command of the installed wheel; nothing but its own environment can be found."""
    programs = home / ("Scripts" if machine.WINDOWS else "bin")
    return subprocess.run(
        [programs / "brinebook", *words],
        env={"PATH": str(programs), "HOME": str(home), "LANG": "C.UTF-8"},
        cwd=home,
        capture_output=True,
        text=True,
    )


@pytest.mark.timeout(300)
def test_an_edition_by_the_wheel_alone(
    installed: Path, tmp_path: Path, page: Page, monkeypatch: pytest.MonkeyPatch
) -> None:
    ours = tmp_path / "ours"
    begun = brinebook(installed, "new", ours, "--name", "Quay Water")
    assert begun.returncode == 0, begun.stderr
    (ours / "equipment" / "own.toml").write_text(RECORDS, "utf-8")
    (ours / "pages" / "bank.md").write_text(PAGE, "utf-8")
    for command in ("check", "build", "update"):
        done = brinebook(installed, command, ours)
        assert done.returncode == 0, done.stdout + done.stderr
    site = ours / "site"
    # The engine is the stock's, byte for byte: browsers keep it across editions.
    engine = kit.kit(lambda said: None).engine
    for name in engine.names:
        copied = (site / "assets" / "engine" / name).read_bytes()
        assert copied == (engine.folder / name).read_bytes()
    made = stock.with_layers(equipment.folder(ours / "equipment"))
    monkeypatch.setattr(browser, "guide", lambda: made)
    with server.serve(site, prefix="/water/") as served:
        page.goto(served.url + "bank.html")
        live.await_ready(page)
        box = live.number_box(page)
        box.fill("3.6")
        live.await_current(page)
        assert live.answer(page) == live.expected_answer(page, live.typed_field(box, "3.6"))


def test_a_wheel_is_told_what_is_wrong(installed: Path, tmp_path: Path) -> None:
    ours = tmp_path / "ours"
    assert brinebook(installed, "new", ours).returncode == 0
    (ours / "equipment" / "own.toml").write_text(RECORDS.replace('24 V"\n', '24 A"\n'), "utf-8")
    done = brinebook(installed, "build", ours)
    assert done.returncode == 1
    assert done.stderr.startswith("equipment/own.toml, line 5: ")
    assert "Traceback" not in done.stderr
