"""The places of the boat that the unit could stand in: rows, declared once for every page.

What a place says has the names that the pages ask by: each takes what it asks for.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping, Sequence
from typing import Any

from ..equipment.choices import (
    AIR_FROM,
    AIR_WAYS,
    ATTITUDES,
    BEHIND,
    CORED_FLOORS,
    SHAFT,
    SLEEPS,
    SOLID_FLOORS,
    STANDS,
    WALLS,
)
from ..frame import units
from ..frame.inputs import (
    SHEET,
    Inputs,
    Layer,
    Refusal,
    as_text,
    ask,
    bind,
    choice,
    is_one_of,
    rows,
    text,
    yes_no,
)
from ..system import sound, trim
from .groups import AFLOAT, PLACES, PRACTICE


def _typed(value: float, unit: str) -> str:
    """A value as one would type it."""
    return f"{units.typed_text(value, unit)} {unit}"


_VENTS = is_one_of("air_way", "two", "fan", "engine")


def _size(label: str, help: str = "") -> float | None:
    return ask(label, unit="mm", at_least="100 mm", at_most="10 m", optional=True, help=help)


def _span(label: str, help: str = "", **limits: str) -> float | None:
    within = {"at_least": "0 m", "at_most": "30 m"} | limits
    return ask(label, unit="m", optional=True, help=help, **within)


class Room(Inputs, part=True):
    """What it is called, where it lies, its room and its opening."""

    what = text("Place", "bilge", optional=False)
    stands = choice("The unit stands", STANDS, "locker")
    locker_length = _size("Inside, length along the shaft")
    locker_width = _size("Inside, width")
    locker_height = _size("Inside, height")
    door_width = ask(
        "Its opening, width",
        unit="mm",
        at_least="50 mm",
        at_most="3 m",
        optional=True,
        help="Of door, hatch or lid, clear.",
    )
    door_height = ask(
        "Its opening, height or length", unit="mm", at_least="50 mm", at_most="3 m", optional=True
    )
    ahead = _span(
        "Ahead of midships", "Its middle. Abaft of midships: with a minus.", at_least="-30 m"
    )
    aside = _span(
        "To starboard of the centreline",
        "Its middle. To port: with a minus.",
        at_least="-10 m",
        at_most="10 m",
    )
    pump_height = _span(
        "High-pressure pump above the waterline",
        "Below it: with a minus.",
        at_least="-5 m",
        at_most="8 m",
    )
    floor_height = _span(
        "Its floor above the waterline",
        "There a boost pump could stand. Below the waterline: with a minus.",
        at_least="-5 m",
        at_most="8 m",
    )
    contents = ask(
        "Taken by what is in it already", unit="L", at_least="0 L", at_most="20 m3", optional=True
    )


class Ground(Inputs, part=True):
    """What the unit would stand on or hang from, and how one reaches it."""

    attitude = choice("It stands on or hangs from", ATTITUDES)
    lies = choice("Its shaft lies", SHAFT)
    floor_material = choice("Panel", SOLID_FLOORS | CORED_FLOORS, "plywood")
    floor_thickness = ask(
        "Panel's thickness",
        unit="mm",
        at_least="0.5 mm",
        at_most="500 mm",
        optional=True,
        when=is_one_of("floor_material", *SOLID_FLOORS),
    )
    skin_thickness = ask(
        "Each skin's thickness",
        unit="mm",
        at_least="0.2 mm",
        at_most="50 mm",
        optional=True,
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    core_thickness = ask(
        "Core's thickness",
        unit="mm",
        at_least="2 mm",
        at_most="200 mm",
        optional=True,
        when=is_one_of("floor_material", *CORED_FLOORS),
    )
    floor_length = ask(
        "Its free length, along the shaft",
        unit="mm",
        at_least="20 mm",
        at_most="5 m",
        optional=True,
        help="Between what holds it: frames, bearers, bulkheads.",
    )
    floor_width = ask("Its free width", unit="mm", at_least="20 mm", at_most="5 m", optional=True)
    reach = ask(
        "Reach from ankles to hands, to lift it in",
        unit="mm",
        at_least="100 mm",
        at_most="630 mm",
        optional=True,
    )
    hand_height = ask(
        "Hands above your feet then", unit="m", at_least="0 m", at_most="1.75 m", optional=True
    )


class Neighbours(Inputs, part=True):
    """Its air, what lies behind its faces, and who hears it."""

    air_way = choice("How its air is renewed", AIR_WAYS, "two")
    low_area = ask(
        "Low opening, free area",
        unit="cm2",
        at_least="0 cm2",
        at_most="10000 cm2",
        optional=True,
        when=_VENTS,
    )
    high_area = ask(
        "High opening, free area",
        unit="cm2",
        at_least="0 cm2",
        at_most="10000 cm2",
        optional=True,
        when=_VENTS,
    )
    apart = ask(
        "Height between the two",
        unit="mm",
        at_least="0 mm",
        at_most="3 m",
        optional=True,
        when=_VENTS,
    )
    single_area = ask(
        "Opening, free area",
        unit="cm2",
        above="0 cm2",
        at_most="10000 cm2",
        optional=True,
        when=is_one_of("air_way", "one"),
    )
    fan_flow = ask(
        "Fan, flow in free air",
        unit="m3/h",
        above="0 m3/h",
        at_most="3000 m3/h",
        optional=True,
        when=is_one_of("air_way", "fan"),
    )
    supply_from = choice("The air that comes in is from", AIR_FROM, "cabin")
    boost_here = yes_no("The boost pump stands in there too", "no")
    under = choice("Below its floor", BEHIND, "bilge")
    over = choice("Above its top", BEHIND, "cabin")
    beside = choice("Behind its long side", BEHIND, "cabin")
    wall = choice("Its front and lid", WALLS, "ply12")
    lining = choice("It is lined with", sound.LINING_NAMES, "bare")
    sits = choice("You sit", SLEEPS)
    seat = ask(
        "From it to your ear, seated", unit="m", at_least="0.3 m", at_most="15 m", optional=True
    )
    sleeps = choice("The berth is", SLEEPS, "shut")
    berth = ask(
        "From it to your ear in the berth",
        unit="m",
        at_least="0.3 m",
        at_most="20 m",
        optional=True,
    )


class Ways(Inputs, part=True):
    """How far hoses and cables run to it."""

    feed_length = _span("Hose from the seacock to here", at_least="0.1 m")
    boost_length = _span("Hose from the boost pump, as it stands now, to here", at_least="0.1 m")
    flush_length = _span("Hose from the house pump to here", at_least="0.1 m", at_most="50 m")
    flush_rise = _span(
        "Big pump above the flush water", "Below it: with a minus.", at_least="-5 m", at_most="5 m"
    )
    product_length = _span("Fresh-water hose from here to the tank", at_most="50 m")
    ac_run = ask(
        "Cable from the inverter or panel to here, one way",
        unit="m",
        above="0 m",
        at_most="200 m",
        optional=True,
    )
    ac_engine_space = yes_no("That cable runs through the engine space", "no")


# Of a panel that is nothing but a panel: what stiffens another floor is not here.
_BARE: dict[str, Any] = {
    "floor_form": "panel",
    "floor_edges": "supported",
    "doubler": "0 mm",
    "battens": "0",
    "floor_plate": "0 kg",
    "given_by": "sizes",
    "obstacles": [],
}
_OWN = ("what", "ahead", "aside", "floor_height", "under", "over", "beside")
"""What no page asks by these names."""
_MADE = (
    "pump_ahead",
    "pump_aside",
    "engine_length",
    "engine_width",
    "engine_height",
    "vents",
    "faces",
)
"""What follows from what a row says."""


class Spot(Room, Ground, Neighbours, Ways):
    """A place."""

    def says(self, skin: Mapping[str, str], boosted: bool) -> dict[str, Any]:
        """What it says, by the names that pages ask by, as texts; `skin` is what the hull is made
        of. Where there is a boost pump it stays where it is."""
        told = {
            name: made.write(value)
            for name, made in self.fields.items()
            if name not in _OWN and (value := getattr(self, name)) is not None
        }
        told.pop("feed_length" if boosted else "boost_length", None)
        return told | _BARE | dict(self._follows(skin))

    def leaves_open(self, says: Mapping[str, Any], boosted: bool) -> frozenset[str]:
        """The names that it does not say: what the boat has of them is another place's."""
        names = {*self.fields, *_MADE, *_BARE} - {*_OWN}
        names.discard("feed_length" if boosted else "boost_length")
        return frozenset(names - {*says})

    def _follows(self, skin: Mapping[str, str]) -> Iterator[tuple[str, Any]]:
        for name, value in (("pump_ahead", self.ahead), ("pump_aside", self.aside)):
            if value is not None:
                yield name, _typed(abs(value), "m")
        if self.air_way == "engine":
            for side in ("length", "width", "height"):
                value = getattr(self, f"locker_{side}")
                if value is not None:
                    yield f"engine_{side}", _typed(value, "m")
        if (area := self.open_to_cabin) is not None:
            yield "vents", _typed(area, "cm2")
        yield "faces", self._faces(skin)

    @property
    def open_to_cabin(self) -> float | None:
        """Openings that let the sound into the cabin [m²]; None where one is not told."""
        if self.supply_from != "cabin" or self.air_way in ("sealed", "engine"):
            return 0.0
        areas = (self.single_area,) if self.air_way == "one" else (self.low_area, self.high_area)
        told = [area for area in areas if area is not None]
        return sum(told) if len(told) == len(areas) else None

    def _faces(self, skin: Mapping[str, str]) -> list[dict[str, str]]:
        """Joinery of plywood, but for where the hull is the face."""
        behind = {
            "floor": self.under,
            "top": self.over,
            "front": "cabin",
            "back": self.beside,
            "left": "cabin",
            "right": "cabin",
        }
        return [
            {"side": side, "behind": lies, **(skin if lies in ("sea", "shade", "sun") else {})}
            for side, lies in behind.items()
        ]

    @property
    def spot(self) -> trim.Spot | None:
        """Where it lies, if both are told."""
        if self.ahead is None or self.aside is None:
            return None
        return trim.Spot(self.ahead, self.aside)


