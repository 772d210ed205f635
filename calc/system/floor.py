"""The floor under a unit: what it is made of, its notes, and how far it gives at each frequency."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, replace
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..physics import beams, plates, sections, sound
from .mounts import Places
from .unfit import Unfit

CORED = ("cored_pvc80", "cored_balsa", "cored_none")
"""Panels of two skins on a core; all others are solid."""

UNSURE = 1.25
"""A floor's notes may lie so many times higher or lower than they are worked out: wood and laminate
scatter by a quarter in stiffness, and edges are neither quite free to turn nor quite held. Common
practice, no source."""
COULD_BE = tuple([UNSURE ** (i / 10) for i in range(-10, 11)])
MANY = 12
"""From so many modes below a frequency on, a floor is taken as endless: the mean over its modes."""
_MODES = 49  # how many modes of a panel are counted
_BEAM_MODES = 7
_MOST_FOUND = 96  # frequencies at which it is kept what a floor does: a curve has 57

_EDGES: dict[str, tuple[sections.Edges, sections.Edges]] = {
    "supported": ("SS", "SS"),
    "clamped": ("CC", "CC"),
    "two": ("SS", "FF"),
    "shelf": ("FF", "CF"),
}


@dataclass(frozen=True)
class Floor:
    """What the unit stands on: a "panel", or two "bearers" along the shaft.

    Sizes [m], free between what holds it; length along the shaft. Of a panel: material by its key,
    thickness, or skin and core of a cored one, a plywood doubler, battens under it (how many, width
    and depth), how its edges are held. plate: mass [kg] of metal bolted on under the mounts.
    """

    form: str
    length: float
    width: float
    material: str
    thickness: float
    skin: float
    core: float
    edges: str
    doubler: float
    battens: int
    batten_width: float
    batten_depth: float
    bearer_material: str
    bearer_width: float
    bearer_depth: float
    plate: float

    @property
    def cored(self) -> bool:
        """Whether it is a sandwich panel."""
        return self.form == "panel" and self.material in CORED

    @property
    def far_side(self) -> str:
        """What a washer under it presses on: a material's key."""
        return self.bearer_material if self.form == "bearers" else self.material


class Drum(NamedTuple):
    """A note of a floor [Hz]: of a "panel" by its half waves along and across, of the "bay" between
    battens, or of "bearers" by their half waves."""

    kind: str
    along: int
    across: int
    frequency: float


