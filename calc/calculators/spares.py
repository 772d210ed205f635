"""Which spares do I carry far from a shop, and how many of each?"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass
from datetime import timedelta
from typing import Any

from ..equipment.upkeep import PartRow
from ..frame import log
from ..frame.cautions import rules
from ..frame.guide import decides
from ..frame.inputs import Inputs, Refusal, Values, ask, but, choice, is_one_of, nearest, rows, text
from ..frame.inputs import date as ask_date
from ..frame.report import Amount, Axis, Chart, Mark, Report, Series, amount, line
from ..models import upkeep
from ..models.upkeep import HOUR, Job, Plan, told
from ..physics import maintenance, reliability
from ..physics.calendar_days import add_months
from ..physics.maintenance import Done, Due, Use
from ..sheet import BoatSheet as boat

TITLE = "Spares to carry"


WANTED = ("pieces", "mass", "cost")
PICTURE = "confidence"
DECIDES = decides("unit", "started")

CAUTIONS = rules("mains", "pressure")

AWAY, PARTS, USE, MONEY = "Far from a shop", "The parts", "Until you leave", "Changing it early"
_MOST_DAYS = 1830
_USUAL = 6  # months
_CURVE = 60  # points
_ONE_DAY = timedelta(days=1)
_FALSE_PRECISION = 0.01  # chances and failures below it rest on rates that nobody knows so well


class Asks(Inputs):
    leave = ask_date("You leave", group=AWAY, open=True, optional=True, help="Empty: today.")
    back = ask_date(
        "You reach the next shop",
        group=AWAY,
        open=True,
        optional=True,
        help="Empty: six months after you leave.",
    )
    away_hours = ask(
        "Water-making a day, away",
        unit="h",
        group=AWAY,
        open=True,
        at_least="0 h",
        at_most="24 h",
        optional=True,
        help="Empty: as in the plan of your year.",
    )
    spread = ask(
        "It may be more by",
        "30 %",
        group=AWAY,
        at_least="0 %",
        at_most="90 %",
        basis="common practice, no source",
        help="The box is counted for this much more use.",
    )
    confidence = ask(
        "Confidence you want",
        "95 %",
        group=AWAY,
        open=True,
        at_least="50 %",
        at_most="99.9 %",
        help="The chance that no part you need is missing.",
    )
    covers = choice(
        "Confidence is for", {"box": "the whole box", "each": "each part by itself"}, group=AWAY
    )
    today = ask_date("Today", "2026-05-01", open=True, today=True)
    unit = boat.unit
    parts = rows(
        "Parts",
        PartRow,
        shelf="part",
        belongs="unit",
        one="part",
        group=PARTS,
        folded=True,
        help="Failure rates and lives are this guide's own invention; your own log knows better.",
    )
    tasks = boat.tasks
    started = but(boat.started, group=USE)
    log = but(boat.log, group=USE)
    use_by = choice(
        "Take its hours from", {"hours": "hours a day", "litres": "litres a day"}, group=USE
    )
    run_hours = but(boat.run_hours, group=USE, open=False, when=is_one_of("use_by", "hours"))
    litres = ask(
        "Fresh water you want",
        "90 L/day",
        group=USE,
        above="0 L/day",
        at_most="24000 L/day",
        when=is_one_of("use_by", "litres"),
    )
    product_flow = ask(
        "Fresh water it makes",
        "45 L/h",
        from_record="unit.product_flow",
        group=USE,
        at_least="1 L/h",
        at_most="1000 L/h",
    )
    months = but(boat.months, group=USE)
    passages = but(boat.passages, group=USE)
    lay_ups = but(boat.lay_ups, group=USE)
    look_at = text(
        "Part to look at closely",
        "Packing set",
        group=MONEY,
        help="One that wears out: when does it pay to change it before it fails?",
    )
    stop_cost = ask(
        "What a stop far out costs you",
        "250 ¤",
        group=MONEY,
        at_least="0 ¤",
        at_most="100000 ¤",
        basis="invented",
        help="Beyond part and work: water bought, a courier, a week lost.",
    )


@dataclass(frozen=True)
class Need:
    """A part on the way: how many fall due, and the chances of 0, 1, 2 ... failures beside that.

    `dues` are those of the plan; `changes` as many as there are if it runs more than planned.
    """

    part: Any
    job: Job | None
    dues: Sequence[Due]
    changes: int
    age: float  # running time at the start [s]
    first: float  # running time away until the fitted one is changed [s]
    chances: Sequence[float]

    @property
    def due(self) -> int:
        return self.changes * int(self.part.per_change)

    @property
    def expected(self) -> float:
        return sum(count * chance for count, chance in enumerate(self.chances))

    def covered(self, spare: int) -> float:
        """Chance that `spare` pieces cover all failures."""
        return reliability.at_most(spare, self.chances)


def answer(q: Values, show: Report) -> None:
    q = _with_days(q)
    _check(q)
    year = _year(q)
    made = upkeep.plan(year, q.tasks, until=q.back)
    away = upkeep.use_from(year, q.leave, (q.back - q.leave).days, 1 + q.spread)
    needs = [_need(q, upkeep.times_fitted(part, q.unit), made, away) for part in q.parts]
    worn = [need for need in needs if need.part.life is not None and need.part.price > 0]
    chosen = _chosen(q, worn)
    order = _filling(needs)
    counts = _counts(q, needs, order)
    _figures(q, needs, counts, away, show)
    if show.brief:
        return
    _list(q, needs, counts, show)
    _steps(needs, away, show)
    _price_of_confidence(q, needs, order, show)
    if chosen is not None:
        _early(q, worn, made, show)
        _curve(q, chosen, show)


def _with_days(q: Values) -> Values:
    """The form with both days; who has left already is counted for from today on."""
    leave = max(q.leave or q.today, q.today)
    return Values({**vars(q), "leave": leave, "back": q.back or add_months(leave, _USUAL)})


def _check(q: Values) -> None:
    if q.leave > add_months(q.today, upkeep.HORIZON):
        raise Refusal("leave", "lies more than two years ahead: the plan does not reach so far")
    if q.back <= q.leave:
        raise Refusal("back", f"must come after the day you leave, and after today, {q.today}")
    if (q.back - q.leave).days > _MOST_DAYS:
        raise Refusal(
            "back", "lies more than five years after you leave: plan in shorter stretches"
        )
    if not q.parts:
        raise Refusal("parts", "there is no part in the list")


def _year(q: Values) -> Values:
    """The boat's year, in which the days away may have hours of their own."""
    if q.away_hours is None:
        return q
    days = Values({"start": q.leave, "end": q.back - _ONE_DAY, "daily": q.away_hours})
    return Values({**vars(q), "passages": (*q.passages, days)})


