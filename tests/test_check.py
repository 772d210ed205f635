"""`check`: twenty and more broken editions, each with the fault it must tell and where; our own
records under the same rules."""

from __future__ import annotations

import re
import time
from collections.abc import Mapping
from pathlib import Path

import pytest

from site_build import check, check_answers, doubts, making

MACHINES = """[motor.gull-11]
name = "Gull 1.1 kW"
rated_power = "1.1 kW"
voltage = "230 V"
frequency = "50 Hz"
rated_speed = "1440 rpm"
efficiency = "77 %"
power_factor = "93 %"
rated_current = "6.7 A"
mass = "13 kg"

[pump.fulmar]
name = "Fulmar"
flow = "8.0 L/min"
rated_speed = "1440 rpm"
highest_pressure = "70 bar"
mass = "7 kg"

[unit.petrel-60]
name = "Petrel 60"
motor = "gull-11"
pump = "fulmar"
membranes = "two-40"
pressure = "55 bar"
product_flow = "60 L/h"
mass = "25 kg"
length = "620 mm"
width = "300 mm"
height = "320 mm"
"""
UPKEEP = """[task.belt]
name = "Belt look"
hours = "100 h"
units = "petrel-60"

[part.belt]
name = "Belt"
task = "Belt look"
units = "petrel-60"
price = "12 €"
"""
PAGE = """# Our workshop

See [the page on power](power.md#what-it-draws), or [the first page](index.md).
It draws {= unit.petrel-60.motor.rated_current =} at most.

```calculator power
boat = "ketch"
unit = "petrel-60"
```
"""
FINE = {
    "edition.toml": """name = "Quay Water"
currency = "EUR"
hide = ["bulkhead.md"]

[examples]
unit = "petrel-60"
boats = ["ketch"]
""",
    "equipment/machines.toml": MACHINES,
    "equipment/upkeep.toml": UPKEEP,
    "pages/workshop.md": PAGE.replace("#what-it-draws", ""),
}
M, U, E, P = "equipment/machines.toml", "equipment/upkeep.toml", "edition.toml", "pages/workshop.md"


def written(folder: Path, files: Mapping[str, str | bytes]) -> Path:
    for name, content in files.items():
        path = folder / name
        path.parent.mkdir(parents=True, exist_ok=True)
        path.write_bytes(content if isinstance(content, bytes) else content.encode())
    return folder


def line_of(text: str, old: str) -> int:
    return text.count("\n", 0, text.index(old)) + 1


@pytest.fixture
def few_pages(tmp_path_factory: pytest.TempPathFactory, monkeypatch: pytest.MonkeyPatch) -> None:
    """The stock with three of its pages: a check of all takes a second and more."""
    few = tmp_path_factory.mktemp("few")
    for name in ("index.md", "power.md", "bulkhead.md"):
        page = (making.STOCK_PAGES / name).read_text("utf-8")
        (few / name).write_text(re.sub(r"\]\([^()\s]*\.md[^()\s]*\)", "](index.md)", page), "utf-8")
    monkeypatch.setattr(making, "docs", lambda: few)


@pytest.fixture
def no_answers(monkeypatch: pytest.MonkeyPatch) -> None:
    """Where what is told comes of the records alone: all answers of all units take a second."""
    monkeypatch.setattr(check_answers, "refused", lambda *asked: [])


def test_our_own_records_and_pages_pass() -> None:
    found = check.check(None)
    assert found.faults == () and found.doubts == ()


def test_a_sound_edition_passes_in_seconds(tmp_path: Path) -> None:
    started = time.process_time()
    found = check.check(written(tmp_path, FINE))
    assert (found.faults, found.doubts) == ((), ())
    assert found.guide is not None
    assert found.guide.shelf("unit")["petrel-60"].motor.mass == 13
    assert time.process_time() - started < 5
    # Our pages link to the page that is hidden, and cite what its boat hasn't: told, not to be mended.
    assert any("bulkhead.md" in note for note in found.notes)
    left_out = [note for note in found.notes if "bulkhead.md" not in note]
    assert left_out
    for note in left_out:  # where it stands, and what it cites in vain
        told = re.match(r"docs/(\S*), line (\d+): ", note)
        assert told, note
        page = (making.STOCK_PAGES / told[1]).read_text("utf-8")
        assert note.rpartition(": ")[2] in page.splitlines()[int(told[2]) - 1]


