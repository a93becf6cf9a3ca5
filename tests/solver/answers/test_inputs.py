"""Each thing that can be varied changes what it says, and nothing else."""

from dataclasses import replace

import numpy as np
import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.answers import inputs
from solver.answers.inputs import INPUTS, SI
from solver.geometry import reservoirs
from solver.layout.parts import Site
from solver.ledger import solve
from solver.properties import fluid
from solver.quantities.columns import column
from solver.quantities.units import Quantity, quantity
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.solver.checking import lifted, mesh, with_pump, with_screen

LINE = drawing(
    intake(),
    fitting("isolator", (0.9, 0.9)),
    replace(fitting("taper", (1.3, 1.2), kind="concentric reducer"), other_bore=metres(0.04)),
    pump(at=(1.8, 1.2), bore=0.04),
    run("riser", "strainer", "isolator"),
    run("lead", "isolator", "taper", via=[(0.9, 1.2)]),
    run("end", "taper", "pump", bore=0.04),
)


def put(name, layout, parts, value, level="minimum"):
    return INPUTS[name].put(layout, parts, value, level)


@pytest.mark.parametrize("kind", SI)
@given(value=st.floats(1e-9, 1e5))
def test_a_figure_is_written_to_its_last_digit(kind, value):
    written = inputs.typed(value, kind)
    assert written.si == value
    assert quantity(written.text, kind).si == pytest.approx(value, rel=1e-15)


def test_a_column_is_written_as_its_first_figure():
    written = inputs.typed(column(np.array([0.25, 0.5])), INPUTS["bore"].kind)
    assert written.text == "0.25 m"


def test_temperature_is_that_of_the_fluid():
    assert put("temperature", LINE, ("",), 300.0).fluid.temperature.si == 300.0


def test_density_and_viscosity_are_those_at_working_temperature():
    heavy = put("density", LINE, ("",), 1111.0)
    state, before = fluid.state(heavy.fluid), fluid.state(LINE.fluid)
    assert state.density == 1111.0
    assert state.viscosity == before.viscosity
    thick = put("viscosity", heavy, ("",), 1e-4)
    assert (fluid.state(thick.fluid).density, fluid.state(thick.fluid).viscosity) == (1111.0, 1e-4)


def test_elevation_takes_the_place_of_a_barometer_and_leaves_the_weather():
    weather = Quantity("1 kPa", 1e3)
    read = replace(LINE, site=Site(barometer=Quantity("90 kPa", 90e3), weather_allowance=weather))
    assert put("elevation", read, ("",), 500.0).site == Site(
        elevation=Quantity("500.0 m", 500.0), weather_allowance=weather
    )


@pytest.mark.parametrize(
    ("level", "value", "low", "normal"),
    [
        ("minimum", 0.3, 0.3, 0.55),
        ("minimum", 0.6, 0.6, 0.6),
        ("normal", 0.6, 0.4, 0.6),
        ("normal", 0.3, 0.3, 0.3),
        ("drawn down", 0.6, 0.4, 0.6),
    ],
)
def test_the_level_that_is_not_looked_at_gives_way(level, value, low, normal):
    for given_value in (value, column(np.array([value, 0.61]))):
        filled = put("level", LINE, ("tank",), given_value, level).reservoirs["tank"]
        levels = filled.minimum_level.si, filled.normal_level.si
        assert [float(np.atleast_1d(x)[0]) for x in levels] == [low, normal]


@pytest.mark.parametrize("level", [0.15, 0.3, 0.5])
def test_a_level_is_drawn_down_by_the_volume_that_leaves_it(level):
    drawn = put("level", LINE, ("tank",), level, "drawn down").reservoirs["tank"]
    assert (drawn.minimum_level.si, drawn.normal_level.si) == (0.4, 0.55)
    assert drawn.draw_down.si == pytest.approx(1.2 * 0.6 * (0.55 - level))
    assert reservoirs.level(drawn, "drawn down") == pytest.approx(level, rel=1e-9)


