"""Figures of inverter and bank that several ways share: the start, a late start, the run."""

from __future__ import annotations

from ...frame.report import Line, Option, line
from ...physics import batteries
from ...system import on_bank
from ...system.aboard import HOUR, Aboard
from ...system.bank import Bears
from ...system.held import Held
from ...system.on_bank import House, LateStart, Running, Start
from .generator import torque_figure, torque_says

ABOUT_LIMIT = {
    "hours": "held to the management's limit for hours: none for seconds is given",
    "seconds": "its limit for seconds",
    "too long": "its limit for hours: the start outlasts that for seconds",
}
AT_THE_TERMINALS = "at the bank's terminals; what the cables lose is on the page “Wiring”"
ABOUT_HOURS = {
    "stated": "the limit: as stated",
    "managed": "the limit: {r} for each Ah of {k} that a management looks after",
    "rate": "the limit: {r} for each Ah of {k} that age and cold have left",
}


def per_cent(share: float) -> tuple[float, str]:
    """A state of charge for a label: no finer than a per cent is known."""
    return round(share * 100) / 100, "%"


def surge_says(aboard: Aboard, held: Held) -> Line:
    """What a start asks of the inverter."""
    return line(
        "the start takes {p} from the inverter for {t}; it gives {m}",
        p=(held.value, "VA"),
        t=(aboard.start_time, "s"),
        m=(held.limit, "VA"),
    )


def collapse_says(held: Held) -> Line:
    """That the bank's voltage collapses at the start."""
    return line(
        "the bank's voltage collapses at the start: it can give {m}, and {p} are drawn",
        m=(held.limit, "W"),
        p=(held.value, "W"),
    )


def sag_says(aboard: Aboard, held: Held) -> Line:
    """How far the bank sags at the start."""
    return line(
        "the bank, charged to {s}, sags to {v} at the start; the inverter drops out at {c}",
        s=(aboard.bank.charge, "%"),
        v=(held.value, "V"),
        c=(held.limit, "V"),
    )


def managed_says(held: Held) -> Line:
    """What the start draws, against the battery management's limit."""
    return line(
        "the start draws {i} from the bank; its management allows {m}",
        i=(held.value, "A"),
        m=(held.limit, "A"),
    )


def start_figures(way: Option, aboard: Aboard, begun: Start) -> None:
    """A start through the inverter, on the bank as it is when water-making begins."""
    surge, charge = begun.surge, per_cent(aboard.bank.charge)
    way.held(
        "start_surge", "Inverter's load at the start", surge, "VA", says=surge_says(aboard, surge)
    )
    torque_figure(way, begun.torque, begun.torque_known)
    from_bank = line("From the bank at the start, charged to {c}", c=charge)
    if begun.collapse is not None:
        way.held("start_bank", from_bank, begun.collapse, "W", says=collapse_says(begun.collapse))
        return
    if begun.volts is not None:
        way.held(
            "start_voltage",
            line("Bank's voltage at the start, charged to {c}", c=charge),
            begun.volts,
            "V",
            says=sag_says(aboard, begun.volts),
        )
    if begun.managed is None:
        way.figure("start_amps", from_bank, begun.amps, "A")
        return
    way.held(
        "start_amps",
        from_bank,
        begun.managed,
        "A",
        says=managed_says(begun.managed),
        note=ABOUT_LIMIT[begun.limit.known_by],
    )


def start_likewise(way: Option, aboard: Aboard, begun: Start) -> None:
    """The start of a way that goes through the same bank and inverter, in one figure."""
    told: list[tuple[Held, Line]] = [
        (begun.surge, surge_says(aboard, begun.surge)),
        (begun.torque, torque_says(begun.torque)),
    ]
    if begun.collapse is not None:
        told.append((begun.collapse, collapse_says(begun.collapse)))
    if begun.volts is not None:
        told.append((begun.volts, sag_says(aboard, begun.volts)))
    if begun.managed is not None:
        told.append((begun.managed, managed_says(begun.managed)))
    worst, says = min(told, key=lambda pair: pair[0].margin)
    way.figure(
        "start",
        line("The start, charged to {c}", c=per_cent(aboard.bank.charge)),
        1 - worst.margin,
        "%",
        at_most=1.0,
        says=says,
        note="of what inverter and bank give",
    )


def late_figure(way: Option, late: LateStart) -> None:
    """A start on the bank when it is down to a charge: no verdict, but a reservation."""
    charge = per_cent(late.charge)
    if late.collapse is not None:
        way.held(
            "late_start",
            line("From the bank at a start, charged to {c}", c=charge),
            late.collapse,
            "W",
            decides=False,
            note=AT_THE_TERMINALS,
        )
        way.reservation(
            "late-start",
            "charged to {s}, the bank's voltage collapses at a start: a start later in the run may "
            "fail",
            s=(late.charge, "%"),
        )
    elif late.volts is not None:
        way.held(
            "late_start",
            line("Bank's voltage at a start, charged to {c}", c=charge),
            late.volts,
            "V",
            decides=False,
            note=AT_THE_TERMINALS,
        )
        if late.may_fail:
            way.reservation(
                "late-start",
                "charged to {s}, the bank sags to {v} at a start, and the inverter drops out at "
                "{c}: a start later in the run may fail; what the cables lose besides is on the "
                "page “Wiring”",
                s=(late.charge, "%"),
                v=(late.volts.value, "V"),
                c=(late.volts.limit, "V"),
            )


