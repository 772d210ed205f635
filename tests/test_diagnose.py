"""The page that finds a fault: what it asks back, what it tells first, and its words for all keys."""

from __future__ import annotations

import random
from typing import Any

import pytest
from answers import all_slots, answered, refused, rows, table, unknowns, value

from calc import stock
from calc.calculators.diagnose import stop, words
from calc.calculators.diagnose.asks import Asks
from calc.frame.report import FAILS, FITS, UNKNOWN
from calc.sheet.readings_log import BOOK
from calc.system import tree, trials
from calc.system.faults import CAUSES, NOTHING, SEA
from calc.system.readings import NAMES
from site_build.pages import DOCS, places

GUIDE = stock.guide()
EXAMPLE: dict[str, Any] = dict(places(DOCS)["diagnose"].example)
WELL = {
    "read_before": "1.02 bar", "read_behind": "0.98 bar", "read_pressure": "55 bar",
    "read_product": "37 L/h", "read_brine": "5.6 L/min", "read_conductivity": "480 µS/cm",
    "read_temperature": "18 °C", "read_amperes": "4.2 A",
}  # fmt: skip


def told(**typed: str) -> Any:
    outcome = GUIDE.run(GUIDE.get("diagnose"), typed, example=EXAMPLE)
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


@pytest.mark.parametrize(
    ("typed", "field"),
    rows(
        """
        read_product: 400 L/h     | read_product
        read_volts: 12 V          | read_volts
        read_volts: 400 V         | read_volts
        read_brine: 12 L/min      | read_brine
        read_brine: -1 L/min      | read_brine
        read_behind: 1.8 bar      | read_behind
        read_pressure: 0 bar      | read_pressure
        day_product: 400 L/h      | day_product
        day_amperes: 900 A        | day_amperes
        """
    ),
)
def test_what_cannot_be_is_asked_back(typed: str, field: str) -> None:
    name, _, text = typed.partition(":")
    outcome = GUIDE.run(GUIDE.get("diagnose"), {name: text.strip()}, example=EXAMPLE)
    assert outcome.report is None
    assert [fault.field for fault in outcome.bound.faults] == [field]


def test_a_battery_is_no_mains() -> None:
    assert "read_volts" in refused("diagnose", {"read_volts": "12.6 V"}, "catamaran")


def test_nothing_read_names_no_cause() -> None:
    made = answered("diagnose", {}, "ketch")
    assert made.verdict == UNKNOWN
    assert unknowns(made) == ["few"]
    assert not any(one.key in ("causes", "so") for one in made.tables)
    assert any(one.key == "next" for one in made.tables), "but what to read next"


def test_three_readings_give_no_verdict() -> None:
    some = {name: WELL[name] for name in ("read_product", "read_pressure", "read_temperature")}
    made = answered("diagnose", some, "ketch")
    assert made.verdict == UNKNOWN and unknowns(made) == ["few"]


def test_no_fault_is_told_that_is_not_likelier_than_not() -> None:
    """Without a day one, water that is twice as salty may be a fault or these membranes."""
    some = {"read_pressure": "55 bar", "read_product": "35 L/h", "read_conductivity": "900 µS/cm"}
    made = answered("diagnose", some | {"read_temperature": "18 °C", "readings": ""}, "ketch")
    assert value(made, "healthy") < 0.5
    assert made.verdict == UNKNOWN and unknowns(made) == ["unsure"]
    mends = set(words.MEND.values())
    assert mends.isdisjoint(one.template for one in made.remedies)


def test_all_as_on_day_one_fits() -> None:
    made = told(**WELL)
    assert made.verdict == FITS
    assert value(made, "healthy") > 0.6


def test_the_example_names_its_causes_and_the_trial_that_parts_them() -> None:
    made = told()
    assert made.verdict == FAILS and made.decided_by == "healthy"
    first = {row[1] for row in table(made, "causes").rows if row[0] == "1"}
    assert {words.NAMES["packing"], words.NAMES["relief"]} <= first
    ways = [one.template for one in made.remedies]
    assert words.NEXT["drip"] in ways[:2] or words.NEXT["relief_runs"] in ways[:2]


def test_a_trial_that_was_made_parts_them() -> None:
    drips = told(sign_drip="yes", sign_relief_runs="no")
    assert table(drips, "causes").rows[0][1] == words.NAMES["packing"]
    runs = told(sign_drip="no", sign_relief_runs="yes")
    assert table(runs, "causes").rows[0][1] == words.NAMES["relief"]