class Afloat(Inputs, part=True):
    """How she floats, as far as a weight heels and trims her."""

    displacement = ask(
        "She displaces",
        "12000 kg",
        group=AFLOAT,
        above="0 kg",
        at_most="500000 kg",
        help="As she floats, with stores and water.",
    )
    hulls = choice("She has", {"one": "one hull", "two": "two hulls"}, group=AFLOAT)
    waterline_length = ask(
        "Waterline, length", "11 m", group=AFLOAT, at_least="2 m", at_most="60 m"
    )
    waterline_beam = ask(
        "Waterline, beam of one hull", "3.4 m", group=AFLOAT, at_least="0.2 m", at_most="15 m"
    )
    hulls_apart = ask(
        "Middles of the hulls, apart",
        "5 m",
        group=AFLOAT,
        at_least="1 m",
        at_most="20 m",
        when=is_one_of("hulls", "two"),
    )
    metacentric_height = ask(
        "Metacentric height",
        unit="m",
        group=AFLOAT,
        above="0 m",
        at_most="50 m",
        optional=True,
        help="From an inclining test or her stability book. Left empty: from her waterline and "
        "what she displaces.",
    )
    heel_wanted = ask(
        "Heel that the set may give her",
        "0.5°",
        group=AFLOAT,
        above="0°",
        at_most="10°",
        basis=PRACTICE,
    )
    trim_wanted = ask(
        "Trim that it may give her, from bow to stern",
        "30 mm",
        group=AFLOAT,
        above="0 mm",
        at_most="500 mm",
        basis=PRACTICE,
    )
    hull_material = choice(
        "Her side is made of",
        {
            "glass fibre laminate": "glass fibre laminate",
            "foam core": "laminate on foam",
            "balsa core": "laminate on balsa",
            "steel": "steel",
            "aluminium alloy": "aluminium",
            "hardwood": "wood",
        },
        group=AFLOAT,
    )
    hull_thickness = ask(
        "Her side's thickness", "8 mm", group=AFLOAT, at_least="1 mm", at_most="200 mm"
    )

    def hull(self) -> trim.Hull:
        """She afloat."""
        return trim.Hull(
            self.displacement,
            self.waterline_length,
            self.waterline_beam,
            self.hulls_apart if self.hulls == "two" else 0.0,
            self.metacentric_height,
        )

    @property
    def half_beam(self) -> float:
        """From her centreline to her waterline's side [m]."""
        apart = self.hulls_apart / 2 if self.hulls == "two" else 0.0
        return apart + self.waterline_beam / 2

    def skin(self) -> dict[str, str]:
        """Her side as a face of a locker."""
        return {"material": self.hull_material, "thickness": _typed(self.hull_thickness, "mm")}


