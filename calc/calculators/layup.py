"""It will stand for weeks: do I flush it, preserve it, or save it from frost, and on which days?"""

from __future__ import annotations

from datetime import date

from .. import ical
from ..cautions import caution
from ..inputs import Inputs, Refusal, Values, ask
from ..inputs import date as ask_date
from ..physics import maintenance
from ..physics.maintenance import Due
from ..report import FITS, Option, Report, line
from ..upkeep import AT_REST, DAY, told

TITLE = "Laying it up"
REST, KEEPS, AMOUNTS = "The rest", "What keeps how long", "What goes in"
_PRACTICE = "common practice, no source"
_MOST_DAYS = 1830
_FREEZING = 273.15
_SPARE = 1.0  # K, for a thermometer that hangs elsewhere


class Asks(Inputs):
    start = ask_date("You leave it on", "2026-08-05", group=REST, open=True)
    end = ask_date("You wake it on", "2026-10-28", group=REST, open=True)
    visits = ask(
        "Somebody can see to it every", "30 days", group=REST, open=True, at_least="1 days",
        at_most="1830 days", help="If nobody comes: as long as the rest.",
    )  # fmt: skip
    coldest = ask("Coldest where it stands", "22 °C", group=REST, open=True, at_least="-40 °C",
                  at_most="40 °C")  # fmt: skip
    warmest = ask("Warmest where it stands", "34 °C", group=REST, open=True, at_least="-40 °C",
                  at_most="70 °C")  # fmt: skip
    flush_every = ask(
        "A fresh-water flush keeps", "7 days", group=KEEPS, at_least="1 days", at_most="60 days",
        basis=_PRACTICE, help="Shorter in warm water.",
    )  # fmt: skip
    flush_longest = ask(
        "Longest rest on flushing alone", "30 days", group=KEEPS, at_least="1 days",
        at_most="365 days", basis=_PRACTICE,
    )  # fmt: skip
    preservative = ask(
        "The preservative keeps", "60 days", group=KEEPS, at_least="7 days", at_most="365 days",
        basis="trade pages give 30 to 90 days",
    )  # fmt: skip
    preservative_limit = ask(
        "The preservative stands up to", "35 °C", group=KEEPS, at_least="10 °C", at_most="60 °C",
        basis="trade pages give 5 to 35 °C",
    )  # fmt: skip
    glycol_limit = ask(
        "The glycol mixture protects down to", "-20 °C", group=KEEPS, at_least="-60 °C",
        at_most="-1 °C", help="Of pump and hoses; the membranes go where it does not freeze.",
    )  # fmt: skip
    volume = ask("Water that the unit holds", "8 L", group=AMOUNTS, above="0 L", at_most="500 L",
                 help="Filters, pump, pressure tubes, hoses.")  # fmt: skip
    flush_water = ask("Fresh water for a flush", "25 L", group=AMOUNTS, above="0 L",
                      at_most="2000 L")  # fmt: skip
    strength = ask(
        "Metabisulphite, of the mass of the water", "1 %", group=AMOUNTS, at_least="0.1 %",
        at_most="3 %", basis="trade pages give 1 %",
    )  # fmt: skip


def answer(q: Values, show: Report) -> None:
    days = (q.end - q.start).days
    if days < 1:
        raise Refusal("end", "must come after the day you leave it")
    if days > _MOST_DAYS:
        raise Refusal("end", "lies more than five years after the day you leave it")
    rest = days * DAY
    plans = {
        "flush": _flush(q, rest, show),
        "preserve": _preserve(q, rest, show),
        "glycol": _glycol(q, rest, show),
    }
    best = show.best_option()
    assert best is not None
    dues = plans[best.key]
    show.step(
        "Days it stands", rest, "days", "T = T_rest", {"T_rest": (rest, "days")},
        "The calendar, month ends and leap days included",
    )  # fmt: skip
    _amounts(q, best, dues, show)
    _days(best, dues, q.start, show)
    show.headline(
        "It stands {rest}: {way}, {count} with your hands on it.",
        rest=(rest, "days"), way=best.name[0].lower() + best.name[1:],
        count=f"{len(dues)} days",
    )  # fmt: skip
    show.caution(*map(caution, ("preservative", "pressure", "estimate")))


# ---- three ways ----


def _flush(q: Values, rest: float, show: Report) -> list[Due]:
    way = show.option("flush", "Fresh water alone, again and again")
    way.figure("rest", "Days it stands", rest, "days", at_most=q.flush_longest)
    _visited(way, min(q.visits, rest), q.flush_every, "a flush")
    _no_frost(way, q)
    every = max(1, round(q.flush_every / DAY))
    if way.verdict != FITS:
        way.remedy("Flush it every {every}, for {longest} at most.",
                   every=(q.flush_every, "days"), longest=(q.flush_longest, "days"))  # fmt: skip
    return maintenance.lay_up_days(q.start, q.end, every, _MOST_DAYS + 1, every)