def test_a_colder_sea_explains_it() -> None:
    made = told(**{**WELL, "read_temperature": "11 °C", "read_product": "28.5 L/h",
                   "read_brine": "5.74 L/min", "read_conductivity": "500 µS/cm"})  # fmt: skip
    assert made.verdict == FITS
    assert table(made, "causes").rows[0][1] == words.NAMES[SEA]


def test_the_order_of_readings_changes_nothing() -> None:
    names = list(WELL)
    random.Random(1).shuffle(names)
    there = told(**{name: WELL[name] for name in names}).as_data()
    assert there == told(**WELL).as_data()


def test_two_faults_are_told_if_asked() -> None:
    made = told(two_faults="yes", read_behind="0.6 bar")
    assert 0 < value(made, "two") <= 1
    assert not any(one.key == "two" for one in told().tables)


def test_hazards_come_first() -> None:
    """Before any other table; and what knocks or draws air is stopped before it is looked at."""
    made = told(sign_knock="yes")
    assert made.tables[0].key == "hands"
    assert made.tables[0].steps
    still = told()
    assert made.remedies[0].template not in [one.template for one in still.remedies]


def test_the_valve_counts_only_with_a_day_one() -> None:
    """Without one nothing is told by where it stands."""
    bare = WELL | {"read_pressure": "50 bar", "readings": ""}
    turned = answered("diagnose", bare | {"valve_is": "turned"}, "ketch").as_data()
    assert answered("diagnose", bare | {"valve_is": "stands"}, "ketch").as_data() == turned
    assert told(**bare, valve_is="stands").as_data() != told(**bare, valve_is="turned").as_data()


def test_each_key_has_its_words() -> None:
    keys = {cause.key for cause in CAUSES}
    assert keys | {NOTHING, SEA} == set(words.NAMES)
    assert keys == set(words.MEND)
    signs = {sign.key for sign in trials.SIGNS}
    assert signs == set(words.LABELS)
    assert signs | set(NAMES) == set(words.NEXT)
    assert {"sign_" + key for key in signs} <= Asks.fields.keys()
    assert {"read_" + name for name in NAMES} <= Asks.fields.keys()
    assert keys >= {cause for sign in trials.SIGNS for cause in sign.chances}


def test_each_spare_is_in_the_box() -> None:
    shelf = GUIDE.shelf("part")
    assert set(words.SPARES.values()) == set(words.SPARE_NAMES)
    assert set(words.SPARE_NAMES) <= shelf.keys()


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_key_on_paper_leads_on_and_ends(boat: str) -> None:
    outcome = GUIDE.run(
        GUIDE.get("diagnose"), WELL if boat == "ketch" else {}, example={"boat": boat}
    )
    asks = Asks.of(outcome.bound.values)
    found = asks.found()
    assert found is not None
    made = tree.tree(found.ground)
    assert 5 <= len(made) <= tree.MOST_QUESTIONS
    led = [to for one in made for to in one.answers.values() if isinstance(to, int)]
    assert sorted(led) == list(range(2, len(made) + 1)), "each is led to once"
    for one in made:
        for answer in one.answers.values():
            assert (answer > one.number) if isinstance(answer, int) else answer
    assert outcome.report is not None
    shown = table(outcome.report, "tree")
    assert shown.steps and len(shown.rows) == len(made)
    ends = {
        key for one in made for to in one.answers.values() if not isinstance(to, int) for key in to
    }
    named = {slot for row in shown.rows for slot in all_slots(row[2])}
    assert {words.NAMES[key] for key in ends} <= named


def _logged(days: int) -> str:
    """A log whose lines all read as on the day when all was well, in the order of the columns."""
    cells = ["18", "", "", "1.02", "0.98", "55", "", "37", "5.6", "480"]
    lines = [f"2025-05-{day:02},{day},{','.join(cells)}," for day in range(1, days + 1)]
    return "\n".join([",".join(BOOK.names), *lines])


def test_day_one_is_the_same_however_it_was_told() -> None:
    """Written down as day one, or as the first lines of the log of readings: one answer."""
    now = {name: text for name, text in EXAMPLE.items() if name.startswith("read_")}
    then = {"day_" + name.removeprefix("read_"): text for name, text in WELL.items()}
    del then["day_amperes"]
    said = answered("diagnose", now | then | {"has_day_one": "yes"}, "ketch")
    unsaid = {**now, "has_day_one": "no"}
    logged = answered("diagnose", {**unsaid, "readings": _logged(5)}, "ketch")
    assert logged.verdict == said.verdict == FAILS
    assert value(logged, "healthy") == pytest.approx(value(said, "healthy"), rel=1e-9)
    assert table(logged, "causes").rows == table(said, "causes").rows
    both = {**now, **then, "has_day_one": "yes", "readings": _logged(5).replace(",37,", ",30,")}
    assert answered("diagnose", both, "ketch").verdict == said.verdict
    assert value(answered("diagnose", both, "ketch"), "healthy") == value(said, "healthy")


