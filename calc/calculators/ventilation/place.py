"""What is asked about the place: how its air is renewed, its faces, and what lies round it."""

from __future__ import annotations

import math
from dataclasses import replace

from ...equipment.choices import AIR_FROM, BEHIND
from ...frame.inputs import Inputs, Refusal, ask, but, choice, is_one_of, rows
from ...frame.language import phrase
from ...physics import heat
from ...sheet import BoatSheet as boat
from ...sheet.groups import LOCKER, PRACTICE
from ...sheet.locker import Locker
from ...sheet.openings import IN_A_BOX, IN_ENGINE_SPACE, IN_LOCKER, Air, Blower
from ...system import cooling
from ...system import locker as system
from .others import Others

_FACES, _WEATHER = "Its faces", "Temperatures round it"

SIDES = {
    "floor": "floor",
    "top": "top",
    "front": "long side 1",
    "back": "long side 2",
    "left": "end 1",
    "right": "end 2",
}
"""The sides by name."""


class Face(Inputs):
    side = choice("Face", SIDES, "front")
    area = ask(
        "Area, if not the whole face", unit="m2", optional=True, above="0 m2", at_most="30 m2"
    )
    material = choice("Made of", {name: name for name in heat.MATERIALS}, "plywood")
    thickness = ask("Thickness", "12 mm", at_least="0.5 mm", at_most="200 mm")
    lining = ask("Foam or wool on it", "0 mm", at_least="0 mm", at_most="200 mm")
    behind = choice("Behind it", BEHIND, "cabin")


class Openings(Air, part=True):
    """How its air is renewed: asked first."""

    air_way = but(Air.air_way, group="", open=True)
    engine_length = but(Air.engine_length, group="", open=True)
    engine_width = but(Air.engine_width, group="", open=True)
    engine_height = but(Air.engine_height, group="", open=True)
    low_area = but(Air.low_area, group="", open=True)
    high_area = but(Air.high_area, group="", open=True)
    apart = but(Air.apart, group="", open=True)
    single_area = but(Air.single_area, group="", open=True)
    single_height = but(Air.single_height, group="", open=True)


class Given(Inputs, part=True):
    """By what the locker is told."""

    given_by = choice(
        "The locker is given by",
        {"sizes": "length, width and height inside", "volume": "its volume, and its faces' areas"},
        "sizes",
        group=LOCKER,
        when=IN_A_BOX,
    )


class Box(Given, Locker, part=True):
    """The locker, its faces, and what else stands in it."""

    locker_length = but(boat.locker_length, group=LOCKER, when=is_one_of("given_by", "sizes"))
    locker_width = but(boat.locker_width, group=LOCKER, when=is_one_of("given_by", "sizes"))
    locker_height = but(boat.locker_height, group=LOCKER, when=is_one_of("given_by", "sizes"))
    locker_volume = ask(
        "Volume inside, empty",
        "170 L",
        group=LOCKER,
        above="0 L",
        at_most="20 m3",
        when=is_one_of("given_by", "volume"),
    )
    contents = ask(
        "Taken by what stands beside the unit",
        "20 L",
        group=LOCKER,
        at_least="0 L",
        at_most="20 m3",
        when=IN_A_BOX,
        help="Filters, membranes, hoses, and what gets stowed there.",
    )
    engine_contents = ask(
        "Taken by the engine and what else stands there",
        unit="L",
        group=LOCKER,
        at_least="0 L",
        at_most="500 m3",
        optional=True,
        when=IN_ENGINE_SPACE,
        help="Engine, gearbox, tanks, batteries. Left empty: half of the space.",
    )
    faces = rows(
        "Its faces",
        Face,
        group=_FACES,
        one="face",
        most=24,
        usual=True,
        example=(
            {"side": "floor", "behind": "bilge"},
            {"side": "top", "thickness": "18 mm"},
            {"side": "front"},
            {"side": "back", "thickness": "18 mm", "lining": "25 mm", "behind": "engine"},
            {"side": "left"},
            {"side": "right"},
        ),
        when=IN_LOCKER,
        help="One row a face, or several where a face is made of different things.",
    )


