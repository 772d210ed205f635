"""A unit on its mounts over its floor, worked out once: what shakes it, what the sea does to it."""

from __future__ import annotations

import math
from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import rigid_body, vibration
from . import at_sea, borne
from .at_sea import AtSea, Standing
from .floor import Drum, Floor, Ground, ground
from .held import Held
from .mounts import Isolator, Mounts, check_standing, isolator, modes
from .shaker import Source, Unit

NEAR = 0.15
"""A motion of the unit nearer than this to a source answers it: common practice, no source."""
SEA_LOAD = 3.0
"""What a mount stands for a moment, as a multiple of what it carries for good: common practice."""
AIR_ROUND = 0.030
"""Air [m] round a unit that it may move in: common practice, no source."""
RIGID = (0j,)
"""The mobility of a floor that does not move."""


@dataclass(frozen=True)
class Footing:
    """A unit on mounts on a floor. hangs: the floor is a bulkhead; athwart: its shaft lies across
    the boat; sea: sea loads, times those of a cruising boat offshore."""

    unit: Unit
    mounts: Mounts
    floor: Floor
    hangs: bool = False
    athwart: bool = False
    sea: float = 1.0


@dataclass(frozen=True)
class Stand:
    """A footing worked out. bounce, on_floor [Hz]: on a rigid floor, and with the floor as a second
    spring."""

    footing: Footing
    iso: Isolator
    ground: Ground
    modes: tuple[rigid_body.Mode, ...]
    bounce: float
    on_floor: float
    standing: Standing
    cases: tuple[AtSea, ...]

    # ---- what shakes ----

    @property
    def unit(self) -> Unit:
        """The unit that stands there."""
        return self.footing.unit

    @property
    def hard(self) -> bool:
        """Whether it is bolted down without any mounts."""
        return self.footing.mounts.hard

    @property
    def hangs(self) -> bool:
        """Whether it hangs on a bulkhead."""
        return self.footing.hangs

    @property
    def heard(self) -> Source:
        """The source that people hear."""
        return self.unit.heard

    @property
    def slowest(self) -> Source:
        """The source of the lowest frequency."""
        return self.unit.sources[0]

    def gain(
        self, f: float, floors: Sequence[complex] | None = None, stiffness: float | None = None
    ) -> float:
        """What the mounts gain over bolting down hard [dB], at f [Hz].

        On this floor, wherever its notes may lie, or on any of `floors` [m/(N s)].
        """
        if self.hard and stiffness is None:
            return 0.0
        return gain(
            self.unit.mass,
            self.iso.shaken if stiffness is None else stiffness,
            self.iso.loss,
            self.ground.mobilities(f) if floors is None else floors,
            f,
        )

    @cached_property
    def gained(self) -> float:
        """What the mounts gain [dB] at what people hear."""
        return self.gain(self.heard.frequency)

    def least_gain(self, f: float) -> float:
        """As `gain`, with the floor's notes where they do most harm."""
        if self.hard:
            return 0.0
        machine = vibration.mass_mobility(self.unit.mass, f)
        mounts = vibration.spring_mobility(self.iso.shaken, self.iso.loss, f)
        floors = self.ground.mobilities(f)
        least = min([vibration.effectiveness(machine, mounts, floor) for floor in floors])
        return vibration.ratio_level(least)

    def passed(self, f: float, natural: float) -> float:
        """Share of a force at f [Hz] that is passed on where it bounces at `natural` [Hz]."""
        return vibration.hysteretic_transmissibility(f, natural, self.iso.loss)

    @cached_property
    def worst_gain(self) -> tuple[float, Source]:
        """The least that the mounts gain [dB] over bolting down hard at a source that people hear,
        and that source."""
        gains = [(self.gain(s.frequency), s) for s in self.unit.audible]
        return min(gains, key=lambda f: f[0])

    @cached_property
    def loudness(self) -> float:
        """What the floor sounds like [dB(A)], the mean over the places where its notes may lie."""
        return borne.loudness(self.unit, self.iso, self.ground)

    @cached_property
    def nearest_drum(self) -> tuple[float, Drum, Source]:
        """The floor's note that lies nearest to a source: distance as a share, note, source."""
        notes = [d.frequency for d in self.ground.drums]
        apart, index, source = _nearest(notes, self.unit.sources)
        return apart, self.ground.drums[index], source

    @cached_property
    def nearest_motion(self) -> tuple[float, str, float, Source]:
        """The motion on mounts and floor that lies nearest to a source: distance as a share, what
        it is ("bounce": mounts and floor together), frequency [Hz], source. A unit bolted down hard
        has its bounce on the floor alone."""
        motions = [] if self.hard else [(m.motion, m.frequency) for m in self.modes]
        motions.append(("bounce", self.on_floor))
        apart, index, source = _nearest([f for _, f in motions], self.unit.sources)
        return apart, *motions[index], source

    # ---- at rest and at sea ----

    @property
    def carries(self) -> float:
        """Load [N] that one mount carries for good, the way that the weight acts on it."""
        return self.iso.side_rating if self.hangs else self.iso.rating

    @property
    def rest_deflection(self) -> float:
        """How far the weight presses or shears the mounts [m]."""
        one = self.iso.side if self.hangs else self.iso.each
        return vibration.static_deflection(self.unit.mass, one * len(self.iso.places))

    @cached_property
    def rest_loads(self) -> tuple[float, ...]:
        """Load on each foot [N], the way that the weight acts on it."""
        return at_sea.at_rest(self.standing)

    @cached_property
    def moves(self) -> tuple[float, ...]:
        """How far the unit moves [m], by load case; not at all when bolted down hard."""
        if self.hard:
            return (0.0,) * len(self.cases)
        unit, weight = self.unit, self.unit.weight
        down = (0.0, -weight, 0.0) if self.hangs else (0.0, 0.0, -weight)
        corner = (unit.length / 2, unit.width / 2, max(unit.height - unit.cg_height, 0.0))
        return at_sea.moves(self.modes, self.iso.ratio, self.cases, down, corner)

    @property
    def moved(self) -> float:
        """How far the unit moves in the worst sea [m]."""
        return max(self.moves)

    @property
    def mount_pull(self) -> tuple[float, AtSea]:
        """The greatest pull on a foot [N], 0 if none is pulled, and its load case."""
        worst = max(self.cases, key=lambda case: case.pull)
        return max(worst.pull, 0.0), worst

    @cached_property
    def worst_use(self) -> MountUse:
        """The load on a mount at sea that is most for what it carries."""
        return max(_mount_uses(self), key=lambda use: use.times)

    @cached_property
    def hardest_press(self) -> AtSea:
        """The load case that presses a mount most."""
        return max(self.cases, key=lambda case: case.press)

    def bows(self, press: float) -> bool:
        """Whether a load [N] may bow a mount's rubber out sideways: how far the unit moves nobody
        can tell then, for it no longer springs back."""
        return not Held(press / self.iso.buckles, self.iso.low).holds

    @property
    def buckles(self) -> bool:
        """Whether the sea may do so."""
        return self.bows(self.hardest_press.press)

    @property
    def press(self) -> Held:
        """The hardest press on a mount at sea, of the load that buckles it: no more than is left if
        the rubber is as soft as its hardness allows."""
        return Held(self.hardest_press.press / self.iso.buckles, self.iso.low)


