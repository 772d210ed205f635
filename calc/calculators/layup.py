"""It will stand for weeks: do I flush it, preserve it, or save it from frost, and on which days?"""

from __future__ import annotations

import math

from ..frame import ical
from ..frame.cautions import rules
from ..frame.guide import decides
from ..frame.inputs import Inputs, Refusal, Values, ask, but, choice, is_one_of, yes_no
from ..frame.inputs import date as ask_date
from ..frame.report import Option, Report, least, line, most, say
from ..models import at_rest
from ..models.at_rest import EMPTIED, FLUSHED, PRESERVED, LaidUp, Rest
from ..models.upkeep import check_lay_ups, told
from ..physics import maintenance
from ..physics.maintenance import PRESERVE, RENEW
from ..sheet import BoatSheet as boat

TITLE = "Laying it up"


WANTED = ("days", "water", "powder")
DECIDES = decides(("lay_ups", "start"), "end", "frost", "warmest")

CAUTIONS = rules("preservative", "pressure", "shut-end", "product-line")

REST, KEEPS, AMOUNTS = "The rest", "What keeps how long", "What goes in"
_PRACTICE = "common practice, no source"
_MOST_DAYS = 1830
_OWN = is_one_of("which", "own")


class Asks(Inputs):
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    which = choice(
        "Which rest",
        {"next": "the next one in your list", "own": "one of these dates"},
        "next",
        group=REST,
        open=True,
    )
    lay_ups = but(
        boat.lay_ups,
        group=REST,
        open=True,
        when=is_one_of("which", "next"),
        example=[{"start": "2026-08-05", "end": "2026-10-28", "warmest": "34 °C"}],
    )
    start = ask_date("You leave it on", "2026-08-05", group=REST, open=True, when=_OWN)
    end = ask_date("You wake it on", "2026-10-28", group=REST, open=True, when=_OWN)
    frost = yes_no("It may freeze there", "no", group=REST, open=True, when=_OWN)
    warmest = ask(
        "Warmest there",
        "25 °C",
        group=REST,
        open=True,
        at_least="-40 °C",
        at_most="70 °C",
        when=_OWN,
    )
    visits = ask(
        "Somebody can see to it every",
        "30 days",
        group=REST,
        open=True,
        at_least="1 days",
        at_most="1830 days",
        help="If nobody comes: as long as the rest.",
        when=_OWN,
    )
    bag_along = yes_no(
        "You take the bagged membranes with you",
        "no",
        group=REST,
        open=True,
        when=_OWN,
        help="Counts where it may freeze: you renew their preservative wherever you are.",
    )
    flush_every = but(boat.flush_every, group=KEEPS)
    preserve_after = but(boat.preserve_after, group=KEEPS)
    preservative = but(boat.preservative, group=KEEPS)
    preservative_limit = but(boat.preservative_limit, group=KEEPS)
    coldest = ask(
        "Coldest, where it may freeze",
        "-10 °C",
        group=KEEPS,
        at_least="-60 °C",
        at_most="0 °C",
        help="Counts only for a rest that may freeze.",
    )
    glycol_limit = ask(
        "The glycol mixture protects down to",
        "-20 °C",
        group=KEEPS,
        at_least="-60 °C",
        at_most="-1 °C",
        help="Its freezing point as sold, not the lower burst temperature that some cans give.",
    )
    volume = ask(
        "Water that the unit holds",
        "8 L",
        group=AMOUNTS,
        above="0 L",
        at_most="500 L",
        help="Filters, pump, pressure tubes, hoses.",
    )
    glycol_surplus = ask(
        "Glycol beyond that",
        "50 %",
        group=AMOUNTS,
        at_least="0 %",
        at_most="300 %",
        basis="common practice, no source",
        help="The first of it is thinned by the water left behind and is not used; a little stays "
        "in the bucket.",
    )
    flush_water = ask(
        "Fresh water for a flush", "25 L", group=AMOUNTS, above="0 L", at_most="2000 L"
    )
    strength = ask(
        "Metabisulphite, of the mass of the water",
        "1 %",
        group=AMOUNTS,
        at_least="0.1 %",
        at_most="3 %",
        basis="trade pages give 1 %",
        help="The strength in the unit, once mixed with the water that the flush left there.",
    )
    bucket = ask(
        "Water in the bucket for the preservative",
        "10 L",
        group=AMOUNTS,
        at_least="1 L",
        at_most="500 L",
        basis=_PRACTICE,
        help="It goes round through the unit and back.",
    )


