"""Choices that both equipment records and the boat sheet offer."""

CHEMISTRIES = {
    "flooded": "lead-acid, flooded",
    "agm": "lead-acid, AGM",
    "gel": "lead-acid, gel",
    "lifepo4": "lithium (LiFePO4)",
}
INSULATION_CLASSES = {"A": "class A", "B": "class B", "F": "class F", "H": "class H"}
GENERATORS = {
    "alternator": "windings alone (most built-in sets)",
    "inverter": "an inverter inside (most small portables)",
}
# Sizes of mains cable that a motor is wired with; left to be chosen, the page Wiring chooses it.
PROPOSE = "propose"
MAINS_CABLES = {PROPOSE: "choose it for me"} | {
    name: name
    for name in (
        *(
            f"AWG {g}"
            for g in ("14", "12", "10", "8", "6", "4", "3", "2", "1", "1/0", "2/0", "3/0", "4/0")
        ),
        *(
            f"{area} mm²"
            for area in (
                "1.5",
                "2.5",
                "4",
                "6",
                "10",
                "16",
                "25",
                "35",
                "50",
                "70",
                "95",
                "120",
                "150",
            )
        ),
    )
}
FUELS = {"diesel": "diesel", "petrol": "petrol (gasoline)"}
STARTS = {"direct": "straight on the line", "soft": "through a soft starter"}
MOTOR_KINDS = {
    "start_run": "two capacitors: one to start, one to run",
    "capacitor_start": "a capacitor to start only",
    "permanent": "one capacitor that stays in (permanent)",
    "split": "split phase, no capacitor",
    "unknown": "not known",
}
WIRING_RULES = {
    "us": "US practice (33 CFR 183, NEC 430, ABYC)",
    "iso": "ISO practice (ISO 13297, formerly 10133)",
}
FEEDS = {"dc": "the house bank", "ac": "the same mains as the pump"}

MOUNT_KINDS = {
    "rubber": "rubber bobbins, by size and hardness",
    "stiffness": "mounts, by the maker's stiffness",
    "deflection": "mounts, by how far the weight sinks them",
    "pad": "flat rubber pads under the feet",
    "hard": "none: bolted down hard",
}
RUBBERS = {
    "neoprene": "neoprene (chloroprene)",
    "natural": "natural rubber",
    "nitrile": "nitrile",
    "epdm": "EPDM",
}
STANDS = {"locker": "in a locker, or boxed in", "open": "open in the cabin"}
SOLID_FLOORS = {
    "plywood": "plywood",
    "grp_csm": "solid fibreglass, chopped strand",
    "grp_woven": "solid fibreglass, woven roving",
    "steel": "steel",
    "aluminium": "aluminium",
    "softwood": "softwood plank",
    "hardwood": "hardwood plank",
}
CORED_FLOORS = {
    "cored_pvc80": "fibreglass on PVC foam, 80 kg/m³",
    "cored_balsa": "fibreglass on end-grain balsa",
    "cored_none": "fibreglass on a core nobody knows",
}
BEARERS = {key: SOLID_FLOORS[key] for key in ("hardwood", "softwood", "steel", "aluminium")}
FLOOR_EDGES = {
    "supported": "all four edges rest on something",
    "clamped": "all four edges bonded in",
    "two": "two opposite edges rest, two are free",
    "shelf": "a shelf: one long edge bonded in",
}
OUTLETS = {
    "open": "into the open, in sight, away from people",
    "overboard": "overboard, by a line that nothing can shut",
    "brine": "into the brine's line overboard",
    "inlet": "back to the pump's inlet",
    "unknown": "I don't know where",
}

ATTITUDES = {"platform": "a platform", "bulkhead": "a bulkhead"}
SHAFT = {"fore": "fore and aft", "athwart": "athwartships"}
"""How the shaft may lie."""
AIR_WAYS = {
    "sealed": "none to speak of",
    "one": "one opening",
    "two": "a low and a high opening",
    "fan": "a fan, and openings",
    "engine": "in the engine space, engine running",
}
AIR_FROM = {
    "cabin": "beside the locker",
    "engine": "the engine space",
    "outside": "outside, by a duct",
}
BEHIND = {
    "cabin": "cabin or locker",
    "engine": "engine space",
    "bilge": "bilge, as warm as the sea",
    "sea": "hull and sea",
    "shade": "open air, shaded",
    "sun": "open air, in the sun",
}
WALLS = {
    "ply9": "plywood, 9 mm",
    "ply12": "plywood, 12 mm",
    "ply18": "plywood, 18 mm",
    "grp4": "fibreglass, 4 mm",
    "grp6": "fibreglass, 6 mm",
    "steel3": "steel, 3 mm",
    "alu4": "aluminium, 4 mm",
}
SLEEPS = {
    "same": "in the same cabin",
    "shut": "in the next cabin, door shut",
    "open": "in the next cabin, door open",
}
