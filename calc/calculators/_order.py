"""Each step in words: what to do, and why, or what happens if it is left out. By the step's key."""

from __future__ import annotations

from collections.abc import Mapping

Words = Mapping[str, tuple[str, str]]

START: Words = {
    "look.unit": (
        "Look at oil and sea, and for drops. Do what a tag on the switch says.",
        "An end may be shut. Oil or fuel on the sea ruins membrane and water.",
    ),
    "off.remote": (
        "Timer, automatic or remote start: off.",
        "Else it may start while an end is still shut.",
    ),
    "open.brine_valve": (
        "Brine's valve overboard: open. Look at its handle.",
        "Shut, the pressure is past every limit as the big pump starts.",
    ),
    "open.product_valve": (
        "Product's valve: open, now and always.",
        "Shut under pressure, the line bursts or the membrane tears.",
    ),
    "turn.product_valve.waste": (
        "Product's three-way valve: to waste.",
        "The first product is salty; and this way is open before there is pressure.",
    ),
    "lead.product_hose.waste": (
        "Product hose: its end out of the tank, into a bucket or sink, no kink.",
        "The first product is salty. A kink is a way out that is shut.",
    ),
    "shut.flush_valve": ("Flush water's valve: shut.", "Else the sea gets into the flush water."),
    "open.seacock": (
        "Seacock: open.",
        "Shut, the pump draws air or vapour, and its packing burns within seconds.",
    ),
    "turn.inlet_valve.sea": (
        "Inlet valve: to the sea.",
        "Left on flush water, the pump empties that tank and then draws air.",
    ),
    "open.regulating_valve": (
        "Regulating valve: fully open.",
        "No pressure, an easy start. Closed, it is a way out that is shut.",
    ),
    "on.breaker": (
        "Look that no pump's switch is on. Only then the breaker: on.",
        "One left on would start a pump now, with air in it.",
    ),
    "on.boost_pump": (
        "Boost pump: on, alone.",
        "It drives out the air, which the big pump bears for seconds only.",
    ),
    "vent.bowls": (
        "Filter bowls: vent each until no air comes; shut the vent.",
        "Their air goes into the big pump; an open vent leaks.",
    ),
    "wait.feed": (
        "Wait until water runs overboard without bubbles and the feed pressure stands still.",
        "Bubbles are air. No water: something is shut or blocked.",
    ),
    "fill.unit": (
        "Fill and bleed strainer, filters and pump as the maker says.",
        "Nothing else takes the air out before the big pump turns; drawing air, its packing burns "
        "within seconds.",
    ),
    "shut.vents": (
        "Filter bowls' vents: all shut.",
        "Open, they let the pump draw air, or water into the boat.",
    ),
    "look.low_pressure_switch": (
        "Feed pressure: above the low-pressure switch's setting.",
        "Below it that switch stops the big pump. Dirty filters show here.",
    ),
    "on.high_pressure_pump": (
        "High-pressure pump: on, without pressure.",
        "A leak, a knock or the last air shows before there is pressure.",
    ),
    "on.both_pumps": (
        "The one switch: on, without pressure.",
        "A leak, a knock or the last air shows before there is pressure.",
    ),
    "wait.bubbles": (
        "Water runs overboard at once, and soon without bubbles. If not: off, and fill it again.",
        "The big pump bears air for seconds only.",
    ),
    "watch.brine": (
        "Listen for a minute or two. Brine runs steadily; if the gauge climbs: off at once.",
        "With the regulating valve open, a gauge that climbs says that a way out is shut or "
        "blocked.",
    ),
    "close.regulating_valve": (
        "Regulating valve: close it slowly, over half a minute or more, no further than to the "
        "maker's pressure or the rated product flow, whichever comes first.",
        "Faster or further, hoses and membrane get more than they bear.",
    ),
    "test.product.meter": (
        "Product still to waste, until the salinity meter reads fresh; then taste it.",
        "It is salty at first. The meter tells salt alone: no germs, no fuel.",
    ),
    "test.product.taste": (
        "Product still to waste, until it tastes fresh.",
        "It is salty at first. A tongue tells no germs.",
    ),
    "turn.product_valve.tank": (
        "Product's three-way valve: to the tank. The tank's vent is open.",
        "Full and without a vent, the tank shuts the line under pressure.",
    ),
    "lead.product_hose.tank": (
        "Product hose: its end into the tank, no kink. The tank's vent is open.",
        "A kink, or a full tank without a vent, shuts the line under pressure.",
    ),
    "write.log.salinity": (
        "Write down pressure, product flow and salinity.",
        "A change in one of them is the first sign of trouble.",
    ),
    "write.log": (
        "Write down pressure and product flow.",
        "A change in one of them is the first sign of trouble.",
    ),
}

