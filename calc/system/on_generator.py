"""The pump straight on the generator, alone and beside its charger; the least set that would do."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace

from ..physics import generators, starting
from ..physics.roots import fewest_that_do
from ..rounding import trim
from . import motor
from .aboard import Aboard
from .bank import Charger, Drawn
from .held import Held, all_hold, all_leave
from .motor import Starting, Water
from .supply import Generator, at_start

# A motor still runs up, and lamps and relays hold, at a dip of this much. Common practice.
GREATEST_DIP = 0.30
# Of a set's rated amperes, that its windings bear for seconds: IEC 60034-1, 9.3 (from memory).
USUAL_OVERLOAD = 1.5
# Steps in which the trade sells, and other loads are told. Common practice, no source.
POWER_STEP, LOAD_STEP = 100.0, 10.0  # W
MOST_STEPS = 1000
MOST_LOAD = 50e3  # W, that a form takes


@dataclass(frozen=True)
class Carried:
    """The start and the load of a set with other loads on it.

    `dip` is None where electronics hold the voltage; `doubtful` that nobody says whether it bears
    the start's volt-amperes; `peak_over` that its short time is over before the start is.
    """

    start: starting.Start
    dip: Held | None
    start_power: Held
    start_apparent: Held
    doubtful: bool
    peak_over: bool
    torque: Held
    torque_known: bool
    load: Held
    apparent: Held

    @property
    def held(self) -> tuple[Held | None, ...]:
        """All that must hold."""
        return (
            self.dip,
            self.start_power,
            self.start_apparent,
            self.torque,
            self.load,
            self.apparent,
        )

    @property
    def able(self) -> bool:
        """Whether it starts and carries all, and nothing has to be asked first."""
        return not self.doubtful and all_hold(self.held)

    def leaves(self, spare: float) -> bool:
        """Whether it does so with a share of each limit to spare."""
        return self.able and (not spare or all_leave(self.held, spare))


def set_of(aboard: Aboard) -> Generator:
    """The generator, which must be aboard. Raises ValueError where it isn't."""
    if aboard.generator is None:
        raise ValueError("there is no generator aboard")
    return aboard.generator


def start_on(aboard: Aboard, water: Water) -> starting.Start:
    """The start on the generator, behind the stated cable to the motor."""
    reactance = set_of(aboard).inner_reactance(aboard.mains.voltage)
    return at_start(aboard.mains, water, reactance, aboard.cable)


def start_torque(water: Water, begun: starting.Start) -> Held:
    """The motor's torque at a start over what the pump asks."""
    return Held(water.start_torque(begun.voltage / water.load.motor.voltage), 1.0, least=True)


def start_apparent(water: Water, begun: starting.Start, others: Drawn) -> float:
    """What a start with other loads asks, its amperes taken at the full voltage [VA].

    The amperes load windings and electronics whatever the voltage has sagged to.
    """
    factor = water.rush.power_factor
    real = begun.apparent_power * factor + others.real + water.boost_ac
    reactive = begun.apparent_power * math.sqrt(1 - factor**2) + others.reactive
    return math.hypot(real, reactive)


def carried(aboard: Aboard, water: Water, others: Drawn) -> Carried:
    """The pump on the generator with other loads on it."""
    made, begun = set_of(aboard), start_on(aboard, water)
    share = made.site_share(aboard.air)
    peak = made.for_a_start(aboard.start_time)
    asked = start_apparent(water, begun, others)
    bears = peak / made.power_factor
    need = water.real + others.real
    # windings bear half as much again for seconds, but only where somebody says so
    doubtful = made.peak is None and not made.electronic and bears < asked <= USUAL_OVERLOAD * bears
    return Carried(
        begun,
        None if made.electronic else Held(begun.source_dip, GREATEST_DIP),
        Held(begun.real_power + others.real + water.boost_ac, peak * share),
        Held(asked, bears),
        doubtful,
        aboard.start_time > made.peak_time and (made.peak or 0.0) > made.power,
        start_torque(water, begun),
        water.torque_known,
        Held(need, made.power * share),
        Held(math.hypot(need, water.reactive + others.reactive), made.apparent),
    )


def carries(aboard: Aboard, water: Water) -> bool:
    """Whether the generator starts and carries the pump and the other loads."""
    return carried(aboard, water, Drawn(aboard.other_load)).able


def share(aboard: Aboard, water: Water) -> float:
    """Its load with the other loads, of what it can give here [ratio]."""
    made = set_of(aboard)
    return (water.real + aboard.other_load) / (made.power * made.site_share(aboard.air))


