"""An edition's own calculators: those that DEVELOPERS.md teaches, in Python, in `check`, in the data
that travels to the browser."""

from __future__ import annotations

import json
import re
import signal
import sys
from collections.abc import Iterator, Mapping
from pathlib import Path

import pytest

from calc import browser, calculators, own, stock
from calc.frame import units
from site_build import check, edition, language_sites, making, own_calculators

ROOT = Path(__file__).parents[1]
BUCKET, FUNNEL = re.findall(
    r"^```python\n(.*?)^```", (ROOT / "DEVELOPERS.md").read_text("utf-8"), re.S | re.M
)
OILS = '[oil.vg-100]\nname = "Straight oil, VG 100"\nviscosity = "100 mm2/s"\n'
PAGE = """# Ours

```calculator bucket
boat = "example"
```

```calculator funnel
oil = "vg-100"
```

It takes {= funnel.figure.time =}.
"""
ASKS, REST = FUNNEL.split("\n\ndef answer")
# The funnel as a folder, as one that outgrew its file.
FOLDER = {
    "calculators/funnel/__init__.py": FUNNEL.split('"""')[1].join(['"""'] * 2)
    + "\nfrom .asks import DECIDES, KINDS, QUANTITIES, TITLE, WANTED, Asks\nfrom .tell import answer\n"
    + '\n__all__ = ["DECIDES", "KINDS", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]\n',
    "calculators/funnel/asks.py": ASKS.replace("from ..", "from ..."),
    "calculators/funnel/tell.py": "import math\n\nfrom ...frame.report import Report\n"
    f"from .asks import Asks\n\n\ndef answer{REST}",
}
FINE = {
    "edition.toml": 'name = "Quay Water"\n',
    "calculators/bucket.py": BUCKET,
    "calculators/funnel.py": FUNNEL,
    "equipment/oils.toml": OILS,
    "pages/ours.md": PAGE,
}
B, F, P = "calculators/bucket.py", "calculators/funnel.py", "pages/ours.md"


def written(folder: Path, files: Mapping[str, str]) -> Path:
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_text(content, "utf-8", newline="\n")
    return folder