class Surroundings(Inputs, part=True):
    """Temperatures, sun and damp round it."""

    ambient_temperature = but(
        boat.ambient_temperature,
        preset="climate.ambient",
        open=True,
        group=_WEATHER,
        label="Air beside the locker",
        help="What the cabin or space beside it has on the day that you plan for.",
    )
    supply_from = choice(
        "The air that comes in is from", AIR_FROM, "cabin", group=_WEATHER, when=IN_LOCKER
    )
    waters = but(boat.waters, group=_WEATHER, when=IN_LOCKER)
    sea_temperature = but(
        boat.sea_temperature,
        preset="climate.sea",
        from_record="waters.temperature",
        group=_WEATHER,
        when=IN_LOCKER,
    )
    outside_temperature = ask(
        "Air outside, in the shade",
        "28 °C",
        preset="climate.outside",
        group=_WEATHER,
        at_least="-20 °C",
        at_most="55 °C",
        when=IN_LOCKER,
    )
    engine_space = ask(
        "Engine space",
        "45 °C",
        group=_WEATHER,
        at_least="-20 °C",
        at_most="90 °C",
        basis=PRACTICE,
        when=IN_A_BOX,
        help="While a generator runs in it, or an hour after the engine stopped.",
    )
    irradiance = ask(
        "Sun on a level deck",
        "800 W/m2",
        preset="climate.irradiance",
        group=_WEATHER,
        at_least="0 W/m2",
        at_most="1400 W/m2",
        when=IN_LOCKER,
    )
    absorbed = ask(
        "Of the sun, a deck takes up",
        "40 %",
        group=_WEATHER,
        at_least="0 %",
        at_most="100 %",
        basis=PRACTICE,
        when=IN_LOCKER,
        help="White gelcoat about 30 %, grey non-skid 60 %, teak 70 %.",
    )
    humidity = ask(
        "Relative humidity of the air beside it",
        "70 %",
        preset="climate.humidity",
        group=_WEATHER,
        above="0 %",
        at_most="100 %",
        when=IN_LOCKER,
    )

    def weather(self) -> system.Weather:
        """The day that is planned for."""
        return system.Weather(
            beside=self.ambient_temperature,
            outside=self.outside_temperature,
            sea=self.sea_temperature,
            engine_space=self.engine_space,
            sun=self.irradiance,
            absorbed=self.absorbed,
            humidity=self.humidity,
        )


