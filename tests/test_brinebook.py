"""The commands for an edition: what one begins with, what is refused at once, what is built."""

from __future__ import annotations

import json
import os
import re
import shlex
import shutil
import subprocess
import sys
import textwrap
from pathlib import Path
from typing import Any

import pytest

from calc import stock
from calc.frame import offers
from site_build import brinebook, build, check, edition, edition_base, kit, machine, making, steps
from site_build.edition_new import TO_WRITE
from site_build.engine import EngineFiles

COMMANDS = ("new", "words", "check", "serve", "build", "answer", "card", "update")


@pytest.fixture(scope="module")
def new(tmp_path_factory: pytest.TempPathFactory) -> Path:
    folder = tmp_path_factory.mktemp("new") / "ours"
    assert brinebook.main(["new", str(folder), "--name", 'Quay "Water"']) == 0
    return folder


@pytest.fixture
def begun(new: Path, tmp_path: Path) -> Path:
    """What `brinebook new` makes, a copy for each test: its verdicts take seconds."""
    return Path(shutil.copytree(new, tmp_path / "ours"))


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


def test_a_new_edition_is_sound_but_for_what_is_still_to_be_written(begun: Path) -> None:
    assert edition.read(begun).name == 'Quay "Water"'
    assert brinebook.main(["check", str(begun)]) == 0
    assert brinebook.main(["update", str(begun)]) == 0
    about = begun / "pages" / "about.md"
    text = about.read_text("utf-8")
    line = text.splitlines().index(next(x for x in text.splitlines() if TO_WRITE in x)) + 1
    told = [(one.key, one.file, one.line) for one in check.check(begun).doubts]
    assert told == [("unwritten", "pages/about.md", line)]
    about.write_text(text.replace(TO_WRITE, "We are three."), "utf-8")
    assert check.check(begun).doubts == ()


@pytest.mark.parametrize("way", ["checkout", "beside", "on the path"])
def test_the_next_command_works_as_the_first_did(tmp_path: Path, way: str) -> None:
    """From a checkout, from an environment that isn't on the path, and from one that is."""
    script = tmp_path / "a bin" / "brinebook"
    script.parent.mkdir()
    script.write_text(
        f"#!{sys.executable}\nimport sys\nsys.path.insert(0, {str(machine.ROOT)!r})\n"
        "from site_build.brinebook import main\nsys.exit(main())\n"
    )
    script.chmod(0o755)
    here = machine.ROOT if way == "checkout" else tmp_path
    command = {
        "checkout": [sys.executable, "-m", "site_build.brinebook"],
        "beside": ["a bin/brinebook"],
        "on the path": ["brinebook"],
    }[way]
    path = [str(script.parent)] if way == "on the path" else []
    env = {**os.environ, "PATH": os.pathsep.join([*path, os.environ["PATH"]])}
    bounds: Any = {"cwd": here, "env": env, "capture_output": True, "text": True, "timeout": 60}
    done = subprocess.run([*command, "new", str(tmp_path / "o u r s")], **bounds)
    assert done.returncode == 0, done.stderr
    told = shlex.split(re.findall("“(.*)”", done.stdout)[-1])
    assert len(told) == len(command) + 2 and told[-2:] == ["serve", str(tmp_path / "o u r s")]
    assert way != "on the path" or told[0] == "brinebook"
    again = subprocess.run([*told, "--help"], **bounds)
    assert again.returncode == 0 and "--watch" in again.stdout


# In place of a build, which takes long: the kind of each quantity that the calculators know.
TWICE = """
from pathlib import Path
from calc import glossary, stock
from site_build import brinebook, build

build.build_edition = lambda *_: print(sum(bool(one.kind) for one in glossary.of(stock.guide())))
for _ in range(2):
    brinebook._build(Path(), Path())
"""


def test_a_second_build_of_a_process_knows_all_units_too() -> None:
    """As while `serve --watch` builds again: the first one has loaded the calculators."""
    command = [sys.executable, "-c", TWICE]
    done = subprocess.run(command, capture_output=True, text=True, timeout=120)
    first, second = re.findall(r"^\d+$", done.stdout, re.MULTILINE)
    assert int(first) > 100 and second == first, done.stderr


def test_a_console_without_our_signs_is_no_reason_to_break(tmp_path: Path) -> None:
    env = {**os.environ, "PYTHONIOENCODING": "ascii", "LC_ALL": "C"}
    command = [sys.executable, "-m", "site_build.brinebook", "new", str(tmp_path / "ours")]
    done = subprocess.run(command, env=env, capture_output=True, text=True, timeout=120)
    assert done.returncode == 0 and "Traceback" not in done.stderr
    assert "?" in done.stdout  # in place of a sign that this console lacks


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


