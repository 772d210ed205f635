"""Units at the edge: what hands write is understood, everything else is refused with a sentence."""

from __future__ import annotations

import math
import re

import pytest
import scipy.constants as sc
from hypothesis import given
from hypothesis import strategies as st

from calc.frame import units

UNDERSTOOD = [
    ("1.5 hp", "W", 1.5 * sc.hp),
    ("46 kg", "kg", 46.0),
    ("1,200 W", "W", 1200.0),
    ("1.200,5 W", "W", 1200.5),
    ("0,75 kW", "W", 750.0),
    ("0,125 kW", "W", 125.0),
    ("1 200", "W", 1200.0),
    ("1'200 W", "W", 1200.0),
    ("5 l/min", "L/h", 5e-3 / 60),
    ("80 °F", "°C", sc.convert_temperature(80, "F", "K")),
    ("80F", "°C", sc.convert_temperature(80, "F", "K")),
    ("25", "°C", 298.15),
    ("-2 °C", "°C", 271.15),
    ("−2 °C", "°C", 271.15),
    ("10 °C", "K", 10.0),
    ("18 °F", "K", 10.0),
    ("800 psi", "bar", 800 * sc.psi),
    ("2 ft", "m", 2 * sc.foot),
    ('18"', "mm", 18 * sc.inch),
    ("20 lb", "kg", 20 * sc.lb),
    ("10 US gal", "L", 10 * sc.gallon_US),
    ("10 imp gal", "L", 10 * sc.gallon_imp),
    ("400 Ah", "Ah", 400 * 3600.0),
    ("1450 rpm", "rpm", 1450 / 60),
    ("80 %", "%", 0.8),
    ("80", "%", 0.8),
    ("0.8 ×", "%", 0.8),
    ("1e3 W", "W", 1000.0),
    ("6 months", "years", sc.Julian_year / 2),
    ("1 furlong", "m", 660 * 1200 / 3937),
    ("15°", "°", math.radians(15)),
    ("35 ppt", "g/kg", 0.035),
    ("35 ‰", "g/kg", 0.035),
]


@pytest.mark.parametrize(("text", "symbol", "expected"), UNDERSTOOD)
def test_understands_how_hands_write(text: str, symbol: str, expected: float) -> None:
    """Expected values by scipy.constants (CODATA and NIST SP 811) or by definition."""
    assert units.parse(text, symbol) == pytest.approx(expected, rel=1e-5)


REFUSED = [
    ("12 V", "m", ["voltage", "a length", "2 m or 6 ft"]),
    ("25 Hz", "rpm", ["frequency", "shaft speed"]),
    ("3 gph", "L/h", ["US gph", "imp gph"]),
    ("3 gal", "L", ["US gal", "imp gal"]),
    ("abc", "m", ["“abc”", "does not begin with a number"]),
    ("", "m", ["number"]),
    ("1e400", "m", ["too large"]),
    ("9999999999999999", "m", ["too large"]),
    ("nan", "m", ["does not begin with a number"]),
    ("inf", "m", ["does not begin with a number"]),
    ("1.2.3.4", "m", ["decimal point"]),
    ("1,2,3", "m", ["commas"]),
    ("5 metrse", "m", ["did you mean “metre", "not a unit"]),
    ("5 <script>alert(1)</script>", "m", ["not a unit"]),
    ("-300 °C", "°C", ["absolute zero"]),
    ("5 __import__('os')", "m", ["not a unit"]),
]


@pytest.mark.parametrize(("text", "symbol", "words"), REFUSED)
def test_refuses_with_a_sentence(text: str, symbol: str, words: list[str]) -> None:
    with pytest.raises(units.UnitError) as caught:
        units.parse(text, symbol)
    for word in words:
        assert word in str(caught.value)


HOUR, DAY = 3600.0, 86400.0
GALLON = {"US": 231 * sc.inch**3, "imp": 4.54609e-3}  # m3, both by definition
BARE = [
    *((word, "L", 1.0) for word in ("gal", "gals", "gallon", "Gallons")),
    *((word, "L", 1 / 4) for word in ("qt", "qts", "quart", "quarts")),
    *((word, "L", 1 / 8) for word in ("pt", "pts", "pint", "pints")),
    *((word, "L/h", 1 / HOUR) for word in ("gph", "gal/h", "gal/hr", "gal/hour", "gallons/hour")),
    *((word, "L/h", 1 / 60) for word in ("gpm", "GPM", "gal/min", "gal/minute")),
    *((word, "L/h", 1 / DAY) for word in ("gpd", "gal/d", "gal/day", "gallons/day")),
    *((word, "¤/L", None) for word in ("¤/gal", "$/gal", "€/gallon", "usd/gal", "$ per gallon")),
]


@pytest.mark.parametrize(("word", "symbol", "share"), BARE)
def test_what_is_advised_in_place_of_a_bare_gallon_is_understood(
    word: str, symbol: str, share: float | None
) -> None:
    """Law: both of the texts that the refusal names are read, each as its land's gallon."""
    with pytest.raises(units.UnitError) as caught:
        units.parse(f"3 {word}", symbol)
    advised = re.findall(r"“([^”]+)”", str(caught.value))[1:]
    assert len(advised) == 2
    kind = units.kind_of(symbol)
    for text, (land, volume) in zip(advised, GALLON.items(), strict=True):
        meant = 3 * volume * share if share else 3 / volume
        assert units.parse(f"3 {text}", symbol) == pytest.approx(meant, rel=1e-6), text
        assert units.parse(units.of_land(f"3 {word}", kind, land), symbol) == pytest.approx(meant)


