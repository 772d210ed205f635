"""How far each reading lies off what a healthy one shows, and what that weighs."""

from __future__ import annotations

import math

from ...frame.report import Report, line
from ...system.diagnosis import Diagnosis
from ...system.occasion import AT, unscaled
from ...system.readings import IN_SHARES
from .words import READINGS

UNITS = {
    "before": "bar", "behind": "bar", "pressure": "bar", "drop": "bar", "product": "L/h",
    "brine": "L/min", "conductivity": "µS/cm", "temperature": "°C", "salinity": "g/kg",
    "volts": "V", "amperes": "A", "hertz": "Hz",
}  # fmt: skip
_SYMBOLS = {
    "before": "p", "behind": "p", "pressure": "p", "drop": "p", "product": "Q", "brine": "Q",
    "conductivity": "kappa", "volts": "V", "amperes": "I", "hertz": "f",
}  # fmt: skip
_BY_SHARE, _BY_AMOUNT = "z = log({s}_r / {s}_h) / u", "z = ({s}_r - {s}_h) / u"
_SOURCE = "definition of a standard score"
_BAYES = "Bayes' theorem; D. J. C. MacKay, Information Theory (2003), ch. 28 (from memory)"


def steps(found: Diagnosis, show: Report) -> None:
    """A step a reading, then the weight of them all."""
    base = found.ground
    product, brine = (unscaled(name, base.well[AT[name]]) for name in ("product", "brine"))
    show.step(
        "Recovery of a healthy one, here",
        product / (product + brine),
        "%",
        "Y = Q_p / (Q_p + Q_b)",
        {"Q_p": (product, "L/h"), "Q_b": (brine, "L/min")},
        "definition of recovery",
        "As the pages on water and feed have it, fitted to day one where there is one.",
    )
    for name in base.now.told:
        place, unit, symbol = AT[name], UNITS[name], _SYMBOLS[name]
        read = unscaled(name, base.now.vector()[place])
        healthy = unscaled(name, base.well[place])
        unsure = math.sqrt(base.covariance[place][place])
        share = name in IN_SHARES
        if share and read < 1e-9 * healthy:
            continue
        off = math.log(read / healthy) if share else read - healthy
        show.step(
            line("How far off: {what}", what=READINGS[name]),
            off / unsure,
            "",
            f"z = log({symbol}_r / {symbol}_h) / u"
            if share
            else f"z = ({symbol}_r - {symbol}_h) / u",
            {
                f"{symbol}_r": (read, unit),
                f"{symbol}_h": (healthy, unit),
                "u": (unsure, "%" if share else unit),
            },
            _SOURCE,
            "r: read; h: what a healthy one shows, by day one where there is one; u: by the "
            "meter, and by what is not known of the model.",
        )
    if not found.enough:
        return
    healthy = min(max(found.healthy, 1e-12), 1 - 1e-12)
    weight = math.log(healthy / (1 - healthy))
    show.step(
        "Chance that nothing is wrong",
        1 / (1 + math.exp(-weight)),
        "%",
        "P = 1 / (1 + exp(-w))",
        {"w": (weight, "")},
        _BAYES,
        "w: how well all is well explains the readings, against all causes with their sizes and "
        "how common they are.",
    )
