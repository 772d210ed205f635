"""What does a litre of our own cost against bought water?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_one_of
from ...frame.quantities import Quantity
from ...frame.report import Report
from ...sheet.purse import BOTTLES, CANS, QUAY
from ...system import motor
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "What a litre costs"
WANTED = ("litre", "bought", "saving", "from", "pays")
PICTURE = "tornado"
BY_QUAY, BY_CANS = is_one_of("bought_by", QUAY), is_one_of("bought_by", CANS)
DECIDES = decides(
    "unit",
    "outlay",
    "crew",
    ("days_aboard", "lay_ups"),
    Decides(("quay_price",), BY_QUAY),
    Decides(("quay_fill",), BY_QUAY),
    Decides(("quay_fuel",), BY_QUAY),
    Decides(("quay_fee",), BY_QUAY),
    Decides(("can_price",), BY_CANS),
    Decides(("can_fill",), BY_CANS),
    Decides(("can_fuel",), BY_CANS),
    Decides(("bottle_price",), is_one_of("bought_by", BOTTLES)),
)

_MONEY = "Time and money"
QUANTITIES = (
    Quantity(_MONEY, "Price and resale", "P", "¤", "What a unit costs, or what it sells for."),
    Quantity(_MONEY, "Years of use", "N", "years", "How long a unit is used."),
    Quantity(_MONEY, "Interest", "i", "%", "What money brings in a year, over inflation."),
    Quantity(_MONEY, "A year", "y", "days", "365.25 days, where years are counted."),
    Quantity(_MONEY, "Gain", "G", "¤", "What a year saves, or all the years."),
    Quantity(_MONEY, "Worth of the years", "a", "", "One a year over the years, as a sum today."),
    Quantity(_MONEY, "Trip for water", "K", "¤", "What fetching water costs each time."),
    Quantity(_MONEY, "Price of energy", "k", "¤/kWh", "What a kilowatt-hour costs aboard."),
    Quantity(_MONEY, "Price of a liquid", "p", "¤/L", "Of fuel or water.", ("Price of fuel",)),
)

CAUTIONS = rules("reserve")


def answer(q: Asks, show: Report) -> Callable[[], Told] | None:
    """A year's money, judged, then told."""
    if q.making.dry:
        judge.dry(q, show)
        return None
    water = motor.water(q.machine())
    if water is None or water.overfluxed:
        judge.motor_unknown(show)
        return None
    purse = q.purse(water)
    judge.judge(purse, show)

    def told() -> Told:
        remedies.remedies(purse, show)
        tell.headline(purse, show)
        show.drawing(picture.tornado(purse))

        def folded() -> None:
            tell.tables(q, purse, show)
            working.steps(q, water, purse, show)
            tell.notes(q, purse, show)

        return folded

    return told
