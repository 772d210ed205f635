"""A flush with fresh water: how much of it brings the salt down, what pushes it through, what
carbon leaves of its chlorine, and what of the water made goes into it.

The unit's filter bowls are taken as mixed, hoses and tubes as a plug that is pushed out; all of it
mixed and all of it a plug are the ends between which the truth lies.
"""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import dataclass, replace
from functools import cached_property

from ..physics import flushing, pipes
from ..physics.calendar_days import DAY
from ..physics.roots import crossing
from .feed_line import ATMOSPHERE, Filters, Hose, Water
from .held import Held

HOUSE, CAN = "house", "can"  # where flush water comes from
WEEK = 7 * DAY  # s
YEAR = 365.25 * DAY  # s
PUMP_VALVES = 2e4  # Pa, that opens the valves of a pump at rest. Common practice, no source.
SURPLUS = 2.0  # times the metabisulphite that would do. Common practice, no source.
STANDS = 3600.0  # kg s/m3: 1000 ppm h, after which membranes have suffered (trade articles)
_HARDLY = 1e-3  # of the house pump's free flow: less is none


@dataclass(frozen=True)
class House:
    """The house pump: the pressure at which it switches off [Pa], its flow against nothing
    [m3/s]."""

    shut_off: float
    free_flow: float

    def rise(self, flow: float) -> float:
        """Pressure that it gives at a flow [m3/s]; negative where the flow is too much for it."""
        return pipes.pump_rise(flow, self.shut_off, self.free_flow)


@dataclass(frozen=True)
class Carbon:
    """A carbon filter: the carbon in it [m3], rated flow [m3/s], loss there [Pa], share of the
    chlorine that it takes there, water that it is rated for [m3] with a chlorine [kg/m3], water
    through it so far [m3], what its housing bears [Pa]."""

    volume: float
    rated_flow: float
    loss: float
    takes: float
    capacity: float
    stated: float
    used: float
    bears: float

    def contact(self, flow: float) -> float:
        """Empty-bed contact time [s] at a flow [m3/s]."""
        return flushing.contact_time(self.volume, flow)

    @property
    def rated_contact(self) -> float:
        """The same at its rated flow [s]."""
        return self.contact(self.rated_flow)

    def lost(self, flow: float) -> float:
        """Pressure lost in it [Pa] at a flow [m3/s]."""
        return pipes.cartridge_loss(flow, self.rated_flow, self.loss)

    def lasts(self, chlorine: float) -> float:
        """Water that it frees of a chlorine [kg/m3] in all [m3]."""
        return flushing.carbon_lasts(self.capacity, self.stated, chlorine)

    def left(self, chlorine: float) -> float:
        """Of that, what is left [m3]; negative where more went through."""
        return self.lasts(chlorine) - self.used

    def behind(self, chlorine: float, flow: float) -> float:
        """Chlorine behind it [kg/m3], while it is not used up."""
        return flushing.chlorine_behind(
            chlorine, self.takes, self.contact(flow), self.rated_contact
        )


