"""What it gives, against what the membranes bear, and the pressure that keeps to that."""

from __future__ import annotations

from ...frame.report import Amount, Report, amount, least, line, most
from ...physics import conductivity
from ...physics.roots import crossing
from ...system.watermaking import MOST_OF_RATED, MOST_SALT, Making
from .. import _motor
from .asks import Asks

OVER = "over-flux"  # a fact: the membranes are driven too hard, or could easily be
THIN = 0.030  # kg/kg: below this a gauge misleads. Common practice, no source.
_AGREE = 0.005  # two rules that differ by less tell the same

_SAYS = {
    "over": "it gives {v} of what its papers state; more than {m} fouls the first element",
    "membrane_flux": "{v} pass the first element, and it bears {m}",
    "brine": "{v} of brine run past the last element, and it wants {m}",
    "fed": "{v} run into the first element, and it bears {m}",
    "warmth": "the sea has {v}, and the membranes bear {m}",
}
_LABELS = {
    "over": "Fresh water, of what its papers state",
    "membrane_flux": "Flux of the first element",
    "brine": "Brine past the last element",
    "fed": "Feed of the first element",
    "warmth": "The sea, against what the membranes bear",
}
_UNITS = {"over": "%", "membrane_flux": "L/m2h", "brine": "L/min", "fed": "L/min", "warmth": "°C"}
_NOTES = {"over": "the limit: common practice, no source"}
_BOUNDED = {
    "pressure": "more the weakest part under pressure does not bear; a relief valve opens below",
    "relief": "a tenth below the pressure at which the relief valve opens",
    "over": line("above it the water is more than {s} of what is stated", s=(MOST_OF_RATED, "%")),
    "membrane_flux": "above it too much water passes the first element",
    "brine": "above it too little brine runs past the last element",
}


def thin(making: Making) -> bool:
    """Whether the sea is so thin that a gauge misleads."""
    return making.sea.salinity < THIN


def figures(q: Asks, making: Making, show: Report) -> None:
    """All that it gives, and its limits."""
    if thin(making) or not making.driven["over"].holds:
        show.fact(OVER)
    if making.dry:
        show.fail(
            "dry",
            "the sea's own osmotic pressure is {o}, and {p} leave nothing over to press fresh "
            "water out of it",
            o=(making.sea.osmotic_pressure, "bar"),
            p=(making.pressure, "bar"),
        )
    else:
        _water(making, show)
    _limits(making, show)
    if q.has_conductivity:
        show.figure(
            "sea_salt",
            "Salt of the sea, by its conductivity",
            making.sea.salinity,
            "g/kg",
            note=line("{p} of practical salinity", p=(making.sea.practical_salinity, "")),
        )
    show.figure("osmotic", "Osmotic pressure of the sea", making.sea.osmotic_pressure, "bar")
    _pressures(making, show)
    if not making.dry and making.other_rule > _AGREE:
        show.figure(
            "sure",
            "Two rules for the warmth of a sea differ by",
            making.other_rule,
            "%",
            note="so well the fresh water is known, the papers taken as true",
        )


def _water(making: Making, show: Report) -> None:
    made = making.made
    show.figure("product", "Fresh water here", made.product, "L/h")
    show.held(
        "salt",
        "Salt in it",
        making.salt,
        "mg/L",
        says=line(
            "the fresh water has {s} of salt; above {m} it tastes of it",
            s=(made.product_salinity, "mg/L"),
            m=(MOST_SALT, "mg/L"),
        ),
        note="the limit is one of taste: US EPA, secondary standard",
    )
    reads = conductivity.meter_reading(made.product_salinity)
    show.figure(
        "meter",
        "What a meter reads of it",
        reads,
        "µS/cm",
        note=line(
            "at 25 °C; sea salt as thin as this is {k} mg/L for each µS/cm",
            k=(0.1 * made.product_salinity / reads, ""),
        )
        if reads
        else "at 25 °C",
    )
    show.figure(
        "recovery",
        "Recovery, fresh water of the feed",
        made.recovery,
        "%",
        note="8 to 15 % is usual; common practice, no source",
    )