def test_speed_takes_a_typed_flow_along_and_leaves_a_displacement():
    turning = with_pump(lifted(), speed=Quantity("10 rev/s", 10.0))
    faster = put("speed", turning, ("pump",), 15.0).pumps["pump"]
    assert (faster.speed.si, faster.flow.si) == (15.0, pytest.approx(0.003))
    geared = with_pump(turning, flow=None, displacement=Quantity("100 cm^3/rev", 1e-4))
    faster = put("speed", geared, ("pump",), 15.0).pumps["pump"]
    assert (faster.speed.si, faster.flow) == (15.0, None)


def test_a_flow_stands_whatever_the_speed():
    assert list(INPUTS).index("speed") < list(INPUTS).index("flow")
    assert put("flow", LINE, ("pump",), 0.001).pumps["pump"].flow.si == 0.001


def test_a_port_is_moved_with_its_line_and_to_the_last_digit():
    z = 1.23456789012
    higher = put("port height", LINE, ("pump",), z)
    assert higher.pumps["pump"].at[1].si == z
    assert higher.runs["lead"].via[0][1].si == z
    assert higher.fittings["taper"].at[1].si == z
    assert higher.pumps["pump"].at[0] == LINE.pumps["pump"].at[0]
    before, after = (solve.solve(each).pumps["pump"] for each in (LINE, higher))
    rise = before.density * 9.80665 * (z - 1.2)
    lifts = [sum(entry.lift for entry in ledger.entries) for ledger in (before, after)]
    assert lifts[1] - lifts[0] == pytest.approx(rise, rel=1e-9)


def test_a_port_at_its_own_height_stays():
    assert put("port height", LINE, ("pump",), 1.2) is LINE


def test_a_bore_takes_the_place_of_a_size():
    sized = replace(LINE.runs["riser"], bore=None, size="NPS 2 schedule 40")
    sized = replace(LINE, runs={**LINE.runs, "riser": sized})
    changed = put("bore", sized, ("riser", "isolator"), 0.06)
    assert (changed.runs["riser"].size, changed.runs["riser"].bore.si) == (None, 0.06)
    assert changed.fittings["isolator"].bore.si == 0.06
    assert changed.runs["lead"] is LINE.runs["lead"]


def test_one_bore_for_all_leaves_ports_and_reducers():
    row = INPUTS["bore"]
    assert set(row.parts(LINE)) - set(row.apart(LINE)) == {"strainer", "isolator", "riser", "lead", "end"}


def test_roughness_and_blocked_are_put_where_they_belong():
    assert put("roughness", LINE, ("lead",), 1e-4).runs["lead"].roughness.si == 1e-4
    assert INPUTS["blocked"].parts(LINE) == ()
    screened = with_screen(lifted(), **mesh())
    assert INPUTS["blocked"].parts(screened) == ("strainer",)
    assert put("blocked", screened, ("strainer",), 0.5).intakes["strainer"].screen.blocked == 0.5


def test_a_level_may_stand_from_the_floor_of_its_tank_to_the_rim():
    assert INPUTS["level"].allowed(LINE, "tank") == (0.0, 0.7)


def test_what_changes_the_rows_is_known():
    assert {name for name, row in INPUTS.items() if inputs.reshapes(LINE, row)} == {
        "port height",
        "bore",
        "roughness",
        "blocked",
    }
    known = fitting("cooler", (0.9, 0.9), kind="known drop")
    known = replace(known, drop=Quantity("1 kPa", 1e3), flow=metres(1e-3))
    measured = replace(LINE, fittings={**LINE.fittings, "cooler": known})
    assert inputs.reshapes(measured, INPUTS["temperature"])
    assert inputs.reshapes(measured, INPUTS["density"])
    assert not inputs.reshapes(measured, INPUTS["viscosity"])
