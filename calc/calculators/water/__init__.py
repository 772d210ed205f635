"""What will it make in this sea, how salty, and which pressure do I set?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Rule, rules
from ...frame.guide import Decides, Told, decides
from ...frame.inputs import is_set
from ...frame.report import Report
from ...system import motor
from .. import _motor
from . import judge, pictures, seas, tell, working
from .asks import Asks
from .judge import OVER

__all__ = ["CAUTIONS", "DECIDES", "PICTURE", "TITLE", "WANTED", "Asks", "answer"]

TITLE = "Water from this sea"
WANTED = ("product", "salt", "set", "osmotic")
PICTURE = "pressures"

MEASURED = is_set("has_measured")
DECIDES = decides(
    "unit",
    ("sea_temperature", "waters"),
    ("sea_salinity", "waters", "sea_conductivity"),
    Decides(("conductivity_at",), is_set("has_conductivity")),
    Decides(("measured_flow",), MEASURED),
    Decides(("measured_temperature",), MEASURED),
    Decides(("measured_salinity",), MEASURED),
)

CAUTIONS = rules(
    "pressure", "product-line", "dirty-water", "reserve", Rule("over-flux", lambda q: OVER in q)
)


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    machine = q.machine()
    water = motor.water(machine)
    making = q.making
    _motor.tell_elsewhere(
        show,
        _motor.judge(machine, water),
        water,
        "Nobody can tell what the motor draws, nor whether it turns the pump at its speed; what "
        "follows holds only if it does.",
    )
    judge.figures(q, making, show)
    judge.remedies(making, show)

    def rest_of_it() -> Told:
        tell.headline(making, show)
        if not making.dry:
            tell.energy(machine, water, making, show)
            tell.age(making, show)
        pictures.charts(making, show)

        def folded() -> None:
            seas.table(q, making, show)
            working.steps(q, machine, water, making, show)
            tell.notes(q, making, show)

        return folded

    return rest_of_it
