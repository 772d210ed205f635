"""Cautions for what can hurt someone aboard. Which answer shows which is told by its calculator."""

from __future__ import annotations

from .frame.cautions import Caution, rules


def _all(*cautions: Caution) -> dict[str, Caution]:
    found = {caution.key: caution for caution in cautions}
    if len(found) < len(cautions):
        raise ValueError("two cautions have one key")
    return found


ALL = _all(
    Caution(
        "mains",
        "Mains voltage can kill",
        "Isolate before you open a junction box, prove dead before you touch: shore lead out, "
        "generator stopped and locked, inverter off at its battery switch. Mains work on board is "
        "for a licensed or otherwise competent electrician, by the code that applies where the "
        "boat is registered and lies (ISO 13297, ABYC E-11 or local law).",
    ),
    Caution(
        "bonding",
        "Earth and neutral are the local code's business",
        "Neutral is joined to earth at one place only: at the source that is feeding just then. "
        "Many inverters and transfer switches do that themselves and some don't; two joints, or "
        "none, keep a residual-current device (RCD, GFCI) from working. Fit one where the code "
        "asks for it, prove earth continuity to the motor's case, and have the joint checked.",
    ),
    Caution(
        "one-source",
        "Only one source at a time",
        "Never join inverter, generator and shore power: one may destroy the other, and a wire "
        "taken for dead be live. A transfer switch that cannot join two belongs between them, "
        "fitted by a licensed or otherwise competent electrician.",
    ),
    Caution(
        "parallel",
        "Cables in parallel share only while all is well",
        "Same make, size, length and lugs, joined at both ends, or one takes more than its share. "
        "None thinner than 50 mm² or AWG 1/0. Unless the fuse is small enough for one cable "
        "alone, give each its own, and look at the lugs for heat after an hour's work.",
    ),
    Caution(
        "battery",
        "A battery bank cannot be switched off inside",
        "A spanner across its terminals melts, and a short circuit can draw thousands of amperes. "
        "Fuse every positive cable close to the battery, take off rings and watches, cover the "
        "terminals you are not working on, and ventilate lead-acid batteries: they give off "
        "hydrogen. Lithium banks need a battery management system that can disconnect them.",
    ),
    Caution(
        "lithium-cold",
        "Never charge a frozen lithium battery",
        "Charged below 0 °C, a LiFePO4 cell plates metal inside, for good and without a sign, and "
        "may later short. Its management system must cut off charging in the cold and in the heat, "
        "from about 45 to 50 °C: the maker's sheet rules. See to it that an alternator has "
        "somewhere to go when it does.",
    ),
    Caution(
        "lead-frost",
        "A flat lead-acid battery freezes and bursts",
        "The emptier it is, the sooner its acid freezes: full it stands some −50 °C, flat no more "
        "than −10 °C. Keep it charged in the frost. Never charge one that has frozen: it may burst "
        "and throw acid. Thaw it slowly in a warm, aired place, and look for cracks first.",
    ),
    Caution(
        "engine-air",
        "Never starve an engine of air",
        "An engine that cannot breathe through its own openings draws exhaust, bilge air and dust "
        "from wherever it can. Don't close, share or filter its air without the opening that its "
        "maker asks for, and fit a carbon monoxide alarm.",
    ),
    Caution(
        "carbon-monoxide",
        "Exhaust kills without a smell",
        "Never run a portable generator below deck, in a cockpit tent or upwind of an open hatch, "
        "and fit carbon monoxide alarms that sound where people sleep. Neighbouring boats' exhaust "
        "counts too.",
    ),
    Caution(
        "petrol",
        "Petrol vapour sinks and explodes",
        "Stow petrol and portable generators in the open or in a locker that drains overboard, let "
        "the machine cool before refuelling, and use ignition-protected gear (ISO 8846, SAE J1171) "
        "wherever vapour can gather.",
    ),
    Caution(
        "vapour",
        "No motor and no fan where fuel or gas can gather",
        "A locker that holds, drains or is open to petrol or cooking gas takes only "
        "ignition-protected gear (ISO 8846, SAE J1171; 33 CFR 183.410 in the United States), and a "
        "gas locker is sealed from the boat and drains overboard (ISO 10239). Lead batteries "
        "give off hydrogen on charge. An ordinary motor or blower is a spark: put the watermaker "
        "elsewhere, and ask what your local code says.",
    ),
    Caution(
        "lifting",
        "Twenty kilograms in a seaway are more",
        "Move the unit at rest in harbour, two people or a tackle, hands clear of the base. Bolt "
        "it down before the boat moves.",
    ),
    Caution(
        "hull",
        "Never drill or screw towards the skin of the hull",
        "Measure the depth behind every hole first. Bolt to structure or to a platform bonded to "
        "it; a fastener in the hull's skin is a leak below the waterline.",
    ),
    Caution(
        "preservative",
        "Preservative and antifreeze are chemicals",
        "Sodium metabisulphite gives off sulphur dioxide: mix it in the open or with the hatches "
        "up, with goggles and gloves, never with an acid, bleach or another cleaner, and not at "
        "all if you have asthma. Use "
        "propylene glycol, never ethylene glycol, which poisons. Run the first half hour of water "
        "to waste after either, and follow the safety sheets and the rules of the place for what "
        "you drain.",
    ),
    Caution(
        "backflow",
        "What stands in the unit must not get back into the drinking tank",
        "Sea water, slime or preservative can run back through a flush line once the house pump "
        "stops or the tank is emptied. Let flush water run over an air gap into an open can, or "
        "take the flush hose off after each flush, its valve shut first. A valve alone, or a "
        "non-return valve, may leak. What the drinking-water code of the place asks for goes "
        "first. While preservative is in the unit nothing joins it to the tank.",
    ),
    Caution(
        "rotation",
        "See which way it turns before it runs under pressure",
        "A plunger pump moves water whichever way it turns, so water from it proves nothing. "
        "Turning the wrong way, its bearings may get no oil, its fan blows less and a centrifugal "
        "boost pump gives little. Look at the shaft or the fan during a brief run without "
        "pressure, and compare with the arrow on the pump. A single-phase motor is reversed at "
        "its terminals: isolate it first; the maker's diagram on the motor rules.",
    ),
    Caution(
        "pressure",
        "Water at working pressure goes through skin",
        "Before you loosen a high-pressure fitting: regulating valve open, pump off, the brine's "
        "way open; wait until no brine runs and the gauge reads zero, and prove it by easing the "
        "bleed or the fitting a fraction of a turn, out of its line. Never feel for a leak with a "
        "hand: an injection injury, however small, is a surgical emergency. Hoses and fittings "
        "must carry a working pressure above the relief valve's setting. Only its maker or a "
        "licensed workshop sets a relief valve.",
    ),
    Caution(
        "shut-end",
        "A plunger pump against a shut end bursts something",
        "It moves its water whatever is shut. Before each start look that the brine's way "
        "overboard and the product line are open, and the pressure regulating valve too. Never "
        "shut the brine while something can start the pump, and write on the tag that it is shut. "
        "Never shut the product line.",
    ),
    Caution(
        "product-line",
        "A shut product line bursts, or the membrane does",
        "While there is pressure the membrane makes water, also into a line that is shut or "
        "blocked: that bursts the line or tears the membrane's glue lines. Put no valve into the "
        "product line without a relief valve before it, set below what line and membrane bear; a "
        "three-way valve must leave one way open in every position.",
    ),
    Caution(
        "flooding",
        "An open hose below the waterline sinks the boat",
        "With both pumps off and locked, shut the seacock; only then open a strainer, a filter "
        "bowl or a hose. Shut it too whenever you leave the boat, and hang a tag on the pumps' "
        "switch: seacock shut. Below the waterline take hose that is made for it, two clamps where "
        "the fitting is long enough, a seacock that you reach and turn in the dark, and a wooden "
        "plug tied to it. Work on the hole itself is done ashore, by a boatyard.",
    ),
    Caution(
        "siphon",
        "What stands below the waterline fills by itself",
        "If the brine's outlet can dip under water, the sea runs back through it to an open "
        "bowl, whether the seacock is shut or not: with the pumps locked off, shut the valve of "
        "that outlet too, and write on the tag: ends shut. A vented loop in the brine's line, its "
        "top well above the water as she heels, keeps the sea out. Never put one into the "
        "feed line: the pump would draw air through it.",
    ),
    Caution(
        "dry-running",
        "A plunger pump that draws air burns its packing",
        "The way in open (the seacock, or flush water with the seacock shut), then the boost pump "
        "alone, or the water's own weight, until strainer, filters and pump hold no air; only then "
        "the high-pressure pump. While a pump runs, leave "
        "seacock and inlet valve alone, but for the test of the low-pressure switch. If the feed "
        "pressure falls away or the pump knocks: switch both pumps off first, then look why. Never "
        "bypass a low-pressure switch.",
    ),
    Caution(
        "chlorine-membrane",
        "Chlorine ruins a membrane, for good",
        "Tank water that was dosed and shore water go into the unit only through carbon that is "
        "not used up, or once metabisulphite has taken their chlorine out and a test strip shows "
        "none. Never pour bleach into the unit, its feed or its flush water, to clean it or to "
        "disinfect it.",
    ),
    Caution(
        "over-flux",
        "Thin or warm water drives too much through a membrane",
        "In an estuary, a river or the Baltic the pressure of the open sea presses far too much "
        "water through the first membrane: it packs it with dirt, and for good. Start with the "
        "regulating valve fully open, close it slowly, and stop at the fresh water that the unit's "
        "papers state, however low the gauge then stands. Running in from salt water, open it "
        "before the water turns thin.",
    ),
    Caution(
        "reserve",
        "A watermaker is no store of water",
        "It may fail on any day. Keep drinking water for all aboard in cans or in a second tank, "
        "for as long as the passage may last, and never let the first tank run low on the promise "
        "of the machine.",
    ),
    Caution(
        "dirty-water",
        "Some water is not for a watermaker",
        "Don't run it in a harbour, near a sewer, in an oil film, a bloom of algae or a flooded "
        "river's water. Oil ruins a membrane. Fuel, germs and the poison of algae may come "
        "through, by a fault that no salinity meter shows. Water for babies and the sick needs "
        "more than this machine.",
    ),
    Caution(
        "chlorine",
        "Bleach with an acid gives off a gas that kills",
        "Never bring bleach together with an acid, vinegar, a descaler, ammonia, metabisulphite or "
        "another cleaner, not even in a rinsed bucket or pipe. Wear goggles and gloves, measure it "
        "in the open air, pour bleach into water and never water into bleach, and label what you "
        "measured it with: for nothing else. If it is in an eye: rinse for a quarter of an hour, "
        "and call for medical help.",
    ),
    Caution(
        "cleaner",
        "Membrane cleaners are acids and lyes",
        "They burn eyes and skin. Take only the one that the membranes' maker names, as strong and "
        "as warm as it says, with no chlorine in it or in its water. First the pump off and locked "
        "out, the regulating valve open and the gauge at zero; goggles and gloves on, hatches up; "
        "then mix, the cleaner into the water and never water into it. Never bring an acid and a "
        "lye together, nor either and bleach or preservative: rinse with fresh water in between. "
        "Before it runs: seacock shut, inlet, brine and product led to the bucket, the regulating "
        "valve open all the way; it stays open, and nothing goes into the tank. What drains goes "
        "where the place takes it, and the first half hour of water to waste. In an eye: rinse for "
        "a quarter of an hour, and call for medical help.",
    ),
    Caution(
        "dosed-tank",
        "From a dosed tank nothing may flush the membrane",
        "Chlorine ruins it, for good. Before you dose: the flush's switch off and tagged, then the "
        "valve of its flush water shut, or the three-way valve turned to the sea. They stay so "
        "until carbon that is not used up stands in the flush line, or the tank was emptied and "
        "filled with water without chlorine. The unit's fresh water runs into the tank from above, "
        "so that none can run back.",
    ),
    Caution(
        "local-water",
        "Rules for drinking water are local",
        "What is told here are guideline values of WHO and of the United States, for the taste and "
        "for most adults. Charter, crew or guests aboard, or a flag or port that has rules of its "
        "own: ask which apply, and have the water tested by a laboratory once a year.",
    ),
    Caution(
        "protector",
        "Never bypass a thermal protector",
        "It is the last thing between a hot winding and a fire. One that closes by itself starts "
        "the motor without warning: isolate the motor before you reach in, and find what made it "
        "trip before you let it run again.",
    ),
    Caution(
        "hearing",
        "Cover your ears when you work beside it",
        "With the locker open and your head in it the pump can be louder than 85 dB(A). Wear ear "
        "defenders for more than a few minutes, and stop it when you don't need it running. A new "
        "noise is a warning: look before you get used to it.",
    ),
    Caution(
        "lining",
        "Foam beside a hot motor can burn",
        "Line a locker only with marine foam or fibre that its maker sells as fire-retardant, its "
        "face sealed thinly against oil and damp, fixed so that it cannot fall on the motor, a "
        "hand's breadth or more from the motor and its air inlet, and over no vent. Bare "
        "upholstery foam burns fast and its smoke kills (ISO 9094 is the small craft's fire "
        "standard). A lining holds heat in too: work out the motor's temperature again with it.",
    ),
    Caution(
        "hot-motor",
        "A working motor burns skin",
        "Its frame may stand well above 60 °C. Keep hands, hoses, cables and sailcloth off it, and "
        "let it cool before you work on it.",
    ),
    Caution(
        "waste-oil",
        "Not a drop over the side",
        "Used oil, oily rags and cleaning baths go ashore, to where the harbour takes them. Oil on "
        "the water is an offence almost everywhere, MARPOL Annex I and local law.",
    ),
    Caution(
        "estimate",
        "An estimate, not a licence",
        "These numbers tell what to expect from the values you gave. The makers' instructions and "
        "the code that applies to your boat come first.",
    ),
)


# Shown with every answer.
CAUTIONS = rules("estimate")
