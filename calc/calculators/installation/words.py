"""Each step in words: what to do, and why, or what happens if it is left out. By the step's key."""

from __future__ import annotations

from collections.abc import Mapping

Words = Mapping[str, tuple[str, str]]

PLACE: Words = {
    "look.place": (
        "A rule at the place: {long} along the shaft, {deep} deep, {high} high are free, of that "
        "{head} to pull the pump's head and {box} before the electrical box; a hand gets at oil "
        "filler, glass and drain. No spray, no drip; tilted by {across} across the shaft and "
        "{along} along it at most.",
        "Its crankcase is vented: tilted too far, oil runs out. Water on a mains motor kills.",
    ),
    "lock.sources": (
        "Shore lead out, generator off, inverter off at its battery switch, breakers off; lock and "
        "tag on each.",
        "Panels hide cables; a waiting inverter is live.",
    ),
    "turn.head": (
        "On the bench: pump head or crankcase turned by a quarter, by its maker's drawing, so that "
        "filler and vent come to lie on top and the glass is seen.",
        "Hung as it came, its oil runs out through the vent, and the glass tells nothing.",
    ),
    "fit.seacock": (
        "Seacock and its skin fitting: by a boatyard, with the boat ashore. For a hose, inside: "
        "{bore}.",
        "A hole below the waterline done wrong sinks the boat.",
    ),
    "shut.seacock": (
        "Seacock: shut, a tag on it, its wooden plug tied on.",
        "The lines behind it are still open.",
    ),
    "measure.depth": (
        "Measure how deep each hole may go: not to the hull's skin, a tank, a cable or a hose.",
        "A screw in the skin is a leak below the waterline.",
    ),
    "fill.core": (
        "Core out round each hole, filled solid with thickened resin, cured.",
        "Else the bolts crush it, and water gets in.",
    ),
    "drill.holes": (
        "Holes right through, by the unit's base or its drawing; how many: {n}; wide: {hole}.",
        "Holes too wide let the bolts work.",
    ),
    "drill.screw_holes": (
        "Holes for the screws, narrower than their core, no deeper than you measured; how many: "
        "{n}.",
        "Too wide, the thread holds nothing.",
    ),
    "cut.openings": (
        "Cut the openings for its air: low and high, free of what is stowed there.",
        "Without fresh air the motor stops in the heat.",
    ),
    "fit.ledge": (
        "A ledge under its lower edge, bolted to the same structure.",
        "Else mounts or bolts carry all its weight in shear.",
    ),
    "fit.mounts": (
        "Mounts under it, all alike, each for {load} at least; how many: {mounts}.",
        "An overloaded mount tears or buckles in a seaway.",
    ),
    "lift.unit": (
        "Lift it in, in harbour: {people} people, {each} each. Hands clear of the base.",
        "Bolt it down before the boat moves.",
    ),
    "fasten.unit": (
        "Bolts {thread}, class {grade}, each with a backing plate and a lock nut; how many: {n}; "
        "the plate across: {plate}.",
        "It must stay there in a knockdown.",
    ),
    "fasten.unit.screws": (
        "Screws into wood, all the way; how many: {n}; across: {screw}.",
        "Screws work loose where something shakes: look at them each month.",
    ),
    "fit.fan": (
        "Fan and duct fitted, its wires left loose.",
        "Who wires the motor wires the fan, so that it runs whenever the motor does.",
    ),
    "change.plug": (
        "Transport plug out of the crankcase; the vented filler cap in its place.",
        "Closed tight, the warm crankcase presses its oil past the seals.",
    ),
    "fill.oil": (
        "On an even keel: oil up to the mark on the glass, the one that its maker names. A pan "
        "goes under the drain.",
        "Pumps are often sent dry; too much oil foams.",
    ),
    "fill.oil.drawn": (
        "On an even keel: oil up to the mark on the glass, the one that its maker names. At each "
        "change draw the old oil up through the filler.",
        "Pumps are often sent dry. No pan goes under this drain.",
    ),
}

