"""The quantities that questions and working use: name, symbol, unit, what it is."""

from __future__ import annotations

from dataclasses import dataclass

from .frame import units


@dataclass(frozen=True, slots=True)
class Quantity:
    """A quantity as the guide names it.

    symbol: as formulas of the working write it, before a subscript ("eta", "dp"), "" if none does;
    unit: as the pages show it, "" for a plain number; asked: labels of inputs that ask for it.
    """

    group: str
    name: str
    symbol: str
    unit: str
    meaning: str
    asked: tuple[str, ...] = ()

    @property
    def kind(self) -> str:
        """What its unit measures, "" for a plain number."""
        return units.kind_of(self.unit) if self.unit else ""


def _group(name: str, *rows: tuple[str, ...]) -> tuple[Quantity, ...]:
    return tuple(
        Quantity(name, what, symbol, unit, meaning, tuple(asked))
        for what, symbol, unit, meaning, *asked in rows
    )


# A row a quantity, however long.
# ruff: noqa: E501
# fmt: off
ALL = (
    *_group("Water",
        ("Pressure", "dp", "bar", "How hard the pump must press the seawater so that fresh water passes the membrane.", "Working pressure", "Highest pressure"),
        ("Pressure of the air", "p", "hPa", "Pressure of the air where an engine breathes."),
        ("Feed flow", "Q", "L/min", "Seawater that the pump moves into the membrane.", "Feed flow of the pump", "Flow at rated speed"),
        ("Product flow", "Q", "L/h", "Fresh water that comes out of the membrane.", "Fresh water, at 25 °C and 35 g/kg"),
        ("Recovery", "", "%", "Product flow over feed flow. The rest leaves as brine."),
        ("Salinity", "", "g/kg", "Grams of salt in a kilogram of seawater.", "Sea's salt"),
        ("Energy of the water", "e", "Wh/L", "Energy used for each litre of fresh water."),
        ("Volume", "V", "L", "Water in a bucket, in the unit, or used for a flush.", "Water that the unit holds", "Fresh water for a flush"),
        ("Water made", "W", "L", "Fresh water made in a day."),
        ("Strength", "s", "%", "Mass of a powder over the mass of its water.", "Metabisulphite, of the mass of the water"),
    ),
    *_group("Electricity",
        ("Power", "P", "W", "Energy a second: what works, or becomes heat.", "Rated power", "Boost pump's power"),
        ("Losses", "L", "W", "Power that goes in and becomes heat."),
        ("Apparent power", "S", "VA", "Volts times amperes. A source must carry all of it, also the part that does no work.", "Inverter, continuous"),
        ("Reactive power", "R", "VA", "The part of the apparent power that does no work: it magnetises the motor."),
        ("Power factor", "pf", "", "Power over apparent power, from 0 to 1."),
        ("Power factor", "c", "%", "The same as a percentage, as at a motor's start.", "Power factor at rated load", "Power factor at the start"),
        ("Surge power", "", "VA", "What an inverter gives for the seconds of a motor's start.", "Inverter, surge"),
        ("Voltage", "V", "V", "Voltage of a supply or a motor.", "Rated voltage"),
        ("Voltage lost", "U", "V", "Voltage that a cable takes for itself."),
        ("Voltage dip", "d", "%", "How far a generator's voltage falls while a motor starts."),
        ("Open-circuit voltage", "E", "V", "Voltage of a battery from which no current is drawn."),
        ("Current", "I", "A", "What flows in a cable.", "Nameplate current", "Locked-rotor current"),
        ("Resistance", "R", "mΩ", "Voltage lost for each ampere.", "The bank's resistance", "Internal resistance"),
        ("Resistance of a cable", "R", "mΩ/m", "Resistance of one metre of a conductor."),
        ("Reactance", "X", "Ω", "What opposes alternating current besides resistance, by its magnetic field."),
        ("Reactance of a cable", "X", "mΩ/m", "Reactance of one metre of a conductor."),
        ("Reactance, of the rating", "x", "%", "Reactance of a generator over its rated voltage divided by its rated current.", "Transient reactance, of its rating"),
        ("Ratio of currents", "p", "×", "A breaker's current before it opens, over its rating."),
        ("Load of a breaker", "a", "×", "Current through a breaker over its rating."),
        ("Correction", "k", "", "What a table's current is multiplied by where it is hot or cables lie together."),
        ("Largest breaker", "k", "×", "How many times the motor's current its breaker may be rated at."),
        ("Temperature coefficient", "alpha", "%/K", "How much the resistance of copper rises for each kelvin."),
        ("Capacity", "C", "Ah", "Charge that a battery holds at its rated current.", "Bank's capacity", "Capacity at the 20 h rate"),
        ("Hours of the rating", "H", "h", "Time in which the rated current empties a battery."),
        ("Peukert's exponent", "k", "", "How much less a battery gives at a large current: 1 for a battery that loses nothing.", "Peukert's exponent"),
        ("Depth of discharge", "D", "%", "Share of the capacity that has been taken out.", "Deepest discharge you allow"),
        ("State of charge", "", "%", "Share of the capacity that is still there.", "Charged to, when you begin"),
        ("Energy of a day", "E", "kWh", "What the panels give in a day, or what the house takes."),
        ("Losses of an inverter", "a", "%", "Idle losses over its rating."),
        ("Losses of an inverter with the load", "b", "%", "Losses that grow with the load, over the load."),
        ("Losses of an inverter with the square of the load", "c", "%", "Losses that grow with the square of the load, over its rating at full load."),
        ("Fuel", "F", "L/h", "Fuel that an engine burns in an hour.", "Fuel at no load"),
        ("Fuel per energy", "b", "L/kWh", "Fuel that an engine burns for each kilowatt-hour more.", "Fuel per energy above that"),
        ("Exponent of an engine", "m", "", "How much thin air takes from an engine's power."),
        ("Exponent of an engine, for heat", "n", "", "How much warm air takes from an engine's power."),
    ),
    *_group("Motor and pump",
        ("Torque", "T", "N m", "How hard a shaft turns: force times lever."),
        ("Speed", "n", "rpm", "Turns of a shaft in a minute.", "Rated speed", "Motor's speed"),
        ("Slip", "", "%", "How much slower a motor turns than its magnetic field."),
        ("Efficiency", "eta", "%", "What comes out over what goes in.", "Efficiency at rated load", "Overall efficiency at working pressure"),
        ("Load", "x", "%", "A motor's torque over its rated torque."),
        ("Flux", "phi", "%", "Strength of a motor's magnetic field over its rated strength."),
        ("Frequency of the mains", "h", "%", "Frequency of the supply over the motor's own."),
        ("Share of the losses", "s", "%", "Share of a pump's losses that the seawater carries away, or that the air gets.", "Pump's losses that the seawater carries away"),
        ("Share of fixed losses", "k", "%", "Share of a motor's losses that does not change with its load."),
    ),
    *_group("Heat and air",
        ("Temperature", "T", "°C", "How warm something is.", "Air below deck", "Highest ambient"),
        ("Absolute temperature", "T", "K", "Temperature counted from absolute zero."),
        ("Thermal rise", "dT", "K", "How much warmer something is than what is around it.", "Winding's rise at rated load, by resistance"),
        ("U value", "U", "W/m2K", "Heat through one square metre of a wall, for each kelvin of difference."),
        ("Thermal resistance", "R", "", "What a layer of a wall holds back: m²K/W, added layer by layer."),
        ("Conductivity", "k", "W/mK", "How well a material leads heat."),
        ("Conductance", "G", "W/K", "Heat that passes for each kelvin of difference."),
        ("Flow of air", "V", "m3/h", "Air that passes an opening or a fan in an hour.", "Fan, flow in free air"),
        ("Free area", "A", "cm2", "The part of an opening that is open.", "Low opening, free area", "Opening, free area"),
        ("Discharge coefficient", "C", "", "Share of an opening that the air uses."),
        ("Height of the draught", "H", "mm", "From the middle of the low opening to that of the high one.", "Height between the two"),
        ("Density", "rho", "kg/m3", "Mass of one cubic metre."),
        ("Specific heat", "c", "", "Heat that warms one kilogram of air by one kelvin: J/(kg K)."),
        ("Gravity", "g", "", "Acceleration of what falls: 9.81 m/s²."),
        ("Thickness", "d", "mm", "Of a wall, or across a bolt.", "Panel's thickness"),
    ),
    *_group("Mounts and floors",
        ("Frequency", "f", "Hz", "How many times a second something shakes.", "Frequency"),
        ("Natural frequency", "f", "Hz", "Frequency at which something swings by itself when it is struck."),
        ("Transmissibility", "T", "%", "Share of a shaking force that passes through mounts."),
        ("Stiffness", "k", "N/mm", "Force that presses a mount together by one millimetre.", "Stiffness of one mount, pressed"),
        ("Number", "n", "", "How many there are: mounts, conductors side by side, flushes."),
        ("Number of fillings", "k", "", "How many buckets are filled, or how many parts are alike."),
        ("Stiffening", "c", "×", "How much stiffer rubber is when shaken than at rest.", "Stiffer when shaken, by"),
        ("Loss factor", "eta", "×", "Share of the energy that a material takes out of a swing."),
        ("Mass", "m", "kg", "What it weighs.", "Mass", "Mass of motor and pump"),
        ("Mass per area", "m", "kg/m2", "Mass of one square metre of a panel.", "Heavy layer added to front and lid"),
        ("Bending stiffness", "B", "N m", "How hard one metre's width of a panel is to bend."),
        ("Size of a panel", "a", "mm", "Its length between what holds it."),
        ("Size of a panel, across", "b", "mm", "Its width between what holds it."),
        ("Mobility", "Y", "mm/(s N)", "How fast something moves under a shaking force of one newton."),
        ("Velocity", "v", "mm/(s N)", "How fast the floor moves for each newton of the machine's force."),
        ("Mean square velocity", "v2", "", "Mean of the squared velocity of a floor: mm²/s²."),
        ("Gain", "G", "dB", "How much less the floor shakes, or how much a voice has to spare.", "The floor shall shake less by"),
        ("Young's modulus", "E", "MPa", "How stiff a material is, whatever its shape."),
        ("Diameter", "D", "mm", "Across a rubber mount.", "Bobbin's diameter"),
        ("Height", "h", "mm", "Of a rubber mount, or of hands above the feet.", "Height", "Hands above your feet"),
        ("Reach", "r", "mm", "From the ankles to the hands.", "Reach from ankles to hands"),
        ("Pitch", "p", "mm", "From one turn of a thread to the next."),
        ("Length", "l", "m", "Of a cable, one way.", "Cable to the motor, one way"),
        ("Force", "F", "N", "A push or a pull."),
        ("Buckling load", "P", "N", "Load under which a mount gives way sideways."),
        ("Shear rigidity", "S", "N", "Force for each radian by which a mount leans."),
        ("Strength of a metal", "R", "MPa", "Pull on each square millimetre at which it breaks."),
    ),
    *_group("Sound",
        ("Sound level", "L", "dB", "How strong a sound is, at a place (pressure) or of a source (power)."),
        ("Sound level, A-weighted", "L", "dB(A)", "The same as the ear hears it: high and low tones count less.", "Level"),
        ("Loudness limit", "", "dB(A)", "Sound level that sleep, talk or a film still bears."),
        ("Transmission loss", "TL", "dB", "How much weaker a sound is behind a wall."),
        ("Insertion loss", "", "dB", "How much quieter it is with an enclosure than without it."),
        ("Speech interference level", "PSIL", "dB", "Mean level of the tones in which speech is understood."),
        ("Absorption", "alpha", "%", "Share of a sound that a surface takes in."),
        ("Area", "S", "m2", "Of a wall or of all walls of a room."),
        ("Absorbing area", "A", "m2", "Area of an open window that would take in as much sound."),
        ("Transmitting area", "T", "cm2", "Area of a hole that would let as much sound out."),
        ("Distance", "r", "m", "From the unit to the ear.", "Talk across", "From the unit to your ear, seated"),
    ),
    *_group("Time and money",
        ("Time", "t", "h", "How long something lasts.", "Water-making a day"),
        ("Time counted for", "T", "h", "Running hours, or days of a rest, that a plan is made for."),
        ("Age", "a", "h", "Running hours of a part.", "Its age now"),
        ("Age at change", "A", "h", "Mean running hours of a part when it is changed."),
        ("Hours of a day", "h", "h", "Running hours on a usual day.", "Water-making a day, away"),
        ("Failure rate", "rate", "/1000 h", "Failures in a thousand running hours.", "Fails at random"),
        ("Failures expected", "m", "", "How many failures one would count on average."),
        ("Shape of a life", "beta", "", "1 for failures at random, more for a part that wears out.", "Wears out: Weibull shape"),
        ("Characteristic life", "eta", "h", "Running hours by which 63 % of such parts have failed.", "Wears out: characteristic life"),
        ("Chance to last", "R", "%", "Chance that a part lives to its change."),
        ("Chance", "P", "%", "How likely something is."),
        ("Cost", "C", "¤", "Cost of a year or of a change."),
        ("Cost of a task", "c", "¤", "Cost of a task in a year."),
        ("Cost of an hour", "c", "¤/h", "Cost of a part for each running hour."),
        ("Cost of a litre", "c", "¤/L", "Cost of a year over its fresh water."),
        ("Price", "p", "¤", "Price of the parts of a task.", "Price of the parts", "Price of one"),
        ("Wage", "w", "¤/h", "Price of an hour of work.", "An hour of your own time"),
    ),
)
# fmt: on
"""In the order of the page; several may share a symbol, never a symbol and a meaning."""
