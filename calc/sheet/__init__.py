"""The boat sheet: what several calculators ask about the same boat, declared once.

A file a subject: groups of fields. A calculator is built of groups (`class Asks(sheet.Bank)`) or
takes one by name (`bank_capacity = boat.bank_capacity`), so that a value filled in on one page is
filled in on all. Values follow the chosen equipment record unless typed.
"""

from __future__ import annotations

from .bank import Bank, Inverter, InverterLoad
from .engine import Alternator
from .floor import Floor
from .generator import Charger, Fuel, Generator, OtherLoad
from .habits import ChargingHours, House, Place, WaterHours
from .locker import Locker
from .machine import Machine, Named, Product, Work
from .mains import Mains, MotorCable, Rules
from .motor import Boost, Starting
from .mounts import Mounts
from .size import Size
from .sun import Sun
from .upkeep import Calendar, Keeping, Log, Tasks


class BoatSheet(
    Named,
    Machine,
    Work,
    Product,
    Mains,
    Rules,
    MotorCable,
    Boost,
    Starting,
    Inverter,
    InverterLoad,
    Bank,
    Generator,
    OtherLoad,
    Fuel,
    Charger,
    Alternator,
    Sun,
    House,
    Place,
    WaterHours,
    ChargingHours,
    Size,
    Mounts,
    Floor,
    Locker,
    Calendar,
    Keeping,
    Log,
    Tasks,
):
    """Everything calculators share, in the order of the sheet."""