class Place(Openings, Box, Surroundings, Blower, Others, part=True):
    """The place and all that bears on its heat."""

    @property
    def way(self) -> str:
        """How its air is renewed; "open" where it stands open in the cabin."""
        return "open" if self.stands == "open" else self.air_way

    @property
    def engine_space_known(self) -> bool:
        """Whether all three sizes of the engine space are, where it stands in one."""
        return self.way != "engine" or self._engine_sizes() is not None

    def _engine_sizes(self) -> system.Sizes | None:
        long, wide, high = self.engine_length, self.engine_width, self.engine_height
        if long is None or wide is None or high is None:
            return None
        return system.Sizes(long, wide, high)

    def sizes(self, body: system.Sizes) -> system.Sizes | None:
        """The space inside, None where only its volume is known. Refuses one too small for it."""
        if self.way != "engine" and self.given_by == "volume":
            return None
        if self.way != "engine":
            self.check_locker(body)
            return self.inside()
        found = self._engine_sizes()
        if found and (side := found.too_small_for(body)):
            sentence = "the unit does not fit into this engine space, whichever way it lies"
            raise Refusal(f"engine_{side}", sentence)
        return found

    def place(self, body: system.Sizes) -> system.Locker:
        """The place for a unit of that body; refuses what cannot be."""
        fan, weather = self._no_fan(), self.weather()
        if self.way == "open":
            vents = cooling.Vents()
            return system.Locker("open", None, 0.0, 0.0, (), vents, fan, "cabin", weather)
        if self.way == "engine" and self.supply_from == "engine":
            raise Refusal(
                "supply_from",
                "the unit stands in the engine space: say where that space's own air comes from",
            )
        sizes = self.sizes(body)
        volume = sizes.volume if sizes else self.locker_volume
        running, resting = self.heats()
        found = system.Locker(
            way=self.way,
            sizes=sizes,
            volume=volume,
            contents=self._contents(volume),
            faces=self._faces(sizes),
            vents=self.vents(),
            fan=fan,
            supply_from=self.supply_from,
            weather=weather,
            other_heat=running,
            resting_heat=resting,
            boost_heat=self.boost_heat,
            engine_power=self.engine_power,
        )
        self._check_openings(found)
        if found.volume - found.contents <= body.volume:
            raise _no_air(self.way)
        return replace(found, fan=self.fan()) if self.way == "fan" else found

    def _no_fan(self) -> system.Fan:
        """The fan that one would take: of its own it has nothing yet."""
        duct = system.Duct(self.duct_diameter, self.duct_length, self.duct_bends)
        return system.Fan(0.0, self.fan_pressure, duct, 0.0, self.fan_voltage, draws_out=True)

    def _contents(self, volume: float) -> float:
        """What stands beside the unit [m³]: of an engine space a usual share, unless it is told."""
        if self.way != "engine":
            return self.contents
        told = self.engine_contents
        return system.ENGINE_FILLS * volume if told is None else told

    def _faces(self, sizes: system.Sizes | None) -> tuple[system.Face, ...]:
        """The faces that pass heat: an engine space has none towards itself."""
        whole_faces = sizes.faces() if sizes else {}
        sums: dict[str, float] = {}
        found = []
        for row in self.faces:
            if self.way == "engine" and row.behind == "engine":
                continue
            area = row.area if row.area is not None else whole_faces.get(row.side)
            if area is None:
                sentence = "the {side} needs an area where the locker's volume is given"
                raise Refusal("faces", sentence, side=phrase(SIDES[row.side]))
            sums[row.side] = sums.get(row.side, 0.0) + area
            found.append(
                system.Face(row.side, area, row.material, row.thickness, row.lining, row.behind)
            )
        for side, total in sums.items():
            if total > whole_faces.get(side, math.inf) * 1.001:
                raise Refusal(
                    "faces",
                    "the rows for the {side} add up to more than the whole face",
                    side=phrase(SIDES[side]),
                )
        if not found and self.way == "sealed":
            raise Refusal("faces", "a sealed locker without a face has no way to lose its heat")
        return tuple(found)

    def _check_openings(self, found: system.Locker) -> None:
        """Refuses openings that the place has no room for, and machines that get no air."""
        if self.way == "sealed":
            return
        names = ("single_area",) if self.way == "one" else ("low_area", "high_area")
        areas = (found.vents.high,) if self.way == "one" else (found.vents.low, found.vents.high)
        for name, area in zip(names, areas, strict=True):
            if area > found.largest_face:
                raise Refusal(name, _TOO_LARGE[self.way == "engine"])
        tall = found.sizes.height if found.sizes else math.inf
        if self.way == "one":
            if self.single_height > tall:
                raise Refusal("single_height", "the opening is higher than the locker")
            return
        if self.apart > tall:
            raise Refusal("apart", _TOO_FAR[self.way == "engine"])
        if self.low_area == 0 and self.high_area == 0:
            if self.way == "fan":
                raise Refusal(
                    "low_area", "a fan blowing into a sealed box moves no air: give it an opening"
                )
            if self.way == "engine":
                raise Refusal("low_area", "an engine in a sealed space starves: give it an opening")


_TOO_LARGE = (
    "the opening is larger than the largest face of the locker",
    "the opening is larger than the largest face of the engine space",
)
_TOO_FAR = (
    "the openings are further apart than the locker is high",
    "the openings are further apart than the engine space is high",
)


def _no_air(way: str) -> Refusal:
    if way == "engine":
        sentence = "with the unit this leaves no room for air in the engine space"
        return Refusal("engine_contents", sentence)
    return Refusal("contents", "with the unit this leaves no room for air in the locker")
