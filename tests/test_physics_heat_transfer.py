"""Air, walls, sun, openings, fans and insulation: against other libraries, and their own laws."""

import math
from bisect import bisect_left

import pytest
from CoolProp.CoolProp import HAPropsSI, PropsSI
from ht import Nu_free_horizontal_plate, Nu_free_vertical_plate
from hypothesis import given
from hypothesis import strategies as st

from calc.physics import air, heat, insulation_class, roots, ventilation

temperatures = st.floats(263.0, 373.0)
openings = st.floats(0.0, 0.1)
heights = st.floats(0.0, 2.0)


@pytest.mark.parametrize("celsius", [-10, 0, 20, 35, 50, 70, 100])
def test_dry_air_agrees_with_coolprop(celsius: float) -> None:
    kelvin = celsius + 273.15

    def real(name: str) -> float:
        return float(PropsSI(name, "T", kelvin, "P", air.ATMOSPHERE, "Air"))

    assert air.density(kelvin) == pytest.approx(real("D"), rel=0.001)
    assert pytest.approx(real("C"), rel=0.005) == air.HEAT_CAPACITY


@pytest.mark.parametrize("celsius", [5, 20, 30, 45])
@pytest.mark.parametrize("humidity", [0.2, 0.6, 0.95])
def test_moist_air_agrees_with_coolprop(celsius: float, humidity: float) -> None:
    kelvin = celsius + 273.15

    def real(name: str) -> float:
        return float(HAPropsSI(name, "T", kelvin, "P", air.ATMOSPHERE, "R", humidity))

    # Vda is the volume of a kilogram of dry air, W the water with it.
    expected = (1 + real("W")) / real("Vda")
    assert air.density(kelvin, relative_humidity=humidity) == pytest.approx(expected, rel=0.002)
    saturated = float(PropsSI("P", "T", kelvin, "Q", 1, "Water"))
    assert air.saturation_pressure(kelvin) == pytest.approx(saturated, rel=0.005)
    if real("D") > 273.15:  # below it the library gives the frost point
        assert air.dew_point(kelvin, humidity) == pytest.approx(real("D"), abs=0.1)


@given(temperatures, st.floats(0.05, 1.0))
def test_dew_point_is_where_the_vapour_saturates(kelvin: float, humidity: float) -> None:
    dew = air.dew_point(kelvin, humidity)
    assert dew <= kelvin + 1e-9
    assert air.saturation_pressure(dew) == pytest.approx(air.vapour_pressure(kelvin, humidity))


@given(temperatures, temperatures, openings, openings, heights)
def test_draught_grows_with_openings_and_never_with_nothing(
    inside: float, outside: float, low: float, high: float, apart: float
) -> None:
    pair = ventilation.effective_area(low, high)
    assert pair <= min(low, high) + 1e-12
    assert ventilation.effective_area(low, high + 0.01) >= pair * (1 - 1e-12)  # the last bit
    flow = ventilation.stack_flow(pair, apart, inside, outside)
    assert flow == ventilation.stack_flow(pair, apart, outside, inside)
    assert ventilation.stack_flow(pair, apart + 0.1, inside, outside) >= flow * (1 - 1e-12)
    assert ventilation.stack_flow(pair, apart, inside, inside) == 0


@given(st.floats(1e-4, 0.5), st.floats(1.0, 500.0), st.floats(0.0, 1e7))
def test_a_fan_meets_its_system(free: float, shutoff: float, resistance: float) -> None:
    flow = ventilation.fan_flow(free, shutoff, resistance)
    assert 0 <= flow <= free * (1 + 1e-9)
    fan = shutoff * (1 - (flow / free) ** 2)
    assert ventilation.pressure_drop(flow, resistance) == pytest.approx(fan, abs=1e-6 * shutoff)


@given(st.floats(0.0, 1e6))
def test_a_measured_curve_agrees_with_the_parabola_it_came_from(resistance: float) -> None:
    free, shutoff = 0.05, 120.0
    flows = [free * i / 200 for i in range(201)]
    curve = [(flow, shutoff * (1 - (flow / free) ** 2)) for flow in flows]
    assert ventilation.curve_flow(curve, resistance) == pytest.approx(
        ventilation.fan_flow(free, shutoff, resistance), rel=1e-3
    )


def test_a_fan_moves_nothing_into_a_sealed_box() -> None:
    shut = ventilation.opening_resistance(0.0)
    assert math.isinf(shut)
    assert ventilation.fan_flow(0.05, 100, ventilation.parallel_resistance([shut, shut])) == 0
    assert ventilation.curve_flow([(0, 100), (0.05, 0)], shut) == 0


def test_openings_side_by_side_act_as_one() -> None:
    one = ventilation.opening_resistance(0.01)
    both = ventilation.parallel_resistance([one, one, math.inf])
    assert both == pytest.approx(ventilation.opening_resistance(0.02))


def convection(fluid: str, kelvin: float, rise: float, length: float, up: bool | None) -> float:
    """Free convection [W/(m² K)] from a face that is so much warmer, upright unless it looks up or
    down, by ht's correlations with CoolProp's properties of the fluid."""

    def real(name: str) -> float:
        return float(PropsSI(name, "T", kelvin, "P", air.ATMOSPHERE, fluid))

    prandtl = real("C") * real("V") / real("L")
    expansion = 9.80665 * real("ISOBARIC_EXPANSION_COEFFICIENT") * rise
    grashof = expansion * length**3 * (real("D") / real("V")) ** 2
    if up is None:
        nusselt = Nu_free_vertical_plate(prandtl, grashof)
    else:
        nusselt = Nu_free_horizontal_plate(prandtl, grashof, up)
    return float(nusselt) * real("L") / length


