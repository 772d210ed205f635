"""What would make a unit's place good: each answer is tried under all limits before it is told.

An amount in a remedy is named by the field that it is typed into; least amounts are rounded up,
greatest ones down, so that what is shown holds when it is typed back.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace

from ..equipment.choices import CORED_FLOORS
from ..frame.inputs import Refusal, Values
from ..frame.report import TIGHT_MARGIN, Amount, Report, least, most
from ..physics import fasteners, lifting
from . import mounting
from . import vibration_path as path
from .mounting import NEAR, Case

SHAFT = {"fore": "fore and aft", "athwart": "athwartships"}
"""How the shaft may lie."""

Trial = Callable[[Case, Values], frozenset[str]]
"""Keys of the figures that fail with other values, for the unit of a case."""

OTHERS = frozenset(
    (
        "fastening",
        "washer",
        "head",
        "across",
        "height",
        "tilt_across",
        "tilt_along",
        "lift",
        "in the way",
        "maker",
        "core",
    )
)
"""What neither mounts nor floor can mend."""

OFF_CENTRED = frozenset(("rocking", "load", "sea_mount", "buckling", "movement"))
"""What mounts under the centre of gravity can mend, shifted there or spread about it."""

ROOM = frozenset(("head", "across", "height"))
TILT = frozenset(("tilt_across", "tilt_along"))

SOFTEST = 0.010
"""Mounts that give more than this [m] do not hold a unit at sea: common practice, no source."""
SPARE = 1 - TIGHT_MARGIN
"""Share of a strength that what is told uses at most: with more it would be tight."""
_ROOM = 1.1  # a range narrower than this cannot be bought
_ROUNDED = 0.005  # by so much a number of three digits may be off
_CLOSE = 1e-6  # kept from every limit, so that rounding to nine digits never crosses it


def remedies(
    made: Case, failing: frozenset[str], tight: frozenset[str], trial: Trial, show: Report
) -> None:
    """The inverse answers to what fails in a place; where nothing does, to what holds just so."""
    if made.hangs and made.q.on_bulkhead == "no":
        _stands(made, trial, show)
    rest, asked = failing & OTHERS, failing or tight
    shaken = bool(failing - OTHERS)
    off_centre = bool(asked & OFF_CENTRED) and abs(made.q.cg_along) >= OFF_CENTRE
    told = off_centre and _centred(made, rest, trial, show)
    told |= bool(asked - OTHERS - {"note"}) and _mounts(made, rest, trial, show)
    if off_centre and not told:
        told = _centred_on_others(made, rest, trial, show)
    if shaken:
        told |= _floors(made, rest, trial, show, with_mounts=not told)
        told |= "movement" in failing and _gap(made, rest, trial, show)
    if shaken and not told:
        show.remedy(
            "No one change to mounts, floor or room that a builder would make is enough here: look "
            "for another place, on a panel that is smaller or better held, or change two things."
        )
    if failing & TILT:
        _level(made, failing, trial, show)
    if "fastening" in asked:
        _stronger(made, show)
    elif "washer" in asked:
        _wider(made, show)
    if failing & ROOM:
        _smallest_locker(made, show)
    if "lift" in failing:
        _hands(made, show)


def _stands(made: Case, trial: Trial, show: Report) -> None:
    """What comes of standing a unit that may not hang."""
    failing = trial(made, changed(made.q, {"attitude": "platform"}))
    show.remedy(
        "Stand it on a platform, as its maker wants it: with all else as it is here, "
        + ("every limit holds there." if not failing else "other limits are passed there too.")
    )


# ---- mounts ----


@dataclass(frozen=True)
class Range:
    """Mounts that hold every limit: how far the weight presses them down [m], and what they bear.

    hardest ≤ softest; rating [N] each.
    """

    hardest: float
    softest: float
    rating: float
    made: Case

    def amounts(self) -> dict[str, Amount]:
        """The range as it is told, by field."""
        each = self.made.q.unit_mass * path.GRAVITY / len(self.made.iso.places)
        return {
            "mount_deflection": least(self.hardest, "mm"),
            "softest": most(self.softest, "mm"),
            "mount_stiffness": most(each / self.hardest, "N/mm"),
            "soft_each": least(each / self.softest, "N/mm"),
            "mount_rating": least(self.rating / path.GRAVITY / SPARE, "kg", 0.5),
            "dynamic_ratio": Amount(self.made.q.dynamic_ratio, "×"),
            "side_ratio": Amount(self.made.q.side_ratio, "%"),
        }

    def typed(self) -> dict[str, object]:
        """The values of its hardest."""
        told = self.amounts()
        return {
            "mount_by": "deflection",
            "mount_rating": told["mount_rating"].value,
            "mount_deflection": told["mount_deflection"].value,
        }

    def holds(self, trial: Trial, q: Values, rest: frozenset[str]) -> bool:
        """Whether its hardest holds every limit; what lies between it and the softest then does."""
        return trial(self.made, changed(q, self.typed())) <= rest


def words(q: Values) -> str:
    """Mounts as they are told; the weight that hangs on them is not what they are bought by."""
    pressed = "no taller than wide, that the weight presses down by {mount_deflection} to {softest}"
    if q.attitude == "bulkhead":
        pressed = pressed.replace("presses", "would press") + " if it stood on them"
    return (
        f"mounts {pressed} ({{mount_stiffness}} down to {{soft_each}} each) and that carry "
        "{mount_rating} each, shaken {dynamic_ratio} as stiff as at rest and sideways "
        "{side_ratio} as stiff"
    )


def changed(q: Values, changes: dict[str, object]) -> Values:
    return Values(vars(q) | changes)


def on_mounts(made: Case) -> Case:
    """The same unit and floor on mounts that give 2 mm."""
    q = changed(made.q, {"mount_by": "deflection", "mount_deflection": 0.002})
    return mounting.case(q, made)


def mount_range(soft: Case) -> Range | None:
    """The widest range of mounts like these that holds every limit on the shaking and moving.

    Stiffness only scales: motions go with its root, movement with its inverse. What is left of the
    stiffness between the softest and the hardest, once no motion lies near a source, is the answer.
    """
    q = soft.q
    low = max(soft.moved / q.gap if q.gap else math.inf, q.mount_deflection / SOFTEST)
    high = _hardest(soft)
    if low >= high:
        return None
    start, end = max(
        _open(low, high, _near_sources(soft)), key=lambda s: s[1] / s[0], default=(1.0, 1.0)
    )
    hardest, softest = q.mount_deflection / end, q.mount_deflection / start
    if softest < _ROOM * hardest:
        return None
    return Range(hardest * (1 + _CLOSE), softest * (1 - _CLOSE), mounting.rating_wanted(soft), soft)


def _hardest(soft: Case) -> float:
    """Greatest stiffness, over that of these mounts, by the gains and by the slowest vibration.

    The slowest is passed to a rigid floor, so that no stiffer floor undoes it.
    """
    mass, loss = soft.q.unit_mass, soft.iso.loss
    gains = [
        stiffness_for_gain(
            mass,
            loss,
            soft.floor.mobilities(s.frequency),
            s.frequency,
            soft.q.wanted if s == soft.heard else 0.0,
        )
        for s in soft.audible
    ]
    rigid = (soft.sources[0].frequency / math.sqrt(2) / soft.bounce) ** 2
    return min(min(gains) / soft.iso.shaken, rigid)


def _near_sources(soft: Case) -> Iterator[tuple[float, float]]:
    """Stiffnesses, over that of these mounts, with which a motion answers a source."""
    for source in soft.sources:
        low, high = source.frequency * (1 - NEAR), source.frequency * (1 + NEAR)
        for mode in soft.modes:
            yield (low / mode.frequency) ** 2, (high / mode.frequency) ** 2
        # From a rigid floor to this one, and to all between.
        yield (low / soft.bounce) ** 2, _stiffness_over(soft, high)


def _stiffness_over(soft: Case, frequency: float) -> float:
    """Stiffness, over that of these mounts, with which unit and floor bounce at a frequency [Hz].

    Infinite when the floor alone is softer.
    """
    together = (2 * math.pi * frequency) ** 2 * soft.q.unit_mass
    floor = soft.floor.stiffness
    if together >= floor:
        return math.inf
    return float(together * floor / (floor - together) / soft.iso.shaken)


def _open(
    low: float, high: float, closed: Iterator[tuple[float, float]]
) -> Iterator[tuple[float, float]]:
    """What is left of a stretch between closed ones."""
    at = low
    for start, end in sorted(closed):
        if start > at:
            yield at, min(start, high)
        at = max(at, end)
        if at >= high:
            return
    yield at, high


def stiffness_for_gain(
    mass: float, loss: float, floors: Sequence[complex], frequency: float, wanted: float
) -> float:
    """Highest shaken stiffness [N/m] of all mounts that gains `wanted` [dB] on a floor that is one
    of several [m/(N s)]; never so high that the unit bounces on a rigid floor at this frequency."""
    high = math.log(mass * (2 * math.pi * frequency) ** 2)
    low = high - 30.0
    for _ in range(24):
        middle = (low + high) / 2
        gain = mounting.gain(mass, math.exp(middle), loss, floors, frequency)
        low, high = (middle, high) if gain >= wanted else (low, middle)
    return math.exp(low)


def _mounts(made: Case, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """The mounts that suit this floor as it is."""
    found = mount_range(on_mounts(made))
    if found is None or not found.holds(trial, made.q, rest):
        return False
    show.remedy("On this floor: " + words(made.q) + ".", **found.amounts())
    return True


# ---- under the centre of gravity ----

OFF_CENTRE = 0.01
"""A centre of gravity nearer than this [m] to the middle of the feet is not worth a shift."""


def _centred(made: Case, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """The mounts as they are, shifted under the centre of gravity."""
    under = changed(made.q, {"cg_along": 0.0})
    if not trial(mounting.case(under), under) <= rest:
        return False
    show.remedy(_shifted(made.q) + ".", **_shift(made.q))
    return True


def _centred_on_others(made: Case, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """Other mounts under the centre of gravity, where neither is enough alone."""
    q = made.q
    under = changed(q, {"cg_along": 0.0})
    found = mount_range(on_mounts(mounting.case(under)))
    if found is None or not found.holds(trial, under, rest):
        return False
    show.remedy(_shifted(q) + ", and take " + words(q) + ".", **_shift(q), **found.amounts())
    return True


def _shifted(q: Values) -> str:
    return (
        f"Shift all mounts {{shift}} towards the {'motor' if q.cg_along > 0 else 'pump'}, so that "
        "the centre of gravity lies {cg_along} from the middle of the feet"
    )


def _shift(q: Values) -> dict[str, Amount]:
    return {"shift": Amount(abs(q.cg_along), "mm"), "cg_along": Amount(0.0, "mm")}


# ---- floor ----


@dataclass(frozen=True)
class Lever:
    """Something that quietens the floor: the sets of values to try, the least work first, and how
    it is told."""

    tries: tuple[dict[str, object], ...]
    told: str


THICKNESSES = {
    "plywood": (9, 12, 15, 18, 21, 24, 27, 30), "grp_csm": (6, 8, 10, 12, 15, 18),
    "grp_woven": (6, 8, 10, 12, 15, 18), "steel": (4, 5, 6, 8), "aluminium": (4, 5, 6, 8, 10, 12),
    "softwood": (18, 22, 27, 32, 38, 45), "hardwood": (18, 22, 27, 32, 38, 45),
}  # fmt: skip
"""Panels [mm] that somebody would build in a boat; the next lists likewise: common practice."""
CORES = (15, 20, 25, 30, 40, 50)
DOUBLERS = (6, 9, 12, 15, 18, 24)
BEARERS = (50, 60, 70, 80, 100, 120, 150)
PLATES = (4, 6, 8, 10, 15, 20)
"""Plates [kg] under the mounts."""
BATTENS = ((2, 40), (2, 60), (3, 60), (3, 80), (4, 80))
"""How many battens 30 mm wide, and how deep [mm]."""


def _levers(q: Values) -> Iterator[Lever]:
    """What to do to the floor, the least work first."""
    if q.floor_form == "bearers":
        yield _sizes("bearer_depth", q, BEARERS, "Bearers {bearer_depth} deep instead of {now}")
        yield _plate_lever(q)
        return
    if not q.battens and q.floor_material not in ("steel", "aluminium"):
        yield Lever(
            tuple(
                [
                    {"battens": n, "batten_width": 0.03, "batten_depth": depth / 1000}
                    for n, depth in BATTENS
                ]
            ),
            "Glue {battens} battens under it, lengthwise, {batten_width} wide and {batten_depth} "
            "deep",
        )
    yield _plate_lever(q)
    if not q.battens:
        least_width = max(q.span_across + 0.012, 0.3 * q.floor_width)
        steps = [q.floor_width + (least_width - q.floor_width) * i / 5 for i in range(1, 6)]
        widths = [math.ceil(w / 0.005) * 0.005 for w in steps]
        yield Lever(
            tuple([{"floor_width": w} for w in widths if w < q.floor_width]),
            "Stiff bearers under the panel that leave {floor_width} of its width free instead of "
            "{now}",
        )
    if q.floor_material in CORED_FLOORS:
        yield _sizes("core_thickness", q, CORES, "A core {core_thickness} thick instead of {now}")
        return
    yield _sizes(
        "doubler",
        q,
        DOUBLERS,
        "A plywood doubler of {doubler}"
        + (" in all" if q.doubler else "")
        + ", bonded all over it",
    )
    yield _sizes(
        "floor_thickness",
        q,
        THICKNESSES[q.floor_material],
        "A panel {floor_thickness} thick instead of {now}",
    )


def _plate_lever(q: Values) -> Lever:
    return Lever(
        tuple([{"floor_plate": float(kg)} for kg in PLATES if kg > q.floor_plate]),
        "A metal plate of {floor_plate} bolted to the floor under the mounts",
    )


def _sizes(field: str, q: Values, sizes: tuple[int, ...], told: str) -> Lever:
    now = getattr(q, field)
    return Lever(tuple([{field: mm / 1000} for mm in sizes if mm / 1000 > now]), told)


def _floors(
    made: Case, rest: frozenset[str], trial: Trial, show: Report, *, with_mounts: bool
) -> bool:
    """The least of each change to the floor that is enough; `with_mounts`, other mounts on it."""
    q = made.q
    soft = on_mounts(made) if with_mounts else made
    alone = made.gain(made.heard.frequency, mounting.RIGID) >= q.wanted
    told = False
    for lever in _levers(q):
        done = alone and _alone(made, lever, rest, trial, show)
        if not done and with_mounts:
            done = _with_mounts(made, soft, lever, rest, trial, show)
        told |= done
    return told


def _alone(made: Case, lever: Lever, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """A floor that is enough under the mounts as they are."""
    for tried in lever.tries:
        if all(trial(made, there) <= rest for there in _as_typed(made.q, tried)):
            show.remedy(lever.told + ".", **_floor_amounts(made.q, lever, tried))
            return True
    return False


def _with_mounts(
    made: Case, soft: Case, lever: Lever, rest: frozenset[str], trial: Trial, show: Report
) -> bool:
    """A floor that is enough with other mounts on it."""
    for tried in lever.tries:
        there = changed(made.q, tried)
        try:
            found = mount_range(replace(soft, floor=path.floor(there, made.iso.places)))
        except Refusal:
            continue
        if found and all(found.holds(trial, q, rest) for q in _as_typed(made.q, tried)):
            show.remedy(
                lever.told + ", and on it " + words(made.q) + ".",
                **_floor_amounts(made.q, lever, tried),
                **found.amounts(),
            )
            return True
    return False


def _as_typed(q: Values, tried: dict[str, object]) -> Iterator[Values]:
    """A change as it is, and a little off either way: in inches it is typed to three digits."""
    for off in (1.0, 1 - _ROUNDED, 1 + _ROUNDED):
        yield changed(q, {n: v * off if isinstance(v, float) else v for n, v in tried.items()})


def _floor_amounts(q: Values, lever: Lever, tried: dict[str, object]) -> dict[str, Amount | str]:
    found: dict[str, Amount | str] = {}
    for field, value in tried.items():
        if isinstance(value, int):
            found[field] = str(value)
        elif isinstance(value, float):
            found[field] = Amount(value, "kg" if field == "floor_plate" else "mm")
    if "{now}" in lever.told:
        found["now"] = Amount(getattr(q, next(iter(tried))), "mm")
    return found


# ---- level ----


def _level(made: Case, failing: frozenset[str], trial: Trial, show: Report) -> None:
    """The heel, list and trim that its tilt limits leave, and its shaft laid the other way."""
    q = made.q
    heel, trim = q.heel_limit, q.trim_limit
    if q.lies == "athwart":
        heel, trim = trim, heel
    told = (
        ("sail_heel", "make water at {sail_heel} of heel at most", heel, q.runs_under_sail),
        (
            "rest_heel",
            "wedge its base until no more than {rest_heel} of the list at rest is left",
            heel,
            True,
        ),
        (
            "rest_trim",
            "wedge its base until no more than {rest_trim} of the trim is left",
            trim,
            True,
        ),
    )
    over = [
        (field, words, most(limit, "°"))
        for field, words, limit, counts in told
        if counts and getattr(q, field) > limit
    ]
    words = ", and ".join(words for _, words, _ in over)
    show.remedy(words[0].upper() + words[1:] + ".", **{field: a for field, _, a in over})
    other = {"fore": "athwart", "athwart": "fore"}[q.lies]
    if trial(made, changed(q, {"lies": other})) <= failing - TILT:
        show.remedy(
            "Turn the unit, where there is room, so that its shaft lies {lies}.", lies=SHAFT[other]
        )


# ---- fastening, room and hands ----

BOLTS = ("M4", "M5", "M6", "M8", "M10", "M12")
"""Bolts that a foot may have."""
_WIDEST = 0.3  # m, the greatest backing plate that can be typed


def _stronger(made: Case, show: Report) -> None:
    """The smallest bolts that hold, in place of screws or of smaller ones, with their plates."""
    bolted = replace(made, q=changed(made.q, {"fix_by": "bolts"}))
    for bolt in BOLTS:
        washer = _plate(bolted, bolt)
        used = mounting.used_with_safety(bolted, mounting.holding(bolted.q, bolt))
        if washer is None or used > SPARE:
            continue
        plate = {} if washer.value <= made.q.washer else {"washer": washer}
        show.remedy(
            ("B" if made.q.fix_by == "bolts" else "Not screws but b")
            + "olts that hold in every sea here: {bolt} at each foot"
            + (" on backing plates or washers {washer} across." if plate else "."),
            bolt=bolt,
            **({} if made.q.fix_by == "bolts" else {"fix_by": "bolts"}),
            **plate,
        )
        return
    show.remedy("No bolt up to M12 holds here: use more of them, or spread the feet.")


def _wider(made: Case, show: Report) -> None:
    """The smallest backing plate under the bolts as they are."""
    washer = _plate(made, made.q.bolt)
    if washer is None:
        show.remedy("No backing plate is wide enough here: use more bolts, or spread the feet.")
        return
    show.remedy(
        "Backing plates or washers {washer} across instead of {now}.",
        washer=washer,
        now=Amount(made.q.washer, "mm"),
    )


def _plate(made: Case, bolt: str) -> Amount | None:
    """The smallest backing plate under a bolt that its panel bears, in steps of 5 mm."""
    hole, allowed = mounting.hole(bolt), SPARE * mounting.bearing(made.q)
    pull = made.q.safety * mounting.worst_pull(made)
    across = least(max(fasteners.washer_for_pressure(pull, allowed, hole), 2 * hole), "mm", 0.005)
    return across if across.value <= _WIDEST else None


def _gap(made: Case, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """The air round it that its movement wants, and the locker that this takes."""
    gap = least(made.moved, "mm", 0.001)
    wider = changed(made.q, {"gap": gap.value})
    if trial(made, wider) <= rest:
        show.remedy("Leave {gap} free round it.", gap=gap)
        return True
    locker = _locker(replace(made, q=wider))
    if trial(made, changed(wider, {name: a.value for name, a in locker.items()})) <= rest:
        show.remedy(
            "Leave {gap} free round it, in a locker {locker_length} long, {locker_width} deep and "
            "{locker_height} high inside.",
            gap=gap,
            **locker,
        )
        return True
    return False


def _smallest_locker(made: Case, show: Report) -> None:
    """The smallest locker that takes it, unless something stands in the way there."""
    locker = _locker(made)
    inside = changed(made.q, {name: a.value for name, a in locker.items()})
    layout = replace(made, q=inside).layout
    if not layout.struck and layout.free >= made.q.head_access - _CLOSE:
        show.remedy(
            "The smallest locker that takes it this way is {locker_length} long, {locker_width} "
            "deep and {locker_height} high inside.",
            **locker,
        )


def _locker(made: Case) -> dict[str, Amount]:
    names = ("locker_length", "locker_width", "locker_height")
    return {
        name: least(size, "mm", 0.001)
        for name, size in zip(names, mounting.room_wanted(made), strict=True)
    }


def _hands(made: Case, show: Report) -> None:
    """How many lift it, or what else."""
    q = made.q
    limit = lifting.lifting_limit(q.reach, q.hand_height)
    people = math.ceil(q.unit_mass / limit) if limit else 5
    if people <= 4:
        show.remedy(
            "It takes {people} people who reach it like that, or a tackle.", people=str(people)
        )
    else:
        show.remedy(
            "Lift it with a tackle, or in parts: at that reach one person lifts {m}.",
            m=most(limit, "kg"),
        )