def gain(
    mass: float, stiffness: float, loss: float, floors: Sequence[complex], frequency: float
) -> float:
    """What mounts of a shaken stiffness [N/m] gain under a mass [kg] over bolting down hard [dB],
    on a floor that is one of several [m/(N s)]."""
    return gains_on(mass, loss, floors, frequency)(stiffness)


def gains_on(
    mass: float, loss: float, floors: Sequence[complex], frequency: float
) -> Callable[[float], float]:
    """The same for any stiffness [N/m]."""
    machine = vibration.mass_mobility(mass, frequency)
    bare = [abs(machine + floor) for floor in floors]

    def gained(stiffness: float) -> float:
        mounts = vibration.spring_mobility(stiffness, loss, frequency)
        return vibration.ratio_level(vibration.mean_effectiveness(machine, mounts, floors, bare))

    return gained


def _nearest(frequencies: Sequence[float], sources: Sequence[Source]) -> tuple[float, int, Source]:
    """The frequency that lies nearest to a source: distance as a share, its index, source."""
    nearest = (math.inf, 0, sources[0])
    for index, frequency in enumerate(frequencies):
        for source in sources:
            apart = abs(frequency / source.frequency - 1)
            if apart < nearest[0]:
                nearest = (apart, index, source)
    return nearest


