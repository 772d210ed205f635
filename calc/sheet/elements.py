"""The membranes: their age, what was measured of them, and what passes them."""

from __future__ import annotations

from functools import cached_property

from ..equipment import kinds
from ..frame import units
from ..frame.inputs import Inputs, Refusal, aboard, ask, is_set
from ..system import membranes as system
from ..system.sea import Sea
from ..system.unfit import Unfit
from ..system.watermaking import Making, feed_on
from .groups import PRACTICE, WATERS_WAY
from .machine import Machine, Product, Work
from .mains import Hertz
from .pressure_side import Ratings
from .sea import TheSea

YEAR = units.parse("1 years", "years")  # s
_MEASURED = is_set("has_measured")
_AT = "{product} is more than any membrane lets through at {pressure}, out of a feed of {feed}"


def stated(record: kinds.Membranes) -> system.Elements:
    """What a record says of its elements."""
    return system.Elements(
        record.count,
        record.area,
        record.rejection,
        record.test_pressure,
        record.test_recovery,
        record.test_product,
        record.drop,
        record.highest_feed,
        record.highest_pressure,
        record.highest_flux,
        record.hottest,
        record.least_brine,
    )


class Elements(Inputs, part=True):
    """Their age, and what was measured of them."""

    element_age = ask(
        "Age of the membranes",
        "0 years",
        group=WATERS_WAY,
        at_least="0 years",
        at_most="15 years",
        basis=PRACTICE,
        help="Counted in years of use: each takes 7 % of the water. Left out where you measured.",
    )
    back_pressure = ask(
        "Back pressure of the product line",
        "0 bar",
        group=WATERS_WAY,
        at_least="0 bar",
        at_most="3 bar",
        basis=PRACTICE,
        help="A tank one metre higher makes 0.1 bar.",
    )
    has_measured = aboard(
        "You measured its fresh water",
        "no",
        "measured_flow",
        group=WATERS_WAY,
        help="With a bucket and a watch. It goes before what its papers state.",
    )
    measured_flow = ask(
        "Fresh water, measured",
        "45 L/h",
        group=WATERS_WAY,
        above="0 L/h",
        at_most="1000 L/h",
        when=_MEASURED,
    )
    measured_pressure = ask(
        "Measured at a pressure of",
        "55 bar",
        from_record="unit.pressure",
        group=WATERS_WAY,
        above="0 bar",
        at_most="80 bar",
        when=_MEASURED,
    )
    measured_temperature = ask(
        "Measured in a sea of",
        "25 °C",
        group=WATERS_WAY,
        at_least="-2 °C",
        at_most="36 °C",
        when=_MEASURED,
    )
    measured_salinity = ask(
        "Salt of that sea",
        "35 g/kg",
        group=WATERS_WAY,
        at_least="0 g/kg",
        at_most="50 g/kg",
        when=_MEASURED,
    )


class Membranes(Machine, Product, Elements, part=True):
    """The membranes as they are, with the unit's papers."""

    def rated(self) -> system.Rated:
        """What the unit's papers state, at its own pressure and feed."""
        unit = self.unit
        return system.Rated(
            self.product_flow, unit.pressure, unit.pump.flow, stated(unit.membranes)
        )

    def train_by_papers(self) -> system.Train:
        """The train that gives what its papers state. Refuses papers that no membrane keeps."""
        rated = self.rated()
        try:
            return system.train(rated)
        except Unfit as unfit:
            if unfit.why == "test":
                raise Refusal(
                    "unit",
                    "the membranes of this record are tested at a pressure that gives no fresh "
                    "water",
                ) from None
            raise Refusal(
                "product_flow",
                _AT,
                product=units.text(rated.product, "L/h"),
                pressure=units.text(rated.pressure, "bar"),
                feed=units.text(rated.feed, "L/h"),
            ) from None

    def train(self, feed: float) -> system.Train:
        """The train as it is: as it was measured out of a feed [m3/s], else by its papers and its
        age."""
        made = self.train_by_papers()
        if not self.has_measured:
            return system.aged(made, self.element_age / YEAR)
        sea = Sea(self.measured_temperature, self.measured_salinity)
        try:
            return system.measured(made, sea, feed, self.measured_pressure, self.measured_flow)
        except Unfit:
            raise Refusal(
                "measured_flow",
                _AT,
                product=units.text(self.measured_flow, "L/h"),
                pressure=units.text(self.measured_pressure, "bar"),
                feed=units.text(feed, "L/h"),
            ) from None


class Litres(TheSea, Membranes, Work, Hertz, part=True):
    """The membranes at work in the sea about the boat, whatever else stands under the pressure."""

    @property
    def moves(self) -> float:
        """What the pump moves on these mains [m3/s]."""
        return feed_on(self.flow, self.unit.motor.frequency, self.ac_frequency)

    @cached_property
    def making(self) -> Making:
        """What they make, fed by the pump on these mains."""
        bears, relief = self._bound()
        return Making(
            self.train(self.moves),
            self.product_flow,
            self.unit.pressure,
            self.sea(),
            self.moves,
            self.pressure,
            self.back_pressure,
            bears,
            relief,
        )

    def _bound(self) -> tuple[float, float | None]:
        """What the weakest part bears, and where the relief valve opens [Pa], if that is known."""
        return min(self.unit.pump.highest_pressure, self.unit.membranes.highest_pressure), None

    def making_some(self) -> Making:
        """The same. Refuses a pressure that brings hardly any water out of this sea."""
        making = self.making
        if making.dry:
            least = making.least_pressure
            raise Refusal(
                "pressure",
                "must be more: at this pressure hardly any fresh water passes the membrane, "
                "whatever it is given"
                if least is None
                else "must be more than {least} in this sea: its osmotic pressure is {osmotic}, "
                "and below it and just above hardly any fresh water passes the membrane",
                least="" if least is None else units.text(least, "bar"),
                osmotic=units.text(making.sea.osmotic_pressure, "bar"),
            )
        return making


class Water(Litres, Ratings, part=True):
    """The membranes at work in the sea about the boat, and all that stands under the pressure."""

    def _bound(self) -> tuple[float, float | None]:
        stressed = self.pump(self.unit, self.flow, self.pressure)
        return stressed.bears, stressed.relief