EVERY_UNIT = sorted(units.UNITS)


@given(st.sampled_from(EVERY_UNIT), st.floats(-1e6, 1e6, allow_subnormal=False))
def test_what_is_shown_can_be_typed_again(key: tuple[str, str], number: float) -> None:
    """A field's text in any unit reads back as the value that it shows."""
    kind, symbol = key
    found = units.UNITS[key]
    number = units.trim(number, 6)
    if abs(number) < 1e-3 or (kind == "temperature" and number < -200):
        number = 20.0
    si = number * found.factor + found.offset
    typed = f"{units.typed_text(si, symbol, kind)} {symbol}"
    assert units.parse(typed, symbol, kind) == pytest.approx(si, rel=1e-5, abs=1e-9)


@given(st.text(max_size=40), st.sampled_from(EVERY_UNIT))
def test_any_text_is_a_finite_number_or_a_sentence(text: str, key: tuple[str, str]) -> None:
    kind, symbol = key
    try:
        value = units.parse(text, symbol, kind)
    except units.UnitError as error:
        assert str(error)
    else:
        assert math.isfinite(value)


@pytest.mark.parametrize("symbol", sorted(units.US_TWIN))
def test_us_twins_measure_the_same(symbol: str) -> None:
    assert units.kind_of(units.US_TWIN[symbol]) == units.kind_of(symbol)


def test_numbers_are_shown_as_a_reader_wants_them() -> None:
    thin = units.THIN_SPACE
    assert units.number_text(1234.5) == f"1{thin}230"
    assert units.number_text(0.0012345) == "0.00123"
    assert units.number_text(-5) == "−5"
    assert units.number_text(0) == "0"
    assert units.text(5.5e6, "bar") == "55 bar"
    assert units.text(5.5e6, "bar", "us") == "798 psi"
    assert units.text(300, "°C", "us") == "80.3 °F"


@given(st.floats(-1e12, 1e12))
def test_trim_hides_the_last_bit(value: float) -> None:
    """Two machines' libraries differ by one unit in the last place at most: never in a report."""
    neighbour = math.nextafter(value, math.inf)
    a, b = units.trim(value), units.trim(neighbour)
    assert a == b or abs(a - b) <= max(abs(a) * 1.1e-8, 1e-300)


@given(
    value=st.floats(0.01, 1e6),
    symbol=st.sampled_from(["W", "VA", "Ah", "h", "L", "bar", "mm", "¤/L"]),
    system=st.sampled_from(["metric", "us"]),
    mark=st.sampled_from([".", ","]),
)
def test_a_least_amount_still_does_when_typed_back_and_a_greatest_one_too(
    value: float, symbol: str, system: str, mark: str
) -> None:
    token = units.decimal_mark.set(mark)
    try:
        si = value * units.unit(symbol).factor
        told = {way: units.text(si, symbol, system, rounding=way) for way in ("down", "up")}
    finally:
        units.decimal_mark.reset(token)
    read = {way: units.trim(units.parse(text, symbol)) for way, text in told.items()}
    assert read["down"] <= units.trim(si) <= read["up"]
    assert read["up"] - read["down"] <= 0.0101 * si


@pytest.mark.parametrize(
    ("typed", "symbol", "value"),
    [
        ("3/4 in", "m", 0.75 * sc.inch),
        ("¾ in", "m", 0.75 * sc.inch),
        ("1 1/2 in", "m", 1.5 * sc.inch),
        ("1½ in", "m", 1.5 * sc.inch),
        ('1-3/8"', "m", 1.375 * sc.inch),
        ("1 US pt", "L", sc.gallon_US / 8),
        ("2 kW", "VA", 2000.0),
        ("2000 watts", "VA", 2000.0),
    ],
)
def test_fractions_pints_and_watts_of_a_plate_are_read(
    typed: str, symbol: str, value: float
) -> None:
    assert units.parse(typed, symbol) == pytest.approx(value)


@pytest.mark.parametrize("typed", ["5' 6\"", "5 ft 6 in", "5'6", "5 ft 6", "5' 6\" ft"])
def test_feet_and_inches_are_one_length(typed: str) -> None:
    told = units.one_number(units.own_unit(typed, "length"), "length")
    assert units.parse(told, "m") == pytest.approx(5.5 * sc.foot)


def test_a_rate_per_thousand_hours_is_no_fraction() -> None:
    assert units.parse("2 /1000 h", "/1000 h") == pytest.approx(2 / 3.6e6)


@pytest.mark.parametrize(
    ("metric", "us"),
    [
        ("from 40 to 55 °C", "from 104 to 131 °F"),
        ("−10 °C", "14 °F"),
        ("60 °C (140 °F)", "140 °F"),
        ("10, 20 or 30 L/h", "2.6, 5.3 or 7.9 US gal/h"),
        ("each 10 K more", "each 18 °F difference more"),
        ("300 × 200 mm", "12 × 7.9 in"),
        ("1.5 mm²", "1.5 mm²"),
        ("24 V, 3 mm/m", "24 V, 3 mm/m"),
    ],
)
def test_amounts_in_the_words_of_the_source_follow_the_units(metric: str, us: str) -> None:
    assert units.in_system(metric, "us") == us
    assert units.in_system(us, "us") == us
    assert units.in_system(metric, "metric") == metric