# ---- how many ----


def _need(q: Values, part: Any, made: Plan, away: Use) -> Need:
    job = upkeep.find(part.task, made.jobs, "parts") if part.task else None
    done = _at_departure(q, job, made)
    dues: list[Due] = []
    sooner: list[Due] = []
    if job is not None:
        dues = [due for due in job.dues if q.leave <= made.day_of(due) < q.back]
        sooner = maintenance.schedule(job.rule, done, away, q.back - _ONE_DAY)
    changed = sooner if len(sooner) >= len(dues) else dues
    age = done.run_since
    if part.age is not None and (job is None or done.day == job.last):
        age = part.age + made.use.until(q.leave)
    marks = [away.until(max(due.day, away.start)) for due in changed]
    try:
        chances = _chances(part, age, marks, away.total)
    except ValueError as error:
        raise Refusal("parts", f"{part.name}: {error}") from None
    return Need(part, job, dues, len(changed), age, [*marks, away.total][0], chances)


def _at_departure(q: Values, job: Job | None, made: Plan) -> Done:
    """How the task stands on leaving, if all is done when the plan says."""
    until = made.use.until(q.leave)
    if job is None:
        return Done(q.started, made.hours_now + until)
    before = [due for due in job.dues if made.day_of(due) < q.leave]
    if not before:
        return Done(job.last, job.run_since + until, first=job.never_done)
    last = before[-1]
    day = made.day_of(last)
    # What goes by hours is done at the end of its day's run.
    after_run = last.why == maintenance.HOURS and last.day >= made.today
    return Done(day, until - made.use.until(day + _ONE_DAY if after_run else day))


