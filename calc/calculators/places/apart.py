"""The set apart: its parts over the places, by the judging of the pages that they belong to."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass, replace
from typing import Any

from ...frame.asking import Answered, Asking
from ...frame.figures import SEVERITY
from ...frame.report import FAILS, FITS, TIGHT, UNKNOWN, Report, Words, line
from ...physics import hydrostatics
from ...system import apart, feed_line, motor
from ...system.apart import Fed, Problem, Site, Standing, Way
from ...system.cables import Side
from ...system.feed_line import FeedLine
from ...system.locker import Sizes
from ...system.to_buy import ABOVE, BELOW, wet
from .._laid import laid_out
from .asks import Asks
from .subjects import Judged, margin

USUAL_TUBE = 1.016  # m, of a membrane of 40 inches
ELBOWS = 6
"""Bends that the high-pressure hoses have: common practice, no source."""


@dataclass(frozen=True)
class Basis:
    """What the pages have of the boat that all ways share: the feed line and the pressure side, as
    they judge them."""

    line: FeedLine
    bore: float
    flow: float
    pressure: float
    water: feed_line.Water
    tubes: float

    def high(self, length: float) -> feed_line.Hose:
        """The high-pressure hoses, of a length."""
        return feed_line.Hose(length, self.bore, ELBOWS)


Row = tuple[Any, ...]


def tell(q: Asks, found: Sequence[Judged], ask: Asking, show: Report) -> None:
    """The ways that no other beats, and three of them in full; or what is lacking for that."""
    known = {place.number: place for place in found}
    sites = [site for place in found if (site := _site(place)) is not None]
    basis = _basis(q, found, ask)
    if len(sites) < 2 or basis is None:
        show.note(
            "To set the parts apart, two places or more must say their sizes, where they lie, how "
            "high, how far one reaches and the hose from the seacock; and the pages “Is the pump "
            "fed?” and “Pressure” must have their answers."
        )
        return
    sites.sort(key=lambda site: site.number)
    problem = _problem(q, tuple(sites), known, basis, ask)
    best = apart.front(apart.ways(problem))
    three = apart.told(best)
    _compare(best, three, known, apart.tried(problem), show)
    wired = {number: _wired(known[number]) for number in {way.unit.number for _, way in three}}
    for number, (key, way) in enumerate(three, 1):
        cable = _cable(known[way.unit.number], wired[way.unit.number])
        rows = [*_hoses(q, way, known, basis), *cable]
        _parts(number, key, rows, show)


# ---- what is known ----


def _site(place: Judged) -> Site | None:
    spot = place.spot
    told = (
        spot.ahead,
        spot.aside,
        spot.pump_height,
        spot.locker_length,
        spot.locker_width,
        spot.locker_height,
        spot.reach,
        spot.feed_length,
    )
    if any(one is None for one in told):
        return None
    ahead, aside, height, long, wide, high, reach, sea = [one or 0.0 for one in told]
    floor = height if spot.floor_height is None else spot.floor_height
    return Site(place.number, ahead, aside, height, Sizes(long, wide, high), reach, sea, floor)


def _form(place: Judged, key: str) -> Any:
    """The form that a cell's page answered, if it did."""
    for cell in place.cells:
        if cell.subject.key == key and cell.answered is not None:
            answered: Answered = cell.answered
            return None if answered.report is None else answered.outcome.bound.as_values()
    return None


def _basis(q: Asks, found: Sequence[Judged], ask: Asking) -> Basis | None:
    """By the first place whose feed and pressure are told: what differs between places is put in
    later."""
    for place in found:
        feed = _form(place, "fed")
        says = place.spot.says(q.skin(), q.has_boost)
        pressed = ask("pressure", says, place.spot.leaves_open(says, q.has_boost))
        if feed is None or pressed.report is None:
            continue
        form: Any = pressed.outcome.bound.as_values()
        line, side = feed.line(), form.side()
        water = feed_line.Water.of(side.making.sea)
        tubes = form.unit.membranes.length or USUAL_TUBE
        return Basis(line, side.pressed.hose_bore, side.flow, side.pressure, water, tubes)
    return None


def _problem(
    q: Asks, sites: tuple[Site, ...], known: Mapping[int, Judged], basis: Basis, ask: Asking
) -> Problem:
    standing: dict[tuple[int, bool], Standing] = {}
    fed: dict[tuple[int, int, int], Fed] = {}

    def stands(unit: Site, boost: Site) -> Standing:
        key = unit.number, unit.number == boost.number
        if key not in standing:
            standing[key] = _standing(q, known[unit.number], boost_here=key[1], ask=ask)
        return standing[key]

    def feeds(boost: Site, filters: Site, unit: Site) -> Fed:
        key = boost.number, filters.number, unit.number
        if key not in fed:
            line = fed_by(basis.line, boost, filters, unit)
            fed[key] = Fed(apart.badness(line.judged), line.lost(dirty=False))
        return fed[key]

    hull = q.hull()
    return Problem(
        sites,
        stands,
        feeds,
        q.has_boost,
        lambda length: basis.high(length).lost(basis.flow, basis.water),
        basis.pressure,
        q.unit_mass,
        q.rest_mass,
        basis.tubes,
        (
            hydrostatics.moment(q.heel_wanted, hull.displacement, hull.stiffness),
            hydrostatics.moment(
                math.atan(q.trim_wanted / hull.length), hull.displacement, hull.long_radius
            ),
        ),
    )


_ELSEWHERE = ("fed", "trim", "cool")
"""Subjects that are judged anew for each way."""


