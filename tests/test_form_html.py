"""Forms and answers as HTML, and what comes back from a form, without a browser."""

from __future__ import annotations

import json
import re
from html import unescape
from html.parser import HTMLParser
from typing import Any

import pytest

from calc import browser, stock
from calc.frame import sheets, units
from calc.frame.guide import Outcome
from calc.frame.inputs import TYPED, Choice, Layer, Quantity, Rows, Whole, YesNo, binding
from calc.frame.render import choices, html, spaces
from calc.frame.update import page_update
from calc.sheet import BoatSheet


def handle(**request: Any) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(browser.handle(json.dumps(request)))
    assert reply["error"] is None
    return reply


# ---- a unit typed into a box that has a unit beside it ----


@pytest.mark.parametrize(
    ("typed", "kind", "meant"),
    [
        ("300Ah Ah", "charge", "300Ah"),
        ("12 V Ah", "charge", "12 V"),
        ("12 kW W", "power", "12 kW"),
        ("5 lbf ft N m", "torque", "5 lbf ft"),
        ("3 US gal L", "volume", "3 US gal"),
        # Nothing is taken from a number with one unit, of however many words.
        ("300 Ah", "charge", "300 Ah"),
        ("1 200 W", "power", "1 200 W"),
        ("5 lbf ft", "torque", "5 lbf ft"),
        ("3 US gal", "volume", "3 US gal"),
        ("abc Ah", "charge", "abc"),
        ("3/4 in in", "length", "3/4 in"),
        ("3/4 in", "length", "3/4 in"),
        ("3 gph US gal/h", "flow", "3 US gph"),
        ("3 gph imp gal/h", "flow", "3 imp gph"),
        ("3 gph L/h", "flow", "3 gph"),
    ],
)
def test_a_unit_in_the_box_outranks_the_one_beside_it(typed: str, kind: str, meant: str) -> None:
    assert units.own_unit(typed, kind) == meant


@pytest.mark.parametrize(
    ("name", "typed", "number", "symbol"),
    [
        ("run_hours", "1:15 h", 1.25, "h"),
        ("run_hours", "0:20", 1 / 3, "h"),
        ("run_hours", "1 h 15 min h", 1.25, "h"),
        ("run_hours", "1h05", 65 / 60, "h"),
        ("run_hours", "75 min h", 75, "min"),
        ("latitude", "17 N °", 17, "°"),
        ("latitude", "17°30' S °", -17.5, "°"),
        ("latitude", "17° 30,6′ N", 17.51, "°"),
        ("latitude", "-17.5 °", -17.5, "°"),
    ],
)
def test_times_and_latitudes_are_read_as_sailors_write_them(
    name: str, typed: str, number: float, symbol: str
) -> None:
    made = stock.guide().get("power").asks.fields[name]
    assert isinstance(made, Quantity)
    bound = stock.guide().run(stock.guide().get("power"), {name: typed}).bound
    assert bound.faults == []
    assert units.from_si(bound.values[name], symbol) == pytest.approx(number, rel=1e-6)
    shown, beside = html.control_text(made, bound, "metric")
    assert (float(shown), beside) == (pytest.approx(number, rel=1e-4), symbol)


@pytest.mark.parametrize(("name", "typed"), [("run_hours", "1:75 h"), ("latitude", "17 E °")])
def test_what_is_no_time_and_no_latitude_stays_a_fault(name: str, typed: str) -> None:
    faults = stock.guide().run(stock.guide().get("power"), {name: typed}).bound.faults
    assert [f.field for f in faults] == [name]


def test_no_symbol_is_taken_for_two() -> None:
    """Whatever one unit a box is left with, its number keeps it."""
    for kind, known in units.KINDS.items():
        for symbol in known.units:
            assert units.own_unit(f"5 {symbol}".strip(), kind) == f"5 {symbol}".strip()


def test_a_typed_unit_is_read_and_goes_to_its_place() -> None:
    reply = handle(calculator="power", typed={"bank_capacity": "300Ah Ah"})
    assert reply["settled"] == {"bank_capacity": "300", "bank_capacity.unit": "Ah"}
    plain = handle(calculator="power", typed={"bank_capacity": "300 Ah"})
    assert reply["slots"]["answer"] == plain["slots"]["answer"]
    assert plain["settled"] == {}
    sheet = handle(do="sheet", sheet={"bank_capacity": "0.3 kAh Ah"})
    assert sheet["attributes"]["bank_capacity"]["aria-invalid"] is None