def answer(q: Values, show: Report) -> None:
    rest = _rest(q)
    _check_cold(q, rest, show)
    keeps = at_rest.keeping(q)
    found = at_rest.lay_up(rest, keeps, show, lambda way: _cold(way, q))
    best = show.best_option()
    assert best is not None
    show.step(
        "Days it stands",
        rest.time,
        "days",
        "T = T_rest",
        {"T_rest": (rest.time, "days")},
        "The calendar, month ends and leap days included",
    )
    _warmth(q, rest, found.way, show)
    _amounts(q, found, show)
    _days(found, q, show)
    show.headline(
        "It stands {rest}, from {start} to {end}: {way}; there is work on {count}.",
        rest=(rest.time, "days"),
        start=told(rest.start),
        end=told(rest.end),
        way=say(best.name)[0].lower() + say(best.name)[1:],
        count=f"{len(found.days)} days",
    )


def _rest(q: Values) -> Rest:
    """The rest that is asked about: of one's own dates, or the next one that is not over."""
    if q.which == "own":
        days = (q.end - q.start).days
        if days < 1:
            raise Refusal("end", "must come after the day you leave it")
        if days > _MOST_DAYS:
            raise Refusal("end", "lies more than five years after the day you leave it")
        return Rest(q.start, q.end, q.frost, q.warmest, q.visits, q.bag_along, own=True)
    check_lay_ups(q.lay_ups)
    coming = sorted((row for row in q.lay_ups if row.end >= q.today), key=lambda row: row.start)
    if not coming:
        raise Refusal(
            "lay_ups", f"none of these lay-ups ends after today, {q.today}: add the next one"
        )
    return at_rest.rest_of(coming[0])


def _check_cold(q: Values, rest: Rest, show: Report) -> None:
    """Raises Refusal for a coldest above the warmest, where it may freeze."""
    if not rest.frost:
        return
    if q.coldest > rest.warmest:
        raise Refusal("coldest", "lies above the warmest of this rest: how cold does it get there?")
    if not rest.said_to_freeze:
        show.note(
            "Its warmest is {warmest}, no higher than freezing: it is taken to freeze there, "
            "though “It may freeze there” says no.",
            warmest=(rest.warmest, "°C"),
        )


def _cold(way: Option, q: Values) -> None:
    if way.key == EMPTIED:
        way.figure(
            "cold",
            "Coldest where it stands",
            q.coldest,
            "°C",
            at_least=q.glycol_limit,
            zero=at_rest.FREEZING,
            says=line(
                "it gets as cold as {cold}, and the mixture protects down to {limit}",
                cold=(q.coldest, "°C"),
                limit=(q.glycol_limit, "°C"),
            ),
        )
        if q.coldest < q.glycol_limit:
            mixture = most(q.coldest, "°C")
            way.remedy(
                "Take a mixture that protects down to {cold}.",
                sets={"glycol_limit": mixture},
                mends="cold",
                cold=mixture,
            )


# ---- amounts and days ----


def _warmth(q: Values, rest: Rest, way: str, show: Report) -> None:
    """How long it keeps in the heat of the place, where the heat takes days off."""
    life = {FLUSHED: q.flush_every, PRESERVED: q.preservative}.get(way)
    if life is None or rest.warmest <= maintenance.KEEPS_FULL_TO:
        return
    excess = rest.warmest - maintenance.KEEPS_FULL_TO
    show.step(
        "It keeps, in that heat",
        maintenance.life_when_warm(life, rest.warmest),
        "days",
        "t = t_25 * 0.5**(dT / 10)",
        {"t_25": (life, "days"), "dT": (excess, "K")},
        "Van 't Hoff's rule of thumb, from memory: twice as fast with 10 K more. "
        "From 25 °C on: common practice, no source",
        note="cut to whole days",
    )


def _amounts(q: Values, found: LaidUp, show: Report) -> None:
    flushes = _flushes(found)
    fills = sum(due.why in (PRESERVE, RENEW) for due in found.days)
    water = flushes * q.flush_water + fills * q.bucket
    show.figure("days", "Days with work on it", len(found.days), "")
    show.figure("water", "Fresh, unchlorinated water in all", _up(water, 1e-3), "L")
    show.step(
        "Water for flushes and buckets",
        water,
        "L",
        "V = n * V_flush + k * V_b",
        {
            "n": (float(flushes), ""),
            "V_flush": (q.flush_water, "L"),
            "k": (float(fills), ""),
            "V_b": (q.bucket, "L"),
        },
        _PRACTICE,
    )
    if found.way == EMPTIED:
        _glycol(q, show)
    if fills:
        _powder(q, found.way, fills, show)