STOP: Words = {
    "turn.product_valve.waste": (
        "Product's three-way valve: to waste.",
        "As the pressure falls, the product becomes salty.",
    ),
    "lead.product_hose.waste": (
        "Product hose: its end out of the tank, into a bucket or sink, no kink.",
        "As the pressure falls, the product becomes salty.",
    ),
    "open.regulating_valve": (
        "Regulating valve: open it slowly, all the way, until the gauge reads zero or as little "
        "as before you closed it.",
        "Else it keeps pressure, and starts against it next time.",
    ),
    "off.high_pressure_pump": (
        "High-pressure pump: off.",
        "No pump may run while you turn the valves at its inlet.",
    ),
    "off.boost_pump": (
        "Boost pump: off, once the big one stands still.",
        "Off before it, the big pump draws air.",
    ),
    "off.both_pumps": (
        "The one switch: off.",
        "No pump may run while you turn the valves at its inlet.",
    ),
    "off.remote": (
        "Timer, automatic or remote start: off, and left off.",
        "Else it starts by itself, with an end shut or on no water.",
    ),
    "turn.inlet_valve.flush": (
        "Inlet valve: to flush water, while no pump runs.",
        "Half way round it may be shut. Not flushed, it grows slime.",
    ),
    "shut.seacock.flush": (
        "Seacock: shut, while no pump runs.",
        "From now on the pump takes flush water; the sea stays out of the boat.",
    ),
    "open.flush_valve": (
        "Flush water's valve: open, now that the seacock is shut.",
        "Shut, the pump draws air. Opened sooner, sea and flush water mix.",
    ),
    "open.flush_valve.still": (
        "Flush water's valve: open slowly. Water runs overboard within seconds; if none does, shut "
        "it.",
        "The house pump pushes it through while both pumps stand. Opened sooner, sea and flush "
        "water mix.",
    ),
    "look.ways_out.still": (
        "Look: brine overboard open, product to waste, regulating valve fully open.",
        "Else the house pump's pressure stands in the unit, and nothing is flushed.",
    ),
    "wait.flush": (
        "Both pumps off, wait until what goes overboard tastes fresh. You have {v} for it.",
        "Not flushed, it grows slime.",
    ),
    "look.ways_out": (
        "Look: brine overboard open, product to waste, regulating valve fully open.",
        "It is about to run again, and bursts a shut end with flush water too.",
    ),
    "on.boost_pump.flush": (
        "Boost pump: on, until no air comes.",
        "It brings flush water to the big pump, which must not draw air.",
    ),
    "fill.unit.flush": (
        "Flush water up to the pump, without air, as the maker says.",
        "Nothing else takes the air out of that hose before the big pump turns.",
    ),
    "on.high_pressure_pump.flush": (
        "High-pressure pump: on, without pressure, three to five minutes, until what goes "
        "overboard tastes fresh. {v} last {t}.",
        "Under pressure it would make product of flush water.",
    ),
    "on.both_pumps.flush": (
        "The one switch: on, without pressure, three to five minutes, until what goes overboard "
        "tastes fresh. {v} last {t}.",
        "Under pressure it would make product of flush water.",
    ),
    "off.high_pressure_pump.flush": (
        "High-pressure pump: off, before flush water runs out.",
        "Drawing air, its packing burns within seconds.",
    ),
    "off.both_pumps.flush": (
        "The one switch: off, before flush water runs out.",
        "Drawing air, its packing burns within seconds.",
    ),
    "off.breaker": (
        "Breaker: off.",
        "From here on nothing may start it: an end is shut, or will be.",
    ),
    "shut.flush_valve": (
        "Flush water's valve: shut.",
        "Left open, that tank drains through the unit and overboard, or its pump presses on.",
    ),
    "shut.seacock": ("Seacock: shut.", "A hose that fails below the waterline sinks the boat."),
    "shut.brine_valve": (
        "Brine's valve overboard: shut, now that the breaker is off.",
        "Its outlet can dip, and the sea would run back. Shut sooner, a start bursts something.",
    ),
    "hang.tag.ends": ("Tag on the switch: ends shut.", "Whoever starts it next opens them first."),
    "hang.tag.seacock": (
        "Tag on the switch: seacock shut.",
        "Whoever starts it next opens it first.",
    ),
}

EMERGENCY: Words = {
    "off.pumps": (
        "Off first: each pump, at its switch or at the breaker.",
        "What bursts, knocks or smells gets worse with each turn.",
    ),
    "off.remote": (
        "Timer, automatic or remote start: off.",
        "Else it starts again, with your hands at it.",
    ),
    "shut.seacock": (
        "If water comes into the boat: seacock shut.",
        "Through a burst hose below the waterline the sea comes in.",
    ),
    "shut.flush_valve": (
        "In a flush: flush water's valve shut.",
        "The house pump pushes on, whatever else is off.",
    ),
    "open.brine_valve": (
        "Brine's valve overboard: if it was shut, open it slowly.",
        "Shut, it keeps the pressure inside, though the regulating valve is open.",
    ),
    "open.regulating_valve": (
        "Regulating valve: open. Stay out of the line of a leak.",
        "Pressure may be left inside, and a fine jet goes through skin.",
    ),
    "off.breaker": ("Breaker: off.", "Nobody may start it before the cause is found."),
    "shut.brine_valve": (
        "If water still comes in: brine's valve shut, now that the breaker is off.",
        "The sea can come back through that outlet, seacock shut or not.",
    ),
    "hang.tag": (
        "Tag on the switch: what happened, and what is shut.",
        "Whoever comes next sees neither.",
    ),
}
