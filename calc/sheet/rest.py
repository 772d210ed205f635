"""Words for what the system tells by keys of a machine at rest: ways, steps, days."""

from __future__ import annotations

from ..system import rest

WAYS = {
    rest.FLUSHED: "Fresh water alone, again and again",
    rest.PRESERVED: "Preserve the membranes",
    rest.EMPTIED: "Membranes out, propylene glycol in the rest",
}

_AWAKE = "Open both ways out and look that they are open, wake it, rinse to waste"
STEPS = {
    (rest.FLUSHED, rest.FLUSH): "Look that both ways out are open, then flush with fresh water",
    (rest.FLUSHED, rest.WAKE): _AWAKE,
    (rest.PRESERVED, rest.PRESERVE): "Flush, then preserve; lock it out before the brine is shut, "
    "and leave the product line open",
    (rest.PRESERVED, rest.RENEW): "Open both ways out and look that they are open; flush, renew "
    "the preservative, lock it out before the brine is shut, and leave the product line open",
    (rest.PRESERVED, rest.WAKE): _AWAKE,
    (rest.EMPTIED, rest.PRESERVE): "Flush, lock it out, prove that there is no pressure, take the "
    "membranes out and keep them bagged wet in preservative where it cannot freeze; close the "
    "tubes, lead both ways out into a can, and fill pump and hoses with food-grade propylene "
    "glycol until a refractometer shows, for what comes out, a freezing point below your coldest "
    "night; lock it out again",
    (rest.EMPTIED, rest.RENEW): "In their bag, where it cannot freeze: renew the preservative",
    (rest.EMPTIED, rest.WAKE): "Locked out, open both ways out into a can, drain the glycol and "
    "take it ashore, put the membranes back, lead the brine overboard and the product to waste, "
    "look that both are open, wake it, rinse to waste",
}
"""What is done on a day, by the way of keeping it and by why the day is due."""