def _preserve(q: Values, rest: float, show: Report) -> list[Due]:
    way = show.option("preserve", "Preserve the membranes")
    _visited(way, min(q.visits, rest), q.preservative, "the preservative")
    way.figure(
        "warm", "Below what the preservative stands by", q.preservative_limit - q.warmest, "K",
        at_least=0.0, says=line("the preservative stands {limit}, and it gets as warm as {warm}",
                                limit=(q.preservative_limit, "°C"), warm=(q.warmest, "°C")),
    )  # fmt: skip
    _no_frost(way, q)
    return _preserved(q)


def _glycol(q: Values, rest: float, show: Report) -> list[Due]:
    way = show.option("glycol", "Take the membranes home, fill the rest with glycol")
    way.figure(
        "cold", "Above what the glycol protects to by", q.coldest - q.glycol_limit, "K",
        at_least=0.0, says=line("glycol protects down to {limit}, and it gets as cold as {cold}",
                                limit=(q.glycol_limit, "°C"), cold=(q.coldest, "°C")),
    )  # fmt: skip
    return [Due(q.start, maintenance.PRESERVE), Due(q.end, maintenance.WAKE)]


def _preserved(q: Values) -> list[Due]:
    every = max(1, round(q.preservative / DAY))
    return maintenance.lay_up_days(q.start, q.end, every, 0, every)


def _visited(way: Option, gap: float, keeps: float, what: str) -> None:
    way.figure(
        "gap", "Longest nobody sees to it", gap, "days", at_most=keeps,
        says=line("nobody sees to it for {gap}, and " + what + " keeps {keeps}",
                  gap=(gap, "days"), keeps=(keeps, "days")),
    )  # fmt: skip
    if gap > keeps:
        way.remedy("Somebody must come every {keeps}.", keeps=(keeps, "days"))


def _no_frost(way: Option, q: Values) -> None:
    way.figure(
        "cold", "Above freezing by", q.coldest - _FREEZING, "K", at_least=_SPARE,
        says=line("it gets as cold as {cold}, and it must not freeze", cold=(q.coldest, "°C")),
    )  # fmt: skip


# ---- amounts and days ----


def _amounts(q: Values, best: Option, dues: list[Due], show: Report) -> None:
    flushes = len(dues)
    water = flushes * q.flush_water
    show.figure("days", "Days with your hands on it", flushes, "")
    show.figure("water", "Fresh, unchlorinated water for all flushes", water, "L")
    show.step(
        "Water for the flushes", water, "L", "V = n * V_flush",
        {"n": (float(flushes), ""), "V_flush": (q.flush_water, "L")}, _PRACTICE,
    )  # fmt: skip
    if best.key == "glycol":
        show.figure("glycol", "Glycol mixture", q.volume, "L", note="propylene glycol, undiluted "
                    "unless its can says otherwise")  # fmt: skip
    if best.key in ("preserve", "glycol"):
        fills = sum(due.why in (maintenance.PRESERVE, maintenance.RENEW) for due in dues)
        powder = fills * q.strength * q.volume * 1000
        show.figure("powder", "Sodium metabisulphite", powder, "g")
        show.step(
            "Sodium metabisulphite", powder, "g", "m = n * s * V * 1000",
            {"n": (float(fills), ""), "s": (q.strength, "%"), "V": (q.volume, "L")},
            "Mass fraction of water of 1000 kg/m³, once for each filling",
        )  # fmt: skip


def _days(best: Option, dues: list[Due], today: date, show: Report) -> None:
    glycol = best.key == "glycol"
    texts = [
        "Flush, take the membranes out and bag them wet in preservative, fill with glycol"
        if glycol and due.why == maintenance.PRESERVE
        else AT_REST[due.why].removeprefix("Membranes: ").capitalize()
        for due in dues
    ]
    show.table(
        "days", "The days", ("Day", "What"),
        [(told(due.day), text) for due, text in zip(dues, texts, strict=True)],
        lead=True,
    )  # fmt: skip
    events = [
        ical.Event(due.day, f"lay-up {text}", f"Watermaker: {text}")
        for due, text in zip(dues, texts, strict=True)
    ]
    show.download(
        "calendar", "watermaker-lay-up.ics", "These days for your calendar", ical.MEDIA_TYPE,
        ical.calendar("Watermaker at rest", events, today),
    )  # fmt: skip
