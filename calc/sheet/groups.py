"""Headings of the boat sheet, and a basis that many defaults share."""

UNIT, AC, BANK, GENERATOR = "The watermaker", "Mains on board", "Inverter and bank", "Generator"
PLACE, HABIT, ENGINE, SUN = "The place", "Habits", "Engine alternator", "Sun"
START, STATE, HOUSE = "How the motor starts", "The bank's state and limits", "House loads"
SIZE, MOUNTS, FLOOR, LOCKER = "Size and speed", "Its mounts", "What it stands on", "The locker"
SEA, WATERS_WAY = "The sea", "The water's way"
UPKEEP, TASKS = "Its year and its log", "The tasks of upkeep"
PRACTICE = "common practice, no source"