@pytest.mark.parametrize(
    ("way", "length", "up"), [("sideways", 0.42, None), ("up", 0.15, True), ("down", 0.15, False)]
)
def test_a_lockers_faces_resist_as_free_convection_and_radiation_do(
    way: str, length: float, up: bool | None
) -> None:
    """ht 1.2: three kelvins between a face and still air, a locker of 90 × 45 × 42 cm (area over
    edge of a lying face: 15 cm); radiation at 20 °C with an emittance of 0.9 (ISO 6946 annex C)."""
    radiation = 4 * 0.9 * 5.670374e-8 * 293.15**3
    resists = 1 / (convection("Air", 298.15, 3.0, length, up) + radiation)
    told = heat.SURFACE_RESISTANCE[f"inside, heat flows {way}"]
    assert told == pytest.approx(resists, rel=0.15)


def test_a_hull_gives_its_heat_to_still_water_as_free_convection_does() -> None:
    """ht 1.2: a kelvin between half a metre of hull and the sea."""
    resists = 1 / convection("Water", 291.15, 1.0, 0.5, None)
    assert pytest.approx(resists, rel=0.15) == heat.WATER_SURFACE_RESISTANCE


@given(temperatures, st.floats(0.0, 1000.0), st.floats(0.0, 1.0))
def test_sun_never_cools(outside: float, sun: float, absorptance: float) -> None:
    assert heat.sol_air(outside, sun, absorptance) >= outside


@given(st.sampled_from("ABF"), temperatures)
def test_a_hot_place_takes_from_the_rise_what_it_adds_to_the_air(
    letter: str, ambient: float
) -> None:
    rise = insulation_class.allowed_rise(letter, ambient)
    rated = insulation_class.insulation_class(letter).rise
    if ambient <= 313.15:
        assert rise == rated
    else:
        assert ambient + rise == pytest.approx(max(313.15 + rated, ambient))


@given(temperatures, temperatures, temperatures)
def test_life_ratios_multiply(a: float, b: float, c: float) -> None:
    life = insulation_class.relative_life
    assert life(a, b) * life(b, c) == pytest.approx(life(a, c))
    assert life(a + 10, b) == pytest.approx(life(a, b) / 2)


@given(st.floats(0.01, 100.0), st.floats(0.01, 10.0))
def test_the_least_that_fits_fits_and_hardly_less_does(size: float, power: float) -> None:
    def excess(x: float) -> float:
        return 40 * ((size / x) ** power - 1)

    found = roots.least_that_fits(excess, size / 50, size * 50)
    assert -0.02 <= excess(found) <= 0 or found == pytest.approx(size, rel=2e-3)
    assert excess(found) <= 0
    most = roots.most_that_fits(lambda x: -excess(x), size / 50, size * 50)
    assert excess(most) >= 0
    assert most == pytest.approx(size, rel=0.05)


def test_a_search_says_when_nothing_fits() -> None:
    assert math.isinf(roots.least_that_fits(lambda x: 1.0, 0, 1))
    assert roots.least_that_fits(lambda x: -1.0, 0, 1) == 0
    assert roots.most_that_fits(lambda x: 1.0, 0, 1) == -math.inf


@given(st.integers(1, 5000), st.integers(-5, 6000))
def test_the_fewest_steps_are_those_that_pythons_own_bisection_finds(most: int, least: int) -> None:
    def does(steps: int) -> bool:
        return steps >= least

    place = bisect_left(range(1, most + 1), True, key=does) + 1
    assert roots.fewest_that_do(does, most) == (place if place <= most else None)


def test_a_search_between_ends_that_leave_nothing_finds_nothing() -> None:
    assert math.isinf(roots.least_that_fits(lambda x: -1.0, 2, 1))
    assert roots.most_that_fits(lambda x: -1.0, 2, 1) == -math.inf
    assert roots.least_that_fits(lambda x: x - 1, 1, 1) == 1
    assert math.isinf(roots.least_that_fits(lambda x: x, 1, 1))


@pytest.mark.parametrize(
    "call",
    [
        lambda: air.density(-1.0),
        lambda: air.dew_point(300.0, 0.0),
        lambda: air.vapour_pressure(300.0, 1.2),
        lambda: heat.transmittance([]),
        lambda: heat.transmittance([0.1, -0.05]),
        lambda: heat.sol_air(300.0, 500.0, 0.5, 0.0),
        lambda: ventilation.effective_area(-0.01, 0.01),
        lambda: ventilation.stack_flow(0.01, -1.0, 310.0, 300.0),
        lambda: ventilation.duct_resistance(0.0, 1.0),
        lambda: ventilation.fan_flow(0.05, 0.0, 1.0),
        lambda: ventilation.curve_flow([(0.0, 10.0)], 1.0),
        lambda: ventilation.curve_flow([(0.0, 10.0), (0.1, 20.0)], 1.0),
        lambda: insulation_class.insulation_class("Z"),
    ],
)
def test_what_makes_no_sense_is_refused_in_words(call) -> None:  # type: ignore[no-untyped-def]
    with pytest.raises(ValueError, match=r"\w+ \w+"):
        call()
