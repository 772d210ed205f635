"""Can we talk, watch a film or sleep beside it while it makes water?"""

from __future__ import annotations

from collections.abc import Callable

from ...frame.cautions import rules
from ...frame.guide import Told, decides
from ...frame.report import Report
from ...sheet.standing import worded
from ...system import sound
from . import judge, pictures, remedies, tell, working
from .asks import Asks
from .measures import Aboard, housing

__all__ = ["CAUTIONS", "DECIDES", "TITLE", "Asks", "aboard", "answer"]

TITLE = "Quiet running"

WANTED = ("talk", "film", "seat", "berth")
PICTURE = "cabin"
DECIDES = decides(
    "unit",
    "stands",
    "known",
    "level",
    "wall",
    "lining",
    "seat",
    "mount_by",
    "mount_stiffness",
    "mount_deflection",
    "floor_material",
    "floor_thickness",
    "skin_thickness",
    "core_thickness",
    "floor_length",
    "floor_width",
    "locker_length",
    "locker_width",
    "locker_height",
)

CAUTIONS = rules("mains", "hearing", "lining", "hot-motor")


def answer(q: Asks, show: Report) -> Callable[[], Told]:
    q.check_locker(q.body())
    with worded():
        at = aboard(q)
    found, wish = sound.sounds(at.path), q.wish()
    held = sound.judged(found, wish)
    judge.figures(q, found, held, show)

    def rest_of_it() -> Told:
        tell.headline(found, wish, held, show)
        done = remedies.tried(at, found, wish)
        remedies.told(at, found, wish, done, show)
        pictures.section(q, found, wish, show)

        def folded() -> None:
            tell.measures(done, wish, show)
            tell.octaves(found, show)
            tell.criteria(held, show)
            tell.sources(at.footing.unit, show)
            pictures.chart(found, wish, show)
            working.steps(q, found, wish, show)
            tell.remarks(q, found, wish, show)

        return folded

    return rest_of_it


def aboard(q: Asks) -> Aboard:
    """The unit and the way of its sound; with it the locker that could be built round it, of the
    sizes in the form, where it goes in."""
    footing, inside = q.footing(), q.inside()
    house = None if inside.too_small_for(q.body()) else housing(inside)
    return Aboard(q.path(sound.borne(footing)), footing, house)