@pytest.mark.usefixtures("few_pages")
def test_a_file_of_records_by_another_name_is_told(tmp_path: Path) -> None:
    found = check.check(written(tmp_path, {**FINE, "equipment/more/own.toml.txt": MACHINES}))
    assert [note.partition(":")[0] for note in found.notes if "equipment" in note] == [
        "equipment/more/own.toml.txt"
    ]


# What is written in place of what, and the fault that must be told: its key and file; its line is
# that of the change unless another text is named.
BROKEN = {
    "a per cent without its sign": (M, '"93 %"', '"0.93"', "percent", M, ""),
    "a unit of another quantity": (M, '"13 kg"', '"13 bar"', "value", M, ""),
    "out of its limits": (M, '"1440 rpm"\nefficiency', '"14400 rpm"\nefficiency', "value", M, ""),
    "a field misspelt": (M, "rated_power", "rated_pover", "value", M, "rated_pover"),
    "a kind misspelt": (M, "[motor.gull-11]", "[moter.gull-11]", "kind", M, ""),
    "a record that is there": (M, "[motor.gull-11]", "[motor.wick-075-50]", "twice", M, ""),
    "an id in two files": (U, "[task.belt]", "[pump.fulmar]", "twice", U, ""),
    "a reference to nothing": (M, '"fulmar"', '"fulmer"', "value", M, ""),
    "a change of nothing": (M, "[pump.fulmar]", "[change.pump.fulmar]", "absent", M, ""),
    "a drop of nothing": (U, "[task.belt]", '[drop]\ntask = ["x"]\n[task.belt]', "absent", U, "task = ["),
    "a drop of what is needed": (U, "[task.belt]", '[drop]\nmembranes = ["two-40"]\n[task.belt]', "dropped", U, "membranes ="),
    "a task dropped that a part needs": (U, "[task.belt]", '[drop]\ntask = ["packing"]\n[task.belt]', "dropped", U, "task = ["),
    "no TOML": (M, 'name = "Fulmar"', "name = Fulmar", "toml", M, ""),
    "a byte order mark": (U, "[task.belt]", "\ufeff[task.belt]", "mark", U, None),
    "units that are not there": (U, 'units = "petrel-60"', 'units = "petrel-6"', "dangling", U, ""),
    "a task that is not there": (U, 'task = "Belt look"', 'task = "Belt"', "dangling", U, ""),
    "a part of more units than its task": (U, 'units = "petrel-60"\nprice', "price", "dangling", U, "task ="),
    "two tasks of a name": (U, '"Belt look"\nhours', '"Crankcase oil"\nhours', "same name", U, ""),
    "no such example": (E, 'unit = "petrel-60"', 'unit = "petrel"', "role", E, ""),
    "no such boat": (E, '["ketch"]', '["yawl"]', "role", E, ""),
    "a page to hide that is not there": (E, "bulkhead.md", "bulkheads.md", "hidden", E, ""),
    "a page of its own hidden": (E, "bulkhead.md", "workshop.md", "hidden", E, ""),
    "the first page hidden": (E, "bulkhead.md", "index.md", "hidden", E, ""),
    "no name": (E, 'name = "Quay Water"', "", "needed", E, None),
    "a name nobody asks for": (E, "currency", "curency", "unknown", E, "curency"),
    "a dead link": (P, "power.md", "powr.md", "link", P, ""),
    "a dead anchor": (P, "power.md", "power.md#nothing", "link", P, ""),
    "a link to a hidden page": (P, "power.md", "bulkhead.md", "link", P, ""),
    "a script": (P, "See", "<script>go()</script> See", "barred", P, ""),
    "a script of a link": (P, "[the first", '<a onclick="go()">x</a> [the first', "barred", P, ""),
    "a style": (P, "See", '<b style="color: red">See</b>', "barred", P, ""),
    "a picture of another host": (P, "See", "![x](https://example.org/x.png) See", "barred", P, ""),
    "a frame of another host": (P, "See", '<iframe src="https://example.org/map"></iframe> See', "barred", P, ""),
    "a picture that is not there": (P, "[the first page](index.md)", "![ours](ours.png)", "link", P, ""),
    "a number of nothing": (P, "rated_current", "rated_curent", "number", P, ""),
    "an example out of limits": (P, 'unit = "petrel-60"', 'bank_capacity = "9 kg"', "number", P, ""),
    "a unit that a calculator can't answer": (M, '"60 L/h"', '"60000 L/h"', "answer", M, "[unit.petrel-60]"),
}  # fmt: skip