_EXAMPLE = (
    {
        "what": "settee locker",
        "locker_length": "900 mm",
        "locker_width": "450 mm",
        "locker_height": "420 mm",
        "ahead": "0.6 m",
        "aside": "1.2 m",
        "pump_height": "0.2 m",
        "floor_thickness": "18 mm",
        "floor_length": "600 mm",
        "floor_width": "400 mm",
        "low_area": "60 cm2",
        "high_area": "60 cm2",
        "apart": "300 mm",
        "seat": "1 m",
        "berth": "2.5 m",
    },
    {
        "what": "lazarette",
        "locker_length": "1.4 m",
        "locker_width": "900 mm",
        "locker_height": "800 mm",
        "ahead": "-5 m",
        "aside": "0 m",
        "pump_height": "0.4 m",
        "floor_thickness": "18 mm",
        "floor_length": "700 mm",
        "floor_width": "500 mm",
        "low_area": "200 cm2",
        "high_area": "200 cm2",
        "apart": "500 mm",
        "supply_from": "outside",
        "sits": "shut",
        "seat": "4 m",
        "berth": "2 m",
    },
)


class Places(Inputs, part=True):
    """The places that the unit could stand in."""

    places = rows(
        "Places for it",
        Spot,
        _EXAMPLE,
        one="place",
        most=6,
        group=PLACES,
        folded=True,
        help="Each place that you think of. What you don't know stays empty: its subject then says "
        "what it lacks.",
    )
    place = text(
        "It stands in",
        group=PLACES,
        help="The name of one of these places, once you have decided. Every page then takes from "
        "it what it says, before all else that you said of a place.",
    )


