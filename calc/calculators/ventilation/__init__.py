"""Will the unit keep cool in this locker, for how long, and what fan or vents would do it?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import Facts, Rule, rules
from ...frame.guide import Told, decides
from ...frame.report import FITS, Report
from ...system import motor
from ...system.heated import heated
from .. import _motor
from . import drawings, tell, working
from .asks import Asks
from .judge import judge
from .remedies import remedies

__all__ = ["CAUTIONS", "DECIDES", "TITLE", "Asks", "answer"]

TITLE = "Keeping it cool"


def _engine_air(q: Facts) -> bool:
    return q["stands"] == "locker" and "engine" in (q["air_way"], q["supply_from"])


def _lined(q: Facts) -> bool:
    lined = q["stands"] == "locker" and any(face.lining > 0 for face in q["faces"])
    return tell.LINING_ADVISED in q or lined


WANTED = ("air", "winding", "flow")
PICTURE = "path"
DECIDES = decides(
    "unit",
    "stands",
    ("ambient_temperature", "climate"),
    "air_way",
    "low_area",
    "high_area",
    "single_area",
    "fan_flow",
    "locker_length",
    "locker_width",
    "locker_height",
    "locker_volume",
    "engine_length",
    "engine_width",
    "engine_height",
)

CAUTIONS = rules(
    "mains",
    Rule("engine-air", _engine_air),
    Rule("carbon-monoxide", _engine_air),
    "vapour",
    "protector",
    Rule("lining", _lined),
    Rule("hot-motor", lambda q: tell.HOT_FRAME in q),
)


def answer(q: Asks, show: Report) -> Callable[[], Told] | None:
    """The unit in its place: judged, then told."""
    machine = q.machine()
    water = motor.water(machine)
    judged = _motor.judge(machine, water)
    _motor.tell_elsewhere(
        show,
        judged,
        water,
        "Nobody can tell what the motor draws like this, nor how hot it gets. Settle that first, "
        "on the page Power.",
    )
    if water is None or water.overfluxed:
        return None
    if not q.engine_space_known:
        tell.ask_for_the_engine_space(show)
        return None
    load = water.load
    case = heated(q.place(q.body()), q.heat(load), q.bears(), q.duty())
    judge(case, show)

    def told() -> Told:
        tell.headline(case, show)
        sound = _motor.sound(judged)  # nothing is promised of a motor that can't run so
        fits = show.verdict == FITS
        if sound and not fits:
            remedies(q, case, show)
        tell.charts(case, show)
        if case.place.way != "open":
            show.drawing(drawings.drawing(q.body(), case))
        tell.notes(q, load, case, show)

        def folded() -> None:
            if sound and fits:
                remedies(q, case, show)
            if case.place.way != "open":
                tell.heat_table(case, show)
            working.steps(q, load, case, show)

        return folded

    return told