@dataclass(frozen=True)
class Way:
    """The way of the flush water: what flows, its hose, how far the big pump stands above it [m],
    a carbon filter, the unit's filters, the house pump where it pushes, the boost pump as the same
    where it runs."""

    water: Water
    hose: Hose
    rise: float
    carbon: Carbon | None
    filters: Filters
    house: House | None
    boost: House | None

    @property
    def lifted(self) -> float:
        """Pressure that the height takes [Pa]."""
        return -pipes.static_pressure(self.rise, self.water.density)

    def lost(self, flow: float, dirty: bool) -> float:
        """Pressure lost on the way [Pa] by a flow [m3/s], filters clean or due for change."""
        carbon = self.carbon.lost(flow) if self.carbon else 0.0
        return (
            self.hose.lost(flow, self.water) + carbon + self.filters.lost(flow, self.water, dirty)
        )

    def inlet(self, flow: float, dirty: bool = True) -> float:
        """Pressure at the big pump's inlet [Pa] at a flow [m3/s]."""
        pushed = sum(pump.rise(flow) for pump in (self.house, self.boost) if pump)
        return pushed - self.lifted - self.lost(flow, dirty)

    @property
    def shut(self) -> float:
        """Pressure at the inlet [Pa] while all that pushes runs against a shut end."""
        return sum(p.shut_off for p in (self.house, self.boost) if p) - min(self.lifted, 0.0)

    def through(self, dirty: bool = True) -> float:
        """Flow [m3/s] that the house pump pushes through while the unit's pumps stand; 0 where it
        can't."""
        if self.house is None:
            return 0.0
        alone = replace(self, boost=None)
        least, most = _HARDLY * self.house.free_flow, self.house.free_flow
        if alone.inlet(least, dirty) <= PUMP_VALVES:
            return 0.0
        return crossing(lambda q: alone.inlet(q, dirty) - PUMP_VALVES, least, most, 1e-9)


@dataclass(frozen=True)
class Rinse:
    """The salt to rinse out: water in the unit [m3], the share of it that mixes, the sea's salt,
    the flush water's and the aim [kg/m3], the water for a flush [m3]."""

    unit: float
    mixed: float
    sea: float
    fresh: float
    aim: float
    water: float

    @property
    def ends(self) -> bool:
        """Whether any flush gets there: the aim lies above the flush water's own salt."""
        return self.aim > self.fresh

    @cached_property
    def times(self) -> float:
        """Times its own water that a mixed part wants."""
        return flushing.volumes_wanted(self.sea, self.fresh, self.aim)

    def wanted(self, mixed: float) -> float:
        """Water that it wants [m3] where such a share of it mixes and the rest is a plug."""
        if self.sea <= self.aim:
            return 0.0
        return self.unit * ((1 - mixed) + mixed * self.times)

    @property
    def needed(self) -> float:
        """Water that it wants [m3], bowls mixed, hoses and tubes a plug."""
        return self.wanted(self.mixed)

    @property
    def plug(self) -> float:
        """The least that could do [m3]: all of it a plug."""
        return self.wanted(0.0)

    @property
    def mixing(self) -> float:
        """The most that it could take [m3]: all of it mixed."""
        return self.wanted(1.0)

    def left(self, water: float, mixed: float | None = None) -> float:
        """Salt in what still comes out [kg/m3] after so much water [m3]."""
        share = self.mixed if mixed is None else mixed
        past = water - (1 - share) * self.unit
        if past < 0:
            return self.sea
        if share == 0:
            return self.fresh
        return flushing.salt_left(self.sea, self.fresh, past, share * self.unit)

    @property
    def enough(self) -> Held:
        """The water for a flush, against what it wants."""
        return Held(self.water, self.needed, least=True)


