"""What the site gives, and what the pump maker's figure leaves of it."""

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.formulas import flow as formulas
from solver.geometry.reservoirs import PressureChange
from solver.layout.parts import Limit, Site
from solver.ledger import limit
from solver.network.build import NetworkError
from solver.properties.fluid import FluidState
from solver.quantities.units import Kind, System, quantity
from tests.drawings import pump as a_pump

INHG = 3386.389
OIL = FluidState("oil", 318.15, 870.0, 40e-6, 0.0, 0.09, {})
GLYCOL = replace(OIL, density=1080.0, vapor_pressure=6000.0)
WATER = replace(OIL, density=998.2, vapor_pressure=2339.0)


def typed(text, kind):
    return None if text is None else quantity(text, kind)


def pump(figure="7 inHg", form="vacuum", rated_speed=None, rated_density=None, credit=False, table=()):
    kind = {"vacuum": Kind.VACUUM, "pressure": Kind.PRESSURE, "npsh": Kind.HEAD}[form]
    rows = tuple((quantity(n, Kind.SPEED), quantity(v, kind)) for n, v in table)
    return replace(
        a_pump(),
        limit=Limit(form, rows or ((None, quantity(figure, kind)),)),
        rated_speed=typed(rated_speed, Kind.SPEED),
        rated_density=typed(rated_density, Kind.DENSITY),
        credit=credit,
    )


def site(**typed_keys):
    kinds = {"elevation": Kind.ELEVATION, "barometer": Kind.PRESSURE, "weather_allowance": Kind.PRESSURE}
    return Site(**{key: quantity(text, kinds[key]) for key, text in typed_keys.items()})


def steps(lines):
    return {line.name: line.value for line in lines}


# What stands on the fluid


def floor_of(pump, fluid, velocity_head, speed=None):
    return limit.floor(pump, fluid, velocity_head, speed, flow=1e-3)


def test_the_surface_goes_from_sea_level_by_altitude_and_weather_to_the_reservoir():
    surface = limit.surface_pressure(site(elevation="1650 m", weather_allowance="20 mbar"), 5000.0)
    assert [line.name for line in surface.lines] == ["sea level", "altitude", "weather", "reservoir pressure"]
    assert surface.lines[0].value == 101325.0
    assert surface.lines[2].value == pytest.approx(-2000.0)
    assert surface.pressure == pytest.approx(surface.atmosphere + 5000.0)
    assert surface.pressure == pytest.approx(sum(line.value for line in surface.lines))
    assert surface.lines[-1].total == surface.pressure


def test_a_barometer_stands_in_for_the_altitude():
    surface = limit.surface_pressure(site(barometer="24.6 inHg"))
    assert [line.name for line in surface.lines] == ["sea level", "barometer"]
    assert surface.atmosphere == pytest.approx(24.6 * INHG, rel=1e-6)


def test_a_breather_that_holds_the_fluid_under_the_atmosphere_takes_from_the_budget():
    surface = limit.surface_pressure(site(elevation="0 m"), -1500.0)
    assert surface.pressure == pytest.approx(surface.atmosphere - 1500.0)


# The three forms


def test_a_vacuum_is_counted_from_the_sea_level_atmosphere():
    floor = floor_of(pump("7 inHg"), OIL, 0.0)
    assert floor.pressure == pytest.approx(101325.0 - 7 * INHG, abs=1.0)
    assert not floor.estimated


def test_seven_inches_allowed_at_sea_level_are_two_where_the_barometer_stands_five_lower():
    """Common practice, no source."""
    floor = floor_of(pump("7 inHg"), OIL, 0.0)
    surface = limit.surface_pressure(site(barometer="24.92126 inHg"))
    assert (surface.atmosphere - floor.pressure) / INHG == pytest.approx(2.0, abs=1e-3)


def test_an_absolute_pressure_stands_as_given():
    assert floor_of(pump("0.8 bar", "pressure"), OIL, 0.0).pressure == pytest.approx(80e3)