def _chances(part: Any, age: float, changed: Sequence[float], whole: float) -> list[float]:
    """Chances of 0, 1, 2 ... failures of all that are fitted, between the planned changes.

    `changed` are the running times away at the changes, `whole` the whole of it [s].
    """
    found: list[Sequence[float]] = []
    if part.rate:
        found.append(_at_random(part.rate * whole * part.fitted))
    if part.life is not None:
        shape = 1.0 if part.shape is None else part.shape
        ages = [age, *([0.0] * len(changed))]
        for start, end, begins in zip([0.0, *changed], [*changed, whole], ages, strict=True):
            chances = reliability.wear_out_failures(max(0.0, end - start), begins, shape, part.life)
            found += [chances] * part.fitted
    return reliability.added(*found)


def _at_random(mean: float) -> list[float]:
    if mean > 60:
        raise ValueError(f"about {mean:.0f} failures are expected: too many to carry spares for")
    return reliability.poisson(int(mean + 10 * math.sqrt(mean) + 12), mean)


def _counts(q: Values, needs: Sequence[Need], order: Sequence[int]) -> list[int]:
    """Spares for failures: a part at a time, or, for the box, always the one that helps most."""
    if q.covers == "each":
        return [reliability.spares(need.chances, q.confidence) for need in needs]
    counts = [0] * len(needs)
    for index in order:
        if _box(needs, counts) >= q.confidence:
            break
        counts[index] += 1
    return counts


def _filling(needs: Sequence[Need]) -> list[int]:
    """The order in which pieces go into the box: the most confidence for the money first.

    Marginal allocation, Barlow and Proschan 1965, ch. 6. The order does not depend on the
    confidence wanted, so more confidence never takes a piece out.
    """
    order: list[int] = []
    counts = [0] * len(needs)
    covered = [need.covered(0) for need in needs]
    gains = [_gain(need, 0) for need in needs]
    for _ in range(4000):
        gain = max(gains)
        if gain <= 0 or math.prod(covered) > 0.9999:
            break
        best = gains.index(gain)
        counts[best] += 1
        order.append(best)
        covered[best] = needs[best].covered(counts[best])
        gains[best] = _gain(needs[best], counts[best])
    return order


def _gain(need: Need, count: int) -> float:
    """What one piece more than `count` adds to the log of the chance, for its price; 0 for none."""
    now, then = need.covered(count), need.covered(count + 1)
    if now >= 1 - 1e-9:
        return 0.0
    return math.log(max(then, 1e-300) / max(now, 1e-300)) / (float(need.part.price) + 1)


def _box(needs: Sequence[Need], counts: Sequence[int]) -> float:
    return math.prod(need.covered(count) for need, count in zip(needs, counts, strict=True))


# ---- telling it ----