def _limits(making: Making, show: Report) -> None:
    """All that the membranes bear; that the sea is warm only where it is too warm."""
    for key, held in making.borne.items():
        if key == "warmth" and held.holds:
            continue
        unit = _UNITS[key]
        show.held(
            key,
            _LABELS[key],
            held,
            unit,
            says=line(_SAYS[key], v=(held.value, unit), m=(held.limit, unit)),
            note=_NOTES.get(key, ""),
        )
    if making.opens is not None and making.opens.holds:  # else it is told with pump and motor
        _motor.relief(show, making.opens)


def _pressures(making: Making, show: Report) -> None:
    """The pressure to set, that for the water of the papers, and the highest that is allowed."""
    wanted, highest, right = making.for_stated, making.highest, making.set_right
    if right is not None:
        full = wanted is not None and wanted <= right.pressure
        show.figure(
            "set",
            "Pressure to set here",
            right.pressure,
            "bar",
            rounding="down",
            note=line("gives the {r} of its papers", r=(making.stated, "L/h"))
            if full
            else line(
                "no more than its papers state or is allowed; gives {q}",
                q=(right.made.product, "L/h"),
            ),
        )
    if wanted is not None and wanted > making.advised:
        show.figure(
            "full",
            line("Pressure for the {r} of its papers", r=(making.stated, "L/h")),
            wanted,
            "bar",
            note="more than its papers state or is allowed: take less water",
        )
    if highest > making.sea.osmotic_pressure:
        show.figure(
            "highest",
            "Highest pressure allowed here",
            highest,
            "bar",
            rounding="down",
            note=_BOUNDED[making.bounded_by],
        )


# ---- what would make it fit ----


def remedies(making: Making, show: Report) -> None:
    """A pressure that keeps all limits."""
    if making.dry:
        _some_water(making, show)
        return
    spills = making.opens is not None and not making.opens.holds
    bound = making.bounded_by
    if bound != "pressure" and making.pressure > making.highest and (spills or bound != "relief"):
        _less(making, show)
    brine = making.driven.get("brine")
    if brine is not None and making.feed <= brine.limit:
        show.remedy(
            "The membranes want {m} of brine past the last one, and the pump moves {f} in all: "
            "they want a larger pump.",
            m=(brine.limit, "L/min"),
            f=(making.feed, "L/min"),
        )
    _cleaner(making, show)


def _to_set(pressure: float) -> Amount:
    """A pressure to set as the figures tell it, though a little more would do as well."""
    return amount(most(pressure, "bar").shown(), "bar")


def _less(making: Making, show: Report) -> None:
    """The pressure to set: for the fresh water of the papers, or as much as is allowed."""
    if making.to_set is None:
        return
    bound = making.bounded_by
    if making.to_set < making.highest:
        told = _to_set(making.to_set)
        show.remedy(
            "Open the regulating valve until the fresh water comes down to the {r} of its papers: "
            "the gauge then shows about {p}.",
            r=(making.stated, "L/h"),
            p=told,
            sets={"pressure": told},
            mends=bound,
        )
        return
    # A tenth below the relief valve is no edge: a little more would do as well.
    told = _to_set(making.to_set) if bound == "relief" else most(making.to_set, "bar")
    show.remedy(
        "Open the regulating valve until the gauge shows {p}.",
        p=told,
        sets={"pressure": told},
        mends=bound,
    )


def _some_water(making: Making, show: Report) -> None:
    """A pressure above the sea's own, and no more than the papers state."""
    if making.to_set is None or making.to_set <= making.pressure:
        return
    told = _to_set(making.to_set)
    show.remedy(
        "Close the regulating valve slowly until the gauge shows {p}.",
        p=told,
        sets={"pressure": told},
        mends="product",
    )


def _cleaner(making: Making, show: Report) -> None:
    """More pressure brings more water and no more salt, as far as the papers go."""
    highest = making.advised
    if making.salt.holds or making.pressure >= highest:
        return

    def over(pressure: float) -> float:
        return making.at(pressure).product_salinity - MOST_SALT

    if over(highest) > 0:
        return
    told = least(crossing(over, making.pressure, highest, 1e-9), "bar")
    if told.shown() <= highest:
        show.remedy(
            "Close the regulating valve slowly until the gauge shows {p}: the same salt then "
            "passes into more water.",
            p=told,
            sets={"pressure": told},
            mends="salt",
        )