def too_light(aboard: Aboard, water: Water) -> bool:
    """Whether a diesel runs so light that it soots and glazes."""
    made = set_of(aboard)
    light = made.power * made.site_share(aboard.air) * generators.LIGHT_LOAD
    return made.fuel.kind == "diesel" and water.real + aboard.other_load < light


def greatest_other_load(aboard: Aboard, water: Water) -> float | None:
    """Greatest other load [W] that the set bears, in whole steps; None where there is none."""
    made, begun = set_of(aboard), start_on(aboard, water)
    at_site = made.site_share(aboard.air)
    peak = made.for_a_start(aboard.start_time)
    factor = water.rush.power_factor
    reactive = begun.apparent_power * math.sqrt(1 - factor**2)
    spare = min(
        made.power * at_site - water.real,
        peak * at_site - begun.real_power - water.boost_ac,
        math.sqrt(max(0.0, made.apparent**2 - water.reactive**2)) - water.real,
        math.sqrt(max(0.0, (peak / made.power_factor) ** 2 - reactive**2))
        - begun.apparent_power * factor
        - water.boost_ac,
    )
    load = math.floor(spare / LOAD_STEP) * LOAD_STEP
    if load < LOAD_STEP or not carries(replace(aboard, other_load=load), water):
        return None
    return load


def beside(aboard: Aboard, charger: Charger, amps: float) -> Drawn:
    """The other loads, and its charger at an output [A]."""
    return Drawn(aboard.other_load) + charger.drawn(aboard.bank, amps)


def starts_before(aboard: Aboard, water: Water, charger: Charger) -> bool:
    """Whether a set that can't start the pump beside its charger can start it first, and then carry
    both."""
    both = carried(aboard, water, beside(aboard, charger, charger.current))
    alone = carried(aboard, water, Drawn(aboard.other_load))
    return alone.able and all_hold((both.load, both.apparent))


def greatest_charging(
    aboard: Aboard, water: Water, charger: Charger, spare: float = 0.0
) -> float | None:
    """Greatest output of the charger [A], in whole amperes and less than it gives, with which the
    set bears the pump too, with a share of each limit to `spare`; None where there is none."""
    return _greatest(
        charger, lambda amps: carried(aboard, water, beside(aboard, charger, amps)).leaves(spare)
    )


def charging(aboard: Aboard, charger: Charger, amps: float) -> tuple[Held, Held]:
    """The set's load [W] and apparent power [VA] with other loads and its charger at an output [A],
    the pump on the bank."""
    made, drawn = set_of(aboard), charger.drawn(aboard.bank, amps)
    real = drawn.real + aboard.other_load
    return (
        Held(real, made.power * made.site_share(aboard.air)),
        Held(math.hypot(real, drawn.reactive), made.apparent),
    )


def greatest_charged(aboard: Aboard, charger: Charger) -> float | None:
    """Greatest output of the charger [A], in whole amperes and less than it gives, that the set
    carries, the pump on the bank; None where there is none."""
    return _greatest(charger, lambda amps: all_hold(charging(aboard, charger, amps)))


def _greatest(charger: Charger, does: Callable[[float], bool]) -> float | None:
    """Greatest output [A] that does, in whole amperes and less than it gives; None if none does."""
    whole = math.ceil(charger.current)
    less = fewest_that_do(lambda less: does(whole - less), whole - 1) if whole > 1 else None
    return None if less is None else float(whole - less)


def smallest_generator(
    aboard: Aboard, water: Water, spare: float = 0.0, others: Drawn | None = None
) -> tuple[float, float] | None:
    """Continuous power and that for the start [W] of the smallest set that would do, in whole
    steps, with a share of each limit to `spare`; the start's power bears the ratio to the other
    that it has now. Beside it run the `others`, the other loads if none are named."""
    made = set_of(aboard)
    drawn = others or Drawn(aboard.other_load)
    peak = max(made.peak or 0.0, made.power) / made.power

    def does(steps: int) -> bool:
        power = steps * POWER_STEP
        other = replace(made, power=power, peak=power * peak)
        return carried(replace(aboard, generator=other), water, drawn).leaves(spare)

    fewest = fewest_that_do(does, MOST_STEPS)
    if fewest is None:
        return None
    power = fewest * POWER_STEP
    return power, math.ceil(trim(power * peak / POWER_STEP, 6)) * POWER_STEP


def turns_with(aboard: Aboard, other: Starting, reactance: float) -> bool:
    """Whether the motor turns the pump from rest with another start, behind a source's reactance
    [ohm] and its cable."""
    asked = motor.water(replace(aboard.machine, start=other))
    if asked is None:
        return False
    begun = at_start(aboard.mains, asked, reactance, aboard.cable)
    return start_torque(asked, begun).value >= 1
