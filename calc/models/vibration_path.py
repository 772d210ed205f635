"""The way of a unit's shaking into the boat: sources, mounts, floor; for mount and noise alike.

Axes of the unit: x along the shaft towards the motor, y across it, z away from the floor; the
middle of the feet is the origin of `Isolator.places`, the centre of gravity that of the modes.
"""

from __future__ import annotations

import math
from collections.abc import Callable, Sequence
from dataclasses import dataclass
from functools import cached_property, lru_cache
from typing import NamedTuple

from ..equipment.choices import CORED_FLOORS
from ..frame.inputs import Inputs, Refusal, Values, but
from ..physics import pumps, rubber, sound, structures, vibration
from ..sheet import BoatSheet as boat
from ..sheet.groups import SIZE

GRAVITY = vibration.STANDARD_GRAVITY

HARD = 1e9
"""Stiffness [N/m] of a foot bolted down: far above any floor's."""

MOTOR_BALANCE, CRANK_BALANCE = 0.0063, 0.016
"""Balance grades [m/s] of motor and crank, G 6.3 and G 16, and their turning share of the mass:
common practice, no source."""
TURNING_SHARE = 0.35

ROD_RATIO = 1 / 6
"""Crank radius over rod length of a small plunger pump: common practice, no source."""


Places = tuple[tuple[float, float], ...]


class PathInputs(Inputs):
    """What both ask about the unit, its mounts and the floor; all but the unit folded."""

    unit = boat.unit
    mount_by = but(boat.mount_by, open=False)
    rubber_diameter = but(boat.rubber_diameter, open=False)
    rubber_height = but(boat.rubber_height, open=False)
    mount_stiffness = but(boat.mount_stiffness, open=False)
    mount_deflection = but(boat.mount_deflection, open=False)
    pad_thickness = but(boat.pad_thickness, open=False)
    shore = but(boat.shore, open=False)
    floor_form = boat.floor_form
    floor_material = but(boat.floor_material, open=False)
    floor_thickness = but(boat.floor_thickness, open=False)
    skin_thickness = but(boat.skin_thickness, open=False)
    core_thickness = but(boat.core_thickness, open=False)
    floor_length = but(boat.floor_length, open=False)
    floor_width = but(boat.floor_width, open=False)
    unit_mass = boat.unit_mass
    unit_length = boat.unit_length
    unit_width = boat.unit_width
    unit_height = boat.unit_height
    cg_height = boat.cg_height
    cg_along = boat.cg_along
    motor_speed = boat.motor_speed
    speed_ratio = boat.speed_ratio
    plungers = boat.plungers
    single_phase = boat.single_phase
    ac_frequency = but(boat.ac_frequency, group=SIZE)
    mount_count = boat.mount_count
    span_along = boat.span_along
    span_across = boat.span_across
    pad_length = boat.pad_length
    pad_width = boat.pad_width
    rubber = boat.rubber
    mount_rating = boat.mount_rating
    dynamic_ratio = boat.dynamic_ratio
    side_ratio = boat.side_ratio
    floor_edges = boat.floor_edges
    doubler = boat.doubler
    battens = boat.battens
    batten_width = boat.batten_width
    batten_depth = boat.batten_depth
    bearer_material = boat.bearer_material
    bearer_width = boat.bearer_width
    bearer_depth = boat.bearer_depth
    floor_plate = boat.floor_plate
    locker_length = boat.locker_length
    locker_width = boat.locker_width
    locker_height = boat.locker_height


# ---- mounts ----


@dataclass(frozen=True)
class Isolator:
    """A set of equal mounts.

    places [(x, y), …] from the middle of the feet [m]; each: static stiffness of one, pressed, and
    side: sheared [N/m]; ratio: shaken over static; loss: loss factor; height: of the rubber [m];
    rating, side_rating: load that one carries for good, pressed and sheared [N]; buckles: the load
    at which one gives way sideways [N], infinite where nobody tells its size; low, high: the band
    of its stiffness over `each`.
    """

    places: Places
    each: float
    side: float
    ratio: float
    loss: float
    height: float
    rating: float
    side_rating: float
    buckles: float = math.inf
    low: float = 1.0
    high: float = 1.0

    @property
    def shaken(self) -> float:
        """Stiffness [N/m] of all mounts together, pressed, when shaken."""
        return self.each * self.ratio * len(self.places)

    @property
    def static(self) -> float:
        """Stiffness [N/m] of all mounts together, pressed, at rest."""
        return self.each * len(self.places)


