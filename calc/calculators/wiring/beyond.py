"""What no cable mends: inverter, generator or motor that can't do it, as on the page Power."""

from __future__ import annotations

from ...frame.report import Amount, Line, Report, amount, least, line, most
from ...physics import chemistries, conductors
from ...system import bank_side, laid, motor, motor_side, on_bank
from ...system.bank import Inverter
from ...system.laid import Layout
from ...system.motor_side import Turning
from ...system.on_generator import POWER_STEP
from ...system.wired import Wired
from .. import _motor
from .._sources import ask_the_kind, foreign_bank, foreign_mains


def motor_suits(machine: motor.Machine | None) -> bool:
    """Whether the motor is made for the mains that it is on."""
    if machine is None or machine.wrong_volts:
        return False
    return _motor.sound(_motor.judge(machine, motor.water(machine)))


def mains_remedy(wired: Wired, inverter: Inverter, show: Report) -> None:
    """Which of mains and inverter has to change where they are not for each other: the one that
    does not suit the motor."""
    ours, its = wired.mains, inverter.mains
    if its is None or ours.suits(its):
        return
    if motor_suits(laid.made_for(wired, its)):
        show.remedy(
            "“Mains on board” of {v} and {f}: this inverter gives them, and the motor is "
            "made for them.",
            v=(its.voltage, "V"),
            f=(its.frequency, "Hz"),
        )
    else:
        show.remedy(
            "An inverter that gives {v} at {f}."
            if motor_suits(wired.machine)
            else "An inverter that gives {v} at {f}, and a motor made for them.",
            v=(ours.voltage, "V"),
            f=(ours.frequency, "Hz"),
        )


def inverter_misfit(wired: Wired, inverter: Inverter, show: Report) -> None:
    """Fails an inverter that is made for another bank or other mains."""
    why = on_bank.bank_misfit(inverter, wired.bank)
    foreign_bank(show, why, inverter, wired.bank)
    if not wired.mains.suits(inverter.mains):
        foreign_mains(show, "Inverter", inverter.mains, wired.mains)
    if why:
        show.headline(
            "There is no cable to choose between this bank and this inverter: they do "
            "not belong together. Settle that first, on the page Power."
        )
        show.remedy(
            "An inverter made for a bank of {v}, its cut-off included; or a bank for this "
            "inverter.",
            v=(wired.bank.voltage, "V"),
        )


def inverter_fault(layout: Layout, inverter: Inverter, show: Report) -> None:
    """Fails an inverter that can't run the pump or start it.

    Judged as on the page Power, without other loads: this page does not ask for them.
    """
    wired, asked = layout.wired, layout.asked
    if asked is None:
        return
    if layout.too_hot:
        show.fail(
            "inverter-air",
            "the inverter stands in air of {t} and switches off above {m}, whatever the cable; "
            "settle that first, on the page Power",
            t=(wired.air.temperature, "°C"),
            m=(inverter.hottest, "°C"),
        )
        show.remedy(
            "A place for the inverter where the air is no warmer than {m}.",
            m=most(inverter.hottest, "°C"),
        )
        return
    if asked.enough:
        return
    runs, starts = asked.running, asked.start
    show.fail(
        "inverter-start" if runs.value <= runs.limit else "inverter-run",
        "this inverter can't start the pump, whatever the cable: it gives {c} and {s} for a start, "
        "and the pump alone asks {a} and {b}; settle that first, on the page Power"
        if runs.value <= runs.limit
        else "this inverter can't run the pump, whatever the cable: it gives {c} and {s} for a "
        "start, and the pump alone asks {a} and {b}; settle that first, on the page Power",
        c=(runs.limit, "VA"),
        s=(starts.limit, "VA"),
        a=(runs.value, "VA"),
        b=(starts.value, "VA"),
    )
    heat = bank_side.heat_share(wired)
    if heat > 0:
        power = least(runs.value / heat, "VA", POWER_STEP)
        surge = least(starts.value / heat, "VA", POWER_STEP)
        show.remedy(
            "An inverter of {c} continuous and {s} for {t}, rated at {r}, carries the pump alone; "
            "its cable and fuse are then to be asked for anew.",
            c=power,
            s=max(power, surge, key=lambda a: a.value),
            t=least(wired.start_time, "s"),
            r=(chemistries.RATED_TEMPERATURE, "°C"),
        )


def generator_mains(wired: Wired, show: Report) -> None:
    """Fails a generator of other mains than those on board, where it feeds the motor."""
    made = wired.generator
    if wired.by_generator and made is not None and not wired.mains.suits(made.mains):
        foreign_mains(show, "Generator", made.mains, wired.mains)


def motor_starts(layout: Layout, turning: Turning, show: Report) -> None:
    """Whether the motor turns the pump from rest, as on the page Power, and behind its cable.

    Of an unknown kind only its maker can deny it.
    """
    on_generator = layout.wired.by_generator
    if turning.unsure:
        ask_the_kind(show)
    elif not turning.blames_cable:
        show.fail(
            "start-torque",
            "the motor can't start the pump on this generator, whatever the cable: it gives {t} of "
            "the torque that turns it; settle that first, on the page Power"
            if on_generator
            else "the motor can't start the pump, whatever the cable: it gives {t} of the torque "
            "that turns it; settle that first, on the page Power",
            t=short_of_all(turning.bare),
        )
        show.remedy(
            "The pressure regulating valve opened before the start, so that it does not start "
            "against pressure."
            if turning.unloaded
            else "Another way of starting, or a motor that gives more torque at its start.",
            sets={"start_loaded": False} if turning.unloaded else None,
            mends=_torque_key(layout) if turning.unloaded else "",
        )
    elif not turning.starts:
        show.fail(
            "start-behind-cable",
            "behind this cable the motor can't start the pump on this generator: it gives {t} of "
            "the torque that turns it, and {b} without the cable's loss"
            if on_generator
            else "behind this cable the motor can't start the pump: it gives {t} of the torque "
            "that turns it, and {b} without the cable's loss",
            t=short_of_all(turning.here),
            b=(turning.bare, "%"),
        )
        _thicker(layout, show)


def _torque_key(layout: Layout) -> str:
    return "generator-torque" if layout.wired.by_generator else "start-torque"


def _thicker(layout: Layout, show: Report) -> None:
    """The thinnest cable that leaves the motor the torque to start."""
    side = layout.motor
    for size in conductors.FAMILIES[side.cable.size.family]:
        if motor_side.turns_behind(layout.wired, layout.water, side, size):
            show.remedy(
                "Cable to the motor: {size} leaves it the torque that starts the pump.",
                size=size.name,
                sets={"ac_size": size.name},
                mends=_torque_key(layout),
            )
            return


def short_of_all(share: float) -> Amount:
    """A share that is not the whole, and must not be rounded to it."""
    return most(share, "%") if share > 0.99 else amount(share, "%")


def fault_words(layout: Layout | None, wired: Wired, inverter: Inverter) -> Line | str:
    """In few words why the inverter can't serve here; nothing if it can."""
    if on_bank.bank_misfit(inverter, wired.bank):
        return "made for another bank"
    its = inverter.mains
    if its is not None and not wired.mains.suits(its):
        return line("made for {v} {f}", v=(its.voltage, "V"), f=(its.frequency, "Hz"))
    if layout is not None and layout.too_hot:
        return "too hot here"
    return "too weak for this pump" if layout is not None and layout.too_weak else ""
