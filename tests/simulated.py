"""A simulated watermaker, to ask the diagnosis of causes that are known.

Nothing of `calc` is in it but the stated papers of the boat: osmotic pressure by Sharqawy, Lienhard
and Zubair's coefficient, a film whose thickness follows the flow, slices along each element,
Arrhenius permeabilities, a pump that slips with pressure, an equivalent circuit for the motor,
Blasius' friction, a boost pump's curve with a straight part, a regulating valve that does not choke.
Each rig has constants of its own, and gauges of its own that always show wrong.
"""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field, replace
from typing import Any

GAS = 8.314462618


def osmotic(salinity: float, kelvin: float) -> float:
    """[Pa] of [kg/kg], Sharqawy et al. (2010), eq. 49; thin water in proportion."""
    t, s = kelvin - 273.15, max(salinity, 0.0)
    at = max(s, 0.010)
    phi = 0.89453 + 4.1561e-4 * t - 4.6262e-6 * t**2 + 2.2211e-11 * t**4
    phi += at * (-0.11445 - 1.4783e-3 * t - 1.3526e-8 * t**3)
    phi += at**2 * (7.0132 + 0.05696 * t - 2.8624e-4 * t**2)
    molal = s / (1 - s) / 0.0314038218
    return phi * molal * GAS * kelvin * 997.0


@dataclass(frozen=True)
class Rig:
    """Constants of one machine, near what its papers state; see `rigged`."""

    water: float  # m/(s Pa) at 25 °C
    salt: float  # m/s at 25 °C
    area: float
    count: int
    film: float  # m/s at the rated feed
    warm_water: float  # K
    warm_salt: float  # K
    drop: float  # Pa an element at the rated feed
    feed: float  # m3/s at rated speed, no pressure
    slip: float  # share of it that leaks back at 55 bar
    rated_feed: float
    plungers: int
    head: float  # Pa of water above the inlet
    hose: float  # Pa at the rated feed
    strainer: float  # Pa at the rated feed
    filters: float  # Pa at the rated feed
    change: float
    boost: float | None  # Pa against a shut end
    boost_free: float
    volts: float
    hertz: float
    poles: int
    r_stator: float
    r_rotor: float
    leak: float
    magnet: float
    iron: float
    rubs: float  # N m
    efficiency: float
    gauges: dict[str, float] = field(default_factory=dict)


@dataclass(frozen=True)
class Ails:
    """What is wrong with it; see `calc.system.readings.Condition`."""

    filters: float = 0.0  # of the drop at which they are changed
    air: float = 0.0
    weed: float = 0.0  # Pa that a blocked strainer loses at the rated feed
    boost: float = 1.0
    stroke: float = 0.0
    packing: float = 0.0
    relief: float = 0.0
    valve: float = 1.0
    hertz: float = 1.0
    volts: float = 1.0
    cable: float = 0.0
    capacitor: float = 0.0
    stiff: float = 1.0
    water: float = 1.0
    salt: float = 1.0
    along: float = 1.0
    leak: float = 0.0
    bypass: float = 0.0


@dataclass(frozen=True)
class Day:
    """The sea, the mains and the dirt of one day."""

    kelvin: float
    salinity: float
    volts: float = 1.0
    hertz: float = 1.0
    dirt: float = 0.0  # Pa over the filters
    weed: float = 0.0  # Pa before the boost pump
    aged: float = 1.0
    aged_salt: float = 1.0


def membranes(rig: Rig, ails: Ails, day: Day, feed: float, bar: float) -> tuple[float, ...]:
    """Product [m3/s], its salt [kg/m3], brine [m3/s], drop [Pa], of a feed and a pressure [Pa]."""
    kelvin, rho = day.kelvin, 1000.0 + 750.0 * day.salinity
    warm = 1 / 298.15 - 1 / kelvin
    a = rig.water * math.exp(rig.warm_water * warm) * ails.water * day.aged
    b = rig.salt * math.exp(rig.warm_salt * warm) * ails.salt * day.aged_salt
    flow, salt, at = feed, day.salinity * rho, bar
    product = passed = 0.0
    slices = 5
    for _ in range(rig.count):
        drop = rig.drop * ails.along * (flow / rig.rated_feed) ** 1.7
        for _ in range(slices):
            k = rig.film * (flow / rig.rated_feed) ** 0.5 * (1 + 0.02 * (kelvin - 298.15))
            flux = 5e-6
            permeate = 0.4
            for _ in range(12):
                wall = permeate + (salt - permeate) * math.exp(flux / k)
                wanted = a * (at - osmotic(wall / rho, kelvin) + osmotic(permeate / rho, kelvin))
                flux += 0.5 * (max(wanted, 1e-9) - flux)
                permeate = b * wall / (flux + b)
            made = min(flux * rig.area / slices, 0.5 * flow)
            salt = (salt * flow - permeate * made) / (flow - made)
            flow -= made
            product += made
            passed += made * permeate
            at -= drop / slices
    return product, passed / product, flow, bar - at