def mount_places(count: int, along: float, across: float) -> Places:
    """Places (x, y) [m] of 3 to 6 mounts over a rectangle: corners first.

    Three: two at the motor, one at the pump; five: one in the middle; six: two amidships.
    """
    x, y = along / 2, across / 2
    if count == 3:
        return ((x, y), (x, -y), (-x, 0.0))
    corners = ((x, y), (x, -y), (-x, y), (-x, -y))
    more = {4: (), 5: ((0.0, 0.0),), 6: ((0.0, y), (0.0, -y))}[count]
    return corners + more


def isolator(q: Values, *, hangs: bool = False) -> Isolator:
    """The mounts as asked, under a unit that stands on them or `hangs` from them."""
    places = mount_places(q.mount_count, q.span_along, q.span_across)
    loss = rubber.RUBBERS[q.rubber].loss_factor
    pressed = 0.0 if hangs else q.unit_mass * GRAVITY / len(places)
    if q.mount_by == "hard":
        return Isolator(places, HARD, HARD, 1.0, 0.02, 0.0, math.inf, math.inf)
    if q.mount_by == "rubber":
        disc = (q.rubber_diameter, q.rubber_height)
        return _by_size(places, loss, q.shore, rubber.disc_mount, disc, pressed)
    if q.mount_by == "pad":
        block = (q.pad_length, q.pad_width, q.pad_thickness)
        return _by_size(places, loss, q.shore, rubber.block_mount, block, pressed)
    each = (
        q.mount_stiffness
        if q.mount_by == "stiffness"
        else q.unit_mass * GRAVITY / q.mount_deflection / len(places)
    )
    rating = q.mount_rating * GRAVITY
    return Isolator(
        places,
        each,
        each * q.side_ratio,
        q.dynamic_ratio,
        loss,
        0.025,
        rating,
        rating * q.side_ratio,
    )


@lru_cache(maxsize=8)
def _by_size(
    places: Places,
    loss: float,
    shore: float,
    made: Callable[..., rubber.RubberMount],
    sizes: tuple[float, ...],
    pressed: float,
) -> Isolator:
    """Mounts by size and hardness, at the middle of the two published moduli, each pressed by a
    load [N] at rest: sideways that makes them softer."""
    band = rubber.modulus_band(shore)
    middle = math.sqrt(band.low * band.high)
    one = made(middle, *sizes)
    return Isolator(
        places,
        one.compression,
        rubber.side_stiffness(one.rigidity, one.bending, one.height, pressed),
        rubber.dynamic_ratio(shore),
        loss,
        one.height,
        rubber.COMPRESSION_LIMIT * one.height * one.compression,
        rubber.SHEAR_LIMIT * one.height * one.shear,
        rubber.buckling_load(one.rigidity, one.bending, one.height),
        band.low / middle,
        band.high / middle,
    )


def body(q: Values) -> vibration.RigidBody:
    """The unit as an even box: good for small units; a maker's inertias would be better."""
    return vibration.box_body(q.unit_mass, q.unit_length, q.unit_width, q.unit_height)


def springs(q: Values, iso: Isolator, ratio: float) -> tuple[vibration.Mount, ...]:
    """The mounts about the centre of gravity, their stiffness times `ratio`."""
    z = -(q.cg_height + iso.height / 2)
    k, side = iso.each * ratio, iso.side * ratio
    return tuple([vibration.Mount(x - q.cg_along, y, z, side, side, k) for x, y in iso.places])


@lru_cache(maxsize=8)
def modes(
    box: vibration.RigidBody, lifted: tuple[vibration.Mount, ...]
) -> tuple[vibration.Mode, ...]:
    """The six motions of a unit on its mounts, lowest first."""
    return vibration.rigid_body_modes(box, lifted)


def check_standing(q: Values, iso: Isolator) -> float:
    """Distance [m] from the centre of gravity to the nearest tipping edge; refuses none."""
    margin = _tipping_margin(q.cg_along, iso.places)
    if margin <= 0:
        raise Refusal(
            "cg_along",
            "the centre of gravity lies outside the mounts: the unit tips over. Move the mounts "
            "apart or under the motor",
        )
    return margin