@pytest.mark.usefixtures("few_pages")
@pytest.mark.parametrize("name", BROKEN)
def test_a_broken_edition_is_told(tmp_path: Path, name: str) -> None:
    file, old, new, key, told_in, at = BROKEN[name]
    before = FINE[file]
    assert isinstance(before, str) and old in before
    after = before.replace(old, new, 1)
    found = check.check(written(tmp_path, {**FINE, file: after}))
    where = [(one.file, one.line) for one in found.faults if one.key == key]
    if at is None:
        assert where and where[0][0] == told_in
    else:
        assert (told_in, line_of(after, at or new)) in where


@pytest.mark.usefixtures("few_pages")
@pytest.mark.parametrize("name", [M, U, P])
def test_another_encoding_is_told_by_its_file(tmp_path: Path, name: str) -> None:
    content = (FINE[name] + "\n# é\n").encode("cp1252")
    found = check.check(written(tmp_path, {**FINE, name: content}))
    assert [(one.key, one.file) for one in found.faults if one.key == "encoding"] == [
        ("encoding", name)
    ]


@pytest.mark.usefixtures("few_pages")
def test_all_faults_are_told_at_once(tmp_path: Path) -> None:
    changes = {
        E: ('"EUR"', '"money"'),
        M: ('"93 %"', '"0.93"'),
        U: ('units = "petrel-60"', 'units = "petrel"'),
        P: ("power.md", "powr.md"),
    }
    files = {name: FINE[name].replace(*changes[name]) for name in FINE}
    found = check.check(written(tmp_path, files))
    assert list(dict.fromkeys(one.file for one in found.faults)) == [E, M, U, P]


# Its faults, each on a line that tells its key; what cites a block that fails isn't one more.
FAULTY = """# All at once

[one](powr.md) and [another](indx.md) @link @link
![ours](ours.png) @link

[one](powr.md) again @link

<b style="color: red">a</b> @barred

<b style="color: red">b</b> @barred

{= unit.example.pumpp.name =} {= unit.example.motor.mas =} @number @number
{= caution =} @number
{= caution.mainz =} {= unit.example.motor.mass =} @number
{= power.verdict =} {= noise.verdict =} {= mount.verdict =}
{= need.figure.nothing =} @number

```calculator need
boat = "ketch"
```

```calculator noise
hinges = 3 # @number
seat = "9 kg" # @number
doing = "talk"
vents = "9 kg" # @number
```

```calculator powr
boat = "ketch"
```

```calculator mount
boat = # @number
```

```example-link need
boat = "kech"
words = "x"
```

```calculator water
"""
BLOCKS = (
    "```calculator powr",
    "```example-link need",
    "```calculator water",
)  # whose first line fails


@pytest.mark.usefixtures("few_pages", "no_answers")
def test_one_run_tells_all_faults_of_a_page(tmp_path: Path) -> None:
    found = check.check(written(tmp_path, {**FINE, P: FAULTY}))
    lines = enumerate(FAULTY.splitlines(), 1)
    wanted = [(at, key) for at, line in lines for key in re.findall(r"@(\w+)", line)]
    wanted += [(line_of(FAULTY, block), "number") for block in BLOCKS]
    assert sorted((one.line, one.key) for one in found.faults) == sorted(wanted)
    assert {one.file for one in found.faults} == {P}


DOUBTFUL = {
    "current": (M, '"6.7 A"', '"4.1 A"', "motor.gull-11.rated_current"),
    "speed": (M, '"1440 rpm"\nefficiency', '"1300 rpm"\nefficiency', "motor.gull-11.rated_speed"),
    "pressure": (M, '"70 bar"', '"50 bar"', "unit.petrel-60.pressure"),
    "relief": (
        M,
        'pressure = "55 bar"',
        'pressure = "65 bar"\nrelief = "latch-62"',
        "unit.petrel-60.relief",
    ),
    "relief above": (M, '"70 bar"', '"60 bar"', "unit.petrel-60.relief"),
    "shaft": (M, '"1.1 kW"', '"0.75 kW"', "unit.petrel-60.motor"),
    "mass": (M, '"25 kg"', '"19 kg"', "unit.petrel-60.mass"),
    "brine": (M, '"8.0 L/min"', '"4.5 L/min"', "unit.petrel-60.membranes"),
    "feed": (M, '"8.0 L/min"', '"24 L/min"', "unit.petrel-60.membranes"),
    "far": (M, '"620 mm"', '"6.2 m"', "unit.petrel-60.length"),
    "bare": (M, '"13 kg"', '"13"', "motor.gull-11.mass"),
    "other money": (U, '"12 €"', '"12 AUD"', "part.belt.price"),
    "money": (M, '"13 kg"', '"13 kg"\nprice = "900 CHF"', "motor.gull-11.price"),
    "currency": (E, 'currency = "EUR"', "", "part.belt.price"),
}