OVERHANG = 1.35
"""A boat's length over that of her waterline, at most: common practice, no source."""
FLARE = 1.5
"""Her beam over that of her waterline, at most: common practice, no source."""


def check(places: Sequence[Spot], chosen: str | None, afloat: Afloat) -> None:
    """Refuses places that cannot be, each by its number and name, and a choice of none of them."""
    if not places:
        raise Refusal("places", "the unit stands in no place: add one")
    named: dict[str, int] = {}
    for number, place in enumerate(places, 1):
        same = named.setdefault(place.what.casefold(), number)
        if same != number:
            raise Refusal(
                "places",
                "place {n}, “{name}”, has the name of place {same}: give it another",
                n=number,
                name=place.what,
                same=same,
            )
        _check_size(number, place, afloat)
        _check_ears(number, place)
    if chosen and chosen.casefold() not in named:
        names = ", ".join(place.what for place in places)
        raise Refusal("place", "no place is called so; there are: {names}", names=names)


_TOO_FAR = {
    "long": "place {n}, “{name}”, is {is_} long inside, longer than the boat; at most {most}",
    "ahead": "place {n}, “{name}”, lies {is_} off midships, beyond her ends; at most {most}",
    "aside": "place {n}, “{name}”, lies {is_} off the centreline, beyond her side; at most {most}",
}


def _check_size(number: int, place: Spot, afloat: Afloat) -> None:
    length = OVERHANG * afloat.waterline_length
    for key, value, most in (
        ("long", place.locker_length, length),
        ("ahead", place.ahead, length / 2),
        ("aside", place.aside, FLARE * afloat.half_beam),
    ):
        if value is not None and abs(value) > most:
            raise Refusal(
                "places",
                _TOO_FAR[key],
                n=number,
                name=place.what,
                is_=units.text(abs(value), "m"),
                most=units.text(most, "m", rounding="down"),
            )


_INSIDE = {
    "seat": "place {n}, “{name}”: your ear at the seat is {is_} from the unit, inside the locker; "
    "at least {least}",
    "berth": "place {n}, “{name}”: your ear in the berth is {is_} from the unit, inside the "
    "locker; at least {least}",
}


def _check_ears(number: int, place: Spot) -> None:
    inside = (place.locker_length, place.locker_width, place.locker_height)
    least = min((size for size in inside if size is not None), default=0.0) / 2
    for key, ear, lies in (("seat", place.seat, place.sits), ("berth", place.berth, place.sleeps)):
        if place.stands == "locker" and lies == "same" and ear is not None and ear < least:
            raise Refusal(
                "places",
                _INSIDE[key],
                n=number,
                name=place.what,
                is_=units.text(ear, "m"),
                least=units.text(least, "m", rounding="up"),
            )


class _Side(Inputs):
    """What her side is made of, by itself."""

    hull_material = Afloat.hull_material
    hull_thickness = Afloat.hull_thickness


def filled(sheet: Mapping[str, Any]) -> Mapping[str, Any]:
    """A boat's texts with what her chosen place says in the place of what she says of another."""
    chosen, listed = sheet.get("place"), sheet.get("places")
    if not isinstance(chosen, str) or not isinstance(listed, Sequence) or isinstance(listed, str):
        return sheet
    wanted = _called(chosen)
    for row in listed:
        if not isinstance(row, Mapping) or (
            "what" in row and _called(as_text(row["what"])) != wanted
        ):
            continue  # by its name alone: to read all of it takes longer than many an answer
        bound = bind(Spot, Layer(SHEET, row))
        spot: Any = bound.as_values()
        if bound.good and wanted and spot.what.casefold() == wanted:
            return _with(sheet, spot)
    return sheet


def _called(text: str) -> str:
    return " ".join(text.split()).casefold()


def _with(sheet: Mapping[str, Any], spot: Spot) -> Mapping[str, Any]:
    side = bind(_Side, Layer(SHEET, {k: v for k, v in sheet.items() if k in _Side.fields}))
    skin = {"material": "glass fibre laminate", "thickness": "8 mm"}
    if side.good:
        found: Any = side.as_values()
        skin = {"material": found.hull_material, "thickness": _typed(found.hull_thickness, "mm")}
    boosted = str(sheet.get("has_boost", "yes")).strip().lower() not in ("no", "false")
    says = spot.says(skin, boosted)
    left = spot.leaves_open(says, boosted)
    return {key: text for key, text in sheet.items() if key not in left} | says
