"""What it makes in words, where its energy goes, what age takes, and what else to know."""

from __future__ import annotations

from ...frame.report import Bars, Report, most
from ...physics import membranes as physics
from ...system import membranes, watermaking
from ...system.motor import Machine, Water
from ...system.watermaking import Making
from .asks import Asks
from .judge import thin

_YEARS = 3.0
_MUCH_MORE = 1.03  # of the papers' pressure
_NEAR = 0.02  # two rules that differ by less agree


def headline(making: Making, show: Report) -> None:
    """The litres and the salt; what to set in a thin or a cold sea."""
    if making.dry:
        show.headline(
            "No fresh water at {p}: the osmotic pressure of this sea is {o}.",
            p=(making.pressure, "bar"),
            o=(making.sea.osmotic_pressure, "bar"),
        )
    else:
        show.headline(
            "In this sea it makes {q} of fresh water at {p}, with {s} of salt in it.",
            q=(making.made.product, "L/h"),
            p=(making.pressure, "bar"),
            s=(making.made.product_salinity, "mg/L"),
        )
    wanted = making.for_stated
    if wanted is None or wanted > making.highest:
        show.headline(
            "Its papers' {r} would take more pressure than is allowed: take less water rather than "
            "more pressure.",
            r=(making.stated, "L/h"),
        )
    elif wanted > _MUCH_MORE * making.stated_pressure:
        show.headline(
            "Its papers' {r} would take {p}, more than the pressure that they state: take less "
            "water rather than more pressure.",
            r=(making.stated, "L/h"),
            p=(wanted, "bar"),
        )
    elif thin(making) and wanted <= making.stated_pressure:
        show.headline(
            "This sea is thin: begin with the regulating valve fully open, and close it by the "
            "flow of fresh water and not by the gauge. {p} give the {r} of its papers.",
            p=most(wanted, "bar"),
            r=(making.stated, "L/h"),
        )


def energy(machine: Machine, water: Water | None, making: Making, show: Report) -> None:
    """Energy of a litre, and where it goes; nothing where nobody can tell what the motor draws."""
    if water is None or water.overfluxed:
        return
    spent = watermaking.spent(machine, water, making.made)
    show.figure(
        "energy",
        "Energy for fresh water, boost pump included"
        if spent.boost > 0
        else "Energy for fresh water",
        spent.whole,
        "Wh/L",
        note="at the motor, before any inverter",
    )
    parts = [
        ("lost in the motor", spent.motor),
        ("lost in the pump", spent.pump),
        ("lost with the brine", spent.brine),
        ("lost in the membrane", spent.membrane),
    ]
    if spent.boost > 0:
        parts.insert(0, ("boost pump", spent.boost))
    if spent.least is not None:
        parts.append(("least work", spent.least))
        show.figure("least", "Least work for this water", spent.least, "Wh/L")
    show.bar_chart(
        Bars(
            "spent",
            "Where the energy of a litre goes",
            "Wh/L",
            parts,
            summary="Energy for a litre of fresh water, by where it is lost, that of the brine at "
            "the regulating valve; the last bar is what even the best machine would take.",
        )
    )


def age(making: Making, show: Report) -> None:
    """What three more years of use leave."""
    older = membranes.aged(making.train, _YEARS)
    left = membranes.made(older, making.sea, making.feed, making.pressure, making.back_pressure)
    show.figure(
        "aged",
        "Fresh water after three more years of use",
        left.product,
        "L/h",
        note="7 % a year; common practice, no source",
    )


def notes(q: Asks, making: Making, show: Report) -> None:
    """How far from its test it is, what was measured, and what the membranes don't bear."""
    apart = making.sea.temperature - physics.TEST_TEMPERATURE
    if not making.dry and making.other_rule > _NEAR:
        show.note(
            "The papers hold for 25 °C, and this sea is {d} away from that. The trade has two "
            "rules for the warmth; by the other one it makes {x} more or less."
            if apart
            else "The trade has two rules for the warmth; they differ by {x} here.",
            d=(abs(apart), "K"),
            x=(making.other_rule, "%"),
        )
    if q.has_measured:
        share = making.train.membrane.permeability / q.train_by_papers().membrane.permeability
        show.note(
            "By what you measured the membranes let through {x} of what the papers say, at the "
            "same warmth, salt and pressure. Some are a little better than their papers. Much more "
            "is a slip of the measuring, or, if the water gets saltier too, a leak."
            if share > 1
            else "By what you measured the membranes let through {x} of what the papers say, at "
            "the same warmth, salt and pressure. Makers ask to clean them when that has fallen by "
            "10 to 15 %.",
            x=(share, "%"),
        )
    show.note(
        "These membranes bear {c} of chlorine at most: no shore water but through a carbon filter.",
        c=(q.unit.membranes.chlorine, "mg/L"),
    )