@pytest.fixture(autouse=True)
def few_pages(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """A check of all the stock's pages takes a second and more."""
    few = tmp_path_factory.mktemp("few")
    (few / "index.md").write_text("# Water\n", "utf-8")
    monkeypatch.setattr(making, "docs", lambda: few)


@pytest.fixture(autouse=True)
def nothing_begun(monkeypatch: pytest.MonkeyPatch) -> Iterator[None]:
    """Nor is a kind of quantity left to the tests that follow."""
    monkeypatch.setattr(browser, "_begun", None)
    calculators.found()  # those that the stock's define stay
    with units.as_before():
        yield


@pytest.mark.parametrize("files", [FINE, {**{k: v for k, v in FINE.items() if k != F}, **FOLDER}])
def test_an_edition_answers_with_its_own_and_the_stock_knows_nothing_of_it(
    tmp_path: Path, files: Mapping[str, str]
) -> None:
    found = check.check(written(tmp_path, files))
    assert (found.faults, found.doubts) == ((), ()) and found.guide
    report = found.guide.run(found.guide.get("bucket"), example={"boat": "ketch"}).report
    assert report and report.figures[0].value.value == pytest.approx(10 / 45 * 3600)
    thick = found.guide.run(found.guide.get("funnel"), example={"oil": "vg-100"}).report
    thin = found.guide.run(found.guide.get("funnel"), {"viscosity": "10 cSt"}).report
    assert thick and thin
    assert thick.figures[0].value.value == pytest.approx(10 * thin.figures[0].value.value)
    assert not {"bucket", "funnel"} & set(stock.guide().names())
    assert "oil" not in stock.guide().kinds and "calculators" not in stock.data(stock.guide())


def test_the_browser_is_given_the_sources_and_answers_alike(tmp_path: Path) -> None:
    made = check.check(written(tmp_path, FINE)).guide
    assert made
    browser.begin(stock.data(made))
    asked = json.dumps({"calculator": "funnel", "typed": {"oil": "vg-100", "volume": "1 L"}})
    there = json.loads(browser.handle(asked))
    with stock.used(made):
        browser.begin(stock.data(stock.with_layers()))
        unknown = json.loads(browser.handle(asked))
    assert there["error"] is None and unknown["error"]
    assert stock.data(stock.from_data(stock.data(made))) == stock.data(made)


def test_two_guides_stand_side_by_side_each_with_its_own() -> None:
    one = stock.with_layers(sources={"bucket.py": BUCKET})
    two = stock.with_layers(sources={"bucket.py": BUCKET.replace('"10 L"', '"20 L"')})
    full = [g.run(g.get("bucket"), example={"boat": "ketch"}).report for g in (one, two, one)]
    assert full[0] and full[1] and full[2]
    times = [report.figures[0].value.value for report in full if report]
    assert times[1] == pytest.approx(2 * times[0]) and times[2] == times[0]
    assert one.get("power") is two.get("power")


def test_no_module_of_the_stock_is_taken_the_place_of() -> None:
    before = sys.modules["calc.calculators.power"]
    theirs = own.load({"math.py": BUCKET, "calc.py": BUCKET})
    assert set(theirs) == {"math", "calc"}
    assert sys.modules["calc.calculators.power"] is before
    assert sys.modules["math"].__name__ == "math" and sys.modules["calc"].stock is stock


ENDLESS = "a loop without end"
# What is written in place of what, and the fault that must be told: its key, file and line; the
# line of the change unless it is of the file as a whole (0).
BROKEN = {
    "no Python": (B, "q.volume / q.product_flow,", "q.volume / ,", "syntax", B, None),
    "no title": (B, 'TITLE = "Bucket"', "", "lacking", B, 0),
    "no numbers wanted": (B, 'WANTED = ("time", "hourly")', "", "lacking", B, 0),
    "one number wanted": (B, '("time", "hourly")', '("time",)', "lacking", B, 0),
    "a number wanted that is not there": (B, '("time", "hourly")', '("tme", "x")', "wanted", B, 0),
    "nothing decides": (B, "DECIDES = decides(", "TOLD = decides(", "lacking", B, 0),
    "what decides is not asked": (B, '"volume")', '"volum")', "decides", B, 0),
    "no question": (B, '"""How long does a bucket take to fill?"""', "", "lacking", B, 1),
    "no answer": (B, "def answer", "def answers", "lacking", B, 0),
    "no form": (B, "class Asks(Machine, Product)", "class Asks", "lacking", B, 0),
    "a module that is not there": (B, "..sheet", "..sheets", "raises", B, None),
    "a name of it that is not there": (B, "Machine, Product\n", "Machine, Produce\n", "raises", B, None),
    "a module that browsers lack": (B, "from ..sheet", "import sqlite3\nfrom ..sheet", "import", B, None),
    "a slip in the answer": (B, "q.volume /", "q.volumen /", "raises", B, None),
    "a word for a number": (B, "3600 / time", '"much"', "raises", B, None),
    "no headline": (B, 'show.headline("It is full after {time}.", time=(time, "min"))', "", "headline", B, 0),
    "a unit nobody knows": (B, '"min",\n        "t', '"mn",\n        "t', "raises", B, None),
    "a quantity that is there": (F, '"kinematic viscosity",', '"pressure",', "raises", F, None),
    "a kind that is there": (F, "class Oil", "class Motor", "raises", F, None),
    "a name without a value": (B, '"t = V / Q"', '"t = V / Qf"', "formula", B, None),
    "another formula": (B, '"t = V / Q"', '"t = Q / V"', "formula", B, None),
    "no formula": (B, '"t = V / Q"', '"t is V / Q"', "formula", B, None),
    "no source": (B, '"definition of flow"', '""', "source", B, None),
    "a symbol of another kind": (F, '"V": (q.volume, "L")', '"V": (q.volume * 1000, "kg")', "symbol", F, None),
    "a slip for large buckets": (B, "3600 / time", "[3600 / time][int(q.volume > 0.06)]", "raises", B, None),
    ENDLESS: (B, "3600 / time", "3600 / time if q.volume < 0.05 else next(n for n in iter(int, 1) if n)", "raises", B, None),
    "a verdict that comes too late": (B, 'show.figure("time"', 'return lambda: show.figure("time"', "verdict", B, 0),
    "no page asks for it": (P, "```calculator bucket", "```text", "no page", B, 0),
}  # fmt: skip


@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_calculator_is_told_by_file_and_line(
    tmp_path: Path, name: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    if name == ENDLESS:
        if not hasattr(signal, "setitimer"):
            pytest.skip("this system can't break it off")
        monkeypatch.setattr(own_calculators, "LONGEST", 1.0)
    file, old, new, key, told_in, line = BROKEN[name]
    before = FINE[file]
    assert old in before
    found = check.check(written(tmp_path, {**FINE, file: before.replace(old, new, 1)}))
    told = [(one.key, one.file, one.line) for one in found.faults]
    assert told and {one[1] for one in told} == {told_in}, list(map(str, found.faults))
    assert key in {one[0] for one in told}
    if line is not None:
        assert (key, told_in, line) in told


def test_an_edition_without_boats_is_told_so_and_no_more(tmp_path: Path) -> None:
    drop = f"[drop]\nboat = {json.dumps(list(stock.guide().shelf('boat')))}\n"
    found = check.check(written(tmp_path, {**FINE, "equipment/drop.toml": drop}))
    assert {one.key for one in found.faults} == {"role"}


@pytest.mark.parametrize(
    ("files", "file", "key"),
    [
        ({"calculators/power.py": BUCKET}, "calculators/power.py", "same name"),
        ({"calculators/My-Bucket.py": BUCKET}, "calculators/My-Bucket.py", "name"),
        ({"calculators/bucket/asks.py": ""}, B, "same name"),
        ({"calculators/pail/asks.py": ""}, "calculators/pail/__init__.py", "missing"),
        ({B: "\ufeff" + BUCKET}, B, "mark"),
    ],
)
def test_a_name_or_file_that_cant_be_is_told(
    tmp_path: Path, files: Mapping[str, str], file: str, key: str
) -> None:
    found = check.check(written(tmp_path, {**FINE, **files}))
    assert [(one.key, one.file) for one in found.faults] == [(key, file)] and not found.guide


def test_all_faults_of_all_files_are_told_at_once(tmp_path: Path) -> None:
    files = {
        **FINE,
        B: BUCKET.replace("q.volume / ", "q.volume / / "),
        F: FUNNEL.replace("TITLE", "TILE"),
        "equipment/more.toml": OILS.replace("vg-100", "vg-46").replace("mm2/s", "bar"),
        P: PAGE + "\n[there](nowhere.md)\n",
    }
    found = check.check(written(tmp_path, files))
    assert {(one.key, one.file) for one in found.faults} == {
        ("syntax", B), ("lacking", F), ("link", P),
    }  # fmt: skip


def test_a_quantity_may_be_said_otherwise_the_next_time(tmp_path: Path) -> None:
    """As while `serve --watch` builds again what is being written."""
    # A name of its own: another test of this process may have defined the funnel's.
    first = FUNNEL.replace('"kinematic viscosity"', '"thickness of an oil"')
    second = first.replace('"100 mm2/s",\n', '"120 mm2/s",\n', 1)
    written(tmp_path, {**FINE, F: first})
    with units.as_before():
        assert check.check(tmp_path).faults == ()
    written(tmp_path, {F: second})
    with units.as_before():
        assert check.check(tmp_path).faults == ()
        assert units.parse("2 cSt", "mm2/s", "thickness of an oil") == pytest.approx(2e-6)
        written(tmp_path, {F: first})
        assert [(one.key, one.file) for one in check.check(tmp_path).faults] == [("raises", F)]


def test_their_words_are_a_translators_too_and_update_tells_those_that_went_stale(
    tmp_path: Path,
) -> None:
    made = edition.read(
        written(tmp_path, {**FINE, "edition.toml": 'name = "Quay"\nlanguages = ["en", "fr"]\n'})
    )
    (path,) = language_sites.write_words(made)
    headline, question = "It is full after {time}.", "How long does a bucket take to fill?"
    told = path.read_text("utf-8")
    assert "calculators/bucket.py" in told and f'msgid "{question}"' in told
    told = told.replace(
        f'msgid "{headline}"\nmsgstr ""', f'msgid "{headline}"\nmsgstr "En {{time}}."'
    )
    path.write_text(told, "utf-8", newline="\n")
    sites, faults, _ = language_sites.spoken(made)
    assert faults == [] and sites[1].catalogue.words == {headline: "En {time}."}
    assert not any("{time}" in line for line in language_sites.moved_on(made))
    written(tmp_path, {B: BUCKET.replace("It is full after", "It will be full after")})
    (stale,) = [line for line in language_sites.moved_on(made) if "{time}" in line]
    assert headline in stale and "messages.po" in stale


def test_the_library_that_they_may_import_is_what_the_stocks_own_code_imports() -> None:
    """And so what the engine has; tests/browser/test_dealer.py imports it all in one."""
    at_terminals = {"terminal.py", "__main__.py"}
    files = [path for path in (ROOT / "calc").rglob("*.py") if path.name not in at_terminals]
    told = "".join(path.read_text("utf-8") for path in files)
    imported = set(re.findall(r"^(?:from|import) (\w+)", told, re.MULTILINE))
    assert set(own_calculators.LIBRARY) <= imported


def test_what_the_page_on_editions_shows_is_what_is_tried_here() -> None:
    assert f"```python\n{BUCKET}```" in (ROOT / "docs" / "yours.md").read_text("utf-8")