@lru_cache(maxsize=8)
def _tipping_margin(along: float, places: Places) -> float:
    return vibration.stability_margin((along, 0.0), places)


# ---- floor ----


Drum = tuple[str, float]

UNSURE = 1.25
"""A floor's notes may lie so many times higher or lower than they are worked out: wood and laminate
scatter by a quarter in stiffness, and edges are neither quite free to turn nor quite held. Common
practice, no source."""
_COULD_BE = tuple([UNSURE ** (i / 10) for i in range(-10, 11)])
MANY = 12
"""From so many modes below a frequency on, a floor is taken as endless: the mean over its modes."""
_MODES = 49  # how many modes of a panel are counted
_BEAM_MODES = 7


@dataclass(frozen=True)
class Floor:
    """What the unit stands on.

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
    find_response: Callable[[], tuple[structures.Resonator, ...]]
    find_drums: Callable[[], tuple[Drum, ...]]
    panel: structures.Panel | None

    @cached_property
    def response(self) -> tuple[structures.Resonator, ...]:
        """Its modes under the mounts."""
        return self.find_response()

    @cached_property
    def drums(self) -> tuple[Drum, ...]:
        """Label and frequency [Hz] of its lowest modes."""
        return self.find_drums()

    @cached_property
    def few_below(self) -> float:
        """Frequency [Hz] up to which its modes are few enough to be counted one by one."""
        lowest = sorted([r.squared for r in self.response])
        return math.sqrt(lowest[min(MANY, len(lowest)) - 1]) / (2 * math.pi)

    def could_be(self, frequency: float) -> tuple[structures.Driven, ...]:
        """What it does at a frequency [Hz], with its notes at each place where they may lie.

        Where its modes are many, one answer: that of an endless floor.
        """
        found = self._found
        if frequency not in found:
            bare = _bare(self, frequency)
            found[frequency] = tuple([_loaded(d, frequency, self.plate) for d in bare])
        return found[frequency]

    def as_told(self, frequency: float) -> structures.Driven:
        """What it does at a frequency [Hz] with its notes just where they are worked out."""
        could = self.could_be(frequency)
        return could[len(could) // 2]

    def mobilities(self, frequency: float) -> tuple[complex, ...]:
        """The mobilities [m/(N s)] of `could_be`."""
        return tuple([d.mobility for d in self.could_be(frequency)])

    @cached_property
    def stiffness(self) -> float:
        """Stiffness [N/m] under the mounts at rest."""
        return structures.static_stiffness(self.response)

    @cached_property
    def critical(self) -> float:
        """Coincidence frequency [Hz]."""
        return sound.critical_frequency(self.bending, self.mass_per_area)

    @cached_property
    def _found(self) -> dict[float, tuple[structures.Driven, ...]]:
        return {}


def _bare(under: Floor, frequency: float) -> list[structures.Driven]:
    if frequency > under.few_below:
        mobility = under.endless(frequency)
        squared = sound.panel_velocity(1.0, mobility, frequency, under.loss, under.driven)
        return [structures.Driven(complex(mobility), squared)]
    found = []
    for up in _COULD_BE:
        # Notes higher by `up`, of a floor as heavy, are this floor's that much farther down.
        made = structures.driven(under.response, under.loss, frequency / up, under.driven)
        found.append(structures.Driven(made.mobility / up, made.squared / up**2))
    return found


def _loaded(bare: structures.Driven, frequency: float, plate: float) -> structures.Driven:
    """A floor with a mass [kg] bolted on where the force acts."""
    if not plate:
        return bare
    takes = 1 + 2j * math.pi * frequency * plate * bare.mobility
    return structures.Driven(bare.mobility / takes, bare.squared / abs(takes) ** 2)


_EDGES: dict[str, tuple[structures.Edges, structures.Edges]] = {
    "supported": ("SS", "SS"),
    "clamped": ("CC", "CC"),
    "two": ("SS", "FF"),
    "shelf": ("FF", "CF"),
}


def floor(q: Values, places: Places) -> Floor:
    """The floor as asked, with the mounts about its middle.

    Refuses a panel thicker than wide, and mounts that stand off it.
    """
    if max(abs(x) for x, _ in places) > q.floor_length / 2:
        raise Refusal("span_along", "the mounts stand farther apart than their floor is long")
    if q.floor_form == "bearers":
        return _bearers(q, places)
    if max(abs(y) for _, y in places) > q.floor_width / 2:
        raise Refusal("span_across", "the mounts stand farther apart than their floor is wide")
    section, loss, source = panel_section(q)
    panel = _panel(q, section)
    bay = _bay(q, panel) if q.battens else None
    mobility = structures.infinite_plate_mobility(section.mean, section.mass)
    return Floor(
        q.floor_length,
        q.floor_width,
        section.thickness,
        section.mass,
        section.mean,
        loss,
        source,
        section.mass * panel.area,
        q.floor_plate,
        lambda _: mobility,
        lambda: _panel_response(panel, places),
        lambda: _panel_drums(panel, bay, places, q.floor_plate),
        panel,
    )


@lru_cache(maxsize=32)
def _panel_response(panel: structures.Panel, places: Places) -> tuple[structures.Resonator, ...]:
    x, y = panel.length / 2, panel.width / 2
    along = round(math.sqrt(_MODES * panel.length / panel.width))
    along = min(max(along, 2), _MODES // 2)
    return structures.panel_response(
        panel, [(x + px, y + py) for px, py in places], along, round(_MODES / along)
    )


@lru_cache(maxsize=8)
def _panel_drums(
    panel: structures.Panel, bay: structures.Panel | None, places: Places, plate: float
) -> tuple[Drum, ...]:
    """The lowest notes; a plate under the mounts lowers each as far as the mode moves there."""
    drums = []
    for m in structures.panel_modes(panel, 6, 4):
        lowered = 1.0
        if plate:
            x, y = panel.length / 2, panel.width / 2
            at = [(x + px, y + py) for px, py in places]
            lowered += plate * structures.mode_weight(panel, at, m.nx, m.ny)
        drums.append((f"panel, {m.nx} × {m.ny}", m.frequency / math.sqrt(lowered)))
    if bay:
        drums.append(("bay between battens", structures.mode_frequency(bay, 1, 1)))
    return tuple(sorted(drums, key=lambda d: d[1]))


def _panel(q: Values, section: structures.Section) -> structures.Panel:
    if section.thickness > min(q.floor_length, q.floor_width):
        name = "skin_thickness" if q.floor_material in CORED_FLOORS else "floor_thickness"
        raise Refusal(name, "the panel is thicker than it is wide; is a size in the wrong unit?")
    return structures.Panel(q.floor_length, q.floor_width, section, *_EDGES[q.floor_edges])


def panel_section(q: Values) -> tuple[structures.Section, float, str]:
    """The panel's section, loss factor and the source of its values."""
    if q.floor_material in CORED_FLOORS:
        skin = structures.MATERIALS["grp_csm"]
        core = structures.CORES[q.floor_material.removeprefix("cored_")]
        section = structures.sandwich_section(skin, q.skin_thickness, core, q.core_thickness)
        modulus = skin.youngs_modulus * 2 * q.skin_thickness / section.thickness
        loss, source = skin.loss_factor, f"{core.name}: {core.source}"
    else:
        base = structures.MATERIALS[q.floor_material]
        layers = [(base, q.floor_thickness)]
        if q.doubler > 0:
            layers.append((structures.MATERIALS["plywood"], q.doubler))
        section = structures.layered_section(layers)
        modulus, loss, source = base.youngs_modulus, base.loss_factor, base.source
    if q.battens:
        section = _battened(q, section, modulus)
    return section, loss, source


