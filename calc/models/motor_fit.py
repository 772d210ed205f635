"""Whether the motor can run so at all: the judgement of the page Power, told on other pages too."""

from __future__ import annotations

from dataclasses import dataclass

from ..frame.inputs import Values
from ..frame.report import FAILS, Figure, Line, Report, say
from .water import Water, tell_water

_NO_BOOST = {"boost_power": 0.0, "boost_supply": "dc"}
_NO_HABITS = {"run_hours": 3600.0}
_DIRECT = {
    "start": "direct",
    "start_factor": 1.0,
    "start_time": 1.0,
    "start_power_factor": 0.6,
    "locked_rotor_current": None,
    "code_letter": "",
    "start_loaded": False,
    "soft_allowed": False,
}


@dataclass(frozen=True)
class MotorFit:
    """The motor under its pump on the mains on board: what fails, and what nobody can tell.

    `water` is None where the motor may stall. `remedies` are what page Power knows against it.
    """

    water: Water | None
    failing: tuple[Figure, ...]
    unknowns: tuple[Line, ...]
    failures: tuple[Line, ...]
    remedies: tuple[Line, ...]

    @property
    def sound(self) -> bool:
        """Whether nothing stands against the motor running so."""
        return not (self.failing or self.unknowns or self.failures)

    @property
    def reckonable(self) -> bool:
        """Whether anybody can tell what the motor draws and loses."""
        return self.water is not None and not self.water.overfluxed

    def tell(self, show: Report, lost: str) -> None:
        """Adds to an answer what stands against the motor; `lost` is what then can't be told."""
        if self.sound:
            return
        show.figures += self.failing
        show.unknowns += self.unknowns
        show.failures += self.failures
        show.remedies += self.remedies
        if not self.reckonable:
            if self.water is not None:
                show.unknown("nobody can tell what the motor draws with its iron full")
            show.headline(
                "Nobody can tell what the motor draws like this, nor "
                + lost
                + ". Settle that first, on the page Power."
            )
        else:
            show.headlines.append(
                Line(
                    "Pump and motor are not right for this: "
                    + self._why().template
                    + ". Settle that "
                    "first, on the page Power; what follows holds only if it ran so.",
                    self._why().amounts,
                )
            )

    def _why(self) -> Line:
        """What fails, by name: each stands among the figures. Else what is not known."""
        if not self.failing:
            return (*self.failures, *self.unknowns)[0]
        return Line("; ".join(say(f.label)[0].lower() + say(f.label)[1:] for f in self.failing))


def motor_fit(q: Values) -> MotorFit:
    """The motor as the page Power judges it, from a form that may ask less than that page does.

    What the form does not ask is the unit's own; a motor whose start it does not ask is switched
    on straight. Source: `water.tell_water`.
    """
    unit = q.unit
    own = {
        "flow": unit.pump.flow,
        "pressure": unit.pressure,
        "product_flow": unit.product_flow,
        "motor_kind": unit.motor.winding,
        "start_torque": unit.motor.start_torque,
    }
    trial = Report("", "", brief=True)
    water = tell_water(Values({**own, **_NO_BOOST, **_NO_HABITS, **_DIRECT, **vars(q)}), trial)
    failing = tuple(figure for figure in trial.figures if figure.state == FAILS)
    return MotorFit(
        water, failing, tuple(trial.unknowns), tuple(trial.failures), tuple(trial.remedies)
    )