@pytest.mark.usefixtures("few_pages", "no_answers")
@pytest.mark.parametrize("key", DOUBTFUL)
def test_a_doubt_is_told_and_can_be_silenced(tmp_path: Path, key: str) -> None:
    file, old, new, name = DOUBTFUL[key]
    files = {**FINE, file: FINE[file].replace(old, new, 1)}
    if key == "relief above":
        files[M] += 'relief = "latch-62"\n'
    found = check.check(written(tmp_path, files))
    told = [one for one in found.doubts if one.key == key]
    kind, record, field = name.split(".")
    assert [(one.record, one.field) for one in told] == [(f"{kind} “{record}”", field)]
    files[E] += f'\n[doubts]\n"{name}" = "it is so"\n'
    assert key not in [one.key for one in check.check(written(tmp_path, files)).doubts]


@pytest.mark.usefixtures("few_pages", "no_answers")
def test_a_doubt_silenced_for_nothing_is_told(tmp_path: Path) -> None:
    files = {**FINE, E: FINE[E] + '\n[doubts]\n"motor.gull-11.mass" = "it is so"\n'}
    (doubt,) = check.check(written(tmp_path, files)).doubts
    assert (doubt.key, doubt.file, doubt.line) == ("stale", E, line_of(files[E], '"motor.'))


def test_the_bounds_of_doubts_are_as_decided() -> None:
    assert (doubts.CURRENT_OFF, doubts.LEAST_SPEED, doubts.FAR) == (0.15, 0.9, 4.0)


@pytest.mark.usefixtures("few_pages")
def test_a_missing_example_is_told_once(tmp_path: Path) -> None:
    """Not by each page that is filled in with it; nor by a file that has other faults."""
    files = {**FINE, U: '[drop]\nboat = "all"\n'}
    assert [one.key for one in check.check(written(tmp_path / "a", files)).faults] == ["role"]
    files = {**FINE, M: FINE[M] + '\n[drop]\nunit = "all"\nboat = "all"\n'}
    own = '[examples]\nunit = "petrel-60"\nboats = ["gig"]\n[brand]\ncolour = "red"\n'
    files |= {E: 'name = "Quay"\n' + own, "equipment/boats.toml": '[boat.gig]\nname = "Gig"\n'}
    told = check.check(written(tmp_path / "b", {**files, P: "# Ours\n"})).faults
    assert [(one.file, one.field) for one in told if one.file == E] == [(E, "colour")]


@pytest.mark.parametrize(
    ("currency", "price"),
    [
        ("AUD", "12 AUD"),
        ("AUD", "12 $"),
        ("€", "12 EUR"),
        ("GBP", "12 £"),
        ("CHF", "12"),
        ("SEK", "12 ¤"),
    ],
)
@pytest.mark.usefixtures("few_pages", "no_answers")
def test_a_price_may_be_written_in_the_editions_money(
    tmp_path: Path, currency: str, price: str
) -> None:
    files = {**FINE, E: FINE[E].replace('"EUR"', f'"{currency}"')}
    files[U] = FINE[U].replace("12 €", price)
    found = check.check(written(tmp_path, files))
    assert not found.faults and not {one.key for one in found.doubts} & {"currency", "other money"}


@pytest.mark.parametrize(
    ("currency", "price"), [("USD", "$ 900"), ("NZD", "$ 900"), ("GBP", "900 £"), ("€", "900 EUR")]
)
@pytest.mark.usefixtures("few_pages", "no_answers")
def test_what_is_sold_may_be_priced_by_a_sign_of_the_editions_money(
    tmp_path: Path, currency: str, price: str
) -> None:
    files = {**FINE, E: FINE[E].replace('"EUR"', f'"{currency}"')}
    files[M] = FINE[M].replace('"13 kg"', f'"13 kg"\nprice = "{price}"', 1)
    found = check.check(written(tmp_path, files))
    assert not found.faults and "money" not in {one.key for one in found.doubts}