@dataclass(frozen=True)
class Ground:
    """A floor under the feet of a unit.

    bending [N m] per width and mass_per_area [kg/m²] of a panel; for bearers those of both
    together over their width. endless: real mobility [m/(N s)] without edges, by frequency [Hz].
    thickness [m] overall. driven: mass [kg] that a force at a foot shakes. plate: mass [kg] bolted
    on under the mounts. find_response, find_drums: how to find what not every answer needs.
    """

    length: float
    width: float
    thickness: float
    mass_per_area: float
    bending: float
    loss: float
    source: str
    driven: float
    plate: float
    endless: Callable[[float], float]
    find_response: Callable[[], tuple[beams.Resonator, ...]]
    find_drums: Callable[[], tuple[Drum, ...]]
    panel: plates.Panel | None

    @cached_property
    def response(self) -> tuple[beams.Resonator, ...]:
        """Its modes under the mounts."""
        return self.find_response()

    @cached_property
    def drums(self) -> tuple[Drum, ...]:
        """Its lowest modes."""
        return self.find_drums()

    @cached_property
    def few_below(self) -> float:
        """Frequency [Hz] up to which its modes are few enough to be counted one by one."""
        lowest = sorted([r.squared for r in self.response])
        return math.sqrt(lowest[min(MANY, len(lowest)) - 1]) / (2 * math.pi)

    def could_be(self, frequency: float) -> tuple[plates.Driven, ...]:
        """What it does at a frequency [Hz], with its notes at each place where they may lie.

        Where its modes are many, one answer: that of an endless floor.
        """
        found = self._found
        if frequency not in found:
            if len(found) >= _MOST_FOUND:
                found.clear()
            bare = _bare(self, frequency)
            found[frequency] = tuple([_loaded(d, frequency, self.plate) for d in bare])
        return found[frequency]

    def as_told(self, frequency: float) -> plates.Driven:
        """What it does at a frequency [Hz] with its notes just where they are worked out."""
        could = self.could_be(frequency)
        return could[len(could) // 2]

    def mobilities(self, frequency: float) -> tuple[complex, ...]:
        """The mobilities [m/(N s)] of `could_be`."""
        return tuple([d.mobility for d in self.could_be(frequency)])

    @cached_property
    def stiffness(self) -> float:
        """Stiffness [N/m] under the mounts at rest."""
        return plates.static_stiffness(self.response)

    @cached_property
    def critical(self) -> float:
        """Coincidence frequency [Hz]."""
        return sound.critical_frequency(self.bending, self.mass_per_area)

    @cached_property
    def _found(self) -> dict[float, tuple[plates.Driven, ...]]:
        return {}


def _bare(under: Ground, frequency: float) -> list[plates.Driven]:
    if frequency > under.few_below:
        mobility = under.endless(frequency)
        squared = sound.panel_velocity(1.0, mobility, frequency, under.loss, under.driven)
        return [plates.Driven(complex(mobility), squared)]
    # Notes higher by `up`, of a floor as heavy, are this floor's that much farther down.
    down = [frequency / up for up in COULD_BE]
    made = plates.driven(under.response, under.loss, down, under.driven)
    return [
        plates.Driven(one.mobility / up, one.squared / up**2)
        for one, up in zip(made, COULD_BE, strict=True)
    ]


def _loaded(bare: plates.Driven, frequency: float, plate: float) -> plates.Driven:
    """A floor with a mass [kg] bolted on where the force acts."""
    if not plate:
        return bare
    takes = 1 + 2j * math.pi * frequency * plate * bare.mobility
    return plates.Driven(bare.mobility / takes, bare.squared / abs(takes) ** 2)


@lru_cache(maxsize=32)  # of what is typed little changes the floor, or those that are tried
def ground(floor: Floor, places: Places) -> Ground:
    """A floor with the mounts about its middle.

    Refuses a panel thicker than wide, and mounts that stand off it.
    """
    if max(abs(x) for x, _ in places) > floor.length / 2:
        raise Unfit("feet_along")
    if floor.form == "bearers":
        return _bearers(floor, places)
    if max(abs(y) for _, y in places) > floor.width / 2:
        raise Unfit("feet_across")
    section, loss, source = panel_section(floor)
    panel = _panel(floor, section)
    bay = _bay(floor, panel) if floor.battens else None
    mobility = plates.infinite_plate_mobility(section.mean, section.mass)
    return Ground(
        floor.length,
        floor.width,
        section.thickness,
        section.mass,
        section.mean,
        loss,
        source,
        section.mass * panel.area,
        floor.plate,
        lambda _: mobility,
        lambda: _panel_response(panel, places),
        lambda: _panel_drums(panel, bay, places, floor.plate),
        panel,
    )


@lru_cache(maxsize=32)
def _panel_response(panel: plates.Panel, places: Places) -> tuple[beams.Resonator, ...]:
    x, y = panel.length / 2, panel.width / 2
    along = round(math.sqrt(_MODES * panel.length / panel.width))
    along = min(max(along, 2), _MODES // 2)
    return plates.panel_response(
        panel, [(x + px, y + py) for px, py in places], along, round(_MODES / along)
    )


def _panel_drums(
    panel: plates.Panel, bay: plates.Panel | None, places: Places, plate: float
) -> tuple[Drum, ...]:
    """The lowest notes; a plate under the mounts lowers each as far as the mode moves there."""
    drums = []
    for m in plates.panel_modes(panel, 6, 4):
        lowered = 1.0
        if plate:
            x, y = panel.length / 2, panel.width / 2
            at = [(x + px, y + py) for px, py in places]
            lowered += plate * plates.mode_weight(panel, at, m.nx, m.ny)
        drums.append(Drum("panel", m.nx, m.ny, m.frequency / math.sqrt(lowered)))
    if bay:
        drums.append(Drum("bay", 1, 1, plates.mode_frequency(bay, 1, 1)))
    return tuple(sorted(drums, key=lambda d: d.frequency))


def _panel(floor: Floor, section: sections.Section) -> plates.Panel:
    if section.thickness > min(floor.length, floor.width):
        raise Unfit("skins_thick" if floor.cored else "panel_thick")
    return plates.Panel(floor.length, floor.width, section, *_EDGES[floor.edges])


def panel_section(floor: Floor) -> tuple[sections.Section, float, str]:
    """The panel's section, loss factor and the source of its values."""
    if floor.material in CORED:
        skin = sections.MATERIALS["grp_csm"]
        core = sections.CORES[floor.material.removeprefix("cored_")]
        section = sections.sandwich_section(skin, floor.skin, core, floor.core)
        modulus = skin.youngs_modulus * 2 * floor.skin / section.thickness
        loss, source = skin.loss_factor, f"{core.name}: {core.source}"
    else:
        base = sections.MATERIALS[floor.material]
        layers = [(base, floor.thickness)]
        if floor.doubler > 0:
            layers.append((sections.MATERIALS["plywood"], floor.doubler))
        section = sections.layered_section(layers)
        modulus, loss, source = base.youngs_modulus, base.loss_factor, base.source
    if floor.battens:
        section = _battened(floor, section, modulus)
    return section, loss, source


def _battened(floor: Floor, section: sections.Section, modulus: float) -> sections.Section:
    spacing = floor.width / (floor.battens + 1)
    if floor.batten_width >= spacing:
        raise Unfit("battens_many")
    softwood = sections.MATERIALS["softwood"]
    batten = sections.Stiffener(softwood, floor.batten_width, floor.batten_depth)
    return sections.stiffened_section(section, modulus, batten, spacing)


def _bay(floor: Floor, panel: plates.Panel) -> plates.Panel:
    """The bare panel between two battens."""
    plain, _, _ = panel_section(replace(floor, battens=0))
    width = panel.width / (floor.battens + 1)
    if plain.thickness > width:
        raise Unfit("battens_close")
    return plates.Panel(panel.length, width, plain, panel.x_edges, "SS")


def _bearers(floor: Floor, places: Places) -> Ground:
    """Two bearers along the shaft, each under one row of mounts and half the load."""
    material = sections.MATERIALS[floor.bearer_material]
    if floor.bearer_depth > floor.length:
        raise Unfit("bearers_deep")
    inertia = beams.rectangle_second_moment(floor.bearer_width, floor.bearer_depth)
    line_mass = material.density * floor.bearer_width * floor.bearer_depth
    along = [floor.length / 2 + x for x, _ in places]
    one = beams.beam_response(
        material.youngs_modulus, inertia, line_mass, floor.length, along, "SS", _BEAM_MODES
    )
    modes = [
        beams.beam_frequency(material.youngs_modulus, inertia, line_mass, floor.length, "SS", n)
        for n in (1, 2, 3)
    ]
    modes[0] /= math.sqrt(1 + floor.plate * one[0].weight / 2)
    response = tuple([beams.Resonator(r.squared, r.weight / 2) for r in one])
    drums = tuple([Drum("bearers", n, 0, f) for n, f in enumerate(modes, 1)])
    bending = material.youngs_modulus * inertia
    return Ground(
        floor.length,
        2 * floor.bearer_width,
        floor.bearer_depth,
        line_mass / floor.bearer_width,
        bending / floor.bearer_width,
        material.loss_factor,
        material.source,
        line_mass * floor.length,
        floor.plate,
        lambda f: beams.infinite_beam_mobility(bending, line_mass, f) / 2,
        lambda: response,
        lambda: drums,
        None,
    )