LINES: Words = {
    "fit.strainer": (
        "Strainer: behind the seacock, its lid in reach and its bowl in sight.",
        "Weed in the pump's valves stops it.",
    ),
    "fit.inlet_valve": (
        "Three-way valve behind the seacock: sea or flush water.",
        "Without it nothing flushes the unit.",
    ),
    "fit.flush_tap": (
        "A connection for flush water behind the seacock, with a valve of its own: shut.",
        "Left open, the sea gets into the flush water.",
    ),
    "fit.boost_pump": (
        "Boost pump: no more than {lift} above the water as she heels, its arrow with the flow.",
        "Higher, it draws air and doesn't start again.",
    ),
    "fit.filters": (
        "Filters: upright, with room below to take a bowl off; a gauge before them and one behind.",
        "The drop between both tells when they are due.",
    ),
    "lay.feed_hose": (
        "Feed hose, inside: {bore}, long: {feed}. Rising all the way or falling all the way, no "
        "hump and no loop; clamps on every end, {two} where the sea reaches it.",
        "A hump holds air; a hose that comes off floods the boat.",
    ),
    "fit.tubes": (
        "Pressure tubes bolted down, end caps in and secured, empty. The membranes stay in their "
        "bags.",
        "Dirt and chlorine of the first test would enter them.",
    ),
    "lay.high_pressure_hose": (
        "High-pressure hose for {bears} at least: no bend tighter than {bend}, no twist, rubbing "
        "on nothing, with a loop at the unit.",
        "Bent or rubbed through it bursts; its jet goes through skin.",
    ),
    "lay.relief_hose": (
        "Relief valve's outlet: a hose as wide as the outlet, down to the bilge, tied along its "
        "whole length, its end open, in sight, where nobody stands and no mains are.",
        "Loose, it lashes about. Never a plug or a tap in it.",
    ),
    "fit.relief_valve": (
        "A relief valve at the pump, set and sealed by its maker or a licensed workshop, and a "
        "hose from its outlet down to the bilge, tied along its whole length, its end open.",
        "Without it the first end that is shut bursts something.",
    ),
    "lay.brine_hose": (
        "Brine's hose overboard, without a kink, to a skin fitting that a boatyard has put in.",
        "Blocked, the pressure is past every limit.",
    ),
    "lay.brine_hose.loop": (
        "Brine's hose overboard, to a skin fitting that a boatyard has put in, by a vented loop "
        "whose top stays well above the water as she heels.",
        "Its outlet can dip, and the sea would run back into the boat.",
    ),
    "change.product_valve": (
        "In place of the valve in the fresh water's line: a three-way valve, waste or tank, that "
        "leaves one way open in every position.",
        "Shut under pressure, the line bursts or the membrane tears.",
    ),
    "lay.product_hose": (
        "Fresh water's hose, made for drinking water, to waste and to the top of the tank.",
        "From above, nothing can run back.",
    ),
}

WIRES: Words = {
    "set.terminals": (
        "By somebody licensed: motor connected for {volts} and {hertz} at its terminals, by the "
        "diagram on the motor itself. All alike, if there are several.",
        "Connected for other volts it burns, or doesn't start.",
    ),
    "wire.motor": (
        "By somebody licensed: cable, {size}; breaker, {breaker}; a switch in sight of the motor "
        "that can be locked off, earth, and a residual-current device where the code asks for it.",
        "What is not sized for the start trips, or burns.",
    ),
    "wire.boost_pump": (
        "By somebody licensed: boost pump's cable and fuse by its own plate; on a battery, plus "
        "and minus by its marks.",
        "Connected the wrong way round it turns backwards, and gives little.",
    ),
    "wire.bank": (
        "By somebody licensed: battery cable, {bank}; fuse, {fuse}, close to the battery's plus; "
        "it goes in last.",
        "A cable without a fuse burns the boat.",
    ),
    "prove.wiring": (
        "By somebody licensed: earth, insulation and residual-current device proved and written "
        "down; then all off and locked again.",
        "Nobody else can tell a live case from a dead one.",
    ),
}