def test_a_foreign_unit_in_a_box_is_told_as_it_was_typed() -> None:
    reply = handle(calculator="power", typed={"bank_capacity": "12 V Ah"})
    told = re.sub(r"<[^>]*>", "", reply["slots"]["field.bank_capacity"])
    assert "“V” measures" in told and "Ah" in told and "Ah Ah" not in told
    assert reply["settled"] == {}


def test_what_a_link_brought_is_not_called_the_readers_own() -> None:
    typed = {"run_hours": "2 h", "bank_capacity": "500 Ah"}
    slots = handle(calculator="power", typed=typed, linked=["run_hours"])["slots"]
    assert slots["field.run_hours"].startswith("from the link: 2")
    assert slots["field.bank_capacity"].startswith("yours: 500")
    rows = {"lay_ups": [{"start": "2026-11-01", "end": "2027-03-01"}]}
    slots = handle(calculator="upkeep", typed=rows, linked=["lay_ups"])["slots"]
    assert slots["field.lay_ups"] == "from the link"
    assert slots["field.lay_ups.0.start"].startswith("from the link")


class _Lists(HTMLParser):
    """The values of each named list, as a browser reads them."""

    def __init__(self) -> None:
        super().__init__()
        self.found: dict[str, list[str]] = {}
        self._list: list[str] = []
        self._told: str | None = None

    def handle_starttag(self, tag: str, attrs: list[tuple[str, str | None]]) -> None:
        named = dict(attrs)
        self._end()
        if tag == "select":
            self._list = self.found[named.get("name") or ""] = []
        elif tag == "option":
            self._list.append(named.get("value") or "")
            self._told = None if "value" in named else ""

    def handle_data(self, data: str) -> None:
        if self._told is not None:
            self._told += data

    def handle_endtag(self, tag: str) -> None:
        self._end()

    def _end(self) -> None:
        if self._told is not None:
            self._list[-1] = " ".join(self._told.split(" ")).strip(" ")
            self._told = None


@pytest.mark.parametrize("system", ["metric", "us"])
@pytest.mark.parametrize("name", stock.guide().names())
def test_a_choice_has_its_value_written_or_told(name: str, system: str) -> None:
    made = stock.guide().get(name)
    bound = stock.guide().bind(made.asks)
    lists = _Lists()
    lists.feed(html.form(made, bound, system))
    for key, field in made.asks.fields.items():
        if isinstance(field, Quantity) and f"{key}.unit" in lists.found:
            assert lists.found[f"{key}.unit"] == list(units.KINDS[field.kind].units)
        elif isinstance(field, Choice):
            assert [one for one in lists.found[key] if one or "" in field.choices] == list(
                field.choices
            )
        elif isinstance(field, YesNo):
            assert {"yes", "no"} <= set(lists.found[key])


@pytest.mark.parametrize(
    ("value", "told", "marks", "is_written"),
    [
        ("h", "h", "", False),
        ("5 a", "5 a", "", False),
        ("a&b", "a&amp;b", "", False),
        ("m3", "m³", "", True),
        ("5  a", "5  a", "", True),  # HTML reads one space
        (" a", " a", "", True),
        ("5\u00a0a", "5\u00a0a", "", True),
        ("a", "a", ' data-slot="a"', True),  # its text changes with the units, its value doesn't
        ("", "nothing", "", True),
    ],
)
def test_only_what_html_reads_as_the_value_is_left_out(
    value: str, told: str, marks: str, is_written: bool
) -> None:
    assert (" value=" in choices.option(value, told, marks=marks)) == is_written


# ---- the boat sheet ----


def test_each_list_and_choice_of_the_sheet_can_be_taken_back() -> None:
    form = "".join(make({}, "metric", "s-", stock.guide()) for make in (sheets.form, sheets.apart))
    lists = [name for name, made in BoatSheet.fields.items() if isinstance(made, Rows)]
    assert form.count("data-unsay") == len(lists)
    for select in re.findall(r"<select id=.*?</select>", form):
        if ' name="' in select and ".unit" not in select and "." not in select.split(">")[0]:
            first = re.search(r"<option[^>]*>([^<]*)", select)
            assert first and first[1] == "— not said —", select[:200]


