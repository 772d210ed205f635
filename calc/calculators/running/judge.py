"""What one forgotten handle would do, and what would catch it."""

from __future__ import annotations

from ...frame.report import Line, Report, line
from ...system.running import THREE_WAY, Gear


def judge(gear: Gear, show: Report) -> None:
    """The guards against a dry pump and against a shut way out."""
    show.held(
        "dry",
        "What stops a pump that draws air",
        gear.against_dry,
        "",
        says=_dry_says(gear),
        note="whoever starts it and stays beside it; the low-pressure switch",
    )
    product = gear.against_shut_product
    if product is not None:
        show.held(
            "product",
            "Relief valves before the product's valve",
            product,
            "",
            says=_product_says(gear),
        )
    if not gear.relief:
        show.fail(
            "relief",
            "without a relief valve at the pump the first end that is shut or blocked bursts "
            "something",
        )
    if gear.starts_unseen:
        show.fail(
            "brine",
            "it can start by itself or from afar while the brine's valve is shut, with nobody "
            "there to look at the handle",
        )
    show.figure(
        "ways_shut",
        "Ways out that a valve can shut",
        float(gear.shuttable),
        "",
        note="of two, brine and product; besides the regulating valve",
    )


def _dry_says(gear: Gear) -> Line:
    if gear.by_itself and gear.low_pressure_switch:
        return line(
            "it can start with nobody there, and only the low-pressure switch stops it then if it "
            "draws air"
        )
    if gear.by_itself:
        return line("it can start with nobody there, and nothing stops it then if it draws air")
    if gear.low_pressure_switch:
        return line("you stand beside it as it starts, and the low-pressure switch guards it")
    return line("without a low-pressure switch only your eye and ear stop a pump that draws air")


def _product_says(gear: Gear) -> Line:
    if gear.product_relief:
        return line(
            "a valve can shut the product line, and only the relief valve before it saves line "
            "and membrane then"
        )
    return line(
        "a valve can shut the product line, and there is no relief valve before it: shut under "
        "pressure, the line bursts or the membrane tears"
    )


def remedies(gear: Gear, show: Report) -> None:
    """What would catch it."""
    if not gear.relief:
        show.remedy(
            "A relief valve at the big pump, set and sealed by its maker or a licensed workshop, "
            "with nothing between that can be shut.",
            sets={"has_relief": True},
            mends="relief",
        )
    if gear.against_shut_product is not None:
        _product(gear, show)
    if gear.starts_unseen:
        _brine(gear, show)
    elif gear.by_itself:
        show.remedy(
            "No start by a timer or from afar: you switch it on by hand, beside it.",
            sets={"remote_start": False},
            mends="dry",
        )
    if not gear.low_pressure_switch:
        show.remedy(
            "A low-pressure switch at the big pump's inlet, tried now and then: it works once in "
            "years.",
            sets={"low_pressure_switch": True},
            mends="dry",
        )


def _product(gear: Gear, show: Report) -> None:
    if gear.product_relief:
        show.remedy(
            "In place of that valve a three-way valve, waste or tank, that leaves one way open in "
            "every position. The relief valve stays."
        )
        return
    show.remedy(
        "In place of that valve a three-way valve, waste or tank, that leaves one way open in "
        "every position.",
        sets={"product_way": THREE_WAY},
        mends="product",
    )
    show.remedy(
        "A relief valve in the product line before that valve, set below what line and membrane "
        "bear, its outlet led where you see it.",
        sets={"product_relief": True},
        mends="product",
    )


def _brine(gear: Gear, show: Report) -> None:
    show.remedy(
        "No start by a timer or from afar: take that start out of use, and switch it on by hand, "
        "beside it.",
        sets={"remote_start": False},
        mends="brine",
    )
    if gear.dips:
        show.remedy(
            "A vented loop in the brine's line, its top well above the water as she heels, and no "
            "valve in it, where the code that applies to your boat allows that.",
            sets={"brine_valve": False, "brine_dips": False},
            mends="brine",
        )
    else:
        show.remedy(
            "No valve in the brine's line, as its outlet stays above the water, where the code "
            "that applies to your boat allows that.",
            sets={"brine_valve": False},
            mends="brine",
        )