def _battened(q: Values, section: structures.Section, modulus: float) -> structures.Section:
    spacing = q.floor_width / (q.battens + 1)
    if q.batten_width >= spacing:
        raise Refusal("battens", "so many battens of this width do not fit side by side")
    batten = structures.Stiffener(structures.MATERIALS["softwood"], q.batten_width, q.batten_depth)
    return structures.stiffened_section(section, modulus, batten, spacing)


def _bay(q: Values, panel: structures.Panel) -> structures.Panel:
    """The bare panel between two battens."""
    plain, _, _ = panel_section(Values(vars(q) | {"battens": 0}))
    width = panel.width / (q.battens + 1)
    if plain.thickness > width:
        raise Refusal("battens", "the battens stand closer together than the panel is thick")
    return structures.Panel(panel.length, width, plain, panel.x_edges, "SS")


def _bearers(q: Values, places: Places) -> Floor:
    """Two bearers along the shaft, each under one row of mounts and half the load."""
    material = structures.MATERIALS[q.bearer_material]
    if q.bearer_depth > q.floor_length:
        raise Refusal("bearer_depth", "the bearers are deeper than they are long")
    inertia = structures.rectangle_second_moment(q.bearer_width, q.bearer_depth)
    line_mass = material.density * q.bearer_width * q.bearer_depth
    along = [q.floor_length / 2 + x for x, _ in places]
    one = structures.beam_response(
        material.youngs_modulus, inertia, line_mass, q.floor_length, along, "SS", _BEAM_MODES
    )
    modes = [
        structures.beam_frequency(
            material.youngs_modulus, inertia, line_mass, q.floor_length, "SS", n
        )
        for n in (1, 2, 3)
    ]
    lowered = math.sqrt(1 + q.floor_plate * one[0].weight / 2)
    response = tuple([structures.Resonator(r.squared, r.weight / 2) for r in one])
    drums = (("bearers, 1", modes[0] / lowered), ("bearers, 2", modes[1]), ("bearers, 3", modes[2]))
    bending = material.youngs_modulus * inertia
    return Floor(
        q.floor_length,
        2 * q.bearer_width,
        q.bearer_depth,
        line_mass / q.bearer_width,
        bending / q.bearer_width,
        material.loss_factor,
        material.source,
        line_mass * q.floor_length,
        q.floor_plate,
        lambda f: structures.infinite_beam_mobility(bending, line_mass, f) / 2,
        lambda: response,
        lambda: drums,
        None,
    )