def test_the_verdicts_for_a_boat_come_without_its_form() -> None:
    request = {
        "sheet": {"bank_capacity": "431 Ah"},
        "pages": {key: {} for key in stock.guide().names()},
    }
    verdicts, form = handle(do="verdicts", **request), handle(do="sheet", **request)
    assert list(verdicts["slots"]) == ["dashboard"]
    assert verdicts["slots"]["dashboard"].count("data-dashboard=") == len(stock.guide().names())
    assert form["values"]["bank_capacity"] == "431"
    assert "dashboard" not in form["slots"] and "field.bank_capacity" in form["slots"]


# ---- an answer's words ----


@pytest.mark.parametrize(
    ("text", "kept"),
    [
        ("it draws 896 W at 230 V", "it draws 896~W at 230~V"),
        ("1 230 000 W", "1_230_000~W"),
        ("20.3 L (5.36 US gal) a day", "20.3~L (5.36~US~gal) a day"),
        ("≤ 30 %", "≤~30~%"),
        ("22 K (39.6 °F difference)", "22~K (39.6~°F difference)"),
        ("in 2026 100 boats, 3 of them here", "in 2026 100 boats, 3 of them here"),
    ],
)
def test_no_line_parts_a_number_from_its_unit(text: str, kept: str) -> None:
    made = spaces.kept_together(text)
    assert made.replace(spaces.NO_BREAK, "~").replace(spaces.NARROW, "_") == kept


def test_code_on_a_page_stays_as_it_is_written() -> None:
    made = spaces.in_page('<p title="5 kW">5 kW</p><pre><code>x = "5 kW"</code></pre><p>6 kW</p>')
    assert made.replace(spaces.NO_BREAK, "~") == (
        '<p title="5 kW">5~kW</p><pre><code>x = "5 kW"</code></pre><p>6~kW</p>'
    )


@pytest.mark.parametrize("name", stock.guide().names())
def test_of_an_answer_only_the_verdict_is_read_out_and_each_limit_has_its_mark(name: str) -> None:
    slots = handle(calculator=name, example={"boat": "ketch"})["slots"]
    answer = slots["answer"]
    assert answer.count("aria-live") == 1
    live = re.search(r'<div class="verdict-told"[^>]*aria-live.*?</div>', answer)
    assert live and "verdict-reason" in live[0] and "<a " not in live[0]
    for row in re.findall(r"<tr[^>]* data-figure=.*?</tr>", answer):
        if "left-over" in row:
            assert re.search(r'<svg class="sign.*<span class="sr">[^<]+</span>', row), row
    place = re.search(r'class="to-answer" href="#([^"]+)"', answer)
    assert place and f'id="{place[1]}"' in answer


@pytest.mark.parametrize("name", stock.guide().names())
def test_a_folded_group_names_what_it_is_set_to(name: str) -> None:
    asks = stock.guide().get(name).asks
    slots = handle(calculator=name, example={"boat": "ketch"})["slots"]
    for group, members in html.groups(asks).items():
        labels = [m.label for m in members if not isinstance(m, Rows)]
        ones = [m.one for m in members if isinstance(m, Rows)]
        line = re.sub(r"<[^>]*>", "", slots[f"group.{group}"]).replace(" …", "")
        for part in unescape(line).split(" · "):
            told = part.replace(spaces.NO_BREAK, " ").replace(spaces.NARROW, " ")
            assert not told or told.startswith(tuple(labels)) or told.endswith(tuple(ones)), part


def test_whole_numbers_of_the_sheet_bring_up_a_number_keyboard() -> None:
    form = sheets.form({}, "metric", "s-", stock.guide())
    names = [name for name, made in BoatSheet.fields.items() if isinstance(made, Whole)]
    assert names
    for name in names:
        control = re.search(rf'<input[^>]*name="{name}"[^>]*>', form)
        assert control, name
        assert 'inputmode="numeric"' in control[0], name


def _asked(name: str, typed: dict[str, str], **more: Any) -> dict[str, Any]:
    request = {"calculator": name, "example": {"boat": "ketch"}, "typed": typed, **more}
    reply: dict[str, Any] = json.loads(browser.handle(json.dumps(request)))
    return reply


