"""Is the water good to drink, and what does the tank need?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_one_of, is_set
from ...frame.quantities import Quantity
from ...frame.report import Report
from ...system.tank_water import CONDUCTIVITY, FACTORS
from . import judge, picture, remedies, tell, working
from .asks import Asks

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "QUANTITIES", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Good water"
WANTED = ("salt", "bleach", "wait", "waste", "calcite")
PICTURE = "taste"
DOSED = is_set("tank_dosed")
DECIDES = decides(
    "unit",
    ("sea_temperature", "waters"),
    ("sea_salinity", "waters", "sea_conductivity"),
    Decides(("conductivity_at",), is_set("has_conductivity")),
    Decides(("product_conductivity",), is_one_of("product_meter", CONDUCTIVITY)),
    Decides(("product_ppm",), is_one_of("product_meter", *FACTORS)),
    "tank_volume",
    Decides(("bleach_strength",), DOSED),
    Decides(("bleach_age",), DOSED),
    Decides(("chlorine_left",), DOSED),
    Decides(("tank_temperature",), DOSED),
    Decides(("flush_from",), DOSED),
    Decides(("has_carbon", "carbon", "carbon_volume"), DOSED),
)

QUANTITIES = (
    Quantity("Water", "What a meter measures", "kappa", "µS/cm", "Conductivity of a fresh water."),
    Quantity("Water", "Factor of a meter", "f", "", "What a meter takes for ppm, for each µS/cm."),
    Quantity(
        "Water", "Equivalent conductivity", "Lambda", "", "Of a mole of table salt: S·m²/mol."
    ),
    Quantity(
        "Water", "Passage", "p", "%", "Share of the sea's boron that a membrane lets through."
    ),
    Quantity("Water", "Hardness", "h", "mg/L", "Calcium and magnesium, counted as calcite."),
    Quantity(
        "Water",
        "Chlorine of a dose or of bleach",
        "c",
        "mg/L",
        "Free chlorine in a litre of water, available chlorine in a litre of bleach.",
        ("Free chlorine to dose",),
    ),
    Quantity("Water", "Chlorine times time", "CT", "mg min/L", "What it takes to kill germs."),
)

CAUTIONS = rules(
    "product-line",
    "dirty-water",
    "local-water",
    Rule("chlorine", lambda q: bool(q["tank_dosed"])),
    Rule("dosed-tank", lambda q: bool(q["tank_dosed"])),
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    """The water judged by its meter, and the tank's needs, then told."""
    water = q.water()
    judge.judge(water, show)

    def told() -> Told:
        remedies.remedies(water, show)
        tell.headline(water, show)
        show.drawing(picture.drawing(water))

        def folded() -> None:
            tell.tables(water, show)
            working.steps(water, show)
            tell.notes(water, show)

        return folded

    return told
