"""What would make a unit's place good: each answer is tried under all limits before it is told.

An amount in a remedy is named by the field that it is typed into; least amounts are rounded up,
greatest ones down, so that what is shown holds when it is typed back.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator
from dataclasses import dataclass, replace

from ..equipment.choices import CORED_FLOORS, SOLID_FLOORS
from ..inputs import Refusal, Values
from ..physics import fasteners, lifting, vibration
from ..report import TIGHT_MARGIN, Amount, Report, least, most
from . import mounting
from . import vibration_path as path
from .mounting import DRUM_GAP, Case

SHAFT = {"fore": "fore and aft", "athwart": "athwartships"}
"""How the shaft may lie."""

Trial = Callable[[Case, Values], frozenset[str]]
"""Keys of the figures that fail with other values, for the unit of a case."""

OTHERS = frozenset(
    ("fastening", "washer", "head", "across", "height", "tilt_across", "tilt_along", "lift",
     "in the way", "maker", "core")
)  # fmt: skip
"""What neither mounts nor floor can mend."""

ROOM = frozenset(("head", "across", "height"))
TILT = frozenset(("tilt_across", "tilt_along"))

SOFTEST = 0.010
"""Mounts that give more than this [m] do not hold a unit at sea: common practice, no source."""
SPARE = 1 - TIGHT_MARGIN
"""Share of a strength that what is told uses at most: with more it would be tight."""
_ROOM = 1.1  # a range narrower than this cannot be bought
_CLOSE = 1e-6  # kept from every limit, so that rounding to nine digits never crosses it


def remedies(
    made: Case, failing: frozenset[str], tight: frozenset[str], trial: Trial, show: Report
) -> None:
    """The inverse answers to what fails in a place; where nothing does, to what holds just so."""
    if made.hangs and made.q.on_bulkhead == "no":
        _stands(made, trial, show)
    rest, asked = failing & OTHERS, failing or tight
    shaken = bool(failing - OTHERS)
    told = bool(asked - OTHERS) and _mounts(made, rest, trial, show)
    if shaken:
        told |= _floors(made, rest, trial, show, with_mounts=not told)
        told |= "movement" in failing and _gap(made, rest, trial, show)
    if shaken and not told:
        show.remedy(
            "No one change to mounts, floor or room passes all limits together here: change two, "
            "or look for another place."
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
        return {"mount_by": "deflection", "mount_rating": told["mount_rating"].value,
                "mount_deflection": told["mount_deflection"].value}  # fmt: skip

    def holds(self, trial: Trial, q: Values, rest: frozenset[str]) -> bool:
        """Whether its hardest holds every limit; what lies between it and the softest then does."""
        return trial(self.made, changed(q, self.typed())) <= rest


def words(q: Values) -> str:
    """Mounts as they are told; the weight that hangs on them is not what they are bought by."""
    pressed = "that the weight presses down by {mount_deflection} to {softest}"
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
    start, end = max(_open(low, high, _near_sources(soft)), key=lambda s: s[1] / s[0],
                     default=(1.0, 1.0))  # fmt: skip
    hardest, softest = q.mount_deflection / end, q.mount_deflection / start
    if softest < _ROOM * hardest:
        return None
    return Range(hardest * (1 + _CLOSE), softest * (1 - _CLOSE), mounting.rating_wanted(soft), soft)


def _hardest(soft: Case) -> float:
    """Greatest stiffness, over that of these mounts, by the gain and by the slowest shake.

    The slowest shake is passed to a rigid floor, so that no stiffer floor undoes it.
    """
    q, f = soft.q, soft.heard.frequency
    gains = stiffness_for_gain(q.unit_mass, soft.iso.loss, soft.floor.endless(f), f, q.wanted)
    rigid = (soft.sources[0].frequency / math.sqrt(2) / soft.bounce) ** 2
    return min(gains / soft.iso.shaken, rigid)


def _near_sources(soft: Case) -> Iterator[tuple[float, float]]:
    """Stiffnesses, over that of these mounts, with which a motion answers a source."""
    for source in soft.sources:
        low, high = source.frequency * (1 - DRUM_GAP), source.frequency * (1 + DRUM_GAP)
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
    mass: float, loss: float, mobility: float, frequency: float, wanted: float
) -> float:
    """Highest shaken stiffness [N/m] of all mounts that gains `wanted` [dB] on a floor."""
    high = math.log(mass * (2 * math.pi * frequency) ** 2)  # resonance: gains nothing from here up
    low = high - 30.0
    machine, floor = vibration.mass_mobility(mass, frequency), complex(mobility)
    for _ in range(24):
        middle = (low + high) / 2
        mounts = vibration.spring_mobility(math.exp(middle), loss, frequency)
        gain = vibration.ratio_level(vibration.effectiveness(machine, mounts, floor))
        low, high = (middle, high) if gain >= wanted else (low, middle)
    return math.exp(low)


def _mounts(made: Case, rest: frozenset[str], trial: Trial, show: Report) -> bool:
    """The mounts that suit this floor as it is."""
    if not _clear(made.floor, made.sources):
        return False
    found = mount_range(on_mounts(made))
    if found is None or not found.holds(trial, made.q, rest):
        return False
    show.remedy("On this floor: " + words(made.q) + ".", **found.amounts())
    return True


# ---- floor ----


@dataclass(frozen=True)
class Lever:
    """A size of the floor that stiffens it: its field, the farthest value, and the words."""

    field: str
    farthest: float
    told: str


def _levers(q: Values) -> Iterator[Lever]:
    if q.floor_form == "bearers":
        yield Lever("bearer_depth", min(5 * q.bearer_depth, 0.4),
                    "Bearers {bearer_depth} deep instead of {now}")  # fmt: skip
        return
    if q.floor_material in CORED_FLOORS:
        yield Lever("core_thickness", min(5 * q.core_thickness, 0.15),
                    "A core {core_thickness} thick instead of {now}")  # fmt: skip
    elif q.floor_material in SOLID_FLOORS:
        yield Lever("floor_thickness", min(5 * q.floor_thickness, 0.1),
                    "A panel {floor_thickness} thick instead of {now}")  # fmt: skip
        yield Lever(
            "doubler",
            0.06,
            "A plywood doubler of {doubler}"
            + (" in all" if q.doubler else "")
            + ", bonded all over it",
        )
    if not q.battens:
        yield Lever("floor_width", max(q.span_across + 0.012, 0.3 * q.floor_width),
                    "Stiff bearers under the panel that leave {floor_width} of its width free "
                    "instead of {now}")  # fmt: skip


def _floors(
    made: Case, rest: frozenset[str], trial: Trial, show: Report, *, with_mounts: bool
) -> bool:
    """The least that each size of the floor must change; `with_mounts`, other mounts on it."""
    q = made.q
    alone = made.gain(made.heard.frequency, 0j) >= q.wanted
    soft = on_mounts(made) if with_mounts else made
    told = False
    for lever in _levers(q):
        if alone:
            value = _least_change(made, lever, lambda floor: _gains(made, floor))
            if value and trial(made, changed(q, {lever.field: value.value})) <= rest:
                show.remedy(lever.told + ".", **_floor_amounts(q, lever, value))
                told = True
                continue
        if not with_mounts:
            continue
        value = _least_change(made, lever, lambda floor: _range_on(soft, floor) is not None)
        if value is None:
            continue
        stiffer = changed(q, {lever.field: value.value})
        found = _range_on(soft, path.floor(stiffer, made.iso.places))
        if found and found.holds(trial, stiffer, rest):
            show.remedy(lever.told + ", and on it " + words(q) + ".",
                        **_floor_amounts(q, lever, value), **found.amounts())  # fmt: skip
            told = True
    return told


def _floor_amounts(q: Values, lever: Lever, value: Amount) -> dict[str, Amount]:
    return {lever.field: value, "now": Amount(getattr(q, lever.field), "mm")}


def _clear(floor: path.Floor, sources: tuple[path.Source, ...]) -> bool:
    """Whether no mode of the bare floor lies near a source."""
    return all(abs(f / s.frequency - 1) >= DRUM_GAP for _, f in floor.drums for s in sources)


def _gains(made: Case, floor: path.Floor) -> bool:
    f = made.heard.frequency
    return bool(made.gain(f, complex(floor.endless(f))) >= made.q.wanted + _CLOSE)


def _range_on(soft: Case, floor: path.Floor) -> Range | None:
    return mount_range(replace(soft, floor=floor))


def _least_change(made: Case, lever: Lever, good: Callable[[path.Floor], bool]) -> Amount | None:
    """The value nearest to the present one with which the floor lies clear and is `good`.

    Clear: its lowest mode lies `DRUM_GAP` above the fastest source, so that all its modes do, and
    those of any stiffer floor.
    """
    clear = made.sources[-1].frequency * (1 + DRUM_GAP) * (1 + _CLOSE)
    now = getattr(made.q, lever.field)
    narrower = lever.farthest < now

    def at(value: float) -> Values:
        return changed(made.q, {lever.field: value})

    def lies_clear(value: float) -> bool:
        try:
            return path.lowest_drum(at(value)) >= clear
        except Refusal:
            return False

    def holds(value: float) -> bool:
        try:
            return good(path.floor(at(value), made.iso.places, orders=1))
        except Refusal:
            return False

    if not lies_clear(lever.farthest):
        return None
    value = _nearest(lies_clear, now, lever.farthest, narrower)
    if not holds(value):
        if not holds(lever.farthest):
            return None
        value = _nearest(holds, value, lever.farthest, narrower)
    return most(value, "mm", 0.005) if narrower else least(value, "mm", 0.001)


def _nearest(holds: Callable[[float], bool], near: float, far: float, narrower: bool) -> float:
    """The value nearest to `near` that holds; `far` does."""
    while abs(far - near) > (0.002 if narrower else 0.0005):
        middle = (near + far) / 2
        near, far = (near, middle) if holds(middle) else (middle, far)
    return far


# ---- level ----


def _level(made: Case, failing: frozenset[str], trial: Trial, show: Report) -> None:
    """The heel, list and trim that its tilt limits leave, and its shaft laid the other way."""
    q = made.q
    heel, trim = q.heel_limit, q.trim_limit
    if q.lies == "athwart":
        heel, trim = trim, heel
    told = (
        ("sail_heel", "make water at {sail_heel} of heel at most", heel, q.runs_under_sail),
        ("rest_heel", "wedge its base until no more than {rest_heel} of the list at rest is left",
         heel, True),
        ("rest_trim", "wedge its base until no more than {rest_trim} of the trim is left",
         trim, True),
    )  # fmt: skip
    over = [(field, words, most(limit, "°")) for field, words, limit, counts in told
            if counts and getattr(q, field) > limit]  # fmt: skip
    words = ", and ".join(words for _, words, _ in over)
    show.remedy(words[0].upper() + words[1:] + ".", **{field: a for field, _, a in over})
    other = {"fore": "athwart", "athwart": "fore"}[q.lies]
    if trial(made, changed(q, {"lies": other})) <= failing - TILT:
        show.remedy("Turn the unit, where there is room, so that its shaft lies {lies}.",
                    lies=SHAFT[other])  # fmt: skip


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
            bolt=bolt, **({} if made.q.fix_by == "bolts" else {"fix_by": "bolts"}), **plate,
        )  # fmt: skip
        return
    show.remedy("No bolt up to M12 holds here: use more of them, or spread the feet.")


def _wider(made: Case, show: Report) -> None:
    """The smallest backing plate under the bolts as they are."""
    washer = _plate(made, made.q.bolt)
    if washer is None:
        show.remedy("No backing plate is wide enough here: use more bolts, or spread the feet.")
        return
    show.remedy("Backing plates or washers {washer} across instead of {now}.", washer=washer,
                now=Amount(made.q.washer, "mm"))  # fmt: skip


def _plate(made: Case, bolt: str) -> Amount | None:
    """The smallest backing plate under a bolt that its panel bears, in steps of 5 mm."""
    hole, allowed = mounting.hole(bolt), SPARE * mounting.bearing(made.q)
    pull = made.q.safety * mounting.worst_pull(made)
    across = least(
        max(fasteners.washer_for_pressure(pull, allowed, hole), 2 * hole), "mm", 0.005
    )  # fmt: skip
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
            "{locker_height} high inside.", gap=gap, **locker,
        )  # fmt: skip
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
            "deep and {locker_height} high inside.", **locker,
        )  # fmt: skip


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
        show.remedy("It takes {people} people who reach it like that, or a tackle.",
                    people=str(people))  # fmt: skip
    else:
        show.remedy("Lift it with a tackle, or in parts: at that reach one person lifts {m}.",
                    m=most(limit, "kg"))  # fmt: skip