def test_an_inverter_in_watts_is_taken_and_told_so() -> None:
    reply = _asked("power", {"inverter_power": "2000 W VA", "inverter_surge": "4 kW"})
    assert reply["attributes"]["inverter_power"]["aria-invalid"] is None
    note = reply["slots"]["field.inverter_power"].replace("\u00a0", " ").replace("\u202f", " ")
    assert "2 000 VA" in note
    assert "inverter_power" not in reply["settled"]  # what she typed stays beside what is taken


def test_a_bank_in_kilowatt_hours_is_taken_by_its_voltage() -> None:
    asks = stock.guide().get("power").asks
    bound = stock.guide().bind(
        asks, Layer(TYPED, {"bank_capacity": "3 kWh", "bank_voltage": "24 V"})
    )
    assert bound.values["bank_capacity"] / 3600 == pytest.approx(125.0)
    assert "bank_capacity" in bound.taken
    wrong = stock.guide().bind(
        asks, Layer(TYPED, {"bank_capacity": "3 kWh", "bank_voltage": "x V"})
    )
    assert {f.field for f in wrong.faults} == {"bank_capacity", "bank_voltage"}


def test_where_us_is_chosen_a_gallon_is_one_of_its_own() -> None:
    typed = {"product_flow": "10 gph L/h"}
    assert _asked("power", typed)["attributes"]["product_flow"]["aria-invalid"]
    reply = _asked("power", typed, units="us")
    assert reply["attributes"]["product_flow"]["aria-invalid"] is None
    assert reply["settled"]["product_flow.unit"] == "US gal/h"


def test_what_a_default_rests_on_is_not_told_of_her_own_value() -> None:
    """It names where ours comes from, an example's too; of what her sheet says it would be untrue."""
    page = stock.guide().get("cost")
    asked = {"calculator": "cost", "typed": {}, "today": "2026-05-01"}
    for name in ("outlay", "quay_price", "boost_supply"):
        basis = page.asks.fields[name].basis
        assert basis

        def note(name: str = name, **more: Any) -> str:
            return str(handle(**asked, **more)["slots"][f"field.{name}"])

        assert basis in note(example={})
        hers = {"outlay": "5000 ¤", "quay_price": "0.03 ¤/L", "boost_supply": "ac"}
        assert basis not in note(sheet={"unit": "skerry-45"} | hers, own=True)
        assert basis not in note(sheet=hers, example={"boat": "ketch"})


def test_a_large_number_may_be_parted_from_its_unit_and_nothing_else() -> None:
    """“−1 050 days” has no room on a phone; its last letter stood alone."""
    hers = {"unit": "skerry-45", "started": "2024-01-01"}
    made = stock.guide().run(stock.guide().get("upkeep"), hers, today="2026-11-30", own_boat=True)
    first = re.findall(r"<dd>(.*?)</dd>", html.answer(made))[0]
    assert first.split(" ") == ["−1\u202f050", "days"]


def test_limits_and_numbers_follow_the_units() -> None:
    for units_shown in ("metric", "us"):
        reply = _asked("power", {"product_flow": "9e9"}, units=units_shown)
        told = reply["slots"]["field.product_flow"]
        assert ("gal/h" in told) == (units_shown == "us")
        assert ("L/h" in told) == (units_shown == "metric")
    values = _asked("power", {}, units="us")["values"]
    assert values["pressure.unit"] == "psi"
    for name, shown in values.items():
        digits = re.sub(r"\D", "", shown).strip("0")
        if values.get(f"{name}.unit") in ("psi", "US gal/h", "ft", "in", "lb", "°F"):
            assert len(digits) <= 4, (name, shown)


_METRIC = re.compile(r"\d[  \u202f](L|L/h|bar|mm|cm|m|kg|°C|m²|kg/m²|kg/m³|m/s|N m|K)(?![\w/²³])")