def _figures(
    q: Values, needs: Sequence[Need], counts: Sequence[int], away: Use, show: Report
) -> None:
    pieces = [need.due + count for need, count in zip(needs, counts, strict=True)]
    risk = 1 - _box(needs, counts)
    allowed = 1 - q.confidence
    if q.covers == "box":
        show.figure("risk", "Chance that something runs out", risk, "%", at_most=allowed, digits=2)
    else:
        worst = max(1 - n.covered(c) for n, c in zip(needs, counts, strict=True))
        show.figure(
            "worst",
            "Chance that the likeliest part runs out",
            worst,
            "%",
            at_most=allowed,
            digits=2,
        )
        show.figure("risk", "Chance that something runs out", risk, "%", digits=2)
    bare = 1 - _box(needs, [0] * len(needs))
    show.figure("bare", "The same if you carry only what falls due", bare, "%", digits=2)
    hours = away.total
    show.figure("hours", "Running hours it is counted for", hours, "h")
    show.figure("pieces", "Pieces in the box", sum(pieces), "")
    mass = sum(n.part.mass * count for n, count in zip(needs, pieces, strict=True))
    cost = sum(n.part.price * count for n, count in zip(needs, pieces, strict=True))
    show.figure("mass", "Mass of the box", mass, "kg")
    show.figure("cost", "Cost of the box", cost, "¤")
    if not sum(pieces):
        why = "nothing falls due" if hours else "it stands all that time and nothing falls due"
        show.headline(
            "Nothing to carry from {leave} to {back}: {why}, and the chance that a part is missing "
            "is {risk}.",
            leave=told(q.leave),
            back=told(q.back),
            why=why,
            risk=_chance(risk),
        )
        return
    show.headline(
        "{pieces}, {mass}, {cost}, for {hours} of running: the chance that a part is missing is "
        "{risk}; with only what falls due it would be {bare}.",
        pieces="1 piece" if sum(pieces) == 1 else f"{sum(pieces)} pieces",
        mass=(mass, "kg"),
        cost=(cost, "¤"),
        hours=(hours, "h"),
        risk=_chance(risk),
        bare=_chance(bare),
    )


def _chance(chance: float) -> Amount | str:
    """A chance as well as it can be known."""
    return "under 1 %" if chance < _FALSE_PRECISION else amount(chance, "%", 2)


def _list(q: Values, needs: Sequence[Need], counts: Sequence[int], show: Report) -> None:
    used = log.last_done(q.log or ())
    carried: list[Any] = []
    left: list[Any] = []
    for need, count in sorted(
        zip(needs, counts, strict=True),
        key=lambda pair: (-(pair[0].due + pair[1]), pair[0].part.name),
    ):
        number = need.due + count
        (carried if number else left).append(
            [
                need.part.name,
                str(number),
                _reason(q, need, count),
                _left_to_chance(need, count),
                (number * need.part.mass, "kg"),
                (number * need.part.price, "¤"),
                _last_used(need, used),
            ]
        )
    heads = ("Part", "Carry", "Why", "Chance it runs out", "Mass", "Price", "Last one used")
    if carried:
        show.table("box", "The box", heads, carried, lead=True, on_card=(0, 1, 4, 5))
    if left:
        show.table("left", "Not in it", heads, left, note="The numbers do not ask for these.")
    _two_is_one(q, needs, counts, show)


def _two_is_one(q: Values, needs: Sequence[Need], counts: Sequence[int], show: Report) -> None:
    """Where a second spare for failures goes in: for its own sake, or for the whole box's."""
    doubled = [need for need, count in zip(needs, counts, strict=True) if count >= 2]
    alone = [need.part.name for need in doubled if need.covered(1) < q.confidence]
    for_box = [need.part.name for need in doubled if need.covered(1) >= q.confidence]
    if alone:
        show.note(
            "Two is one: with a single spare of {names} the chance of running out is above {risk}.",
            names=", ".join(alone),
            risk=(1 - q.confidence, "%"),
        )
    if for_box:
        show.note(
            "Of {names}: one spare of each would be enough alone. More of them go in for "
            "the whole box: the chances of all its parts add up, and it should be {sure} sure for "
            "the least money.",
            names=", ".join(for_box),
            sure=(q.confidence, "%"),
        )
    if not doubled and any(need.due or count for need, count in zip(needs, counts, strict=True)):
        show.note("No part needs a second spare for failures: one of each is enough here.")


def _left_to_chance(need: Need, count: int) -> Amount | str:
    fails = need.part.rate or need.part.life
    return _chance(1 - need.covered(count)) if fails else "not reckoned"


