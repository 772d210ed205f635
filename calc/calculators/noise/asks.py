"""What is asked about a unit's sound, and how it reads into what is aboard."""

from __future__ import annotations

from ...equipment.choices import SLEEPS, WALLS
from ...frame.inputs import Inputs, ask, but, choice, is_one_of
from ...physics import speech
from ...sheet.floor import Floor
from ...sheet.groups import SIZE
from ...sheet.locker import Locker
from ...sheet.machine import Machine, Work
from ...sheet.mains import Mains
from ...sheet.mounts import Mounts
from ...sheet.size import Size
from ...system import sound
from ...system.locker import Sizes
from ...system.stand import Footing

LOUD, LID, CABIN = "How loud it is", "The locker's walls and gaps", "The cabin"
PRACTICE = "common practice, no source"

KNOWN = {
    "estimate": "nothing: estimate it from the motor's power",
    "level": "a level in dB(A), measured at a distance",
    "power": "its sound power in dB(A)",
    "bands": "octave bands, measured at a distance",
}
FURNISHED = {
    "soft": "cushions, curtains, carpet",
    "some": "some cushions",
    "hard": "bare wood and laminate",
}
DOINGS = {"talk": "talk", "film": "watch a film", "sleep": "sleep"}
AIMS = {
    "bedroom": "bedroom ashore at night, 30 dB(A)",
    "dwelling": "room ashore, day and evening, 35 dB(A)",
    "yacht_cabin": "yacht cabin, best comfort class, 53 dB(A)",
    "yacht_lounge": "yacht lounge, best comfort class, 55 dB(A)",
    "talk": "easy talk over 1 to 4 m, 55 dB(A)",
    "ship_cabin": "ship's cabin, 60 dB(A)",
    "ship_mess": "ship's mess, 65 dB(A)",
}
AS_WANTED = {"doing": "as talk or film need it"}
"""At the seat a voice's reach, or a film's voices over the noise, judge by themselves."""
IN_LOCKER = is_one_of("stands", "locker")


class Standing(Machine, Size, Mounts, Floor, part=True):
    """The unit, its mounts and its floor: all but the unit folded."""

    pressure = but(Work.pressure, group=SIZE)
    ac_frequency = but(Mains.ac_frequency, group=SIZE)
    mount_by = but(Mounts.mount_by, open=False)
    rubber_diameter = but(Mounts.rubber_diameter, open=False)
    rubber_height = but(Mounts.rubber_height, open=False)
    mount_stiffness = but(Mounts.mount_stiffness, open=False)
    mount_deflection = but(Mounts.mount_deflection, open=False)
    pad_thickness = but(Mounts.pad_thickness, open=False)
    shore = but(Mounts.shore, open=False)
    floor_material = but(Floor.floor_material, open=False)
    floor_thickness = but(Floor.floor_thickness, open=False)
    skin_thickness = but(Floor.skin_thickness, open=False)
    core_thickness = but(Floor.core_thickness, open=False)
    floor_length = but(Floor.floor_length, open=False)
    floor_width = but(Floor.floor_width, open=False)

    def footing(self) -> Footing:
        unit = self.its_unit(self.unit, self.ac_frequency, self.pressure)
        return Footing(unit, self.its_mounts(), self.its_floor())


FIRST = (
    "unit",
    "mount_by",
    "rubber_diameter",
    "rubber_height",
    "mount_stiffness",
    "mount_deflection",
    "pad_thickness",
    "shore",
    "floor_form",
    "floor_material",
    "floor_thickness",
    "skin_thickness",
    "core_thickness",
    "floor_length",
    "floor_width",
)
"""What stands first in the form."""


class Doing(Inputs, part=True):
    """What one wants to do while it runs."""

    doing = choice("While it runs you want to", DOINGS, group=CABIN, open=True)


def _band(label: str, usual: str) -> float:
    return ask(
        label,
        usual,
        group=LOUD,
        at_least="0 dB",
        at_most="130 dB",
        when=is_one_of("known", "bands"),
    )


class Loudness(Inputs, part=True):
    """What is known of the unit's own noise."""

    known = choice("What you know of its noise", KNOWN, group=LOUD, open=True)
    level = ask(
        "Level",
        "66 dB(A)",
        group=LOUD,
        open=True,
        at_least="20 dB(A)",
        at_most="120 dB(A)",
        when=is_one_of("known", "level", "power"),
    )
    distance = ask(
        "Measured at",
        "1 m",
        group=LOUD,
        at_least="0.2 m",
        at_most="20 m",
        when=is_one_of("known", "level", "bands"),
        help="In the open on the ground, or in a large room; with a phone it is ±5 dB.",
    )
    band_63 = _band("63 Hz", "60 dB")
    band_125 = _band("125 Hz", "61 dB")
    band_250 = _band("250 Hz", "63 dB")
    band_500 = _band("500 Hz", "63 dB")
    band_1000 = _band("1000 Hz", "66 dB")
    band_2000 = _band("2000 Hz", "63 dB")
    band_4000 = _band("4000 Hz", "59 dB")
    band_8000 = _band("8000 Hz", "53 dB")