@pytest.mark.parametrize("name", stock.guide().names())
def test_us_units_go_through_a_whole_page(name: str) -> None:
    """Sentences, labels, help, choices, limits and cautions; the working's sources stay."""
    reply = _asked(name, {}, units="us")
    for slot, shown in reply["slots"].items():
        told = re.sub(r'<p class="source">.*?</p>|<details class="sources".*?</details>', "", shown)
        told = unescape(re.sub(r"<[^>]*>", " ", told)).replace("\u00a0", " ")
        for own in ("Pump oil (0.3 L", "Alder, 12.6 m steel ketch"):  # names
            told = told.replace(own, "")
        metric = _METRIC.search(told)
        assert metric is None, (slot, told[max(0, metric.start() - 60) : metric.end()])


@pytest.mark.parametrize("name", stock.guide().names())
def test_a_folded_groups_line_holds_all_its_values_for_paper(name: str) -> None:
    made = stock.guide().get(name)
    bound = stock.guide().run(made, example={"boat": "ketch"}).bound
    for members in html.groups(made.asks).values():
        line = html.group_line(members, bound, "metric")
        told = unescape(re.sub(r'<span class="group-more".*?</span>|<[^>]*>', "", line))
        told = told.replace("\u00a0", " ").replace("\u202f", " ")
        for field in members:
            value = bound.values.get(field.name)
            if bound.asked(field.name) and value is not None and not isinstance(field, Rows):
                shown = field.shown(value).replace("\u202f", " ").replace("\u2009", " ")
                assert shown in told, (field.name, shown, told)


def test_rows_that_are_shown_again_are_those_that_would_be_made_anew() -> None:
    """Of a list that is read once nothing old stays: not after an edit, a move, a fault, in other
    units, nor where a link brought it."""
    parts = [
        {"name": "Gauge", "rate": "0.5 /1000 h", "mass": "0.3 kg"},
        {"name": "Packing set", "life": "2000 h", "shape": "2", "mass": "0.2 kg"},
    ]
    changed = [{**parts[0], "mass": "0.4 kg"}, parts[1]]
    faulty = [{**parts[0], "mass": "much"}, parts[1]]
    requests: list[dict[str, Any]] = [
        {"typed": {"parts": rows}, **more}
        for rows in (parts, changed, faulty, parts[::-1], [*parts, parts[0]], parts[:1])
        for more in ({}, {"units": "us"}, {"linked": ["parts"]}, {"fill": True})
    ]
    requests += [{"sheet": {"unit": "skerry-70"}, "typed": {}}, {"typed": {}}]
    common = {"calculator": "spares", "example": {"boat": "ketch"}, "do": "answer"}
    in_turn = [handle(**common, **request) for request in requests * 2]
    for request, reply in zip(requests * 2, in_turn, strict=True):
        binding._bound_texts.cache_clear()
        assert handle(**common, **request) == reply


@pytest.mark.parametrize("name", stock.guide().names())
def test_controls_that_are_shown_again_are_those_that_would_be_made_anew(name: str) -> None:
    """Nothing old stays at a field: not after another value, a fault, another source, other units."""
    guide = stock.guide()
    made = guide.get(name)
    numbers = [one.name for one in made.asks.fields.values() if isinstance(one, Quantity)]
    boat = dict(guide.shelf("boat")["ketch"].texts)
    quarter, faulty = dict.fromkeys(numbers[::4], "1"), dict.fromkeys(numbers[::3], "?")

    def read(
        typed: Any, sheet: Any, example: Any, own: bool, lacking: frozenset[str] = frozenset()
    ) -> Outcome:
        layers = guide.layers(made, typed, sheet, {"boat": example}, "", own)
        bound = guide.bind(made.asks, *layers, own_boat=own)
        bound.lacking = lacking
        return Outcome(bound, None)

    linked = frozenset(quarter)
    forms = [
        (read({}, {}, "ketch", False),),
        (read(quarter, {}, "catamaran", False),),
        (read(faulty, {}, "ketch", False),),
        (read(quarter, {}, "ketch", False), True, linked),
        (read({}, boat, "", True), True),
        (read({}, {"name": "a"}, "", True, linked),),
        (read({}, {}, "ketch", False),),
    ]
    shown: list[Any] = [(form[0], "metric", "", *form[1:]) for form in forms]
    shown += [(forms[-1][0], "us", ""), (forms[-1][0], "metric", "")]
    in_turn = [page_update(made, *one) for one in shown]
    for one, found in zip(shown, in_turn, strict=True):
        for field in made.asks.fields.values():
            field.told.clear()
        assert page_update(made, *one) == found