def test_what_the_page_for_hosts_shows_is_sound(begun: Path) -> None:
    """The records, the settings and the page that docs/yours.md tells of, as they stand there."""
    page = (making.STOCK_PAGES / "yours.md").read_text("utf-8")
    said, *records, doubts = re.findall(r"^```toml\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    (own,) = re.findall(r"^```text\n(.*?)^```$", page, re.MULTILINE | re.DOTALL)
    (block,) = re.findall(r"^(    ```calculator.*?    ```)$", page, re.MULTILINE | re.DOTALL)
    (begun / "edition.toml").write_text(said, "utf-8")
    for number, content in enumerate(records):
        (begun / "equipment" / f"{number}.toml").write_text(content, "utf-8")
    (begun / "pages" / "fit.md").write_text(f"{own}\n{textwrap.dedent(block)}\n", "utf-8")
    found = check.check(begun)
    assert found.faults == () and {one.key for one in found.doubts} == {"unwritten"}
    assert found.guide is not None and "petrel-60" in found.guide.shelf("unit")
    # The doubt that is silenced there arises once the unit weighs less than its parts.
    (begun / "edition.toml").write_text(f"{said}\n{doubts}", "utf-8")
    light = records[0].replace('"25 kg"', '"19 kg"')
    (begun / "equipment" / "0.toml").write_text(light, "utf-8")
    assert {one.key for one in check.check(begun).doubts} == {"unwritten"}


def test_the_page_for_hosts_tells_commands_that_there_are() -> None:
    page = (making.STOCK_PAGES / "yours.md").read_text("utf-8")
    told = re.findall(r"^ +guide/bin/brinebook (.*)$", page, re.MULTILINE)
    assert {words.split()[0] for words in told} == set(COMMANDS)
    for words in told:
        brinebook._parser().parse_args(shlex.split(words))


def test_an_edition_answers_at_the_terminal_with_its_own_records_and_whose_they_are(
    begun: Path, capsys: pytest.CaptureFixture[str]
) -> None:
    own = '[boat.gull]\nname = "Gull"\nunit = "skerry-45"\n[change.unit.skerry-45]\nprice = "4 900 €"\n'
    (begun / "equipment" / "own.toml").write_text(own, "utf-8")

    def told(*words: str) -> str:
        assert brinebook.main(["answer", str(begun), *words]) == 0
        return capsys.readouterr().out

    whose = offers.WHOSE.partition("{")[0] + 'Quay "Water"'
    full = told("mount", "--boat", "gull", "--full")
    assert "4 900 €" in full and whose in full
    assert whose in told("mount", "unit=skerry-45") and whose not in told("mount", "--json")
    assert f"brinebook answer {begun} NAME" in told()
    assert "gull" in told("--help") and "gull" not in stock.guide().shelf("boat")
    assert brinebook.main(["answer", str(begun), "mount", "unit=nowhere"]) == 2


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


def test_what_decides_is_kept_with_the_figure_of_its_own_way() -> None:
    """A figure of the report, or of another way, may bear the same name."""
    guide = stock.guide()
    kept = edition_base.state(guide)["verdicts"]
    by_a_way = 0
    for boat, answers in kept.items():
        for name, answer in answers.items():
            report = guide.run(guide.get(name), example={"boat": boat}).report
            assert report is not None
            held = {one.key: one for one in (report.decider or report).figures}
            if (figure := held.get(report.decided_by)) is not None:
                told = answer["figures"][answer["decided_by"]]
                assert told.split(" of ")[0] == figure.value.text("metric"), (boat, name)
                by_a_way += report.decider is not None
    assert by_a_way


def test_an_edition_is_brought_on_from_an_older_version(begun: Path) -> None:
    """What an edition stood on on 29 November 2026, in the morning, with a page in place of ours."""
    old = (Path(__file__).parent / "editions" / "base-2026-11-29.json").read_text("utf-8")
    (begun / "base.json").write_text(old, "utf-8")
    (begun / "pages" / "power.md").write_text("# Power\n", "utf-8")
    before, now = json.loads(old), edition_base.state(stock.guide())
    told = edition_base.changes(edition.read(begun), stock.guide())
    assert any(line.startswith("pages/power.md: ") for line in told)
    for name in set(now["pages"]) - set(before["pages"]):
        assert any(line.startswith(f"{name}: ") for line in told)
    differ = [
        (boat, name)
        for boat, answers in now["verdicts"].items()
        for name, answer in answers.items()
        if before["verdicts"][boat].get(name, {}).get("verdict") != answer["verdict"]
    ]
    assert differ  # calculators that came since
    titles = [f"{boat}, {stock.guide().get(name).title}: " for boat, name in differ]
    verdicts = [line for line in told if line.startswith(tuple(now["verdicts"]))]
    assert [line[: len(title)] for line, title in zip(verdicts, titles, strict=True)] == titles


@pytest.mark.parametrize(
    "content", [None, "", "[]", '{"verdicts": 1}', '{"verdicts": {}, "pages": 1}']
)
def test_a_base_that_cannot_be_read_is_told(begun: Path, content: str | None) -> None:
    (begun / "base.json").unlink()
    if content is not None:
        (begun / "base.json").write_text(content, "utf-8")
    with pytest.raises(steps.Trouble):
        edition_base.changes(edition.read(begun), stock.guide())


def test_a_base_that_cannot_be_read_is_made_when_accepted(begun: Path) -> None:
    (begun / "base.json").write_text("{", "utf-8")
    assert brinebook.main(["update", str(begun)]) == 1
    assert brinebook.main(["update", str(begun), "--accept"]) == 0
    assert edition_base.changes(edition.read(begun), stock.guide()) == []