class Lid(Locker, part=True):
    """The locker as the sound meets it."""

    stands = but(Locker.stands, group=LID, open=True)
    wall = choice("Locker's front and lid", WALLS, "ply12", group=LID, open=True, when=IN_LOCKER)
    added_mass = ask(
        "Heavy layer added to front and lid",
        "0 kg/m2",
        group=LID,
        at_least="0 kg/m2",
        at_most="50 kg/m2",
        when=IN_LOCKER,
        help="Limp barrier sheet, not foam. A settee's cushion counts for 2 to 3 kg/m².",
    )
    gaps = ask(
        "Gaps round lid and doors",
        "20 cm2",
        group=LID,
        open=True,
        at_least="0 cm2",
        at_most="20000 cm2",
        when=IN_LOCKER,
        help="A slit 2 mm wide and 1 m long is 20 cm².",
    )
    vents = ask(
        "Vents to the cabin",
        "120 cm2",
        group=LID,
        open=True,
        at_least="0 cm2",
        at_most="20000 cm2",
        when=IN_LOCKER,
        help="What lets its air in and out.",
    )
    vent_kind = choice(
        "The vents are",
        {"plain": "plain openings", "bend": "lined ducts with a bend"},
        group=LID,
        when=IN_LOCKER,
    )
    lining = choice(
        "Locker is lined with", sound.LINING_NAMES, "foam25", group=LID, open=True, when=IN_LOCKER
    )
    lined_share = ask(
        "Share of its inside that is lined",
        "19 %",
        group=LID,
        at_least="0 %",
        at_most="100 %",
        when=is_one_of("lining", *sound.SOFT_LININGS),
        help="A long side is about a fifth. What lies close to the motor, or before its air inlet, "
        "stays bare.",
    )

    locker_length = but(Locker.locker_length, when=IN_LOCKER)
    locker_width = but(Locker.locker_width, when=IN_LOCKER)
    locker_height = but(Locker.locker_height, when=IN_LOCKER)

    def enclosure(self) -> sound.Enclosure:
        return sound.Enclosure(
            self.inside(),
            sound.Walls(self.wall, self.added_mass),
            sound.Openings(self.gaps, self.vents, self.vent_kind == "bend"),
            sound.Lining(self.lining, self.lined_share),
        )


class Cabin(Inputs, part=True):
    """The cabin, and where one sits and sleeps."""

    cabin_length = ask("Cabin's length", "3.2 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_width = ask("Cabin's width", "2.8 m", group=CABIN, at_least="1 m", at_most="20 m")
    cabin_height = ask("Headroom", "1.9 m", group=CABIN, at_least="1 m", at_most="5 m")
    furnished = choice("The cabin is furnished with", FURNISHED, "soft", group=CABIN)
    seat = ask(
        "From the unit to your ear, seated",
        "1 m",
        group=CABIN,
        open=True,
        at_least="0.3 m",
        at_most="15 m",
        help="Counts where you sit in the unit's own cabin.",
    )
    sits = choice("You sit", SLEEPS, group=CABIN)
    talk = ask(
        "Talk across",
        "1.2 m",
        group=CABIN,
        at_least="0.3 m",
        at_most="10 m",
        help="From mouth to ear, over the table.",
        when=is_one_of("doing", "talk"),
    )
    film = ask(
        "Voices in the film, at your ear",
        "65 dB(A)",
        group=CABIN,
        at_least="40 dB(A)",
        at_most="90 dB(A)",
        basis=PRACTICE,
        when=is_one_of("doing", "film"),
        help="Measure it with a phone: 60 is played softly, 70 loud.",
    )
    sleeps = choice("The berth is", SLEEPS, "shut", group=CABIN)
    berth = ask(
        "From the unit to your ear in the berth",
        "2.5 m",
        group=CABIN,
        at_least="0.3 m",
        at_most="20 m",
        help="Counts where you sleep in the unit's own cabin.",
    )
    bulkhead = choice("Bulkhead between the cabins", WALLS, "ply12", group=CABIN)
    seat_aim = choice("At the seat no louder than", AS_WANTED | AIMS, group=CABIN)
    berth_aim = choice("In the berth no louder than", AIMS, "bedroom", group=CABIN)

    def cabin(self) -> sound.Cabin:
        room = Sizes(self.cabin_length, self.cabin_width, self.cabin_height)
        return sound.Cabin(room, self.furnished, self.bulkhead)


class Asks(Standing, Doing, Loudness, Lid, Cabin, first=FIRST):
    def loudness(self) -> sound.Loudness:
        if self.known == "estimate":
            return sound.estimated(self.unit.motor.rated_power, self.motor_speed)
        if self.known == "power":
            return sound.Loudness(self.level)
        if self.known == "level":
            return sound.Loudness(self.level, self.distance)
        bands = (
            self.band_63,
            self.band_125,
            self.band_250,
            self.band_500,
            self.band_1000,
            self.band_2000,
            self.band_4000,
            self.band_8000,
        )
        return sound.Loudness(distance=self.distance, bands=bands)

    def wish(self) -> sound.Wish:
        seat = speech.CRITERIA.get(self.seat_aim)
        return sound.Wish(
            self.doing,
            self.talk,
            self.film,
            seat.limit if seat else None,
            speech.CRITERIA[self.berth_aim].limit,
        )

    def path(self, borne: sound.Borne) -> sound.SoundPath:
        return sound.SoundPath(
            self.loudness(),
            self.enclosure() if self.stands == "locker" else None,
            self.cabin(),
            sound.Ear(self.sits, self.seat),
            sound.Ear(self.sleeps, self.berth),
            borne,
        )
