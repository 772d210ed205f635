"""Lifting: what a person may lift at arm's length."""

REFERENCE_MASS = 23.0
"""Load constant [kg]: what nearly all healthy adults may lift close to the body."""

CLOSE = 0.25
"""Distance [m] from the ankles to the hands up to which nothing is deducted."""

FARTHEST = 0.63
"""Distance [m] from the ankles to the hands beyond which the equation allows nothing."""

KNUCKLE_HEIGHT = 0.75
"""Height [m] of the hands above the feet at which nothing is deducted."""


def lifting_limit(reach: float, height: float = KNUCKLE_HEIGHT) -> float:
    """Mass [kg] that one person may lift now and then with the hands at a reach and height [m].

    23 kg · 0.25/reach · (1 - 0.3|height - 0.75|), the other multipliers of the equation taken as 1:
    no twisting, a good grip, few lifts. Nothing beyond 63 cm, not below zero. Raises ValueError
    for no reach. Source:
    NIOSH, Applications Manual for the Revised NIOSH Lifting Equation, publication 94-110.
    """
    if not reach > 0:
        raise ValueError("the reach must be greater than zero")
    if reach > FARTHEST:
        return 0.0
    vertical = max(0.0, 1 - 0.3 * abs(height - KNUCKLE_HEIGHT))
    return REFERENCE_MASS * min(1.0, CLOSE / reach) * vertical
