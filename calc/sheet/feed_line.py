"""The way of the sea water to the high-pressure pump."""

from __future__ import annotations

from ..equipment import feed, kinds
from ..frame import units
from ..frame.inputs import Refusal, ask, but, choice, record, whole, yes_no
from ..system import feed_line as system
from ..system.sea import Sea
from .boost import BOOSTED, AnyBoost, BoostPump
from .groups import BOOST, FILTERS, MOVES, PRACTICE, WATERS_WAY

_BELOW = "Below it: with a minus. Measured when she floats upright."


def check_inlet(least: float, most: float) -> None:
    """Refuses a least pressure [Pa] at the pump's inlet above the highest one [Pa]."""
    if least > most:
        raise Refusal(
            "inlet_least",
            "must be no more than “Highest pressure at the pump's inlet”, {most}: no pressure "
            "would do",
            most=units.text(most, "bar"),
        )


class FeedLine(BoostPump, part=True):
    """From the sea to the pump: hoses, strainer, boost pump, filters, heights."""

    feed_bore = ask(
        "Feed hose, inside",
        "19 mm",
        group=WATERS_WAY,
        open=True,
        at_least="6 mm",
        at_most="60 mm",
        help="From the sea to the boost pump, or to the filters if there is none.",
    )
    feed_length = ask(
        "Feed hose, length", "2.5 m", group=WATERS_WAY, open=True, at_least="0.1 m", at_most="30 m"
    )
    feed_bends = whole(
        "Elbows and sharp bends in it", "4", group=WATERS_WAY, at_least=0, at_most=30
    )
    feed_branches = whole(
        "Tees and three-way valves in it",
        "1",
        group=WATERS_WAY,
        at_least=0,
        at_most=10,
        help="Those where the water turns off, such as the valve for flush water.",
    )
    feed_check = yes_no("A non-return valve is in it", "no", group=WATERS_WAY)
    boost_bore = ask(
        "Hose from the boost pump to the high-pressure pump, inside",
        "19 mm",
        group=WATERS_WAY,
        at_least="6 mm",
        at_most="60 mm",
        when=BOOSTED,
    )
    boost_length = ask(
        "Its length", "2 m", group=WATERS_WAY, at_least="0.1 m", at_most="30 m", when=BOOSTED
    )
    boost_bends = whole(
        "Elbows and sharp bends in that hose",
        "6",
        group=WATERS_WAY,
        at_least=0,
        at_most=30,
        when=BOOSTED,
    )
    feed_stiff = choice(
        "The line to the pump is",
        {"hose": "soft hose", "pipe": "stiff pipe, or hose with a wire in it"},
        "hose",
        group=WATERS_WAY,
        help="A soft hose gives at each stroke, a stiff pipe does not.",
    )
    inlet_least = ask(
        "Least pressure at the pump's inlet",
        "0 bar",
        from_record="unit.pump.inlet_least",
        group=WATERS_WAY,
        at_least="-0.8 bar",
        at_most="3 bar",
        basis=PRACTICE,
        help="What its maker asks for, or what the low-pressure switch is set to, if that is more.",
    )
    inlet_most = ask(
        "Highest pressure at the pump's inlet",
        "3 bar",
        from_record="unit.pump.inlet_most",
        group=WATERS_WAY,
        above="0 bar",
        at_most="20 bar",
        basis=PRACTICE,
    )
    inlet_npsh = ask(
        "Suction head that the pump needs",
        unit="m",
        group=WATERS_WAY,
        at_least="0 m",
        at_most="15 m",
        optional=True,
        help="NPSH required, by its maker. Left empty: none is held against it.",
    )
    strainer = record("Strainer", feed.Strainer, "", optional=True, group=FILTERS)
    strainer_flow = ask(
        "The strainer's loss is stated for",
        "20 L/min",
        from_record="strainer.flow",
        group=FILTERS,
        above="0 L/min",
        at_most="500 L/min",
    )
    strainer_loss = ask(
        "Strainer's loss at that flow, clean",
        "15 mbar",
        from_record="strainer.loss",
        group=FILTERS,
        at_least="0 mbar",
        at_most="500 mbar",
        basis=PRACTICE,
    )
    strainer_blocked = ask(
        "Of its mesh, weed may block",
        "50 %",
        group=FILTERS,
        at_least="0 %",
        at_most="95 %",
        basis=PRACTICE,
    )
    cartridge = record("Filter cartridge", feed.Cartridge, "", optional=True, group=FILTERS)
    cartridge_flow = ask(
        "The cartridge's loss is stated for",
        "20 L/min",
        from_record="cartridge.flow",
        group=FILTERS,
        above="0 L/min",
        at_most="500 L/min",
    )
    cartridge_loss = ask(
        "One cartridge's loss at that flow, clean",
        "60 mbar",
        from_record="cartridge.loss",
        group=FILTERS,
        at_least="0 mbar",
        at_most="500 mbar",
        basis=PRACTICE,
    )
    cartridges = whole("Filters, one behind the other", "2", group=FILTERS, at_least=1, at_most=6)
    filter_change = ask(
        "You change them at a drop over all of",
        "0.5 bar",
        from_record="cartridge.change",
        group=FILTERS,
        open=True,
        at_least="0.01 bar",
        at_most="3 bar",
        basis=PRACTICE,
        help="The drop is what the gauge before the filters reads more than the one behind them.",
    )
    filter_bears = ask(
        "Filter housings' highest pressure",
        "6 bar",
        from_record="cartridge.highest_pressure",
        group=FILTERS,
        above="0 bar",
        at_most="40 bar",
        basis=PRACTICE,
    )
    has_boost = but(
        AnyBoost.has_boost,
        by=(("boost_pump", "boost_shut_off"), ("boost_pump", "boost_free_flow")),
        open=True,
    )
    boost_shut_off = ask(
        "Its pressure against a shut end",
        "1.1 bar",
        from_record="boost_pump.shut_off",
        group=BOOST,
        open=True,
        above="0 bar",
        at_most="10 bar",
        when=BOOSTED,
        help="The top of its curve: the highest pressure that its plate or sheet gives.",
    )
    boost_free_flow = ask(
        "Its flow against nothing",
        "30 L/min",
        from_record="boost_pump.free_flow",
        group=BOOST,
        above="0 L/min",
        at_most="500 L/min",
        when=BOOSTED,
        help="The far end of its curve: the highest flow that its plate or sheet gives.",
    )
    boost_npsh = ask(
        "Suction head that it needs",
        "1 m",
        from_record="boost_pump.npsh",
        group=BOOST,
        at_least="0 m",
        at_most="10 m",
        when=BOOSTED,
        basis=PRACTICE,
    )
    boost_lift = ask(
        "It lifts water by itself up to",
        "0 m",
        from_record="boost_pump.lift",
        group=BOOST,
        at_least="0 m",
        at_most="8 m",
        when=BOOSTED,
        help="0 for a centrifugal pump: it must stand below the water.",
    )
    intake_depth = ask(
        "Intake below the waterline",
        "0.4 m",
        group=MOVES,
        at_least="0 m",
        at_most="5 m",
        help="The hole in the hull, when she floats upright.",
    )
    intake_aside = ask(
        "Intake, off the centreline", "0.5 m", group=MOVES, at_least="0 m", at_most="10 m"
    )
    intake_ahead = ask(
        "Intake, fore or aft of midships", "0.5 m", group=MOVES, at_least="0 m", at_most="30 m"
    )
    boost_height = ask(
        "Boost pump above the waterline",
        "-0.3 m",
        group=MOVES,
        at_least="-5 m",
        at_most="8 m",
        when=BOOSTED,
        help=_BELOW,
    )
    boost_aside = ask(
        "Boost pump, off the centreline",
        "0.4 m",
        group=MOVES,
        at_least="0 m",
        at_most="10 m",
        when=BOOSTED,
    )
    boost_ahead = ask(
        "Boost pump, fore or aft of midships",
        "0.5 m",
        group=MOVES,
        at_least="0 m",
        at_most="30 m",
        when=BOOSTED,
    )
    pump_height = ask(
        "High-pressure pump above the waterline",
        "0.2 m",
        group=MOVES,
        open=True,
        at_least="-5 m",
        at_most="8 m",
        help=_BELOW,
    )
    pump_aside = ask(
        "High-pressure pump, off the centreline",
        "0.6 m",
        group=MOVES,
        at_least="0 m",
        at_most="10 m",
    )
    pump_ahead = ask(
        "High-pressure pump, fore or aft of midships",
        "0.5 m",
        group=MOVES,
        at_least="0 m",
        at_most="30 m",
    )
    water_heel = ask(
        "She heels while it makes water, at most",
        "15°",
        group=MOVES,
        open=True,
        at_least="0°",
        at_most="60°",
        basis=PRACTICE,
    )
    water_pitch = ask(
        "She pitches, at most",
        "5°",
        group=MOVES,
        at_least="0°",
        at_most="45°",
        basis=PRACTICE,
        help="From level to the bow's highest or lowest.",
    )

    def boost(self) -> system.Boost:
        """The boost pump of the form, whether there is one or not, and the hose behind it."""
        return system.Boost(
            system.Spot(self.boost_height, self.boost_aside, self.boost_ahead),
            self.boost_shut_off,
            self.boost_free_flow,
            self.boost_npsh,
            self.boost_lift,
            system.Hose(self.boost_length, self.boost_bore, self.boost_bends),
        )

    def feed_line(self, sea: Sea, flow: float, plungers: int, pump: kinds.Pump) -> system.FeedLine:
        """All of it in a sea, with the flow [m3/s] that a pump of so many plungers takes. Refuses
        an inlet that no pressure suits."""
        check_inlet(self.inlet_least, self.inlet_most)
        hose = system.Hose(
            self.feed_length,
            self.feed_bore,
            self.feed_bends,
            self.feed_branches,
            seacock=True,
            check=self.feed_check,
        )
        crank = pump.rated_speed * flow / pump.flow
        inlet = system.Inlet(
            system.Spot(self.pump_height, self.pump_aside, self.pump_ahead),
            self.inlet_least,
            self.inlet_most,
            self.inlet_npsh,
            plungers,
            crank,
        )
        return system.FeedLine(
            system.Water.of(sea),
            flow,
            system.Spot(-self.intake_depth, self.intake_aside, self.intake_ahead),
            hose,
            system.Strainer(self.strainer_flow, self.strainer_loss, self.strainer_blocked),
            system.Filters(
                self.cartridges,
                self.cartridge_flow,
                self.cartridge_loss,
                self.filter_change,
                self.filter_bears,
            ),
            self.boost() if self.has_boost else None,
            inlet,
            system.Moves(self.water_heel, self.water_pitch),
            stiff=self.feed_stiff == "pipe",
        )