def feed_line(rig: Rig, ails: Ails, day: Day, flow: float) -> tuple[float, float]:
    """Gauge pressures before and behind the filters [Pa]."""
    share = flow / rig.rated_feed
    thick = math.exp(-0.021 * (day.kelvin - 298.15))
    lost = rig.hose * share**1.8 + day.weed
    lost += (rig.strainer + ails.weed) * share**1.9
    rise = 0.0
    if rig.boost is not None:
        x = flow / rig.boost_free
        rise = rig.boost * (1 - 0.15 * x - 0.85 * x**1.8) * ails.boost * (1 - 1.7 * ails.air)
    filters = rig.filters * share * (0.7 * thick + 0.3 * share)
    filters += (ails.filters * rig.change + day.dirt) * share * (0.8 * thick + 0.2)
    before = rig.head + rise - lost
    return before, before - filters


def motor(rig: Rig, ails: Ails, day: Day, torque: float) -> tuple[float, float]:
    """Speed [rev/s] and current [A] of the circuit of an induction motor that bears a torque."""
    volts = rig.volts * day.volts * ails.volts * (1 - ails.cable)
    hertz = rig.hertz * day.hertz * ails.hertz
    omega = hertz / rig.hertz
    leak = rig.leak * (1 + 0.25 * ails.capacitor)
    field_speed = 2 * hertz / rig.poles
    saturates = (volts / rig.volts / omega) ** 4
    magnet = rig.magnet * omega / (0.8 + 0.2 * saturates) * (1 - 0.45 * ails.capacitor)
    shunt = 1 / (1 / (1j * magnet) + 1 / rig.iron)
    low, high = 1e-4, 0.3
    for _ in range(30):
        s = (low + high) / 2
        rotor = rig.r_rotor / s + 1j * leak * omega
        whole = rig.r_stator + 1j * leak * omega + shunt * rotor / (shunt + rotor)
        amps = volts / whole
        through = amps * shunt / (shunt + rotor)
        gives = abs(through) ** 2 * rig.r_rotor / s / (2 * math.pi * field_speed)
        if gives < torque + rig.rubs * omega:
            low = s
        else:
            high = s
    return field_speed * (1 - s), abs(amps) * (1 + 0.12 * ails.capacitor)


def state(rig: Rig, ails: Ails, day: Day, bar: float) -> dict[str, float]:
    """All that its gauges would show if they were right, at a pressure [Pa]."""
    filled = (1 - 0.95 * ails.air) * (1 - ails.stroke)
    rated = 2 * rig.hertz / rig.poles * 0.953
    torque = rig.feed / rated * bar / (2 * math.pi) / rig.efficiency * filled * ails.stiff
    speed, amps = motor(rig, ails, day, torque)
    slip = rig.slip * bar / 55e5
    takes = rig.feed * speed / rated * (1 - slip) * (1 - ails.stroke) * (1 - ails.air)
    for _ in range(40):
        before, behind = feed_line(rig, ails, day, takes)
        if behind > -0.55e5:
            break
        takes *= 0.97
    fed = takes * (1 - ails.packing - ails.relief)
    made, salt, _, drop = membranes(rig, ails, day, fed * (1 - ails.bypass), bar)
    leaks = ails.leak * fed
    product = made + leaks
    salt = (salt * made + leaks * 1.1 * day.salinity * 1025) / product
    return {
        "before": before,
        "behind": behind,
        "pressure": bar,
        "drop": drop,
        "product": product,
        "brine": fed - product,
        "conductivity": 0.1 * (1000 * salt / 0.494) ** 0.985 / 1000,
        "temperature": day.kelvin,
        "salinity": day.salinity,
        "volts": rig.volts * day.volts * ails.volts,
        "amperes": amps,
        "hertz": rig.hertz * day.hertz * ails.hertz,
    }


