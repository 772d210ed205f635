"""Rinsing salt out of a vessel, and chlorine out of water: dilution, carbon, doses."""

from __future__ import annotations

import math

from calc.physics._require import fraction, not_negative, positive

# Molar masses [g/mol] of sodium metabisulphite and of chlorine: CIAAW.
_METABISULPHITE, _CHLORINE = 190.107, 70.906


def salt_left(salt: float, fresh: float, volume: float, vessel: float) -> float:
    """Salt left [kg/m3] in a mixed vessel [m3] of a salt [kg/m3] once a volume [m3] of water of
    less salt [kg/m3] has run through it.

    c = cf + (c0 - cf) exp(-V / V0): the longest that a vessel can keep its salt. Raises ValueError
    for a vessel of nothing and negative values. Source: mass balance of a stirred tank, O.
    Levenspiel, Chemical Reaction Engineering.
    """
    through = not_negative(volume, "the water") / positive(vessel, "the vessel")
    over = not_negative(salt, "the salt") - not_negative(fresh, "the fresh water's salt")
    return fresh + over * math.exp(-through)


def volumes_wanted(salt: float, fresh: float, aim: float) -> float:
    """How many times its own volume [1] of water of a salt [kg/m3] a mixed vessel wants until its
    salt [kg/m3] has come down to an aim [kg/m3]: none where it is there already.

    ln((c0 - cf) / (c - cf)). Raises ValueError where the aim isn't above the fresh water's salt.
    Source: `salt_left`, turned round.
    """
    over = positive(aim - not_negative(fresh, "the fresh water's salt"), "what the aim leaves")
    return math.log(max(salt - fresh, over) / over)


def contact_time(volume: float, flow: float) -> float:
    """Time [s] that water of a flow [m3/s] is in a bed of a volume [m3], as if the bed were empty.

    EBCT = V / Q. Raises ValueError for what is not positive. Source: definition of the empty-bed
    contact time, US EPA, drinking water treatability database, granular activated carbon.
    """
    return positive(volume, "the bed") / positive(flow, "the flow")


def chlorine_behind(chlorine: float, taken: float, contact: float, rated: float) -> float:
    """Chlorine [kg/m3] behind a bed of fresh carbon, out of the chlorine before it [kg/m3], the
    share [1] that it takes at its rated contact time [s], and the contact time [s].

    c0 (1 - r) ** (t / tr). Raises ValueError for a share outside 0 to 1. Source: decay of the first
    order along the bed, as the reaction of free chlorine with carbon is usually fitted.
    """
    passed = 1 - fraction(taken, "the share")
    times = not_negative(contact, "the contact") / positive(rated, "the rated contact")
    return float(not_negative(chlorine, "the chlorine") * passed**times)


def carbon_lasts(litres: float, stated: float, chlorine: float) -> float:
    """Water [m3] that carbon frees of a chlorine [kg/m3], out of the water [m3] that it is stated
    for at another [kg/m3].

    The same mass of chlorine. Raises ValueError for what is not positive. Source: mass balance of
    the chlorine taken.
    """
    ratio = positive(stated, "the stated chlorine") / positive(chlorine, "the chlorine")
    return not_negative(litres, "the water") * ratio


def chlorine_dose(chlorine: float, time: float) -> float:
    """What a membrane has had of a chlorine [kg/m3] over a time [s]: their product [kg s/m3].

    Raises ValueError for negative values. Source: definition of the exposure, in ppm hours.
    """
    return not_negative(chlorine, "the chlorine") * not_negative(time, "the time")


def metabisulphite_for(chlorine: float) -> float:
    """Sodium metabisulphite [kg] that a mass of free chlorine [kg] uses up.

    Na2S2O5 + 2 Cl2 + 3 H2O -> 2 NaHSO4 + 4 HCl. Raises ValueError for a negative mass. Source:
    stoichiometry, molar masses of CIAAW.
    """
    return not_negative(chlorine, "the chlorine") * _METABISULPHITE / (2 * _CHLORINE)