@dataclass(frozen=True)
class MountUse:
    """A load on a mount at sea: as a multiple of what it carries that way for good, in newtons,
    what it does to the mount ("pulled", "pressed", "sheared"), and the load case."""

    times: float
    force: float
    how: str
    case: AtSea


def _mount_uses(made: Stand) -> Iterator[MountUse]:
    iso = made.iso
    for case in made.cases:
        how = "pulled" if case.pull >= case.push else "pressed"
        yield MountUse(case.push / iso.rating, case.push, how, case)
        yield MountUse(case.shear / iso.side_rating, case.shear, "sheared", case)


def rating_wanted(made: Stand) -> float:
    """Load [N] that a mount must carry for good, pressed, to stand rest and sea."""
    share = made.iso.side / made.iso.each
    wanted = [max(made.rest_loads) / (share if made.hangs else 1.0)]
    for case in made.cases:
        wanted += [case.push / SEA_LOAD, case.shear / share / SEA_LOAD]
    return max(wanted)


# ---- worked out ----


def stand(footing: Footing, like: Stand | None = None) -> Stand:
    """A footing worked out. What it shares with another, `like`, is not worked out again."""
    unit, mounts, hangs = footing.unit, footing.mounts, footing.hangs
    same_unit = like is not None and unit == like.unit
    if like and same_unit and (mounts, hangs) == (like.footing.mounts, like.hangs):
        iso = like.iso
    else:
        iso = isolator(mounts, unit.mass, hangs=hangs)
    motions = _scaled_modes(iso, like) if like and same_unit else None
    if motions is None:
        check_standing(unit, iso)
        motions = modes(unit, iso)
    if like and footing.floor == like.footing.floor and iso.places == like.iso.places:
        under = like.ground
    else:
        under = ground(footing.floor, iso.places)
    centre = (unit.cg_along, 0.0, unit.cg_height + iso.height)
    standing = Standing(unit.weight, centre, iso.places, hangs, footing.athwart, footing.sea)
    cases = like.cases if like and like.standing == standing else at_sea.at_sea(standing)
    together = vibration.series_stiffness(iso.shaken, under.stiffness)
    on_it = unit.mass + (under.plate if mounts.hard else 0.0)
    return Stand(
        footing,
        iso,
        under,
        motions,
        vibration.natural_frequency(iso.shaken, unit.mass),
        vibration.natural_frequency(together, on_it),
        standing,
        cases,
    )


def _scaled_modes(iso: Isolator, like: Stand) -> tuple[rigid_body.Mode, ...] | None:
    """The modes on mounts that are those of `like`, only stiffer or softer; None on others."""
    other = like.iso
    if iso == other:
        return like.modes
    if (
        iso.places != other.places
        or iso.height != other.height
        or not math.isclose(iso.side * other.each, iso.each * other.side)
    ):
        return None
    root = math.sqrt(iso.each * iso.ratio / (other.each * other.ratio))
    return tuple([mode._replace(frequency=mode.frequency * root) for mode in like.modes])


# ---- softer mounts, for those that ask for no sea ----


def rating_on(footing: Footing, give: float) -> float | None:
    """Load [N] that each mount must bear, of mounts that the unit's weight presses down by `give`
    [m]; None where the unit moves too far at sea, or swings with what shakes it. It stands, and its
    shaft may lie either way."""
    mounts = replace(footing.mounts, by="deflection", deflection=give)
    fore = stand(replace(footing, mounts=mounts, hangs=False, athwart=False))
    athwart = stand(replace(fore.footing, athwart=True), fore)
    if (
        max(fore.moved, athwart.moved) > AIR_ROUND
        or fore.passed(fore.slowest.frequency, fore.on_floor) > 1
        or fore.nearest_motion[0] < NEAR
    ):
        return None
    return max(rating_wanted(fore), rating_wanted(athwart))
