"""What the parts of the wiring are called."""

from __future__ import annotations

from ..system.cables import Side
from ..system.wired import Wired

FUSES = {
    "class T": "class T",
    "gG": "gG cartridge",
    "strip": "strip fuse",
    "blade": "blade fuse",
    "terminal": "terminal fuse",
}
CABLES = {"dc": "battery cable", "ac": "cable to the motor"}
CABLES_HEAD = {"dc": "Battery cable", "ac": "Cable to the motor"}

_DEVICES = {
    "B": "two-pole type B breaker",
    "C": "two-pole type C breaker",
    "D": "two-pole type D breaker",
    "breaker": "breaker",
    "two-pole breaker": "two-pole breaker",
    "fuse": "fuse",
    "two fuses": "fuse in each live wire",
}
_DEVICES_HEAD = {
    "B": "Two-pole type B breaker",
    "C": "Two-pole type C breaker",
    "D": "Two-pole type D breaker",
    "breaker": "Breaker",
    "two-pole breaker": "Two-pole breaker",
    "fuse": "Fuse",
    "two fuses": "Fuse in each live wire",
}

DECIDED = {
    "ampacity": "what it may carry",
    "fuse": "what its fuse or breaker asks of it",
    "voltage drop": "the volts lost, running",
    "voltage drop at start": "the volts lost at the start",
    "smallest made": "the thinnest that is fitted for this",
    "fitted": "yours",
}


def breaks_by_fuse(wired: Wired) -> bool:
    """Whether fuses protect the motor's branch, and no breaker."""
    return wired.branch.device in ("dual-element fuse", "non-time-delay fuse")


def _key(wired: Wired) -> str:
    if wired.rules == "iso":
        return wired.branch.device
    if breaks_by_fuse(wired):
        return "two fuses" if wired.two_pole else "fuse"
    return "two-pole breaker" if wired.two_pole else "breaker"


def device(wired: Wired, side: Side) -> str:
    """What the fuse or breaker of a side is called."""
    return "fuse" if side.duty.key == "dc" else _DEVICES[_key(wired)]


def device_head(wired: Wired, side: Side) -> str:
    """The same at the head of a sentence."""
    return "Fuse" if side.duty.key == "dc" else _DEVICES_HEAD[_key(wired)]


def field(side: Side) -> str:
    """The field, and the figure, of a side's fuse or breaker: a fuse in the motor's branch is
    another than that at the bank."""
    return "fuse" if side.duty.key == "dc" else "breaker"