def test_npsh_stands_on_the_vapour_pressure_and_counts_the_velocity_head():
    floor = floor_of(pump("3 m", "npsh"), WATER, 700.0)
    assert floor.npsh_required == pytest.approx(3.0)
    assert floor.pressure == pytest.approx(2339.0 + 998.2 * 9.80665 * 3 - 700.0)
    assert not floor.estimated
    assert floor.lines[-1].name == "mean velocity head, in NPSH"  # the entry has the kinetic factor
    assert floor.lines[-1].value == pytest.approx(700.0)
    assert floor_of(pump(), OIL, 0.0).npsh_required is None


# The corrections


def test_density_alone_tightens_the_dynamic_pressure_in_proportion():
    floor = floor_of(pump("0.8 bar", "pressure", rated_density="870 kg/m^3"), GLYCOL, 0.0)
    assert floor.pressure == pytest.approx(6000.0 + 80e3 * 1080 / 870)
    assert set(steps(floor.lines)) == {"maker's limit", "density correction", "vapour pressure"}
    assert floor.estimated


@pytest.mark.parametrize(("density", "estimated"), [(869.9, False), (870.0, False), (870.1, True)])
def test_a_lighter_fluid_gives_nothing_back(density, estimated):
    rated = pump("0.8 bar", "pressure", rated_density="870 kg/m^3")
    floor = floor_of(rated, replace(OIL, density=density), 0.0)
    assert floor.pressure == pytest.approx(80e3 * max(1.0, density / 870.0))
    assert floor.estimated is estimated


@pytest.mark.parametrize(("rpm", "factor"), [(1000, 1.0), (1450, 1.0), (1740, 1.44)])
def test_a_faster_speed_tightens_by_its_square_and_a_slower_gives_nothing(rpm, factor):
    floor = floor_of(pump("0.8 bar", "pressure", rated_speed="1450 rpm"), OIL, 0.0, rpm / 60)
    assert floor.pressure == pytest.approx(80e3 * factor)
    assert floor.estimated is (factor != 1.0)


@pytest.mark.parametrize(
    ("figure", "rpm", "reaches"),
    [
        ("0.2 bar", 2174, True),
        ("0.2 bar", 2176, False),  # 1.5 times the maker's speed
        ("0.8 bar", 1631, True),
        ("0.8 bar", 1633, False),  # where 80 kPa have grown to the atmosphere at sea level
        ("1.2 bar", 1500, True),  # the maker's own figure is above it
    ],
)
@pytest.mark.parametrize("form", ["pressure", "npsh"])
def test_an_estimate_for_speed_reaches_only_so_far(figure, rpm, reaches, form):
    if form == "npsh":
        figure = f"{typed(figure, Kind.PRESSURE).si / (OIL.density * 9.80665)} m"
    floor = floor_of(pump(figure, form, rated_speed="1450 rpm"), OIL, 0.0, rpm / 60)
    assert floor.estimated
    assert floor.reaches is reaches


def test_the_maker_s_own_figure_always_reaches():
    assert floor_of(pump("1.2 bar", "pressure", rated_speed="1450 rpm"), OIL, 0.0, 1450 / 60).reaches
    assert floor_of(pump("0.8 bar", "pressure"), OIL, 0.0, 9000 / 60).reaches


def test_credit_gives_back_for_a_slower_speed_and_a_lighter_fluid():
    rated = pump("0.8 bar", "pressure", rated_speed="1500 rpm", rated_density="900 kg/m^3", credit=True)
    floor = floor_of(rated, OIL, 0.0, 1200 / 60)
    assert floor.pressure == pytest.approx(80e3 * (870 / 900) * (1200 / 1500) ** 2)
    assert floor.estimated


def test_npsh_required_grows_with_the_square_of_the_speed():
    """Affinity laws: NPSHR 10 ft at 1750 rpm; a quarter of it at half the speed where credit is given."""
    half = floor_of(pump("10 ft", "npsh", rated_speed="1750 rpm", credit=True), WATER, 0.0, 875 / 60)
    assert half.npsh_required / 0.3048 == pytest.approx(2.5)
    twice = floor_of(pump("10 ft", "npsh", rated_speed="1750 rpm"), WATER, 0.0, 3500 / 60)
    assert twice.npsh_required / 0.3048 == pytest.approx(40.0)
    assert twice.estimated


