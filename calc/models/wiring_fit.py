"""What no cable mends: an inverter or a motor that can't do it, judged as on the page Power."""

from __future__ import annotations

from ..frame import units
from ..frame.inputs import Values
from ..frame.report import FAILS, Amount, Line, Option, Report, amount, least, line, most
from ..physics import batteries, conductors, inverters, pumps
from .cables import Side
from .feed import Feed
from .load import connected_voltage
from .motor_fit import motor_fit
from .on_bank import misfit, surge
from .on_generator import ask_the_kind
from .supply import by_generator
from .water import Water
from .ways import POWER_STEP, again
from .wiring_view import volts_at_start

WRONG_VOLTS = 0.25  # off the motor's: another motor, or another connection
OTHER_BANK, TOO_WEAK, TOO_HOT = "made for another bank", "too weak for this pump", "too hot here"
NOT_ENOUGH = (TOO_WEAK, TOO_HOT)


def inverter_misfit(q: Values, show: Report) -> Line | str:
    """Fails an inverter that is made for other mains or another bank; what it is, in few words."""
    apart = Option("", "")
    misfit(q, apart)
    on_its_mains, own = q, q.inverter
    if own is not None:
        on_its_mains = again(q, ac_voltage=own.ac_voltage, ac_frequency=own.frequency)
    bank = Option("", "")
    unfit = misfit(on_its_mains, bank)
    show.failures += bank.failures
    foreign = [told for told in apart.failures if told not in bank.failures]
    show.failures += foreign
    if unfit:
        show.headline(
            "There is no cable to choose between this bank and this inverter: they do "
            "not belong together. Settle that first, on the page Power."
        )
        show.remedy(
            "An inverter made for a bank of {v}, its cut-off included; or a bank for this "
            "inverter.",
            v=(q.bank_voltage, "V"),
        )
    if foreign and not show.brief:
        mains_remedy(q, show, on_its_mains)
    if unfit:
        return OTHER_BANK
    if not foreign:
        return ""
    return line("made for {v} {f}", v=(own.ac_voltage, "V"), f=(own.frequency, "Hz"))


def mains_remedy(q: Values, show: Report, on_its_mains: Values) -> None:
    """Which of mains and inverter has to change: the one that does not suit the motor."""
    own = q.inverter
    if motor_suits(on_its_mains):
        told = line(
            "“Mains on board” of {v} and {f}: this inverter gives them, and the motor is "
            "made for them.",
            v=(own.ac_voltage, "V"),
            f=(own.frequency, "Hz"),
        )
    else:
        told = line(
            "An inverter that gives {v} at {f}"
            + ("." if motor_suits(q) else ", and a motor made for them."),
            v=(q.ac_voltage, "V"),
            f=(q.ac_frequency, "Hz"),
        )
    show.remedies.insert(0, told)


def motor_suits(q: Values) -> bool:
    """Whether the motor is made for these mains."""
    rated = connected_voltage(q.unit.motor, q.ac_voltage)
    return abs(q.ac_voltage / rated - 1) <= WRONG_VOLTS and motor_fit(q).sound


