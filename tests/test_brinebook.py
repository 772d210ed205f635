"""The commands for an edition: what one begins with, what is refused at once, what is built."""

from __future__ import annotations

import json
import re
from pathlib import Path

import pytest

from calc import stock
from site_build import brinebook, build, edition, edition_base, kit
from site_build.engine import EngineFiles

COMMANDS = ("new", "check", "serve", "build", "card", "update")


@pytest.fixture
def begun(tmp_path: Path) -> Path:
    folder = tmp_path / "ours"
    assert brinebook.main(["new", str(folder), "--name", 'Quay "Water"']) == 0
    return folder


@pytest.fixture
def light(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> None:
    """A kit without an engine: the pages are what is looked at."""
    engine = tmp_path / "engine"
    engine.mkdir()
    (engine / "brinebook.0.js").write_text("")
    made = kit.Kit(EngineFiles(engine, ("brinebook.0.js",), "brinebook.0.js", 0), "")
    monkeypatch.setattr(kit, "kit", lambda say: made)


@pytest.mark.parametrize("command", COMMANDS)
def test_each_command_has_help(command: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as ended:
        brinebook.main([command, "--help"])
    assert ended.value.code == 0
    assert f"brinebook {command}" in capsys.readouterr().out


def test_a_new_edition_is_sound(begun: Path) -> None:
    assert edition.read(begun).name == 'Quay "Water"'
    assert brinebook.main(["check", str(begun)]) == 0
    assert brinebook.main(["update", str(begun)]) == 0


def test_what_is_there_is_not_written_over(begun: Path, capsys: pytest.CaptureFixture[str]) -> None:
    before = (begun / "edition.toml").read_bytes()
    assert brinebook.main(["new", str(begun)]) == 1
    assert (begun / "edition.toml").read_bytes() == before
    assert "Traceback" not in capsys.readouterr().err


def test_what_check_refuses_build_refuses_before_all_else(
    begun: Path, monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    own = '[change.motor.wick-075-50]\npower_factor = "0.95"\n'
    (begun / "equipment" / "own.toml").write_text(own, "utf-8")
    monkeypatch.setattr(kit, "kit", lambda say: pytest.fail("the engine was begun"))
    assert brinebook.main(["check", str(begun)]) == 1
    assert brinebook.main(["build", str(begun)]) == 1
    told = capsys.readouterr()
    assert told.err.startswith("equipment/own.toml, line 2: ")
    assert told.out.startswith("equipment/own.toml, line 2: ")
    assert not (begun / "site").exists()


def test_a_fault_in_a_stock_record_is_told_before_the_engine(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    broken = {**stock.records(), "x.toml": b'[motor.x]\nname = "X"\n'}
    monkeypatch.setattr(stock, "records", lambda: broken)
    monkeypatch.setattr(stock, "_stock", stock._stock.__wrapped__)
    monkeypatch.setattr(kit, "kit", lambda say: pytest.fail("the engine was begun"))
    with pytest.raises(build.Trouble, match=r"x\.toml, line 1: "):
        build.build_site(Path("nowhere"), lambda said: None)


@pytest.mark.usefixtures("light")
def test_an_edition_is_built_with_its_records_and_pages(begun: Path) -> None:
    own = '[change.motor.wick-075-50]\nname = "Ours"\n[boat.gull]\nname = "Gull"\nunit = "skerry-45"\n'
    (begun / "equipment" / "own.toml").write_text(own, "utf-8")
    page = "---\npart: Power\n---\n\n# Our cables\n\n{= motor.wick-075-50 =} it is.\n"
    (begun / "pages" / "cables.md").write_text(page, "utf-8")
    (begun / "pages" / "hertz.md").write_text("# Hertz\n\nOurs says so.\n", "utf-8")
    assert brinebook.main(["build", str(begun)]) == 0
    site = begun / "site"
    assert "Ours</span> it is." in (site / "cables.html").read_text("utf-8")
    assert "Ours says so." in (site / "hertz.html").read_text("utf-8")
    power = (site / "power.html").read_text("utf-8")
    assert 'href="cables.html"' in power and 'href="about.html"' in power
    assert re.search(r"<title>[^<]* - Quay \"Water\"</title>", power)
    assert 'title="Quay "' not in power


def test_an_update_tells_what_differs_and_why(
    begun: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    (begun / "pages" / "hertz.md").write_text("# Hertz\n", "utf-8")
    base = begun / "base.json"
    kept = json.loads(base.read_text("utf-8"))
    assert set(kept["verdicts"]) == set(stock.guide().shelf("boat"))
    power = kept["verdicts"]["ketch"]["power"]
    power["verdict"] = "fails" if power["verdict"] != "fails" else "fits"
    kept["pages"]["hertz.md"] = kept["pages"]["power.md"] = "0" * 12
    del kept["pages"]["wiring.md"]
    base.write_text(json.dumps(kept), "utf-8")
    made = edition.read(begun)
    told = edition_base.changes(made, stock.guide())
    assert [line.partition(":")[0] for line in told] == [
        "pages/hertz.md",
        "wiring.md",
        f"ketch, {stock.guide().get('power').title}",
    ]
    assert brinebook.main(["update", str(begun), "--accept"]) == 0
    capsys.readouterr()
    assert edition_base.changes(made, stock.guide()) == []


@pytest.mark.parametrize("content", ["", "[]", '{"verdicts": 1}', '{"verdicts": {}, "pages": 1}'])
def test_a_base_that_cannot_be_read_is_told(begun: Path, content: str) -> None:
    (begun / "base.json").write_text(content, "utf-8")
    assert brinebook.main(["update", str(begun)]) == 1
    (begun / "base.json").unlink()
    assert brinebook.main(["update", str(begun)]) == 1