TRIAL: Words = {
    "off.remote": (
        "Timer, automatic or remote start: off.",
        "Else it may start with your hands at it.",
    ),
    "open.brine_valve": ("Brine's valve overboard: open.", "A shut way out bursts something."),
    "lead.ways_out": (
        "Fresh water's hose: its end into a bucket. Brine's line overboard: open, no kink, and "
        "somebody looks where it comes out.",
        "You see at once whether water runs.",
    ),
    "open.regulating_valve": ("Regulating valve: fully open.", "This trial has no pressure."),
    "lead.fresh_water.three_way": (
        "Fresh water, {water} of it, in a can that stands above the pumps, to the flush side of "
        "the three-way valve; that valve to flush water. The seacock stays shut.",
        "The big pump takes that much in {time}, a boost pump more; from above, water runs to them "
        "by itself.",
    ),
    "lead.fresh_water.tap": (
        "Fresh water, {water} of it, in a can that stands above the pumps, to the flush "
        "connection; its valve open. The seacock stays shut.",
        "The big pump takes that much in {time}, a boost pump more; from above, water runs to them "
        "by itself.",
    ),
    "lead.fresh_water.none": (
        "The seacock stays shut. Fresh water, {water} of it, in a can that stands above the pumps; "
        "the feed hose off the strainer, its end in the can.",
        "The big pump takes that much in {time}, a boost pump more; from above, water runs to them "
        "by itself.",
    ),
    "fill.unit": (
        "Fill and bleed filters and pump as the maker says; vents shut again.",
        "Drawing air, its packing burns within seconds.",
    ),
    "look.joints.rest": (
        "Look at every joint with a lamp: no drop. Count the tools; hands away.",
        "A joint that drips at rest lets go under pressure.",
    ),
    "unlock.sources": (
        "Look that each pump's switch is off. Only then locks and tags off, breakers on.",
        "A switch left on would start a pump now.",
    ),
    "on.boost_pump": ("Boost pump: on, alone.", "It drives out the air before the big pump turns."),
    "wait.air": (
        "Wait until water runs out without bubbles. If none does within half a minute: off.",
        "No water: something is shut, or it turns the wrong way.",
    ),
    "on.high_pressure_pump.glimpse": (
        "High-pressure pump: on for two seconds, and off.",
        "Long enough to see, too short to harm.",
    ),
    "on.both_pumps.glimpse": (
        "The one switch: on for two seconds, and off.",
        "Long enough to see, too short to harm.",
    ),
    "look.turning": (
        "At shaft, fan or glass: does it turn as the arrow says? If not: off, lock, and whoever is "
        "licensed changes it at the terminals.",
        "The pump moves water either way. Splash oil, fan and a centrifugal boost pump may not.",
    ),
    "on.high_pressure_pump.test": (
        "High-pressure pump: on, without pressure, {time}. Gauge climbs, knock or spray: off.",
        "A gauge that climbs says that a way out is shut.",
    ),
    "on.both_pumps.test": (
        "The one switch: on, without pressure, {time}. Gauge climbs, knock or spray: off.",
        "A gauge that climbs says that a way out is shut.",
    ),
    "look.joints.running": (
        "Look at every joint, hands away: no drop, no bubble in the bowls, oil still at its mark.",
        "Better found now than under pressure.",
    ),
    "off.high_pressure_pump.test": (
        "High-pressure pump: off, before the can is empty.",
        "Drawing air, its packing burns within seconds.",
    ),
    "off.boost_pump.test": (
        "Boost pump: off, once the big one stands still.",
        "Off before it, the big pump draws air.",
    ),
    "off.both_pumps.test": (
        "The one switch: off, before the can is empty.",
        "Drawing air, its packing burns within seconds.",
    ),
    "lock.sources.again": ("Breakers off, locks and tags on again.", "Your hands go into it now."),
    "end.fresh_water.three_way": (
        "Can away, the flush line joined again; the three-way valve to the sea.",
        "Its first start is with sea water.",
    ),
    "end.fresh_water.tap": (
        "The flush connection's valve shut, the can away, the flush line joined again.",
        "Left open, the sea gets into the flush water.",
    ),
    "end.fresh_water.none": (
        "Can away, the feed hose back on the strainer, its clamps tight.",
        "Off, the boat floods when the seacock is opened.",
    ),
    "wait.brine": (
        "Wait until nothing runs and the gauge reads zero; ease one fitting a fraction of a "
        "turn, out of its line.",
        "A gauge can stick at zero.",
    ),
    "fit.membranes": (
        "Let the test's water run out. Then the membranes in: rings greased with what their maker "
        "allows, arrow with the flow, end caps secured.",
        "Chlorine ruins them; a dry ring tears, and salt gets past it.",
    ),
    "shut.brine_valve": (
        "Brine's valve overboard: shut.",
        "Its outlet can dip, and the sea would run back.",
    ),
    "hang.tag": (
        "Tag on the switch: not commissioned, and what is shut.",
        "Whoever comes next starts it only in its order.",
    ),
}

KNOWN: Mapping[str, Words] = {"place": PLACE, "lines": LINES, "wires": WIRES, "trial": TRIAL}
TITLES = {
    "place": "The place, and the unit in it",
    "lines": "Hoses and tubes, nothing switched on",
    "wires": "Electrical work, by somebody licensed",
    "trial": "Trial with fresh water, without pressure",
}
