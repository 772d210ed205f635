"""What would do, of Power, typed back as it is printed."""

from __future__ import annotations

import random

import pytest
from answers import failures, limit, option, remedy_for, slots, table, typed
from test_power import ABLE, POWER, report, values, way

from calc import stock
from calc.frame import units
from calc.frame.report import FAILS, FITS, TIGHT, Amount, Option, Remedy, Report, parted
from calc.physics import chemistries

PRINTED = {  # by the field that a remedy fills in: the slots of its sentence, and their fields
    "other_load": {"p": "other_load"},
    "inverter_load": {"p": "inverter_load"},
    "run_hours": {"t": "run_hours"},
    "array_power": {"p": "array_power"},
    "generator_power": {
        "p": "generator_power",
        "f": "generator_power_factor",
        "s": "generator_peak",
    },
    "inverter_power": {"c": "inverter_power", "s": "inverter_surge", "t": "inverter_surge_time"},
    "bank_capacity": {"b": "bank_capacity", "m": "bank_bms"},
}


def printed(remedy: Remedy, system: str, mark: str) -> dict[str, str]:
    """What a reader types who types the sentence's own numbers; the law of the frame tries what the
    page fills in, and a step less (test_remedies)."""
    token = units.decimal_mark.set(mark)
    told = {name: a.text(system) for name, a in remedy.amounts.items() if isinstance(a, Amount)}
    units.decimal_mark.reset(token)
    if "all" in told:  # what is there and what is put back, of panels
        told["p"] = told["all"]
    first = next((name for name in remedy.sets if name in PRINTED), "")
    pairs = PRINTED.get(first, {})
    return {field: told[slot] for slot, field in pairs.items() if slot in told}


def hold(boat: dict[str, str], system: str = "metric", mark: str = ".") -> list[str]:
    """Types every remedy of a boat's ways back; the fields that were filled in."""
    form = {name: text for name, text in boat.items() if name != "boat"}
    made = report(boat["boat"], **form)
    tried = [
        (o.key, r, printed(r, system, mark))
        for o in made.options
        for r in o.remedies
        if isinstance(r, Remedy) and r.sets and not r.mends
    ]
    wrong = [
        (key, told, boat)
        for key, r, told in tried
        if way(key, boat["boat"], **form | r.typed() | told).verdict not in ABLE
    ]
    assert wrong == []
    return [field for _, _, told in tried for field in told]


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("mark", [".", ","])
@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_every_remedy_of_a_demo_boat_holds_as_printed(boat: str, mark: str, system: str) -> None:
    every = {field for pairs in PRINTED.values() for field in pairs.values()}
    assert every - set(hold({"boat": boat}, system, mark)) <= {"other_load"}


def random_boat(seed: int) -> dict[str, str]:
    """A demo boat with half of what decides changed at random."""
    dice = random.Random(seed)
    ranges = {
        "pressure": (38, 58, "bar"), "run_hours": (0.5, 6, "h"), "bank_capacity": (60, 1200, "Ah"),
        "bank_health": (60, 100, "%"), "bank_temperature": (1, 40, "°C"),
        "inverter_power": (700, 5000, "VA"), "inverter_load": (0, 600, "W"),
        "generator_power": (700, 8000, "W"), "other_load": (0, 1500, "W"),
        "array_power": (100, 3000, "W"), "latitude": (-50, 50, "°"), "engine_hours": (0, 4, "h"),
        "ambient_temperature": (10, 50, "°C"),
    }  # fmt: skip
    boat = {"boat": dice.choice(["ketch", "catamaran"]), "start": dice.choice(["soft", "direct"])}
    others = {
        "bank_temperature": ["-10 °C", "2 °C", "52 °C"],
        "bank_bms": ["90 A", "200 A"],
        "bank_chemistry": list(chemistries.CHEMISTRIES),
        "ac_frequency": ["50 Hz", "60 Hz"],
        "start_loaded": ["yes"],
    }
    boat |= {name: dice.choice(texts) for name, texts in others.items() if dice.random() < 0.25}
    for name, (low, high, symbol) in ranges.items():
        if dice.random() < 0.5:
            boat[name] = f"{dice.uniform(low, high):.3g} {symbol}"
    return boat


@pytest.mark.parametrize("seed", range(24))
def test_every_remedy_of_a_random_boat_holds_as_printed(seed: int) -> None:
    hold(random_boat(seed))


