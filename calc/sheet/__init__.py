"""The boat sheet: what several calculators ask about the same boat, declared once.

A file a subject: groups of fields. A calculator is built of groups (`class Asks(sheet.Bank)`) or
takes one by name (`bank_capacity = boat.bank_capacity`), so that a value filled in on one page is
filled in on all. Values follow the chosen equipment record unless typed.
"""

from __future__ import annotations

from .bank import Bank, BankUse, Inverter, InverterLoad
from .bolted import Bolted
from .boost import AnyBoost, Boost, BoostPump
from .elements import Elements, Membranes, Water
from .engine import Alternator
from .feed_line import FeedLine
from .first_day import FirstDay
from .floor import Floor
from .flush import Flush, FlushFrom, UnitWater
from .generator import Charger, Fuel, Generator, GeneratorPeak, OtherLoad
from .habits import ChargingHours, House, Place, WaterHours
from .household import Household, Runs, Tank
from .locker import Locker
from .machine import Machine, Named, Product, Work
from .mains import Hertz, Mains, MotorCable, Rules
from .motor import Drive, MotorKind, StartedDrive, Starting, WindingRise
from .mounts import Mounts
from .openings import Air, Blower
from .parts import Parts
from .places import Afloat, Places
from .pressure_side import Guarded, Ratings
from .purse import Bought, Purse, Wages
from .readings import DayOne, Gauged, Read
from .readings_log import ReadingsLog
from .sea import TheSea, Voyage
from .size import Size
from .sun import Sun
from .tank_water import TankWater
from .tasks import Log, Tasks
from .under_pressure import UnderPressure
from .valves import Valves
from .wiring import BankSide, MotorSide, Wiring
from .year import Calendar, Keeping, LayUps

__all__ = [
    "Afloat",
    "Air",
    "Alternator",
    "AnyBoost",
    "Bank",
    "BankSide",
    "BankUse",
    "Blower",
    "BoatSheet",
    "Bolted",
    "Boost",
    "BoostPump",
    "Bought",
    "Calendar",
    "Charger",
    "ChargingHours",
    "DayOne",
    "Drive",
    "Elements",
    "FeedLine",
    "FirstDay",
    "Floor",
    "Flush",
    "FlushFrom",
    "Fuel",
    "Gauged",
    "Generator",
    "GeneratorPeak",
    "Guarded",
    "Hertz",
    "House",
    "Household",
    "Inverter",
    "InverterLoad",
    "Keeping",
    "LayUps",
    "Locker",
    "Log",
    "Machine",
    "Mains",
    "Membranes",
    "MotorCable",
    "MotorKind",
    "MotorSide",
    "Mounts",
    "Named",
    "OtherLoad",
    "Parts",
    "Place",
    "Places",
    "Product",
    "Purse",
    "Ratings",
    "Read",
    "ReadingsLog",
    "Rules",
    "Runs",
    "Size",
    "StartedDrive",
    "Starting",
    "Sun",
    "Tank",
    "TankWater",
    "Tasks",
    "TheSea",
    "UnderPressure",
    "UnitWater",
    "Valves",
    "Voyage",
    "Wages",
    "Water",
    "WaterHours",
    "WindingRise",
    "Wiring",
    "Work",
]


class BoatSheet(
    Named,
    Machine,
    Work,
    Product,
    Mains,
    MotorSide,
    MotorKind,
    Starting,
    WindingRise,
    Inverter,
    InverterLoad,
    Bank,
    BankUse,
    BankSide,
    Generator,
    GeneratorPeak,
    OtherLoad,
    Fuel,
    Charger,
    Alternator,
    Sun,
    House,
    Place,
    TheSea,
    Voyage,
    Elements,
    Boost,
    FeedLine,
    Ratings,
    Guarded,
    Valves,
    Flush,
    WaterHours,
    Runs,
    ChargingHours,
    Household,
    Tank,
    TankWater,
    Purse,
    Bought,
    Bolted,
    Air,
    Blower,
    Places,
    Afloat,
    Calendar,
    Keeping,
    Log,
    ReadingsLog,
    Parts,
    DayOne,
    FirstDay,
):
    """Everything calculators share, in the order of the sheet."""

    # in the order of the sheet, not with the tasks, whose lists ask for them too
    has_boost = AnyBoost.has_boost
    has_relief = Ratings.has_relief
    low_pressure_switch = Valves.low_pressure_switch
    has_carbon = Flush.has_carbon
    salinity_meter = Valves.salinity_meter
