"""Cables, fuses and breakers between bank and motor, and the wiring that they make."""

from __future__ import annotations

from ..equipment.choices import PROPOSE
from ..frame.inputs import Inputs, Refusal, ask, choice, is_one_of, is_set, whole, yes_no
from ..system.cables import HEAVY_SIZES
from ..system.motor import Machine
from ..system.supply import Air
from ..system.wired import BranchGuard, Fuse, Run, Wired
from .bank import Bank, Inverter
from .generator import Generator
from .groups import ALLOWED, BRANCH, DC, PRACTICE
from .habits import Place
from .mains import MotorCable, Rules
from .motor import StartedDrive

HEAVY = {name: name for name in HEAVY_SIZES}
INSULATION = {f"{t}": f"{t} °C ({t * 9 // 5 + 32} °F)" for t in (60, 70, 75, 80, 90, 105, 125, 200)}
FUSE_CHOICES = {
    "class T": "class T (UL 248-15)",
    "gG": "gG cartridge (IEC 60269-2)",
    "strip": "strip fuse (ISO 8820-5)",
    "blade": "blade fuse (ISO 8820-3)",
    "terminal": "terminal fuse, or another of no such class",
}
BRANCH_DEVICES = {
    "inverse-time breaker": "a circuit breaker",
    "dual-element fuse": "slow (dual-element) fuses",
    "non-time-delay fuse": "quick fuses",
}
BREAKER_TYPES = {"B": "type B", "C": "type C", "D": "type D"}
LEAST_IN_ENGINE_SPACE = 343.15  # K, of insulation by ISO 10133 (from memory)


class BankSide(Inputs, part=True):
    """The cable and the fuse at the bank."""

    dc_run = ask(
        "From battery to inverter",
        "1.5 m",
        above="0 m",
        at_most="100 m",
        group=DC,
        when=is_set("has_inverter"),
        help="Along the cable, one way.",
    )
    dc_size = choice(
        "Battery cable",
        {PROPOSE: "choose it for me"} | HEAVY,
        group=DC,
        when=is_set("has_inverter"),
        help="What is there already, or what you mean to fit.",
    )
    dc_load = choice(
        "Cable and fuse are for",
        {"inverter": "all that the inverter can give", "pump": "the pump alone"},
        group=DC,
        when=is_set("has_inverter"),
        help="Somebody will switch a kettle on: size for the inverter unless nothing else is "
        "connected to it.",
    )
    dc_pairs = whole(
        "Cables in parallel on each pole",
        "1",
        at_least=1,
        at_most=4,
        group=DC,
        when=is_one_of("dc_size", *HEAVY),
        help="All of the same make, size and length, joined at both ends, behind one fuse.",
    )
    dc_insulation = choice(
        "Insulation stands",
        INSULATION,
        "105",
        group=DC,
        when=is_set("has_inverter"),
        help="As printed on the cable; ordinary PVC bears 70 °C. If you can't read it, take 60 °C. "
        "The column is that of 33 CFR 183.425 Table 5 or ISO 10133.",
    )
    dc_engine_space = yes_no(
        "It runs through the engine space", "no", group=DC, when=is_set("has_inverter")
    )
    fuse = ask(
        "Fuse",
        unit="A",
        above="0 A",
        at_most="2000 A",
        optional=True,
        group=DC,
        when=is_set("has_inverter"),
        help="Leave it empty to have it chosen.",
    )
    fuse_kind = choice(
        "Kind of fuse",
        {PROPOSE: "choose it for me"} | FUSE_CHOICES,
        group=DC,
        when=is_set("has_inverter"),
        help="Its class by its standard, as printed on it.",
    )
    fuse_breaks = ask(
        "Fuse breaks, at the bank's volts",
        unit="A",
        above="0 A",
        at_most="500 kA",
        optional=True,
        group=DC,
        when=is_one_of("fuse_kind", *FUSE_CHOICES),
        help="As printed on it or on its sheet, for direct current. Left empty: what its standard "
        "asks of its class. A terminal fuse has no such class.",
    )
    fuse_carries = ask(
        "Fuse carries the start for",
        unit="s",
        above="0 s",
        at_most="1 h",
        optional=True,
        group=DC,
        when=is_one_of("fuse_kind", *FUSE_CHOICES),
        help="Read on its maker's curve at the current of the start. Left empty: what its standard "
        "promises of its class.",
    )
    fuse_distance = ask(
        "Fuse from the battery's terminal, along the cable",
        "100 mm",
        at_least="0 mm",
        at_most="10 m",
        group=DC,
        when=is_set("has_inverter"),
        basis=PRACTICE,
        help="33 CFR 183.455 allows 7 inches, 40 in a sheath.",
    )
    fuse_sheathed = yes_no(
        "The cable up to the fuse lies in a sheath or conduit",
        "no",
        group=DC,
        when=is_set("has_inverter"),
    )
    short_circuit = ask(
        "Bank's short-circuit current, by its maker",
        unit="A",
        above="0 A",
        at_most="200 kA",
        optional=True,
        group=DC,
        when=is_set("has_inverter"),
        help="Without it, the bank's resistance is taken from its chemistry and size.",
    )

    dc_drop = ask(
        "In the battery cable, running",
        "3 %",
        above="0 %",
        at_most="20 %",
        group=ALLOWED,
        when=is_set("has_inverter"),
        help="The 3 % class of ABYC E-11 and ISO 10133: what the boat depends on.",
    )
    dc_start_drop = ask(
        "In the battery cable, at the start",
        "10 %",
        above="0 %",
        at_most="30 %",
        group=ALLOWED,
        when=is_set("has_inverter"),
        basis=PRACTICE,
    )

    def bank_run(self) -> Run:
        """The cable from the bank to the inverter."""
        size = None if self.dc_size == PROPOSE else self.dc_size
        return Run(
            self.dc_run,
            size,
            self.dc_pairs,
            _kelvin(self.dc_insulation),
            self.dc_engine_space,
            2,
            self.dc_drop,
            self.dc_start_drop,
        )

    def bank_fuse(self) -> Fuse:
        """The fuse at the bank."""
        kind = None if self.fuse_kind == PROPOSE else self.fuse_kind
        return Fuse(
            self.fuse,
            kind,
            self.fuse_breaks,
            self.fuse_carries,
            self.fuse_distance,
            self.fuse_sheathed,
        )