def test_without_a_stated_density_mineral_oil_stands_and_a_heavier_fluid_is_corrected():
    assert floor_of(pump("0.8 bar", "pressure"), OIL, 0.0).pressure == pytest.approx(80e3)
    glycol = floor_of(pump("0.8 bar", "pressure"), GLYCOL, 0.0)
    assert glycol.pressure == pytest.approx(6000.0 + 80e3 * 1080 / 850)


def test_a_density_that_nobody_has_stated_is_on_the_unfavourable_side_without_a_step():
    """A fluid that may be a petroleum oil is not corrected; one too heavy for that is held to a light one."""
    floors = [
        floor_of(pump("0.8 bar", "pressure"), replace(OIL, density=density), 0.0).pressure
        for density in (850.0, 900.0, 900.001, 925.0, 949.999, 950.0, 1100.0)
    ]
    assert floors[:2] == [pytest.approx(80e3)] * 2
    assert floors[2] == pytest.approx(80e3, rel=1e-5)
    assert floors[3:] == [
        pytest.approx(80e3 * x, rel=1e-5) for x in (925 / 875, 950 / 850, 950 / 850, 1100 / 850)
    ]
    ester = replace(OIL, name="Polyol ester (HFDU)", density=895.0)
    assert floor_of(pump("0.8 bar", "pressure"), ester, 0.0).pressure == pytest.approx(80e3 * 895 / 850)


def test_a_pump_rated_on_the_fluid_itself_is_not_charged_its_vapour_pressure_again():
    floor = floor_of(pump("0.8 bar", "pressure", rated_density="1080 kg/m^3"), GLYCOL, 0.0)
    assert floor.pressure == pytest.approx(80e3)
    assert not floor.estimated


def test_the_floor_never_lies_under_the_vapour_pressure():
    hot = replace(WATER, vapor_pressure=90e3)
    floor = floor_of(pump("0.8 bar", "pressure", rated_density="998 kg/m^3"), hot, 0.0)
    assert floor.pressure == pytest.approx(90e3)


def test_the_steps_agree_with_the_formula_of_the_whole():
    rated = pump("0.8 bar", "pressure", rated_speed="1450 rpm", rated_density="870 kg/m^3")
    floor = floor_of(rated, GLYCOL, 0.0, 1800 / 60)
    heavier, faster = formulas.density_factor(1080.0, 870.0), formulas.speed_factor(1800.0, 1450.0)
    assert floor.pressure == pytest.approx(formulas.floor(6000.0, 80e3, 0.0, heavier, faster))
    assert floor.pressure == pytest.approx(6000.0 + 80e3 * (1080 / 870) * (1800 / 1450) ** 2)
    assert floor.steps[-1].value == floor.pressure


# The table over speed

TABLE = (("1200 rpm", "7 inHg"), ("1800 rpm", "5 inHg"))


@pytest.mark.parametrize(("rpm", "vacuum"), [(600, 7.0), (1200, 7.0), (1500, 6.0), (1800, 5.0)])
def test_a_table_is_linear_between_its_speeds_and_held_below(rpm, vacuum):
    floor = floor_of(pump(table=TABLE, rated_speed="1000 rpm"), OIL, 0.0, rpm / 60)
    assert (101325.0 - floor.pressure) / INHG == pytest.approx(vacuum, abs=1e-4)
    assert not floor.estimated


def test_past_the_end_of_a_table_the_square_of_the_speed_estimates():
    end = floor_of(pump(table=TABLE), OIL, 0.0, 30.0)
    past = floor_of(pump(table=TABLE), OIL, 0.0, 33.0)
    assert past.pressure == pytest.approx(end.pressure * 1.21)
    assert past.estimated


