"""What is told besides the figures: what to stop, to read next and to mend; causes; notes."""

from __future__ import annotations

from collections.abc import Sequence

from ...frame.report import Bars, Line, Report, line
from ...system import tree, trials
from ...system.diagnosis import ALL_WELL, HALF, LEAST_READINGS, Diagnosis, Weighed
from ...system.faults import OTHER_SEA
from ...system.occasion import AT, unscaled
from ...system.trend import FIRST
from ...system.two_faults import Pair, pairs
from . import stop
from .asks import STANDS, Asks
from .words import LABELS, MEND, NAMES, NEXT, READINGS, SPARE_NAMES, SPARES
from .working import UNITS

CLEANED = "cleaned"
"""That an answer tells to clean membranes."""
_CLEANING = frozenset(("fouling", "biofouling", "colloids", "scaling"))
_SHOWN = 6  # causes in a table
_LEAST = 0.01  # of all: a cause that is less likely is not shown
_ASKED = 3  # readings or trials to take next
_TELLS = 0.005  # bit: what tells less is not asked for


def ways(q: Asks, found: Diagnosis | None, made: Sequence[trials.Next], show: Report) -> None:
    """What to stop at once; what to read next, first of what is `made` of it; what it takes to mend
    what leads."""
    stop.ways(q, found, show)
    if found is None:
        return
    if found.enough and found.misfits and not q.two_faults:
        show.remedy(
            "No single cause explains all that you read: look each reading over, then choose “Two "
            "faults at a time”."
        )
    if made:
        show.remedy(NEXT[made[0].key])
    if found.sure and not found.misfits:
        told = [one for one in found.faults if one.key in OTHER_SEA] or found.faults[:3]
        for one in told:
            show.remedy(MEND[one.key])


def reads_on(found: Diagnosis) -> bool:
    """Whether a reading more is what to do."""
    return not found.enough or found.healthy < HALF


def to_read(q: Asks, found: Diagnosis) -> list[trials.Next]:
    """What to read or try next, as far as this boat has it and it tells anything."""
    boost = found.ground.now.watermaker.line.boost is not None
    made = trials.nexts(found, q.seen())
    if stop.must(q):  # what must not go on is not gone on with for a reading
        made = [one for one in made if one.key in trials.AT_REST]
    elif not found.enough:
        made = [one for one in made if not one.sign]
    made = [one for one in made if boost or one.key != "boost_alone_low"]
    return [one for one in made if one.tells > _TELLS]


def hands_off(show: Report) -> None:
    """The order before hands go in."""
    show.table(
        "hands",
        "Before you put hands in it",
        ("No", "Do", "Why"),
        [
            (
                "1",
                "Big pump off, then the boost pump.",
                "Nothing is opened or touched while a pump can run.",
            ),
            (
                "2",
                "Brine's way overboard and regulating valve: fully open. Wait until no brine runs "
                "and the gauge reads zero.",
                "Open them and the pressure falls: a shut brine keeps it inside. A gauge may lie: "
                "prove it as the caution tells.",
            ),
            (
                "3",
                "Breaker, timer and remote start: off and locked. A tag on them: hands in the "
                "pump.",
                "Nothing may start it by itself or from afar. Till then no end is shut.",
            ),
            (
                "4",
                "Seacock: shut. Only now the brine's valve too, if its outlet can dip under water, "
                "and on the tag: ends shut.",
                "An open bowl or hose below the waterline fills the boat; a pump that starts with "
                "an end shut bursts something.",
            ),
            (
                "5",
                "Afterwards: brine's way, product's way, seacock and regulating valve open; hands "
                "out, pumps' switches on off; then lock and tag off, breaker on; then air out; "
                "then the pumps, as for any start.",
                "Ways out first, then the way in, then what can start the pumps, then the pumps.",
            ),
        ],
        steps=True,
        note="Never tie down, plug or turn a relief valve. Never run it dry to listen. Never "
        "bridge a low-pressure switch or a thermal protector. Never feel for a leak with a hand.",
    )


def asked_next(made: Sequence[trials.Next], show: Report) -> None:
    """The readings and trials that would tell most."""
    if made:
        show.table(
            "next",
            "What to read or try next",
            ("No", "What and how", "Takes of the doubt", "How easily had"),
            [
                (str(place), NEXT[one.key], line("{b} bit", b=(one.tells, "")), (one.ease, "%"))
                for place, one in enumerate(made[:_ASKED], 1)
            ],
            note="Best first, by the product of both: what it is expected to take of the doubt, "
            "and how easily it is had, less for what takes a tool, a licence or a workshop (common "
            "practice, no source). One bit halves the doubt. Fill it in, and all is ranked anew.",
        )


def on_paper(found: Diagnosis, show: Report) -> None:
    """The key for the locker door: the same model and signs, without a tablet."""
    show.table(
        "tree",
        "When the tablet is dead",
        ("No", "Look at", "Then"),
        [
            (str(one.number), LABELS[one.key] if one.sign else READINGS[one.key], _branches(one))
            for one in tree.tree(found.ground)
        ],
        steps=True,
        folded=True,
        note="Begin at 1. Less and more are against day one, in a sea as warm, with the regulating "
        "valve turned to the same pressure: by more than its gauge errs. Likeliest first.",
    )


def _branches(one: tree.Question) -> Line:
    """Where each answer to a question leads."""
    if one.sign:
        return line(
            "No: {no}. Yes: {yes}.", no=_end(one.answers["no"]), yes=_end(one.answers["yes"])
        )
    return line(
        "Less: {less}. As ever: {same}. More: {more}.",
        less=_end(one.answers[tree.LESS]),
        same=_end(one.answers[tree.SAME]),
        more=_end(one.answers[tree.MORE]),
    )