def own_boat(seed: int) -> dict[str, str]:
    """What an owner says of her boat in the few words that decide, and a little besides."""
    dice = random.Random(seed)
    unit = dice.choice(["skerry-45", "skerry-70", "skerry-45-60", "skerry-70-60"])
    us = unit.endswith("60")
    said = {
        "unit": [unit],
        "ac_voltage": ["115 V" if us else "230 V"],
        "ac_frequency": ["60 Hz" if us else "50 Hz"],
        "inverter_power": ["1000 VA", "1500 VA", "2500 VA", "4000 VA"],
        "bank_chemistry": list(chemistries.CHEMISTRIES),
        "bank_voltage": ["12 V", "24 V"],
        "bank_capacity": ["100 Ah", "200 Ah", "400 Ah", "600 Ah"],
    }
    more = {
        "run_hours": ["1 h", "2 h", "4 h"],
        "start": ["soft", "direct"],
        "has_boost": ["yes", "no"],
        "generator_power": ["1600 W", "2000 W", "5000 W"],
        "alternator_current": ["60 A", "120 A"],
        "engine_hours": ["1 h"],
        "array_power": ["300 W", "900 W"],
        "inverter_idle": ["8 W", "25 W"],
        "inverter_efficiency": ["94 %"],
        "bank_health": ["100 %"],
    }
    said |= {name: texts for name, texts in more.items() if dice.random() < 0.5}
    return {name: dice.choice(texts) for name, texts in said.items()}


def hers(said: dict[str, str]) -> Report:
    """The answer for a boat of one's own."""
    outcome = stock.guide().run(POWER, sheet=said, own_boat=True)
    assert outcome.report is not None, [str(fault) for fault in outcome.bound.faults]
    return outcome.report


def of_her_own(said: dict[str, str]) -> dict[str, Option]:
    """Every way of a boat of one's own, by its key."""
    return {one.key: one for one in hers(said).options}


def lifted(before: Option, after: Option, mends: str) -> bool:
    """Whether a tight way is no longer tight, or not for what was named."""
    if mends in [one.key for one in before.reservations]:
        return after.verdict in ABLE and mends not in [one.key for one in after.reservations]
    return after.verdict == FITS


def test_every_remedy_of_a_boat_of_ones_own_holds_as_printed() -> None:
    """What follows from what nobody said, as an inverter's idle draw does from its size, is in what
    is told as it is in what is typed back."""
    inverters = 0
    for seed in range(40):
        said = own_boat(seed)
        for key, one in of_her_own(said).items():
            for r in one.remedies:
                if not isinstance(r, Remedy) or not r.sets:
                    continue
                for told in ({}, printed(r, "metric", ".")):
                    back = of_her_own(said | r.typed() | told)[key]
                    held = r.mends or back.verdict in ABLE
                    assert held, (said, r.typed(), told)
                    lifts = one.verdict != TIGHT or r.reach or lifted(one, back, r.mends)
                    assert lifts, (said, r.typed(), told)
                inverters += "inverter_power" in r.sets and "inverter_idle" not in said
    assert inverters > 10


SETS = [
    ("skerry-45", "2200 W", "3 kW"),
    ("skerry-70", "5500 W", "7600 W"),
    ("skerry-70", "8500 W", ""),
]


@pytest.mark.parametrize(("unit", "power", "peak"), SETS)
def test_a_set_that_is_tight_is_lifted_by_a_larger_one_and_by_nothing_less(
    unit: str, power: str, peak: str
) -> None:
    """What tells how far the set reaches stands apart."""
    mains = {"unit": unit, "ac_voltage": "230 V", "ac_frequency": "50 Hz", "has_inverter": "no"}
    said = mains | {"generator_power": power, "generator_peak": peak}
    made = hers(said)
    before = option(made, "generator")
    mending, far = parted(made.verdict, before.remedies)
    assert before.verdict == TIGHT and far
    (larger,) = mending
    assert isinstance(larger, Remedy) and larger.mends == before.decided_by
    for told in ({}, printed(larger, "metric", ".")):
        assert of_her_own(said | larger.typed() | told)["generator"].verdict == FITS
    less = units.parse(larger.typed()["generator_power"], "W") - 100
    short = said | larger.typed() | {"generator_power": f"{less:.0f} W"}
    if not peak:
        assert of_her_own(short)["generator"].verdict == TIGHT
    assert made.ways(len(before.remedies)) == (mending, far)


HER_BANK = typed(
    "unit: skerry-45; ac_voltage: 230 V; ac_frequency: 50 Hz; start: soft; inverter_power: 3 kVA; "
    "bank_voltage: 24 V; run_hours: 2 h; alternator_current: 80 A; engine_hours: 3 h; "
    "house_day: 20 W; house_night: 10 W"
)