def ask_management(way: Option, aboard: Aboard, begun: Start, run: Running | None = None) -> None:
    """A lithium bank whose management's limits nobody has given: its cut-off comes unannounced.

    Small currents are only doubtful: nearly every management lets half the ampere-hours through.
    """
    if not aboard.bank.management_unknown(aboard.start_time):
        return
    at_start = 0.0 if begun.collapse else begun.amps
    for_hours = run.current.value if run and run.current else 0.0
    drawn = max(at_start, for_hours)
    if not drawn:
        return
    words = (
        "ask what the battery's management lets through: {s} for the {t} of the start and {i} "
        "for hours are drawn, and beyond its limit it switches all off"
    )
    usual = aboard.bank.kind.discharge_rate.value * aboard.bank.capacity / HOUR
    (way.reservation if drawn <= usual else way.unknown)(
        "management", words, i=(for_hours, "A"), s=(drawn, "A"), t=(aboard.start_time, "s")
    )


def run_figures(
    way: Option, aboard: Aboard, house: House, run: Running, to_its_end: bool = True
) -> None:
    """A run through the inverter; not `to_its_end` where the days decide how long it lasts."""
    if run.air is not None:
        way.held(
            "inverter_air",
            "Air round the inverter",
            run.air,
            "°C",
            says=line(
                "the inverter stands in air of {t} and switches off above {m}",
                t=(run.air.value, "°C"),
                m=(run.air.limit, "°C"),
            ),
            note=""
            if on_bank.inverter_of(aboard).mains
            else "the limit is common practice; its plate counts",
        )
    apparent = run.apparent
    way.held(
        "apparent",
        "Inverter's load",
        apparent,
        "VA",
        says=line(
            "the inverter has {p} to carry for hours and gives {m} in this heat",
            p=(apparent.value, "VA"),
            m=(apparent.limit, "VA"),
        ),
    )
    if run.a_tenth_less is not None:
        way.reservation(
            "less-charging",
            "with a tenth less charging current the bank lasts {t}; {w} a day are wanted",
            t=(on_bank.told_hours(run.a_tenth_less), "h"),
            w=(aboard.habits.run, "h"),
        )
    if run.carried is not None:
        way.held(
            "carried", "Pump and house, of the charging current", run.carried, "A", decides=False
        )
        way.figure("surplus", "Left over for the bank, at its present charge", run.surplus, "W")
        return
    if run.collapse is not None:
        way.held(
            "bank_power",
            "From the bank while running",
            run.collapse,
            "W",
            says=line(
                "the bank's voltage collapses: it can give {m}, and {p} are drawn",
                m=(run.collapse.limit, "W"),
                p=(run.collapse.value, "W"),
            ),
        )
        return
    _bank_figures(way, aboard, run, to_its_end)
    if run.frost is not None:
        freezes = batteries.freezing_point(aboard.bank.kind, house.reserve)
        way.held(
            "frost",
            "Charge to stay in the bank, against frost",
            run.frost,
            "%",
            says=line(
                "emptied to {c}, the bank's acid freezes at {f}, and the bank is at {t}",
                c=(house.reserve, "%"),
                f=(freezes or 0.0, "°C"),
                t=(aboard.bank.temperature, "°C"),
            ),
        )
    if run.time is None or not to_its_end:
        return
    hours = on_bank.told_hours(run.time)
    label = line("Hours to {c} left in the bank", c=per_cent(house.reserve))
    note = "" if hours else "under 1 min"
    if run.hours is None:
        way.figure("hours", label, hours, "h", note=note)
        return
    way.held(
        "hours",
        label,
        run.hours,
        "h",
        says=line(
            "the bank lasts {t}; {w} a day are wanted", t=(hours, "h"), w=(run.hours.limit, "h")
        ),
        note=note,
    )


def _bank_figures(way: Option, aboard: Aboard, run: Running, to_its_end: bool) -> None:
    """What a run asks of the bank, its hours apart."""
    if run.current is not None and run.limit is not None:
        way.held(
            "bank_current",
            "From the bank while running",
            run.current,
            "A",
            note=about_hours(aboard, run.limit),
            says=line(
                "the pump and the house draw {i} from the bank; {m} is as much as it bears for "
                "hours",
                i=(run.current.value, "A"),
                m=(run.current.limit, "A"),
            ),
        )
    if run.managed is not None:
        way.held(
            "bms_current",
            "The same, by the battery management",
            run.managed,
            "A",
            says=line(
                "the pump and the house draw {i} from the bank; its management allows {m}",
                i=(run.managed.value, "A"),
                m=(run.managed.limit, "A"),
            ),
        )
    if run.end_volts is not None and to_its_end:
        way.held(
            "end_voltage",
            "Bank's voltage at the end of the run",
            run.end_volts,
            "V",
            says=line(
                "the bank ends its run at {v}; the inverter drops out at {c}",
                v=(run.end_volts.value, "V"),
                c=(run.end_volts.limit, "V"),
            ),
        )


def about_hours(aboard: Aboard, limit: Bears) -> Line:
    """Where the current that a bank bears for hours comes from."""
    words = ABOUT_HOURS[limit.known_by]
    if limit.known_by == "stated":
        return line(words)
    return line(words, r=(limit.rate, "A"), k=aboard.bank.kind.name)