def _standing(q: Asks, place: Judged, *, boost_here: bool, ask: Asking) -> Standing:
    """Motor and pump in a place, the boost pump beside them or not."""
    says = place.spot.says(q.skin(), q.has_boost)
    open_still = place.spot.leaves_open(says, q.has_boost)
    cool = ask("ventilation", says | {"boost_here": "yes" if boost_here else "no"}, open_still)
    part = cool.part("cool", "")
    cells = [cell for cell in place.cells if cell.subject.key not in _ELSEWHERE]
    quiet = next(cell for cell in cells if cell.subject.key == "quiet")
    worst = max(SEVERITY[part.verdict], *[cell.severity for cell in cells])
    return Standing(worst, quiet.margin, margin(part))


def fed_by(line: FeedLine, boost: Site, filters: Site, unit: Site) -> FeedLine:
    """The feed line with its parts in their places; the filters count by the hose to them."""
    inlet = replace(line.inlet, spot=_spot(unit))
    if line.boost is None:
        length = filters.from_sea + filters.run(unit)
        return replace(line, inlet=inlet, hose=replace(line.hose, length=length))
    behind = replace(line.boost.hose, length=boost.run(filters) + filters.run(unit))
    low = replace(_spot(boost), height=boost.floor)
    pump = replace(line.boost, spot=low, hose=behind)
    return replace(line, inlet=inlet, boost=pump, hose=replace(line.hose, length=boost.from_sea))


def _spot(site: Site) -> feed_line.Spot:
    return feed_line.Spot(site.height, abs(site.aside), abs(site.ahead))


# ---- what is told ----

_VERDICTS = {0: FITS, 1: TIGHT, 2: UNKNOWN, 3: FAILS}
_BEST_AT = {
    "hose": "the least hose",
    "calm": "the most in hand of quiet and cool",
    "reach": "the easiest reach to filters and panel",
}


def _compare(
    best: Sequence[Way],
    three: Sequence[tuple[str, Way]],
    known: Mapping[int, Judged],
    tried: int,
    show: Report,
) -> None:
    """The ways that are told, beside each other."""
    show.note(
        "The set apart: of {n} ways to spread its parts over these places {few} are such that no "
        "other is as good in all and better in something.",
        n=tried,
        few=len(best),
    )
    show.table(
        "apart",
        "The set apart: ways that no other beats, each for what it is best at",
        (
            "Best at",
            "Motor and pump",
            "Boost pump",
            "Filters",
            "Vessels",
            "Panel",
            "Hose in all",
            "Lost on the way",
            "Reach, filters and panel",
            "Its weight over the water",
        ),
        [
            (
                _BEST_AT[key],
                *[known[site.number].name for site in way.sites],
                (way.metres, "m"),
                (way.lost, "bar"),
                (way.reach, "m"),
                (way.height, "m"),
            )
            for key, way in three
        ],
        [_VERDICTS[way.badness] for _, way in three],
        note="Hose between two places is taken as 1.3 times the way along, across and up, and a "
        "little at its ends (common practice, no source): lay a string before you cut. The "
        "filters count by the hose to them, not by their height.",
    )


def _parts(number: int, key: str, rows: Sequence[Row], show: Report) -> None:
    """What is bought for a way: hoses with their ends, clamps, cable and breaker."""
    show.table(
        f"apart-{number}",
        line("To buy for the way with {what}", what=_BEST_AT[key]),
        ("What", "From", "To", "Length", "Size", "Ends"),
        rows,
        note="Lengths are rounded up to half a metre. High-pressure hoses are made up by a hose "
        "shop, ends pressed on. Bends, tees and the drain come on top.",
    )


def _hoses(q: Asks, way: Way, known: Mapping[int, Judged], basis: Basis) -> Iterator[Row]:
    feed = fed_by(basis.line, way.boost, way.filters, way.unit)

    def name(site: Site) -> str:
        return known[site.number].name

    def clamped(*sites: Site) -> Words:
        count = sum(BELOW if wet(feed, _spot(site)) else ABOVE for site in sites)
        return line("{n} clamps", n=count)

    first = way.boost if q.has_boost else way.filters
    yield (
        "feed hose",
        "seacock",
        name(first),
        _up(first.from_sea),
        (feed.hose.bore, "mm"),
        line("{n} clamps", n=BELOW + (BELOW if wet(feed, _spot(first)) else ABOVE)),
    )
    bore = (feed.last_hose.bore, "mm")
    low = [(way.filters, way.unit)]
    if q.has_boost:
        low.insert(0, (way.boost, way.filters))
    for a, b in low:
        yield "feed hose", name(a), name(b), _up(a.run(b)), bore, clamped(a, b)
    for a, b in ((way.unit, way.vessels), (way.vessels, way.panel)):
        yield (
            "high-pressure hose",
            name(a),
            name(b),
            _up(a.run(b)),
            (basis.bore, "mm"),
            "2 pressed ends",
        )
    product = known[way.vessels.number].spot.product_length
    if product is not None:
        yield "fresh-water hose", name(way.vessels), "tank", _up(product), "–", "2 clamps"


def _wired(place: Judged) -> Side | None:
    """The motor's branch with the motor in a place, as Wiring has it."""
    form = _form(place, "cables")
    if form is None:
        return None
    wired = form.wired()
    water = motor.water(wired.machine)
    return None if water is None else laid_out(wired, water).motor


def _cable(place: Judged, side: Side | None) -> Iterator[Row]:
    """Cable and breaker of the motor's branch."""
    if side is None:
        return
    yield ("cable to the motor", "panel", place.name, _up(side.duty.run), side.cable.name, "–")
    if side.rating is not None:
        yield "breaker of its branch", "panel", "–", "–", (side.rating, "A"), "–"


def _up(length: float) -> tuple[float, str]:
    """A length to buy: the next half metre."""
    return math.ceil(2 * length - 1e-9) / 2, "m"