@pytest.mark.parametrize(
    ("kind", "size", "managed"),
    [("agm", "280 Ah", ""), ("flooded", "320 Ah", ""), ("lifepo4", "150 Ah", "150 A")],
)
def test_a_bank_that_is_tight_is_lifted_by_a_larger_one_and_by_nothing_less(
    kind: str, size: str, managed: str
) -> None:
    said = HER_BANK | {"bank_chemistry": kind, "bank_capacity": size, "bank_bms": managed}
    before = of_her_own(said)["inverter"]
    mending, far = parted(before.verdict, before.remedies)
    assert (before.verdict, before.decided_by) == (TIGHT, "hours") and far
    (larger,) = mending
    assert isinstance(larger, Remedy) and larger.mends == before.decided_by
    for told in ({}, printed(larger, "metric", ".")):
        assert of_her_own(said | larger.typed() | told)["inverter"].verdict == FITS
    less = units.parse(larger.typed()["bank_capacity"], "Ah") / 3600 - 10
    short = said | larger.typed() | {"bank_capacity": f"{less:.0f} Ah"}
    assert of_her_own(short)["inverter"].verdict == TIGHT


@pytest.mark.parametrize(
    ("said", "decides", "larger"),
    [
        ("inverter_power: 1300 VA; inverter_surge: 3200 VA", "start_surge", ["surge"]),
        ("inverter_power: 1100 VA; inverter_surge: 4 kVA", "apparent", ["power"]),
        ("inverter_power: 1100 VA; inverter_surge: 3100 VA", "start_surge", ["power", "surge"]),
        (
            "inverter_power: 1300 VA; inverter_surge: 3200 VA; bank_chemistry: agm; "
            "bank_capacity: 280 Ah; bank_bms: ",
            "hours",
            ["surge", "bank"],
        ),
    ],
)
def test_an_inverter_that_is_tight_is_lifted_by_a_larger_one_and_by_nothing_less(
    said: str, decides: str, larger: list[str]
) -> None:
    """Of her inverter no rating becomes smaller; the bank is named where it is tight too."""
    boat = HER_BANK | typed("bank_chemistry: lifepo4; bank_capacity: 600 Ah; bank_bms: 200 A")
    boat |= typed(said)
    before = of_her_own(boat)["inverter"]
    mending, _ = parted(before.verdict, before.remedies)
    assert (before.verdict, before.decided_by) == (TIGHT, decides)
    (one,) = mending
    assert isinstance(one, Remedy) and one.mends == decides
    assert ("bank_capacity" in one.sets) == ("bank" in larger)
    for told in ({}, printed(one, "metric", ".")):
        assert of_her_own(boat | one.typed() | told)["inverter"].verdict == FITS
    for rating in ("power", "surge"):
        field = f"inverter_{rating}"
        was, found = (units.parse(texts[field], "VA") for texts in (boat, one.typed()))
        assert found > was if rating in larger else found == was
        less = {field: f"{found - 100:.0f} VA"}
        short = of_her_own(boat | one.typed() | less)["inverter"].verdict
        assert short != FITS or rating not in larger


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_table_of_smallest_banks_holds_as_printed(boat: str) -> None:
    kinds = {kind.name: key for key, kind in chemistries.CHEMISTRIES.items()}
    volts = f"{values(boat).bank_voltage:g} V"
    told = [
        {
            "bank_chemistry": kinds[str(row[0])],
            "bank_capacity": row[1].text(),
            "bank_bms": row[4].text(),
        }
        for row in table(report(boat), "banks").rows
        if isinstance(row[1], Amount) and isinstance(row[4], Amount)
    ]
    found = [way("inverter", boat, **one, bank="", bank_voltage=volts).verdict for one in told]
    assert found and set(found) <= set(ABLE)


def test_other_loads_keep_every_limit_of_the_bank() -> None:
    """A weak management, a small bank, long hours: each holds the load down, none is overlooked."""
    free = load_told(report("catamaran", run_hours="0.5 h"))
    assert free > 500
    assert 0 < load_told(report("catamaran", run_hours="0.5 h", bank_bms="150 A")) < free
    assert 0 < load_told(report("catamaran", run_hours="0.5 h", bank_capacity="150 Ah")) < free
    assert 0 < load_told(report("catamaran")) < free


@pytest.mark.parametrize(
    "form",
    [
        {"bank_bms": "80 A"},
        {"bank_capacity": "150 Ah"},
        {"run_hours": "6 h"},
        {"inverter_surge": "2100 VA"},
    ],
)
def test_no_other_load_is_promised_on_a_way_that_fails_without_it(form: dict[str, str]) -> None:
    made = report("catamaran", **form)
    assert option(made, "inverter").verdict == FAILS
    assert load_told(made) == 0