def _reason(q: Values, need: Need, count: int) -> Any:
    whys: list[str] = []
    pairs: dict[str, Any] = {}
    each, many = int(need.part.per_change), len(need.dues)
    if many and each:
        late = many == 1 and need.dues[0].day < q.today
        when = "overdue since {day}" if late else "due on {day}" if many == 1 else ""
        whys.append("{due} " + (when or "due at {times} changes from {day}"))
        pairs |= {"due": str(many * each), "day": told(need.dues[0].day), "times": str(many)}
    if need.changes > many and each:
        whys.append("{more} " + ("more" if many else "due") + " if it runs {spread} more")
        pairs |= {"more": str((need.changes - many) * each), "spread": (q.spread, "%")}
    if count:
        why = "{count} for failures: with {fewer} the chance of running out is {less}"
        if count >= 2 and need.covered(count - 1) >= q.confidence:
            why += ", but the whole box should be {sure} sure"
            pairs["sure"] = (q.confidence, "%")
        whys.append(why)
        pairs |= {
            "count": str(count),
            "fewer": "none" if count == 1 else str(count - 1),
            "less": _chance(1 - need.covered(count - 1)),
        }
    if not whys:
        few = need.expected < _FALSE_PRECISION
        whys.append(
            "nothing falls due"
            if need.expected <= 0
            else "fewer than {expected} failures expected"
            if few
            else "{expected} failures expected"
        )
        if need.expected > 0:
            pairs["expected"] = amount(max(need.expected, _FALSE_PRECISION), "", 2)
    return line("; ".join(whys), **pairs)


def _last_used(need: Need, used: dict[str, log.LastDone]) -> str:
    found = used.get((need.part.task or "").lower())
    if found is None:
        return ""
    return ", ".join(filter(None, (told(found.day), found.note)))


def _steps(needs: Sequence[Need], away: Use, show: Report) -> None:
    whole = away.total
    show.step(
        "Running hours counted for",
        whole,
        "h",
        "T = T_away",
        {"T_away": (whole, "h")},
        "The plan's hours of the days away, with what it may be more",
    )
    random = [need for need in needs if need.part.rate and need.part.life is None]
    if random:
        need = max(random, key=lambda n: n.part.rate * n.part.fitted)
        mean = need.part.rate * need.part.fitted * whole
        show.step(
            f"{need.part.name}: failures expected",
            mean,
            "",
            "m = k * rate * T",
            {
                "k": (float(need.part.fitted), ""),
                "rate": (need.part.rate, "/1000 h"),
                "T": (whole, "h"),
            },
            "Constant failure rate; NIST/SEMATECH e-Handbook, sec. 8.1.6.1",
        )
        show.step(
            f"{need.part.name}: chance of at most one failure",
            math.exp(-mean) * (1 + mean),
            "%",
            "P_1 = exp(-m) * (1 + m)",
            {"m": (mean, "")},
            "Poisson distribution; NIST/SEMATECH e-Handbook, sec. 1.3.6.6.19",
        )
    worn = [need for need in needs if need.part.life is not None]
    if worn and whole > 0:
        need = worn[0]
        shape = 1.0 if need.part.shape is None else need.part.shape
        first = need.first
        lasts = reliability.conditional_reliability(first, need.age, shape, need.part.life)
        if lasts > 1e-6:
            show.step(
                f"{need.part.name}: chance that the fitted one lasts to its change",
                lasts,
                "%",
                "R = exp((a / eta)**beta - ((a + t) / eta)**beta)",
                {
                    "a": (need.age, "h"),
                    "t": (first, "h"),
                    "eta": (need.part.life, "h"),
                    "beta": (shape, ""),
                },
                "Weibull life, conditional on its age; IEC 61649",
            )


def _price_of_confidence(
    q: Values, needs: Sequence[Need], order: Sequence[int], show: Report
) -> None:
    """Cost and mass of the whole box as the best next piece goes in, one after the other."""
    counts = [0] * len(needs)
    pieces = sum(need.due for need in needs)
    cost = sum(need.due * need.part.price for need in needs)
    mass = sum(need.due * need.part.mass for need in needs)
    points = [(cost, _box(needs, counts))]
    wanted = [0.8, 0.9, 0.95, 0.98, 0.99]
    rows: list[Any] = []
    for index in [-1, *order]:
        if index >= 0:
            counts[index] += 1
            pieces += 1
            cost += needs[index].part.price
            mass += needs[index].part.mass
            points.append((cost, _box(needs, counts)))
        while wanted and points[-1][1] >= wanted[0]:
            rows.append(
                [line("{sure}", sure=(wanted.pop(0), "%")), str(pieces), (mass, "kg"), (cost, "¤")]
            )
    if rows:
        show.table(
            "sure",
            "What confidence in the whole box costs",
            ("Confidence", "Pieces", "Mass", "Cost"),
            rows,
        )
    if order:
        show.chart(
            Chart(
                "confidence",
                "What confidence costs, adding the best piece each time",
                Axis("Cost of the box", "¤"),
                Axis("Chance that nothing is missing", "%", 0.0, 1.0),
                [Series("the box", points, steps=True)],
                limits=[Mark("wanted", q.confidence)],
                summary=f"From {points[0][1]:.0%} with what falls due alone to "
                f"{points[-1][1]:.1%} with {len(order)} pieces more.",
            )
        )


