"""Words for what the system tells by keys of a unit on its mounts: sources, notes, refusals."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from ..frame.inputs import Refusal
from ..frame.report import Line, line
from ..system.floor import Drum
from ..system.unfit import Unfit

SOURCES = {
    "direct": "shaft turning",
    "crank": "pump crank turning",
    "shaft": "motor shaft turning",
    "plungers": "plungers passing",
    "plungers2": "plungers, second harmonic",
    "hum": "motor's hum, twice the mains",
}

LOADS = {
    "direct": "unbalance G 6.3 or G 16",
    "crank": "unbalance G 6.3 or G 16",
    "shaft": "unbalance G 6.3",
    "plungers": "ripple of the pump's torque",
    "plungers2": "ripple of the pump's torque",
    "hum": "the whole torque pulses",
}
"""What the load of each source is taken to be."""

_DRUMS = {
    "panel": "panel, {along} × {across}",
    "bay": "bay between battens",
    "bearers": "bearers, {along}",
}


def drum_name(drum: Drum) -> Line:
    """A floor's note by its half waves."""
    return line(_DRUMS[drum.kind], along=drum.along, across=drum.across)


_UNFIT = {
    "tips": (
        "cg_along",
        "the centre of gravity lies outside the mounts: the unit tips over. Move the mounts "
        "apart or under the motor",
    ),
    "feet_along": ("span_along", "the mounts stand farther apart than their floor is long"),
    "feet_across": ("span_across", "the mounts stand farther apart than their floor is wide"),
    "panel_thick": (
        "floor_thickness",
        "the panel is thicker than it is wide; is a size in the wrong unit?",
    ),
    "skins_thick": (
        "skin_thickness",
        "the panel is thicker than it is wide; is a size in the wrong unit?",
    ),
    "battens_many": ("battens", "so many battens of this width do not fit side by side"),
    "battens_close": ("battens", "the battens stand closer together than the panel is thick"),
    "bearers_deep": ("bearer_depth", "the bearers are deeper than they are long"),
    "screws_in_metal": ("fix_by", "wood screws hold in wood only, and these bearers are metal"),
    "screws_without_wood": (
        "fix_by",
        "wood screws hold in wood only: bolt through, or bond a plywood doubler on first",
    ),
    "washer_small": ("washer", "the backing plate is no wider than the bolt's hole"),
}


def refusal(unfit: Unfit) -> Refusal:
    """What cannot be together as a refusal of the field to mend."""
    return Refusal(*_UNFIT[unfit.why])


@contextmanager
def worded() -> Iterator[None]:
    """Within it, what cannot be together is refused by the field to mend."""
    try:
        yield
    except Unfit as unfit:
        raise refusal(unfit) from None
