"""Headings of the boat sheet and why it asks under each, and a basis that many defaults share."""

UNIT, AC, BANK, GENERATOR = "The watermaker", "Mains on board", "Inverter and bank", "Generator"
PLACE, HABIT, ENGINE, SUN = "The place", "Habits", "Engine alternator", "Sun"
START, STATE, HOUSE = "How the motor starts", "The bank's state and limits", "House loads"
SIZE, MOUNTS, FLOOR, LOCKER = "Size and speed", "Its mounts", "What it stands on", "The locker"
SEA, WATERS_WAY = "The sea", "The water's way"
PRESSURE_SIDE, VOYAGE = "Under pressure", "Other seas"
FILTERS, BOOST, MOVES = "Strainer and filters", "Boost pump", "Where it stands, and how she moves"
UPKEEP, LOG, TASKS = "Its year", "Its log", "The tasks of upkeep"
READINGS = "What its gauges read"
PARTS = "The parts"
DC, BRANCH = "Battery cable and fuse", "Motor branch"
ALLOWED = "What may be lost on the way"
SITS, FIXING, REACH, LIFT = "How it sits", "Fixing", "Room and access", "Lifting"
AIRED, FAN = "Its air", "The fan"
PLACES, AFLOAT = "The places", "How she floats"
LIMITS, FIRST_DAY = "The motor's limits", "Looked at on day one"
BOAT = "The boat"
VALVES = "Switches and valves"
FLUSH = "The flush"
HOUSEHOLD = "Household and tank"
TANK_WATER = "Water in the tank"
DAY_ONE, READ = "Read on day one", "Read now"
MONEY, BOUGHT = "What it costs", "Water bought instead"
PRACTICE = "common practice, no source"

WHY = {
    BOAT: "Files and cards bear her name.",
    UNIT: "What it draws, gives and weighs follows from it; your own figures go first.",
    AC: "The motor runs on nothing else, and the rules decide cable, fuse and breaker.",
    START: "The start decides how large inverter, generator, fuse and breaker must be.",
    BANK: "How long it runs on a charge, and what the cables carry.",
    STATE: "An old, cold or half-charged bank gives less than is printed on it.",
    GENERATOR: "Whether it starts the motor, what it puts back, and the fuel for that.",
    ENGINE: "What an hour of the engine puts back.",
    SUN: "What the panels put back on a day of that season.",
    HOUSE: "The house takes its share of the bank first.",
    PLACE: "Heat and height take power off motors, inverters and generators.",
    SEA: "Warmth and salt decide how much fresh water there is at which pressure.",
    WATERS_WAY: "What the membranes give, and how much the pump's feed loses on its way.",
    VOYAGE: "What to set, and what it makes, where you are going.",
    PRESSURE_SIDE: "The weakest part bounds what you may set; a relief valve opens below it.",
    VALVES: "In what order to open, switch on, switch off and shut follows from these.",
    FLUSH: "What keeps the membrane between runs, and what of your water goes into it.",
    FILTERS: "What they take off the feed, clean and due for change.",
    BOOST: "Whether it pushes enough water through the filters, and what it draws and warms.",
    MOVES: "How high the water is lifted, heeled and pitching too.",
    HABIT: "A day's water and a day's energy come from these hours.",
    MONEY: "What a litre of your own costs follows from these.",
    BOUGHT: "What a litre of your own is held against.",
    HOUSEHOLD: "How much water you need, and how long the tank lasts without the machine.",
    TANK_WATER: "Whether it is good to drink, and what the tank needs.",
    SIZE: "Whether it fits, what you lift, and how fast it shakes.",
    MOUNTS: "How much of its shaking gets through, and whether they bear it.",
    FLOOR: "Whether the floor holds it, and whether it hums along.",
    LOCKER: "Whether it fits, and gets enough air.",
    DC: "A cable too thin gets hot; a fuse too large lets it burn.",
    BRANCH: "The breaker must carry the start, and guard cable and motor.",
    ALLOWED: "Volts that are lost on the way are missing at the start.",
    SITS: "Oil and vent want it level, and the feet want to know which way it lies.",
    FIXING: "It must stay where it is in a knockdown.",
    REACH: "What can't be reached isn't serviced.",
    LIFT: "Whether those who carry it in may.",
    LIMITS: "How hot it may get, and so how long it may run.",
    FIRST_DAY: "What no gauge shows, as it was while all was well.",
    AIRED: "Without fresh air the motor stops in the heat.",
    FAN: "Where openings alone don't do, it moves the air.",
    PLACES: "Each is judged by every page, and set beside the others.",
    AFLOAT: "A weight off her middle heels and trims her by so much.",
    UPKEEP: "The days of oil, filters and lay-up follow from her seasons.",
    LOG: "A line for each run and each job. Without it nobody knows what is overdue.",
    READINGS: "Whether the membranes tire, and when to clean them, is read from these lines.",
    PARTS: "Which spares to carry, and what their failures cost, follow from these.",
    DAY_ONE: "The same gauges then and now: what they always show wrong drops out.",
    TASKS: "Intervals and prices of your maker go before ours.",
}
"""Why the sheet asks for what stands under a heading, in a line."""