def standing(rig: Rig, ails: Ails, day: Day, opening: float) -> dict[str, float]:
    """The same behind a regulating valve that stands: brine over the root of its pressure."""
    low, high = 2e5, 140e5
    found = state(rig, ails, day, low)
    for _ in range(18):
        bar = (low + high) / 2
        found = state(rig, ails, day, bar)
        end = bar - found["drop"]
        if found["brine"] / math.sqrt(max(end, 1.0)) > opening * ails.valve:
            low = bar
        else:
            high = bar
    return found


def valve_of(shown: dict[str, float]) -> float:
    """How far the regulating valve is open."""
    return shown["brine"] / math.sqrt(shown["pressure"] - shown["drop"])


def rigged(watermaker: Any, rng: random.Random) -> Rig:
    """A machine near the papers of a watermaker."""

    def near(value: float, share: float) -> float:
        return value * math.exp(rng.uniform(-1.7, 1.7) * share)

    making, line, machine = watermaker.making, watermaker.line, watermaker.machine
    elements, plate, pump = making.train.elements, machine.plate, machine.pump
    water = line.water
    feed = making.feed
    volts, hertz = machine.mains.voltage, machine.mains.frequency
    rig = Rig(
        water=1.0,
        salt=near(1e-8, 0.05),
        area=elements.area,
        count=elements.count,
        film=near(3.0e-5, 0.2),
        warm_water=near(2850, 0.05),
        warm_salt=near(3600, 0.12),
        drop=near(elements.drop * (feed / elements.highest_feed) ** 1.6, 0.25),
        feed=near(feed * 1.02, 0.025),
        slip=near(0.03, 0.4),
        rated_feed=feed,
        plungers=line.inlet.plungers,
        head=-line.inlet.spot.height * 1025 * 9.81 + rng.uniform(-1e3, 1e3),
        hose=near(line.hose.lost(feed, water) + line.delivery_lost, 0.25),
        strainer=near(line.strainer.lost(feed, False), 0.3),
        filters=near(line.filters.clean(feed, water), 0.3),
        change=line.filters.change,
        boost=None if line.boost is None else near(line.boost.shut_off, 0.06),
        boost_free=1.0 if line.boost is None else near(line.boost.free_flow, 0.08),
        volts=volts,
        hertz=hertz,
        poles=plate.poles,
        r_stator=1.0,
        r_rotor=1.0,
        leak=1.0,
        magnet=1.0,
        iron=1.0,
        rubs=0.0,
        efficiency=near(pump.efficiency, 0.04),
    )
    # Water and salt, so that the papers' litres come out, within a tenth.
    paper = Day(298.15, 0.035)
    low, high = 1e-13, 1e-10
    wanted = near(making.stated, 0.07)
    for _ in range(40):
        middle = math.sqrt(low * high)
        made = membranes(replace(rig, water=middle), Ails(), paper, feed, making.stated_pressure)
        low, high = (middle, high) if made[0] < wanted else (low, middle)
    rig = replace(rig, water=low)
    wanted = near(watermaker_salt(watermaker), 0.2)
    low, high = 1e-10, 1e-6
    for _ in range(40):
        middle = math.sqrt(low * high)
        made = membranes(replace(rig, salt=middle), Ails(), paper, feed, making.stated_pressure)
        low, high = (middle, high) if made[1] < wanted else (low, middle)
    rig = replace(rig, salt=low)
    # A motor about as its plate has it.
    slip = 1 - plate.speed / (2 * plate.frequency / plate.poles)
    amps = plate.output / plate.efficiency / plate.power_factor / volts
    ohm = volts / amps
    return replace(
        rig,
        r_rotor=near(slip * ohm, 0.05),
        r_stator=near(0.06 * ohm, 0.15),
        leak=near(0.06 * ohm, 0.15),
        magnet=near(2.6 * ohm, 0.12),
        iron=near(12 * ohm, 0.2),
        rubs=near(0.03 * plate.output / (2 * math.pi * plate.speed), 0.3),
    )


def watermaker_salt(watermaker: Any) -> float:
    """What its papers have its product hold [kg/m3], at their pressure in the sea of its test."""
    from calc.system.sea import TEST

    made = watermaker.making.in_sea(TEST).at(watermaker.making.stated_pressure)
    return float(made.product_salinity)


__all__ = ["Ails", "Day", "Rig", "rigged", "standing", "state", "valve_of"]