# ---- sources ----


class Source(NamedTuple):
    """What shakes at a frequency [Hz]: load on the unit, forces [N] and moments [N m] (amplitudes).

    how: what the load is taken to be.
    """

    key: str
    name: str
    frequency: float
    load: tuple[float, float, float, float, float, float]
    how: str


def pump_torque(q: Values) -> float:
    """Mean torque [N m] at the pump's shaft at working pressure: the same at every speed."""
    turn = q.unit.pump.flow / q.unit.pump.rated_speed
    power = pumps.shaft_power(turn, q.unit.pressure, q.unit.pump.efficiency)
    return power / (2 * math.pi)


def sources(q: Values) -> tuple[Source, ...]:
    """All sources, lowest first."""
    return _sources(
        pump_torque(q),
        q.unit.pump.mass,
        q.unit.motor.mass,
        q.unit_length,
        q.motor_speed,
        q.speed_ratio,
        q.plungers,
        q.ac_frequency if q.single_phase else 0.0,
    )


@lru_cache(maxsize=8)
def _sources(
    torque: float,
    pump_mass: float,
    motor_mass: float,
    length: float,
    motor_speed: float,
    speed_ratio: float,
    plungers: int,
    mains: float,
) -> tuple[Source, ...]:
    """All sources by the pump's torque [N m], masses [kg], length [m] and speeds [rev/s, Hz].

    Inside one base the pump's and the motor's mean torques cancel; what shakes is what the turning
    masses take up: the ripple of the pump's torque and the whole pulse of a single-phase motor's.
    Common practice, no source: an estimate, ±6 dB.
    """
    crank = motor_speed * speed_ratio
    ripple = vibration.flow_ripple(plungers, ROD_RATIO, 2).harmonics
    geared = not math.isclose(speed_ratio, 1.0, rel_tol=0.005)
    loads = {
        "pump crank": _unbalance(length, pump_mass, CRANK_BALANCE, crank, -1.0)
        if geared
        else _unbalance(length, motor_mass, MOTOR_BALANCE, crank, 1.0),
        "motor shaft": _unbalance(length, motor_mass, MOTOR_BALANCE, motor_speed, 1.0),
        "plungers": _twist(torque * ripple[0]),
        "plungers, 2nd harmonic": _twist(torque * ripple[1]),
        "torque at twice the mains": _twist(torque * speed_ratio),
    }
    names = {
        "pump crank": ("crank", "shaft turning" if speed_ratio == 1 else "pump crank turning"),
        "motor shaft": ("shaft", "motor shaft turning"),
        "plungers": ("plungers", "plungers passing"),
        "plungers, 2nd harmonic": ("plungers2", "plungers, second harmonic"),
        "torque at twice the mains": ("hum", "motor's hum, twice the mains"),
    }
    how = {
        "pump crank": "unbalance G 6.3 or G 16",
        "motor shaft": "unbalance G 6.3",
        "plungers": "ripple of the pump's torque",
        "plungers, 2nd harmonic": "ripple of the pump's torque",
        "torque at twice the mains": "the whole torque pulses",
    }
    lines = vibration.source_lines(motor_speed, crank, plungers, mains)
    return tuple(Source(*names[s.name], s.frequency, loads[s.name], how[s.name]) for s in lines)