def _end(answer: int | tuple[str, ...]) -> Line | str:
    """Where an answer leads: to another question, or to the causes that are left."""
    if isinstance(answer, int):
        return line("go to {n}", n=answer)
    names = [NAMES[key] for key in answer]
    if len(names) == 1:
        return names[0]
    if len(names) == 2:
        return line("{a}; or {b}", a=names[0], b=names[1])
    return line("{a}; {b}; or {c}", a=names[0], b=names[1], c=names[2])


def causes(q: Asks, found: Diagnosis, show: Report) -> None:
    """The ranking, and what would be read if it were so."""
    if not found.enough:
        _pointed_at(q, found, show)
        return
    shown = _shown(found)
    show.table(
        "causes",
        "What may be wrong",
        ("Rank", "Cause", "Chance", "To mend it", "Spare"),
        [
            (
                str(one.rank),
                NAMES[one.key],
                (one.share, "%"),
                MEND.get(one.key, "–"),
                SPARE_NAMES[SPARES[one.key]] if one.key in SPARES else "–",
            )
            for one in shown
        ],
        note="Causes that the readings can't part share a rank. How common each is: common "
        "practice, no source.",
    )
    _if_so(found, [one for one in shown if one.key not in ALL_WELL][:2], show)


def _shown(found: Diagnosis) -> list[Weighed]:
    return [one for one in found.causes if one.share >= _LEAST][:_SHOWN]


def cleaned(found: Diagnosis, show: Report) -> None:
    """That what is told to mend it are acids and lyes."""
    if found.enough and any(one.key in _CLEANING for one in _shown(found)):
        show.fact(CLEANED)


def chances(found: Diagnosis, show: Report) -> None:
    """The picture of the ranking, where there are readings enough for one."""
    if found.enough:
        show.bar_chart(
            Bars(
                "chances",
                "How likely each is",
                "%",
                [(NAMES[one.key], one.share) for one in _shown(found)],
                summary="Chances of the likeliest causes, by what you read and saw.",
            )
        )


def _pointed_at(q: Asks, found: Diagnosis, show: Report) -> None:
    """What the signs point at, of a machine that does not run to be read."""
    saw = stop.seen(q)
    if not saw & stop.WONT_RUN:
        return
    points = {key for sign in saw for key in trials.BY_KEY[sign].chances}
    show.table(
        "points",
        "What it points at",
        ("Cause", "To mend it", "Spare"),
        [
            (
                NAMES[one.key],
                MEND[one.key],
                SPARE_NAMES[SPARES[one.key]] if one.key in SPARES else "–",
            )
            for one in sorted(found.causes, key=lambda one: -one.share)
            if one.key in points
        ],
        note="Likeliest first, by how common each is and by what you saw: common practice, no "
        "source. No reading at work can be had of it, so none is named as the cause.",
    )


def two_at_a_time(found: Diagnosis, show: Report) -> list[Pair]:
    """The likeliest pairs of causes, beside the single ones, and how likely they are together."""
    likely = pairs(found)[:_SHOWN]
    share = sum(one.share for one in likely)
    show.figure("two", "Chance of two faults at a time", share, "%", note="those told below")
    return likely


def pairs_of(likely: Sequence[Pair], show: Report) -> None:
    """Pairs of causes, the likeliest first."""
    if likely:
        show.table(
            "two",
            "Two at a time",
            ("One", "And", "Chance"),
            [(NAMES[one.keys[0]], NAMES[one.keys[1]], (one.share, "%")) for one in likely],
            note="Among all single causes and all pairs, each as common as if it came by itself. "
            "Begin with the one that leads above, mend it, and read again.",
        )


def _if_so(found: Diagnosis, leading: list[Weighed], show: Report) -> None:
    """What was read beside what a healthy one shows, and what would be read with each cause."""
    base, read = found.ground, found.ground.now.readings.read
    rows: list[tuple[str | tuple[float, str] | Line, ...]] = []
    for name in base.now.told:
        place, unit = AT[name], UNITS[name]
        rows.append(
            (
                READINGS[name],
                (read[name], unit),
                (unscaled(name, base.well[place]), unit),
                *((unscaled(name, one.means[place]), unit) for one in leading),
            )
        )
    if rows:
        show.table(
            "so",
            "What would be read if it were so",
            (
                "Reading",
                "Read",
                "All well",
                *(line("If {cause}", cause=NAMES[one.key]) for one in leading),
            ),
            rows,
        )


def notes(q: Asks, found: Diagnosis | None, show: Report) -> None:
    """Where the numbers end."""
    now, day = q.pair
    if day is None:
        show.note(
            "Without a day one the papers stand for it, and each gauge for itself: small and "
            "middle faults then hide. The page on numbers counts how much it is worth. Write one "
            "down on a day when all is well."
        )
    elif q.by_log:
        show.note(
            "Day one is the median of the first {n} lines of your log of readings that tell of "
            "the membranes, as if all had been well then: what was read on day one itself is not "
            "said.",
            n=FIRST,
        )
    elif q.valve_is == STANDS and now.turned:
        show.note(
            "The pressure of day one is not known, so nothing is told by where the regulating "
            "valve stands."
        )
    if q.unsure_feed:
        show.note(
            "The gauges of the feed were left out: without a day one, and with the feed line not "
            "said, nobody can tell what they should read."
        )
    if found is not None and found.enough:
        show.note(
            "Wear is no fault: a year of use takes about 7 % of the fresh water and adds as much "
            "salt. Common practice, no source."
        )
    show.note(
        "What gauges always show wrong, their noise, and what is not known of the model are "
        "integrated over; how unsure each is, how common a cause and how likely a sign with it: "
        "common practice, no source. No cause is named by fewer than {n} readings.",
        n=LEAST_READINGS,
    )