def _powder(q: Values, way: str, fills: int, show: Report) -> None:
    """Powder for a bucket that mixes with the flush water in the unit; a bag holds none of that."""
    plain = q.volume if way == PRESERVED else 0.0
    dose = maintenance.powder_for(q.strength, q.bucket, plain)
    what = "one filling" if way == PRESERVED else "one bucket, to bag the membranes in"
    weighed = _up(dose, 0.01)
    show.figure("dose", f"Sodium metabisulphite, for {what}", weighed, "g")
    show.figure("powder", "Sodium metabisulphite in all", fills * weighed, "g")
    show.step(
        f"Sodium metabisulphite, for {what}",
        dose,
        "g",
        "m_1 = s * (V_b + V_unit) * 1000",
        {"s": (q.strength, "%"), "V_b": (q.bucket, "L"), "V_unit": (plain, "L")},
        "Mass balance, water of 1000 kg/m³",
        "the unit is full of flush water, which thins the bucket until all of it has one strength"
        if plain
        else "bagged membranes lie in the bucket's mixture as it is",
    )
    show.step(
        "Sodium metabisulphite in all",
        fills * dose,
        "g",
        "m = k * m_1",
        {"k": (float(fills), ""), "m_1": (dose, "g")},
        "Once for each filling",
    )
    if plain:
        _mixing(q, dose, show)


def _mixing(q: Values, dose: float, show: Report) -> None:
    at_first = dose / maintenance.powder_for(1.0, q.bucket)
    show.step(
        "Strength in the bucket, before it goes round",
        at_first,
        "%",
        "s_b = s * (V_b + V_unit) / V_b",
        {"s": (q.strength, "%"), "V_b": (q.bucket, "L"), "V_unit": (q.volume, "L")},
        "Mass balance",
    )
    if q.bucket < q.volume:
        show.note(
            "The bucket holds less than the unit, so its mixture begins at {first}, more than "
            "twice the strength that is wanted. So that no membrane gets so strong a mixture, "
            "take {unit} of water or more (common practice, no source).",
            first=(at_first, "%"),
            unit=least(q.volume, "L"),
        )


def _glycol(q: Values, show: Report) -> None:
    glycol = q.volume * (1 + q.glycol_surplus)
    show.figure(
        "glycol",
        "Propylene glycol, food grade, ready mixed",
        _up(glycol, 1e-3),
        "L",
        note="undiluted unless its can says otherwise",
    )
    show.step(
        "Glycol, ready mixed",
        glycol,
        "L",
        "V = V_unit * (1 + s)",
        {"V_unit": (q.volume, "L"), "s": (q.glycol_surplus, "%")},
        _PRACTICE,
    )
    if q.coldest < q.glycol_limit:
        return
    show.note(
        "The mixture in the can protects down to {limit}. Water left in the unit thins it: measure "
        "what comes out with a refractometer for propylene glycol, and pump on until it shows a "
        "freezing point below {cold} too.",
        limit=(q.glycol_limit, "°C"),
        cold=(q.coldest, "°C"),
    )


def _flushes(found: LaidUp) -> int:
    """Flushes with fresh water: a bag of preservative at home needs none."""
    return sum(not (found.way == EMPTIED and due.why == RENEW) for due in found.days)


def _up(value: float, step: float) -> float:
    """What to have at hand, rounded up to whole litres, or tens of grams."""
    return math.ceil(value / step - 1e-6) * step


def _days(found: LaidUp, q: Values, show: Report) -> None:
    texts = [found.step(due) for due in found.days]
    show.table(
        "days",
        "The days",
        ("Day", "What"),
        [
            (told(due.day), text[0].upper() + text[1:])
            for due, text in zip(found.days, texts, strict=True)
        ],
        lead=True,
        on_card=(0, 1),
    )
    events = [
        ical.Event(due.day, f"lay-up {due.why}", f"Watermaker: {text}")
        for due, text in zip(found.days, texts, strict=True)
    ]
    show.download(
        "calendar",
        "watermaker-lay-up.ics",
        "These days for your calendar",
        ical.MEDIA_TYPE,
        ical.calendar("Watermaker at rest", events, q.today),
    )