def _twist(moment: float) -> tuple[float, float, float, float, float, float]:
    return (0.0, 0.0, 0.0, moment, 0.0, 0.0)


def _unbalance(
    length: float, mass: float, grade: float, speed: float, end: float
) -> tuple[float, float, float, float, float, float]:
    """Turning force at the motor's (end 1) or the pump's middle, a quarter of the length away."""
    force = vibration.unbalance_force(TURNING_SHARE * mass, grade, speed)
    arm = end * length / 4
    return (0.0, force, force, 0.0, -force * arm, force * arm)


def loudest(found: Sequence[Source]) -> Source:
    """The source that people hear: the hum where there is one, else the plungers."""
    by_key = {s.key: s for s in found}
    return by_key.get("hum") or by_key["plungers"]


# ---- together ----


class StructureBorne(NamedTuple):
    """What a source does to the floor: force on it [N, rms of all mounts] with its notes as told,
    and the sound power [W] that the floor then radiates on one side: the mean over the places where
    its notes may lie, the least and the most."""

    source: Source
    force: float
    power: float
    least: float
    most: float


def structure_borne(q: Values, iso: Isolator, under: Floor) -> tuple[StructureBorne, ...]:
    """Force on the floor and sound from it by source.

    Forces of the mounts are added as if they kept no time with each other. The forces inside the
    unit are an estimate, ±6 dB.
    """
    found = []
    shaking = sources(q)
    pushes = _pushes(body(q), springs(q, iso, iso.ratio), iso.loss, shaking)
    for source, push in zip(shaking, pushes, strict=True):
        f, could = source.frequency, under.could_be(source.frequency)
        held = vibration.mass_mobility(q.unit_mass, f)
        held += vibration.spring_mobility(iso.shaken, iso.loss, f)
        forces = [push * abs(held / (held + d.mobility)) for d in could]
        ups = _COULD_BE if len(could) > 1 else (0.0,)
        powers = [
            _radiated(force, d.squared, f, under, up)
            for force, d, up in zip(forces, could, ups, strict=True)
        ]
        found.append(
            StructureBorne(
                source,
                forces[len(forces) // 2],
                sum(powers) / len(powers),
                min(powers),
                max(powers),
            )
        )
    return tuple(found)


@lru_cache(maxsize=8)
def _pushes(
    box: vibration.RigidBody,
    lifted: tuple[vibration.Mount, ...],
    loss: float,
    shaking: tuple[Source, ...],
) -> tuple[float, ...]:
    """Force [N, rms of all mounts] that each source puts on a rigid floor."""
    moved = modes(box, lifted)
    found = []
    for source in shaking:
        forces = vibration.forces_through_mounts(moved, lifted, source.load, source.frequency, loss)
        found.append(math.sqrt(sum([abs(z) ** 2 for _, _, z in forces]) / 2))
    return tuple(found)


def _radiated(force: float, squared: float, f: float, under: Floor, up: float) -> float:
    """Sound power [W] of a floor whose notes lie so many times higher; 0: of an endless one, whose
    modes do not hold what moves near the feet."""
    area = under.length * under.width
    sigma = sound.radiation_efficiency(f, under.length, under.width, under.critical / (up or 1.0))
    power = sound.radiated_power(force * force * squared, area, sigma)
    return power if up else power + sound.near_field_power(force, under.mass_per_area)