def test_a_table_without_a_known_speed_is_read_at_its_tightest():
    floor = floor_of(pump(table=TABLE), OIL, 0.0)
    assert (101325.0 - floor.pressure) / INHG == pytest.approx(5.0, abs=1e-4)
    assert floor.estimated


# What holds always


@given(
    form=st.sampled_from([("20 kPa", "vacuum"), ("0.8 bar", "pressure"), ("3 m", "npsh")]),
    rpm=st.floats(100, 4000),
    density=st.floats(700, 1400),
    vapor=st.floats(0, 60e3),
    head=st.floats(0, 5e3),
    rated_density=st.sampled_from([None, "870 kg/m^3", "1080 kg/m^3"]),
    credit=st.booleans(),
)
def test_the_steps_always_add_up_to_the_floor(form, rpm, density, vapor, head, rated_density, credit):
    rated = pump(*form, rated_speed="1450 rpm", rated_density=rated_density, credit=credit)
    state = replace(OIL, density=density, vapor_pressure=vapor)
    floor = floor_of(rated, state, head, rpm / 60)
    assert -sum(line.value for line in floor.lines) == pytest.approx(floor.pressure, abs=1e-6)
    assert floor.lines[-1].total == pytest.approx(floor.pressure, abs=1e-6)
    assert all(line.text and line.source for line in floor.lines)


@given(
    slow=st.floats(100, 4000),
    faster=st.floats(1.0, 3.0),
    light=st.floats(700, 1400),
    heavier=st.floats(1.0, 1.5),
    rated_density=st.sampled_from([None, "870 kg/m^3"]),
)
def test_faster_and_heavier_never_loosen_the_floor(slow, faster, light, heavier, rated_density):
    rated = pump("7 inHg", rated_speed="1450 rpm", rated_density=rated_density)
    easy = floor_of(rated, replace(OIL, density=light), 0.0, slow / 60)
    hard = floor_of(rated, replace(OIL, density=light * heavier), 0.0, slow * faster / 60)
    assert hard.pressure >= easy.pressure * (1 - 1e-12)


def test_the_maker_s_figure_is_quoted_as_typed():
    assert "7 inHg" in floor_of(pump("7 inHg"), OIL, 0.0).lines[0].text


# A curve of NPSH over flow


def centrifugal(rated_speed=None, credit=False):
    points = (("100 L/min", "2 m"), ("200 L/min", "3 m"), ("300 L/min", "5 m"))
    table = tuple((quantity(q, Kind.FLOW), quantity(h, Kind.HEAD)) for q, h in points)
    return replace(
        a_pump(),
        type="centrifugal",
        limit=Limit("npsh", table, "flow"),
        rated_speed=typed(rated_speed, Kind.SPEED),
        credit=credit,
    )


def required(flow, speed=None, **given):
    turning = None if speed is None else speed / 60
    return limit.floor(centrifugal(**given), WATER, 0.0, turning, flow / 60000)


@pytest.mark.parametrize(("flow", "head"), [(100, 2.0), (150, 2.5), (200, 3.0), (275, 4.5), (300, 5.0)])
def test_between_the_maker_s_flows_it_is_linear(flow, head):
    npsh = required(flow)
    assert npsh.npsh_required == pytest.approx(head)
    assert not npsh.estimated
    assert npsh.pressure == pytest.approx(2339.0 + 998.2 * 9.80665 * head)


def test_under_the_least_flow_it_is_held_and_called_an_estimate():
    assert required(40).npsh_required == 2.0
    assert required(40).estimated
    assert "held below it" in required(40).lines[0].note


def test_past_the_last_flow_it_is_refused_with_both_flows():
    with pytest.raises(
        NetworkError, match=r"flow of 301 L/min is past the end of its NPSH curve at 300 L/min"
    ):
        required(301)


def test_faster_it_follows_the_affinity_laws():
    """At 10 % more speed 220 L/min correspond to 200 on the curve, at 1.21 times its head."""
    npsh = required(220, 1595, rated_speed="1450 rpm")
    assert npsh.npsh_required == pytest.approx(3.0 * 1.21)
    assert npsh.estimated
    assert required(330, 1595, rated_speed="1450 rpm").npsh_required == pytest.approx(5.0 * 1.21)
    with pytest.raises(NetworkError):
        required(331, 1595, rated_speed="1450 rpm")