def load_told(made: Report) -> float:
    """The other load [W] that the inverter's way promises, 0 where none."""
    found = remedy_for(option(made, "inverter"), "inverter_load")
    load = found and found.sets["inverter_load"]
    return load.value if isinstance(load, Amount) else 0.0


@pytest.mark.parametrize("boat", ["ketch", "catamaran"])
def test_the_smallest_generator_holds_for_a_set_of_ones_own(boat: str) -> None:
    """Typed in without a record, with the power factor that it is named with; VA agree with it."""
    told = next(slots(r) for r in way("generator", boat).remedies if set("pfast") == set(r.amounts))
    own = {"generator": "", "generator_power": told["p"], "generator_peak": told["s"]}
    found = way("generator", boat, **own, generator_power_factor=told["f"])
    assert found.verdict in ABLE
    assert limit(found, "apparent") == pytest.approx(units.parse(told["a"], "VA"), rel=0.005)


def test_no_more_panels_are_named_than_a_boat_has_room_for() -> None:
    dark, light = (
        way("sun", "ketch", f"latitude: {degrees}°; day: {day}; array_power: 1 kW; run_hours: 3 h")
        for degrees, day in ((55, "2026-12-21"), (20, "2026-06-21"))
    )
    named = [
        [r for r in sun.remedies if "array_power" in getattr(r, "sets", {})]
        for sun in (dark, light)
    ]
    assert [len(one) for one in named] == [0, 1]


def test_a_typed_alternator_that_the_examples_record_refuses_says_how_to_mend_it() -> None:
    form = "bank_voltage: 12 V; alternator_current: 60 A"
    found, mended = (way("alternator", form=form + more) for more in ("", "; alternator: "))
    assert (found.verdict, failures(found)) == (FAILS, ["foreign-bank"])
    assert found.remedies and not mended.failures


# ---- a charger beside the pump, and the inverter of a way that charges ----


@pytest.mark.parametrize("seed", range(12))
def test_a_set_that_bears_no_pump_beside_its_charger_is_told_what_it_bears(seed: int) -> None:
    """A charger turned down to whole amperes, and to no ampere more; or a larger set."""
    dice = random.Random(seed)
    form = {
        "start": "soft",
        "generator_power": f"{dice.uniform(2500, 3500):.0f} W",
        "charger_current": f"{dice.uniform(90, 150):.1f} A",
    }
    before = option(report("ketch", **form), "with_charger")
    assert before.verdict == FAILS
    tried = {field: r.typed() for r in before.remedies if isinstance(r, Remedy) for field in r.sets}
    assert {"generator_power", "charger_current"} <= tried.keys()
    for typed_back in tried.values():
        assert way("with_charger", "ketch", **form | typed_back).verdict in ABLE
    more = units.parse(tried["charger_current"]["charger_current"], "A") + 1
    assert way("with_charger", "ketch", **form | {"charger_current": f"{more} A"}).verdict == FAILS


def test_a_pump_that_may_start_first_has_its_charger_switched_on_later() -> None:
    """Where the set starts the pump alone and carries both, it takes no other machine."""
    form = {"start": "soft", "generator_power": "2400 W", "charger_current": "30 A"}
    before = option(report("ketch", **form), "with_charger")
    assert before.decided_by == "start_apparent" and before.verdict == FAILS
    first = before.remedies[0]
    assert not (isinstance(first, Remedy) and first.sets)
    assert way("generator", "ketch", **form).verdict in ABLE
    for key in ("load", "apparent"):
        assert next(f.state for f in before.figures if f.key == key) != FAILS


def test_a_way_that_charges_and_hangs_on_its_inverter_names_another() -> None:
    """Alternator, charger and sun share the inverter of the bank alone, and what lifts it."""
    told = {"alternator": 0, "charger": 0, "sun": 0}
    for seed in range(40):
        boat = random_boat(seed)
        form = {name: text for name, text in boat.items() if name != "boat"}
        for one in report(boat["boat"], **form).options:
            for r in one.remedies:
                if one.key not in told or not (
                    isinstance(r, Remedy) and "inverter_power" in r.sets
                ):
                    continue
                back = way(one.key, boat["boat"], **form | r.typed() | printed(r, "metric", "."))
                assert back.verdict == FITS or (back.verdict == TIGHT and one.verdict == FAILS)
                told[one.key] += 1
    assert min(told.values()) > 0