def test_a_line_or_two_are_no_day_one() -> None:
    """They may be today's: a fault would be held against itself."""
    now = {name: text for name, text in EXAMPLE.items() if name.startswith("read_")}
    bare = answered("diagnose", {**now, "has_day_one": "no", "readings": ""}, "ketch")
    few = answered("diagnose", {**now, "has_day_one": "no", "readings": _logged(4)}, "ketch")
    assert few.as_data() == bare.as_data()


def test_first_lines_that_cannot_be_are_asked_back_in_the_log() -> None:
    typed = {"has_day_one": "no", "readings": _logged(5).replace(",37,", ",900,")}
    assert set(refused("diagnose", typed, "ketch")) == {"readings"}


@pytest.mark.parametrize("sign", sorted(stop.STOPS))
def test_what_must_not_go_on_never_fits_and_is_not_gone_on_with(sign: str) -> None:
    """However well its gauges read; and no reading at work is asked for."""
    made = told(**WELL, **{"sign_" + sign: "yes"})
    assert made.verdict == FAILS and "seen" in {one.key for one in made.failures}
    asked = {row[1] for one in made.tables if one.key == "next" for row in one.rows}
    assert asked <= {words.NEXT[key] for key in trials.AT_REST}
    few = answered("diagnose", {"sign_" + sign: "yes"}, "ketch")
    asked = {row[1] for one in few.tables if one.key == "next" for row in one.rows}
    assert asked <= {words.NEXT[key] for key in trials.AT_REST}
    assert any(one.key == "points" for one in few.tables) == (sign in stop.WONT_RUN)


@pytest.mark.parametrize(
    ("typed", "key"),
    rows(
        """
        read_pressure: 76 bar | high
        read_product: 60 L/h  | over
        read_brine: 0 L/min   | no-brine
        read_product: 0 L/h   | no-product
        read_before: 9 bar    | feed-high
        """
    ),
)
def test_a_reading_that_must_not_go_on_is_told_first(typed: str, key: str) -> None:
    """Over what it bears, or a way that is shut: whatever causes it."""
    name, _, text = typed.partition(":")
    made = told(**WELL | {name: text.strip()})
    assert made.verdict == FAILS and key in {one.key for one in made.failures}
    still = {one.template for one in told(**WELL).remedies}
    assert made.remedies[0].template not in still


def test_where_pumps_go_off_first_no_valve_is_turned_before() -> None:
    """Each order stands alone: a shut brine or a relief valve that runs takes the place of a
    regulating valve that is opened at work."""

    def ways(**typed: str) -> list[str]:
        return [one.template for one in told(**WELL | typed).remedies]

    at_work, dry = ways(read_pressure="76 bar")[0], ways(read_product="0 L/h")[0]
    assert not {at_work, dry} & set(ways())
    for first in ({"read_brine": "0 L/min"}, {"sign_relief_runs": "yes"}, {"read_before": "9 bar"}):
        for more in ({"read_pressure": "76 bar"}, {"read_product": "0 L/h"}):
            made = ways(**first, **more)
            assert at_work not in made and dry not in made, (first, more)
            assert made[0] in ways(**first), (first, more)


def test_what_no_cause_explains_has_no_cause_named_for_it() -> None:
    made = told(**WELL | {"read_product": "0 L/h"})
    mends = set(words.MEND.values())
    assert mends.isdisjoint(one.template for one in made.remedies)


def test_the_sea_is_measured_before_membranes_are_cleaned() -> None:
    names = ("read_pressure", "read_temperature", "read_brine")
    some = {name: WELL[name] for name in names} | {"read_product": "30 L/h"}
    made = answered("diagnose", some, "ketch")
    ranks = {row[1] for row in table(made, "causes").rows if row[0] == "1"}
    assert {words.NAMES["saltier"], words.NAMES["fouling"]} <= ranks
    ways = {one.template for one in made.remedies}
    assert words.MEND["saltier"] in ways and words.MEND["fouling"] not in ways


def test_without_a_day_one_no_sea_is_another_than_it_was() -> None:
    some = {name: WELL[name] for name in ("read_pressure", "read_product", "read_brine")}
    made = answered("diagnose", some | {"read_temperature": "12 °C", "readings": ""}, "ketch")
    assert words.NAMES[SEA] not in [row[1] for row in table(made, "causes").rows]