@dataclass(frozen=True)
class Flush:
    """A flush: what is rinsed, the way of its water, whether the unit's pumps run [bool], the big
    pump's feed [m3/s], the least and the most at its inlet [Pa], chlorine in the water [kg/m3], as
    it is taken out by metabisulphite [bool], what the membranes bear of it [kg/m3], flushes in a
    week and water made in one [m3]."""

    rinse: Rinse
    way: Way
    running: bool
    feed: float
    inlet_least: float
    inlet_most: float
    chlorine: float
    neutralised: bool
    bears_chlorine: float
    a_week: int
    made: float

    # ---- what pushes it ----

    @cached_property
    def flow(self) -> float:
        """Flow [m3/s] at its least: the big pump's feed, or what the house pump pushes through
        filters that are due; 0 where it can't."""
        return self.feed if self.running else self.way.through()

    @cached_property
    def fastest(self) -> float:
        """Flow [m3/s] at its most, filters clean: what carbon has to cope with."""
        return self.feed if self.running else self.way.through(dirty=False)

    @cached_property
    def fed(self) -> Held:
        """Pressure at the running pump's inlet, against what it wants."""
        return Held(self.way.inlet(self.feed), self.inlet_least, least=True, zero=-ATMOSPHERE)

    @property
    def starves(self) -> bool:
        """Whether the pumps run and the water does not come."""
        return self.running and not self.fed.holds

    @property
    def lasts(self) -> float | None:
        """How long the water that it wants takes [s]; None where none flows."""
        return self.rinse.needed / self.flow if self.flow > 0 else None

    @property
    def inlet_bears(self) -> Held:
        """All that pushes, against a shut end, against what the inlet bears."""
        return Held(self.way.shut, self.inlet_most)

    @property
    def housings_bear(self) -> Held:
        """The same against the filters' housings."""
        return Held(self.way.shut, self.way.filters.bears)

    @property
    def carbon_bears(self) -> Held | None:
        """The house pump against a shut end, against the carbon's housing."""
        if self.way.carbon is None or self.way.house is None:
            return None
        return Held(self.way.house.shut_off, self.way.carbon.bears)

    # ---- chlorine ----

    @property
    def unguarded(self) -> bool:
        """Whether chlorine gets to the membranes with nothing to take it out."""
        return self.chlorine > 0 and self.way.carbon is None and not self.neutralised

    @property
    def bed(self) -> Carbon | None:
        """The carbon, where it has chlorine to take and water flows."""
        on = self.chlorine > 0 and not self.neutralised and self.fastest > 0
        return self.way.carbon if on else None

    @property
    def contact(self) -> Held | None:
        """How long the water is in the carbon [s], against its rated time."""
        bed = self.bed
        return None if bed is None else Held(bed.contact(self.fastest), bed.rated_contact, True)

    @property
    def carbon_left(self) -> Held | None:
        """Water that the carbon still frees of chlorine [m3], against one flush."""
        bed = self.bed
        return None if bed is None else Held(bed.left(self.chlorine), self.rinse.water, True)

    @property
    def at_membrane(self) -> float:
        """Chlorine that reaches the membranes [kg/m3]: all of it where the carbon is used up."""
        bed, left = self.bed, self.carbon_left
        if bed is None or left is None:
            return self.chlorine if self.unguarded else 0.0
        return bed.behind(self.chlorine, self.fastest) if left.holds else self.chlorine

    @property
    def chlorine_borne(self) -> Held:
        """The same against what the membranes bear."""
        return Held(self.at_membrane, self.bears_chlorine)

    @property
    def yearly_dose(self) -> float:
        """What the membranes have of it in a year [kg s/m3], at most: it stands in them until the
        next flush, and none of it is used up."""
        return flushing.chlorine_dose(self.at_membrane, YEAR)

    @property
    def ruined_after(self) -> float | None:
        """How long it may stand in them until they have suffered [s]; None without chlorine."""
        return STANDS / self.at_membrane if self.at_membrane > 0 else None

    @property
    def sulphite(self) -> float:
        """Metabisulphite that the chlorine of one flush uses up [kg]."""
        return flushing.metabisulphite_for(self.chlorine * self.rinse.water)

    # ---- a week ----

    @property
    def week(self) -> Held:
        """Water that flushes take in a week [m3], against what is made in one."""
        return Held(self.a_week * self.rinse.water, self.made)


def flushes(runs: int, keeps: float) -> int:
    """Flushes in a week: one after each of so many runs, evenly apart, and more before the next one
    where a flush keeps [s] no longer."""
    return runs * max(1, math.ceil(WEEK / runs / keeps - 1e-9))


# ---- searches ----


def least_bore(flush: Flush, sizes: Sequence[float]) -> float | None:
    """The narrowest bore of a flush hose [m] of these with which the running pump is fed."""

    def wider(bore: float) -> Flush:
        way = flush.way
        return replace(flush, way=replace(way, hose=replace(way.hose, bore=bore)))

    return next((b for b in sizes if b > flush.way.hose.bore and wider(b).fed.holds), None)