def test_slower_it_is_loosened_only_with_credit():
    assert required(150, 725, rated_speed="1450 rpm").npsh_required == pytest.approx(2.5)
    assert required(150, 725, rated_speed="1450 rpm", credit=True).npsh_required == pytest.approx(5.0 / 4)
    assert required(150, 1450, rated_speed="1450 rpm").npsh_required == pytest.approx(2.5)


def test_a_slower_pump_far_out_on_its_curve_asks_for_what_it_asks_for_there():
    """100 L/min at half the speed are 200 on the curve, at a quarter of its head; a curve that bends up may
    ask for more there, and past its end nobody knows what."""
    steep = replace(
        centrifugal(),
        limit=Limit(
            "npsh",
            tuple(
                (quantity(q, Kind.FLOW), quantity(h, Kind.HEAD))
                for q, h in (("100 L/min", "2 m"), ("200 L/min", "12 m"))
            ),
            "flow",
        ),
        rated_speed=typed("1450 rpm", Kind.SPEED),
    )
    slow = limit.floor(steep, WATER, 0.0, 725 / 60, 100 / 60000)
    assert slow.npsh_required == pytest.approx(3.0)
    with pytest.raises(NetworkError, match=r"200 L/min, 400 L/min at the speed of the curve, is past"):
        required(200, 725, rated_speed="1450 rpm")


@given(st.floats(100, 300), st.floats(1.0, 1.3))
def test_a_faster_pump_never_asks_for_less(flow, factor):
    faster = required(flow, 1450 * factor, rated_speed="1450 rpm").npsh_required
    assert faster >= required(flow).npsh_required * (1 - 1e-12)


# What adds to the pressure on the fluid


def test_a_change_on_the_fluid_is_a_step_of_its_own():
    change = PressureChange("breather", -700.0, "drop across the breather", "as typed")
    surface = limit.surface_pressure(site(elevation="300 m"), 0.0, change)
    assert surface.lines[-1].name == "breather"
    assert surface.pressure == pytest.approx(surface.atmosphere - 700.0)
    assert sum(line.value for line in surface.lines) == pytest.approx(surface.pressure)


def test_a_line_says_its_arithmetic_in_the_units_that_are_shown():
    line = floor_of(pump("7 inHg"), OIL, 0.0).lines[0]
    assert line.text == "101.325 kPa − 23.705 kPa = 77.62 kPa (7 inHg, taken to hold at this speed)"
    assert (
        line.text_in(System.US) == "29.9213 inHg − 7 inHg = 22.92 inHg (7 inHg, taken to hold at this speed)"
    )


def test_a_line_that_changes_nothing_says_no_arithmetic():
    surface = limit.surface_pressure(site(elevation="300 m"))
    assert all(" = " not in line.text for line in surface.lines)


# What is kept


def test_a_pump_that_is_moved_keeps_its_floor_and_any_other_change_is_worked_out_anew():
    typed_pump = pump(rated_speed="1500 rpm")
    own = limit.floor(typed_pump, OIL, 100.0, 10.0, 1e-3)
    moved = replace(typed_pump, at=(typed_pump.at[1], typed_pump.at[0]))
    assert limit.floor(moved, OIL, 100.0, 10.0, 1e-3) is own
    looser = limit.floor(replace(typed_pump, credit=True), OIL, 100.0, 10.0, 1e-3)
    assert looser.pressure < own.pressure
    assert limit.floor(typed_pump, GLYCOL, 100.0, 10.0, 1e-3).pressure > own.pressure
    assert limit.floor(typed_pump, OIL, 100.0, 30.0, 1e-3).pressure > own.pressure
    for flow in range(limit.FLOORS_KEPT):
        limit.floor(typed_pump, OIL, 100.0, 10.0, 1e-6 * flow)
    assert limit.floor(typed_pump, OIL, 100.0, 10.0, 1e-3) == own
