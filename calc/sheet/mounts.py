"""What the unit stands on."""

from __future__ import annotations

from ..equipment.choices import MOUNT_KINDS, RUBBERS
from ..frame.inputs import Inputs, ask, choice, is_one_of, whole
from ..system import mounts
from .groups import MOUNTS, PRACTICE


class Mounts(Inputs, part=True):
    """Its mounts."""

    mount_by = choice(
        "What is between unit and floor",
        MOUNT_KINDS,
        "rubber",
        group=MOUNTS,
        open=True,
        basis=PRACTICE,
    )
    mount_count = whole("How many mounts or feet", "4", group=MOUNTS, at_least=3, at_most=6)
    span_along = ask(
        "Mounts apart, along the shaft",
        "320 mm",
        from_record="unit.foot_length",
        group=MOUNTS,
        at_least="20 mm",
        at_most="2 m",
    )
    span_across = ask(
        "Mounts apart, across the shaft",
        "180 mm",
        from_record="unit.foot_width",
        group=MOUNTS,
        at_least="20 mm",
        at_most="1 m",
    )
    mount_stiffness = ask(
        "Stiffness of one mount, pressed",
        "25 N/mm",
        group=MOUNTS,
        open=True,
        at_least="0.1 N/mm",
        at_most="100000 N/mm",
        when=is_one_of("mount_by", "stiffness"),
    )
    mount_deflection = ask(
        "The unit's weight presses them down by",
        "2 mm",
        group=MOUNTS,
        open=True,
        at_least="0.001 mm",
        at_most="100 mm",
        when=is_one_of("mount_by", "deflection"),
    )
    rubber_diameter = ask(
        "Bobbin's diameter",
        "30 mm",
        group=MOUNTS,
        open=True,
        at_least="5 mm",
        at_most="200 mm",
        when=is_one_of("mount_by", "rubber"),
        basis=PRACTICE,
    )
    rubber_height = ask(
        "Bobbin's height of rubber",
        "30 mm",
        group=MOUNTS,
        open=True,
        at_least="2 mm",
        at_most="200 mm",
        when=is_one_of("mount_by", "rubber"),
        basis=PRACTICE,
    )
    pad_length = ask(
        "Pad's length",
        "60 mm",
        group=MOUNTS,
        at_least="5 mm",
        at_most="500 mm",
        when=is_one_of("mount_by", "pad"),
    )
    pad_width = ask(
        "Pad's width",
        "60 mm",
        group=MOUNTS,
        at_least="5 mm",
        at_most="500 mm",
        when=is_one_of("mount_by", "pad"),
    )
    pad_thickness = ask(
        "Pad's thickness",
        "10 mm",
        group=MOUNTS,
        open=True,
        at_least="1 mm",
        at_most="100 mm",
        when=is_one_of("mount_by", "pad"),
    )
    shore = whole(
        "Rubber's hardness, Shore A",
        "40",
        group=MOUNTS,
        open=True,
        at_least=30,
        at_most=80,
        when=is_one_of("mount_by", "rubber", "pad"),
        basis=PRACTICE,
        help="Soft gum is 30 to 40, a usual mount 40 to 60, a car tyre 65.",
    )
    rubber = choice("Rubber", RUBBERS, "neoprene", group=MOUNTS)
    mount_rating = ask(
        "Load that one mount may carry",
        "8 kg",
        group=MOUNTS,
        above="0 kg",
        at_most="1000 kg",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        help="From the mount's data sheet.",
    )
    dynamic_ratio = ask(
        "Stiffer when shaken, by",
        "1.3 ×",
        group=MOUNTS,
        at_least="1 ×",
        at_most="5 ×",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        basis=PRACTICE,
    )
    side_ratio = ask(
        "Stiffness sideways over that when pressed",
        "50 %",
        group=MOUNTS,
        at_least="5 %",
        at_most="300 %",
        when=is_one_of("mount_by", "stiffness", "deflection"),
        basis=PRACTICE,
    )

    def its_mounts(self) -> mounts.Mounts:
        """The mounts as one buys them."""
        return mounts.Mounts(
            self.mount_by,
            self.mount_count,
            self.span_along,
            self.span_across,
            self.mount_stiffness,
            self.mount_deflection,
            (self.rubber_diameter, self.rubber_height),
            (self.pad_length, self.pad_width, self.pad_thickness),
            self.shore,
            self.rubber,
            self.mount_rating,
            self.dynamic_ratio,
            self.side_ratio,
        )