def inverter_fault(q: Values, show: Report, water: Water, feed: Feed) -> str:
    """Fails an inverter that can't run the pump or start it; in few words why, if so.

    Judged as on the page Power, without other loads: this page does not ask for them.
    """
    inverter = feed.inverter
    runs, starts = water.apparent(0.0), surge(again(q, inverter_load=0.0), water)
    if q.ambient_temperature > inverter.hottest:
        show.fail(
            "the inverter stands in air of {t} and switches off above {m}, whatever the cable; "
            "settle that first, on the page Power",
            t=(q.ambient_temperature, "°C"),
            m=(inverter.hottest, "°C"),
        )
        show.remedy(
            "A place for the inverter where the air is no warmer than {m}.",
            m=most(inverter.hottest, "°C"),
        )
        return TOO_HOT
    if units.trim(runs) <= units.trim(inverter.continuous) and (
        units.trim(starts) <= units.trim(inverter.surge)
    ):
        return ""
    show.fail(
        "this inverter can't "
        + ("start" if runs <= inverter.continuous else "run")
        + " the pump, whatever the cable: it gives {c} and {s} for a start, and the pump alone "
        "asks {a} and {b}; settle that first, on the page Power",
        c=(inverter.continuous, "VA"),
        s=(inverter.surge, "VA"),
        a=(runs, "VA"),
        b=(starts, "VA"),
    )
    heat = inverters.temperature_derating(q.ambient_temperature)
    if heat > 0:
        power = least(runs / heat, "VA", POWER_STEP)
        for_start = max(power, least(starts / heat, "VA", POWER_STEP), key=lambda a: a.value)
        show.remedy(
            "An inverter of {c} continuous and {s} for {t}, rated at {r}, carries the pump alone; "
            "its cable and fuse are then to be asked for anew.",
            c=power,
            s=for_start,
            t=least(q.start_time, "s"),
            r=(batteries.RATED_TEMPERATURE, "°C"),
        )
    return TOO_WEAK


def motor_starts(q: Values, show: Report, water: Water, motor: Side) -> bool:
    """Whether the motor turns the pump from rest, as on the page Power, and behind its cable.

    Of an unknown kind only its maker can deny it.
    """
    duty, cable = motor.duty, motor.cable
    bare = water.start_torque(volts_at_start(q, water, duty, cable.size, 0.0))
    here = water.start_torque(volts_at_start(q, water, duty, cable.size, q.ac_run))
    unsure = units.trim(here) < 1 and not water.torque_known
    if not by_generator(q):  # else it has a figure of its own
        show.figure(
            "start-torque",
            "Starting torque, of what turns the pump",
            here,
            "%",
            at_least=1.0,
            decides=not unsure,
            note="behind this cable"
            if water.torque_known
            else "behind this cable, as of the weakest kind of motor",
            says=line(
                "behind this cable the motor gives {t} of the torque that turns the pump",
                t=(here, "%"),
            ),
        )
    if unsure:
        ask_the_kind(show)
        return True
    if units.trim(bare) < 1:
        show.fail(
            "the motor can't start the pump"
            + (" on this generator" if by_generator(q) else "")
            + ", whatever the cable: it gives {t} of the torque that turns it; settle that first, "
            "on the page Power",
            t=short_of_all(bare),
        )
        unloaded = bare * pumps.starting_torque(1.0, True) / pumps.starting_torque(1.0, False)
        show.remedy(
            "The pressure regulating valve opened before the start, so that it does not start "
            "against pressure."
            if q.start_loaded and unloaded >= 1
            else "Another way of starting, or a motor that gives more torque at its start."
        )
        return False
    if units.trim(here) >= 1:
        return True
    show.fail(
        "behind this cable the motor can't start the pump"
        + (" on this generator" if by_generator(q) else "")
        + ": it gives {t} of the torque that turns it, and {b} without the cable's loss",
        t=short_of_all(here),
        b=(bare, "%"),
    )
    thicker = (
        size.name
        for size in conductors.FAMILIES[cable.size.family]
        if size.area >= duty.least_area
        and duty.judged(size, 1) != FAILS
        and water.start_torque(volts_at_start(q, water, duty, size, q.ac_run)) >= 1
    )
    name = next(thicker, None)
    if name and not show.brief:
        show.remedy(
            "Cable to the motor: {size} leaves it the torque that starts the pump.",
            size=name,
            sets={"ac_size": name},
            mends="generator-torque" if by_generator(q) else "start-torque",
        )
    return False


def short_of_all(share: float) -> Amount:
    """A share that is not the whole, and must not be rounded to it."""
    return most(share, "%") if share > 0.99 else amount(share, "%")