class MotorSide(Rules, MotorCable, part=True):
    """The motor's branch."""

    ac_insulation = choice(
        "Insulation stands",
        INSULATION,
        "105",
        group=BRANCH,
        help="As printed on the cable; ordinary PVC bears 70 °C.",
    )
    ac_engine_space = yes_no("It runs through the engine space", "no", group=BRANCH)
    ac_bundled = whole(
        "Live wires in the same bundle",
        "2",
        at_least=2,
        at_most=60,
        group=BRANCH,
        help="Line and neutral of this branch are two; the earth wire does not count. More share "
        "the ampacity by 33 CFR 183.425 Table 5, note 2.",
    )
    branch_device = choice(
        "The branch is protected by",
        BRANCH_DEVICES,
        group=BRANCH,
        when=is_one_of("wiring_rules", "us"),
        help="Its size goes by NEC Table 430.52.",
    )
    breaker_type = choice(
        "The breaker opens as",
        BREAKER_TYPES,
        "C",
        group=BRANCH,
        when=is_one_of("wiring_rules", "iso"),
        help="IEC 60898-1; the letter stands before its amperes.",
    )
    breaker = ask(
        "Breaker or fuse in the branch",
        unit="A",
        above="0 A",
        at_most="600 A",
        optional=True,
        group=BRANCH,
        help="Leave it empty to have it chosen.",
    )
    breaker_carries = ask(
        "It carries the start for",
        unit="s",
        above="0 s",
        at_most="1 h",
        optional=True,
        group=BRANCH,
        help="Of the breaker or fuse that you named: read on its maker's curve at the "
        "current of the start. Left empty: what its standard promises.",
    )
    overload = ask(
        "Overload relay set to",
        unit="A",
        above="0 A",
        at_most="200 A",
        optional=True,
        group=BRANCH,
        help="Leave it empty if the motor protects itself. An IEC relay is "
        "set to the current on the plate.",
    )

    ac_drop = ask(
        "In the cable to the motor, running",
        "3 %",
        above="0 %",
        at_most="20 %",
        group=ALLOWED,
        basis=PRACTICE,
    )
    ac_start_drop = ask(
        "In the cable to the motor, at the start",
        "10 %",
        above="0 %",
        at_most="30 %",
        group=ALLOWED,
        help="A motor need not start on less than 90 % of its volts (NEMA MG 1).",
    )

    def motor_run(self) -> Run:
        """The cable to the motor."""
        size = None if self.ac_size == PROPOSE else self.ac_size
        return Run(
            self.ac_run,
            size,
            1,
            _kelvin(self.ac_insulation),
            self.ac_engine_space,
            self.ac_bundled,
            self.ac_drop,
            self.ac_start_drop,
        )

    def branch_guard(self) -> BranchGuard:
        """What protects it."""
        device = self.breaker_type if self.wiring_rules == "iso" else self.branch_device
        return BranchGuard(device, self.breaker, self.breaker_carries, self.overload)


class Wiring(StartedDrive, MotorSide, BankSide, Inverter, Bank, Generator, part=True):
    """All of it, from what feeds it to the motor."""

    ambient_temperature = Place.ambient_temperature

    def wired(self) -> Wired:
        """The wiring. Refuses mains for another motor, and insulation where it may not lie."""
        machine = self.machine()
        cut_off = self.inverter_cut_off if self.has_inverter else None
        made = Wired(
            self.wiring_rules,
            machine,
            Air(self.ambient_temperature),
            self.house_bank(cut_off),
            self.inverter_aboard(),
            self.set(),
            self.bank_run(),
            self.bank_fuse(),
            self.motor_run(),
            self.branch_guard(),
            self.dc_load == "inverter",
            self.short_circuit,
        )
        self._check_volts(machine)
        if self.has_inverter:
            self._check_insulation("dc_insulation", made.bank_run)
        self._check_insulation("ac_insulation", made.motor_run)
        return made

    def _check_volts(self, machine: Machine) -> None:
        """Refuses a supply that is for another motor or another connection."""
        if machine.wrong_volts:
            rated = machine.plate.connected(self.ac_voltage)
            raise Refusal(
                "ac_voltage",
                "this motor is made for {rated} V; at {given} V it is the wrong motor or the wrong "
                "connection, and no cable mends that",
                rated=f"{rated:.0f}",
                given=f"{self.ac_voltage:.0f}",
            )

    def _check_insulation(self, name: str, run: Run) -> None:
        """Refuses a cable that may not lie in the engine space."""
        weak = run.insulation < LEAST_IN_ENGINE_SPACE - 0.5
        if self.wiring_rules == "iso" and run.engine_space and weak:
            raise Refusal(
                name,
                "{insulation} °C is too little in an engine space: ISO 10133 asks for 70 °C at "
                "least (from memory). Take cable of 105 °C, or lead it another way",
                insulation=f"{run.insulation - 273.15:.0f}",
            )


def _kelvin(celsius: str) -> float:
    """An insulation's rating as it is printed, in K."""
    return float(celsius) + 273.15
