"""Each step in words: what to do, what should be read there, and why. By the step's key; those of
every start and stop are told as on that page."""

from __future__ import annotations

from collections.abc import Mapping

from .. import _order

Words = Mapping[str, tuple[str, str]]

BEFORE: Words = {
    "look.tag": (
        "Nothing on, all locked. Is every line of the work plan done, and the membranes in?",
        "What was left open is found now, or by the water.",
    ),
    "look.joints.rest": (
        "With a lamp, along every hose: each clamp, end cap and fitting tight; no tool left.",
        "Under pressure nobody tightens anything.",
    ),
    "look.oil": (
        "Oil at the mark on the glass, clear; the vented filler cap in.",
        "Pumps are often sent dry, and with a plug.",
    ),
    "look.relief_valve": (
        "Relief valve: seal whole, {opens} on its plate, its hose tied down to the bilge, nothing "
        "in it.",
        "It is what is left when a way out is shut.",
    ),
    "look.switches": (
        "Each pump's switch off, timer and remote start off, the motor's breaker off.",
        "One left on starts a pump as the lock comes off.",
    ),
    "unlock.sources": (
        "Locks off, the source on; the motor's breaker stays off.",
        "Nothing may start yet.",
    ),
    "read.rest": (
        "Volts at the panel, on its own meter: {rest}. Where none is fitted, somebody licensed "
        "reads them.",
        "Low already at rest, they are lower at the start.",
    ),
}
START: Words = {
    **_order.START,
    "look.turning": (
        "Does it turn as its arrow says? If not: off at once, breaker off, lock on, and whoever is "
        "licensed changes it.",
        "The pump moves water either way. Splash oil, fan and a centrifugal boost pump may not.",
    ),
    "read.start": (
        "Start's amperes, on a meter that stays fitted or by somebody licensed: about {surge}; the "
        "volts keep {kept} at least.",
        "More, or fewer volts: it starts too heavily, or its cable is too thin.",
    ),
    "read.feed": (
        "Feed pressure: {before} before the filters, {behind} behind them.",
        "Less tells of air, a shut valve or a weak boost pump, before it does harm.",
    ),
    "look.joints.open": (
        "Every joint, hands away: no drop. Bowls: no bubble. Else “Before hands go to it”.",
        "A bubble is air that the pump draws.",
    ),
    "close.regulating_valve.quarter": (
        "Regulating valve: close it slowly, to a quarter, {quarter}. Five minutes.",
        "A leak shows while it is small.",
    ),
    "close.regulating_valve.half": (
        "Further, slowly, to a half, {half}. Five minutes.",
        "Hoses stretch and end caps settle.",
    ),
    "close.regulating_valve.full": (
        "Further, slowly, to {set}, or until it makes {rated}, whichever comes first.",
        "Faster or further, hoses and membrane get more than they bear.",
    ),
    "look.joints.quarter": (
        "Every joint, from the side, hands away. A drop, now or later: first “Before hands go "
        "to it”, then mend it and begin again with step 1.",
        "Never feel for a leak with a hand, never tighten under pressure.",
    ),
    "look.joints.half": (
        "Every joint again, and the relief valve's hose: dry.",
        "Dripping now, that valve opens too low or is dirty.",
    ),
    "look.joints.full": (
        "Every joint again. No knock; the gauge's needle trembles hardly.",
        "A needle that swings says that a plunger's valve sticks, or air.",
    ),
}
SAFE: Words = {
    **_order.STOP,
    "open.regulating_valve": (
        "Regulating valve: fully open. Stay out of the line of a leak.",
        "A fine jet goes through skin.",
    ),
    "lock.sources": ("Breaker locked off.", "Your hands go to it next."),
    "wait.gauge": (
        "Wait until no brine runs and the gauge reads zero.",
        "As long as brine runs there is pressure behind it.",
    ),
    "prove.pressure": (
        "Before you loosen it: ease the bleed or the fitting a fraction of a turn, out of its "
        "line. Nothing may come.",
        "Pressure may be left inside, whatever the gauge says.",
    ),
}
READ: Words = {
    "wait.quarter": (
        "Leave it for a quarter of an hour, the product to waste.",
        "New membranes come in a preservative, and take that long to settle.",
    ),
    "read.sea": (
        "Warmth and salt of the sea, of water drawn beside the boat.",
        "All that follows is expected for this sea: {warm}, {salt}.",
    ),
    "read.pressure": (
        "High pressure on its gauge: {set}, and never above {highest}.",
        "The weakest part, the membranes and the relief valve bound it.",
    ),
    "read.flows": (
        "Product with a bucket and a watch: {product}. Brine the same way where you can: {brine}.",
        "What the membranes give, and what the pump moves.",
    ),
    "read.salt": (
        "Product's conductivity, cooled or warmed to 25 °C by the meter: {conductivity}.",
        "The first hour it is higher, while the preservative goes.",
    ),
    "read.work": (
        "Volts and amperes at work, on meters that stay fitted or by somebody licensed: {volts}, "
        "{amperes}. Open no box for it.",
        "Amperes tell what the motor bears.",
    ),
    "look.weep_holes": (
        "Weep holes under the pump: a few drops at first, no string. Relief valve's hose: dry.",
        "A string tells of a packing that was hurt.",
    ),
    "wait.hour": ("Leave it at work until an hour is full.", "A motor warms for as long as that."),
    "read.motor": (
        "Motor's frame, a thermometer held to it away from its fan: up to {frame} over the air "
        "beside it.",
        "Hotter, it gets too little air, or has too much to do.",
    ),
    "read.sound": (
        "Loudness at the seat that matters, at night if it will run then: write it down.",
        "Louder next year, something has worn or come loose.",
    ),
}
STOP: Words = {
    "stop.unit": (
        "Stop and flush it in its order, {stop} steps on the page “Starting and stopping”.",
        "That order is the same each time.",
    ),
    "lock.sources": ("Breaker off, lock on.", "Your hands go to it now."),
    "look.joints.after": (
        "Every joint, clamp and bolt again, at rest, without pressure.",
        "Clamps on new hose want a turn more.",
    ),
    "look.oil.after": (
        "Oil: at its mark, clear; top it up.",
        "Milky, there is water in it: run it no more.",
    ),
    "write.day_one": (
        "Readings saved as day one; card printed, signed, dated, put into the locker.",
        "All later readings are held against these.",
    ),
}
KNOWN: Mapping[str, Words] = {"before": BEFORE, "start": START, "read": READ, "stop": STOP}
SAFELY = "Before hands go to it"
"""The list that each of these leads to; its title stands in their sentences."""
TITLES = {
    "before": "Before anything turns",
    "start": "The first start",
    "read": "Readings at work, product to waste",
    "stop": "Stop it, and look again",
}