# ---- changing it before it fails ----


def _early(q: Values, worn: Sequence[Need], made: Plan, show: Report) -> None:
    rows = []
    for need in worn:
        best = _best(q, need)
        planned = need.job.rule.hours if need.job else None
        rows.append(
            [
                need.part.name,
                (best.age, "h") if best.age is not None else "never: run it to failure",
                "" if planned is None else (planned, "h"),
                (best.cost * 1000 * HOUR, "¤"),
                (best.cost_unplanned * 1000 * HOUR, "¤"),
            ]
        )
    show.table(
        "early",
        "When changing it early costs least",
        ("Part", "Best age", "By your list", "Per 1000 h at the best age", "Per 1000 h if never"),
        rows,
    )


def _best(q: Values, need: Need) -> reliability.AgeReplacement:
    price = need.part.price
    shape = 1.0 if need.part.shape is None else need.part.shape
    return reliability.age_replacement(shape, need.part.life, price, price + q.stop_cost)


def _chosen(q: Values, worn: Sequence[Need]) -> Need | None:
    """The part whose curve is drawn, None where no part wears out."""
    if not worn:
        return None
    if not q.look_at:
        return worn[0]
    for need in worn:
        if need.part.name.lower() == q.look_at.lower():
            return need
    names = [need.part.name for need in worn]
    raise Refusal(
        "look_at",
        f"no part that wears out is called “{q.look_at}”.{nearest(q.look_at, names)} "
        f"Known: {', '.join(names)}",
    )


def _curve(q: Values, need: Need, show: Report) -> None:
    price, life = need.part.price, need.part.life
    shape = 1.0 if need.part.shape is None else need.part.shape
    best = _best(q, need)
    unplanned = price + q.stop_cost
    shown = 2 * (best.age or life)
    ages = [shown * (i + 3) / (_CURVE + 2) for i in range(_CURVE)]
    points = [
        (age, reliability.age_replacement_cost(age, shape, life, price, unplanned)) for age in ages
    ]
    marks = [Mark("best", best.age)] if best.age is not None else []
    planned = need.job.rule.hours if need.job else None
    if planned is not None and planned < shown:
        marks.append(Mark("your list", planned))
    show.chart(
        Chart(
            "early",
            f"{need.part.name}: what it costs to change it at an age",
            Axis("Age at the change", "h"),
            Axis("Cost per running hour", "¤/h", 0.0),
            [Series("cost", points)],
            marks=marks,
            limits=[Mark("run to failure", best.cost_unplanned)],
            summary="Too early wastes parts, too late risks the stop; the lowest point is best."
            if best.age is not None
            else "It costs least to run it until it fails.",
        )
    )
    if best.age is None:
        return
    surviving = reliability.weibull_reliability(best.age, shape, life)
    service = reliability.mean_service(best.age, shape, life)
    show.step(
        f"{need.part.name}: cost an hour at the best age",
        best.cost,
        "¤/h",
        "c = (C_p * R + C_u * (1 - R)) / A",
        {"C_p": (price, "¤"), "C_u": (unplanned, "¤"), "R": (surviving, "%"), "A": (service, "h")},
        "R. E. Barlow and L. C. Hunter, Oper. Res. 8 (1960) 90-100",
        note="R is the share that reaches that age, A the mean time in service up to it.",
    )
