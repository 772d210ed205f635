"""How hot a motor gets in its place: runs and rests, the settled state, and what it bears.

SI units: temperatures in K, times in s, heats in W.
"""

from __future__ import annotations

import math
from dataclasses import dataclass

from ..physics import air, insulation_class, thermal_course, thermal_network, ventilation
from ..physics.thermal_network import AIR, FRAME, WINDING
from . import cooling, locker
from .held import Held

HOTTEST_AGREED = 333.15
"""Beyond 60 °C IEC 60034-1 leaves a motor's ambient to an agreement with its maker (from
memory)."""

MOST_EVENTS = 40
"""Openings and closings of a protector that are followed: it then only goes on so."""

ONE_DEGREE_IN_HAND = 1.0
"""What is enough [K] below the limit where the scale of a margin has no natural beginning."""


def whole_degree(temperature: float) -> float:
    """A temperature [K] to the nearest whole degree Celsius: more is not known."""
    return round(temperature - air.ZERO_CELSIUS) + air.ZERO_CELSIUS


@dataclass(frozen=True)
class Bears:
    """What the motor bears: its insulation class, the winding's rise at rated load [K], the highest
    ambient on its nameplate [K], and its thermal protector, if any."""

    insulation: str
    rise: float
    ambient: float
    protector: thermal_course.Protector | None

    @property
    def winding(self) -> float:
        """Hottest winding, by resistance, that its class allows [K]."""
        return insulation_class.REFERENCE_AMBIENT + insulation_class.allowed_rise(self.insulation)

    @property
    def opens_too_late(self) -> float | None:
        """The hottest winding [K] that a protector may let this class reach, where its own opens
        later."""
        latest = insulation_class.insulation_class(self.insulation).running_limit
        late = self.protector is not None and self.protector.trip > latest
        return latest if late else None

    def air(self, unit: cooling.Unit) -> float:
        """Warmest air [K] for the load: the nameplate's ambient, more of it where the load is
        light."""
        spare = self.rise * (1 - unit.loss / unit.rated_loss)
        return min(HOTTEST_AGREED, self.ambient + max(0.0, spare))

    def limits(self, unit: cooling.Unit) -> cooling.Limits:
        """What air and winding may reach: the bearable air, to the whole degree below; and the
        class's winding, or the protector if it opens earlier."""
        degrees = math.floor(self.air(unit) - air.ZERO_CELSIUS + 1e-9)
        winding = self.winding
        if self.protector is not None:
            winding = min(winding, self.protector.trip)
        return cooling.Limits(air=degrees + air.ZERO_CELSIUS, winding=winding)


@dataclass(frozen=True)
class Duty:
    """Runs one after the other, each with a rest after it [s]."""

    run: float
    rest: float
    runs: int

    @property
    def cycle(self) -> float:
        """A run and its rest [s]."""
        return self.run + self.rest


@dataclass(frozen=True)
class Trip:
    """The protector's first opening: in which run, after how long of it [s], and how long until it
    closes again [s], None if it does not."""

    run: int
    after: float
    closes: float | None


@dataclass(frozen=True)
class Heated:
    """A unit in its place, and how it turns out.

    `course` is the runs and rests as if nothing stopped the motor: all that is told of a run is of
    this one state. `stopped` is the same with the protector at work, None where it never opens.
    `settled` is what an endless run tends to, with nothing to stop it.
    """

    place: locker.Locker
    bears: Bears
    duty: Duty
    room: cooling.Room
    limits: cooling.Limits
    mode: thermal_network.Mode
    settled: thermal_network.State
    flows: thermal_network.Flows
    course: thermal_course.Course
    stopped: thermal_course.Course | None

    @property
    def flow(self) -> float:
        """Air through the place once settled [m³/s]."""
        return self.mode.exchange.flow(self.settled[AIR])

    @property
    def heat(self) -> float:
        """All heat given to the place once settled [W]."""
        return self.flows.motor + self.flows.other

    @property
    def air(self) -> float:
        """Warmest air while the unit runs [K]; at rest it may be warmer, and harms no one."""
        return whole_degree(max(one.last[AIR] for one in self.course.segments if one.mode.loss > 0))

    @property
    def frame(self) -> float:
        """Hottest frame, in a run or after it [K]."""
        return whole_degree(self.course.peak(FRAME))

    @property
    def winding(self) -> float:
        """Hottest winding [K]."""
        return whole_degree(self.course.peak(WINDING))

    @property
    def suction(self) -> float:
        """Suction that an engine makes in the space [Pa]."""
        return locker.suction(self.room)

    @property
    def trip(self) -> Trip | None:
        """When its protector first opens."""
        if self.stopped is None:
            return None
        events = self.stopped.events
        index, after = divmod(events[0].time, self.duty.cycle)
        resets = [event.time - events[0].time for event in events if event.kind == "reset"]
        return Trip(int(index) + 1, after, resets[0] if resets else None)

    @property
    def held(self) -> dict[str, Held]:
        """What decides, by its name, with its limit: winding, air, and an engine's suction.

        The scale of the air's margin begins at the air that comes in. Where that is no cooler than
        the motor bears, the faces cool it, and a degree below the limit is enough; as it is in the
        open, where the air's temperature is what the reader says: then a tenth of the scale is one
        degree.
        """
        supply, most = self.room.supply, self.limits.air
        begins = supply if supply < most and self.place.way != "open" else most - _SHORT_SCALE
        found = {
            "winding": Held(
                self.winding, self.limits.winding, zero=insulation_class.REFERENCE_AMBIENT
            ),
            "air": Held(self.air, most, zero=begins),
        }
        if self.place.way == "engine":
            found["suction"] = Held(self.suction, ventilation.ENGINE_SUCTION)
        return found

    def holds(self, reserve: float = 0.0) -> bool:
        """Whether nothing stops the motor and each margin is at least this share."""
        return self.stopped is None and all(one.margin >= reserve for one in self.held.values())


_SHORT_SCALE = 10 * ONE_DEGREE_IN_HAND  # K


def heated(place: locker.Locker, unit: cooling.Unit, bears: Bears, duty: Duty) -> Heated:
    """How a unit in its place turns out over its duty.

    Raises ValueError where nothing takes the heat away.
    """
    made = locker.room(place, unit)
    space, mode = cooling.space(made), cooling.running(made)
    settled = thermal_network.steady(space, mode)
    course = cooling.duty(made, duty.run, duty.rest, duty.runs, tolerance=0.1)
    stopped = None
    protector = bears.protector
    if protector is not None and course.peak(WINDING) >= protector.trip:
        # Where the winding only just gets there, coarse steps may pass by it.
        for tolerance in (0.3, 0.1):
            stopped = cooling.protected(
                made, course, duty.run, duty.rest, protector, tolerance, most_events=MOST_EVENTS
            )
            if stopped.events:
                break
        else:
            stopped = None
    return Heated(
        place,
        bears,
        duty,
        made,
        bears.limits(unit),
        mode,
        settled,
        thermal_network.flows(space, settled, mode),
        course,
        stopped,
    )
