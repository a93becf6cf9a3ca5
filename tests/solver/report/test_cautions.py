"""Cautions and measures are worked out from what an alternative has."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.judgement import judge
from solver.geometry.outline import bore
from solver.layout import file
from solver.layout.parts import Intake, Layout, Pump, Reservoir, Run
from solver.quantities.scales import GALLON
from solver.quantities.units import Kind, System, quantity
from solver.report.cautions import cautions, what_runs_out
from solver.report.measures import measures
from tests.drawings import SHIPPED, drawing, fitting, intake, metres, pump, run, tank
from tests.solver.checking import with_case

CARRIAGE = file.read(SHIPPED[0].parent / "carriage-at-altitude.toml")
BESIDE = CARRIAGE.alternatives["Pump beside the tank"].layout


def test_what_stands_over_a_pump_that_has_no_strainer_is_said() -> None:
    """The volume is that of the tank's rectangle over the port and the intake, up to the normal level."""
    strainer, valve, flooded = cautions(judge(BESIDE), CARRIAGE.base, System.US)
    assert strainer.startswith("Taken out: strainer.")
    assert "with the pump maker's consent" in strainer
    assert valve.startswith("Lock open or interlock isolator:")
    (tank,) = BESIDE.reservoirs.values()
    xs = [x.si for x, _ in tank.outline]
    (intake,) = BESIDE.intakes.values()
    mouth = intake.at[1].si - bore(intake) / 2  # no more runs out than stands over it
    pump = BESIDE.pumps["carriage"]
    high = tank.normal_level.si - max(pump.at[1].si - bore(pump) / 2, mouth)
    content = (max(xs) - min(xs)) * tank.depth.si * high / GALLON
    assert float(flooded.split("up to ")[1].split(" gal")[0]) == pytest.approx(content, rel=0.01)
    assert "shut and lock its valve first" in flooded


def test_what_a_drawing_has_not_is_not_cautioned_against() -> None:
    assert cautions(judge(CARRIAGE.base), None, System.US) == ()
    assert not any("Taken out" in text for text in cautions(judge(BESIDE), BESIDE, System.US))


def test_heat_levels_and_flow_are_measures_and_sizes_are_not() -> None:
    base = CARRIAGE.base
    assert measures(base, BESIDE) == ()
    (tank,) = base.reservoirs.values()
    raised = replace(tank, minimum_level=quantity("0.6 m", Kind.LENGTH))
    fluid = replace(base.fluid, coldest_start=quantity("40 degC", Kind.TEMPERATURE))
    after = replace(base, fluid=fluid, reservoirs={tank.name: raised})
    assert measures(base, after, System.SI) == (
        "a heater that holds the fluid at 40.0 °C before every start",
        "a level switch at 0.600 m in tank",
    )
    assert measures(after, base) == ()  # what needs less asks for nothing


def test_pressure_on_a_tank_has_its_caution_with_the_force_on_this_lid() -> None:
    """F = p A: 7 kPa under 4 ft by 2 ft, 0.743 m², are 5.20 kN. The trade's caution: no source."""
    (name, tank), *_ = CARRIAGE.base.reservoirs.items()
    held = replace(tank, pressure=quantity("7 kPa", Kind.PRESSURE))
    pressed = replace(CARRIAGE.base, reservoirs={name: held})
    by_change = cautions(judge(CARRIAGE.base), None, System.SI, [pressed, pressed])
    assert by_change == cautions(judge(pressed), None, System.SI)
    (caution,) = by_change
    assert caution.startswith(f"Pressure on {name}: only with a tank built and rated for it")
    for word in ("regulator", "relief valve", "ask its maker", "1.22 m by 0.610 m", "5.20 kN"):
        assert word in caution
    assert "1170 lbf" in cautions(judge(pressed), None, System.US)[0]
    assert cautions(judge(pressed), None, System.SI, [pressed]) == by_change, "no more than it has"


def test_pressure_in_a_case_alone_has_the_caution_too() -> None:
    (name,) = CARRIAGE.base.reservoirs
    case = file.parse(
        CARRIAGE.text + f'\n[cases.pressed]\nreservoirs.{name}.pressure = "5 kPa"\n', "carriage"
    ).base
    (caution,) = cautions(judge(case), None, System.SI)
    assert "5.00 kPa under a lid" in caution


def test_a_port_that_reaches_under_the_fluid_by_its_lower_edge_runs_out_as_well() -> None:
    layout = drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        pump(at=(2.4, 0.56)),
        run("line", "nozzle", "pump", via=[(2.0, 0.12), (2.0, 0.56)]),
    )
    assert layout.pumps["pump"].at[1].si > layout.reservoirs["tank"].normal_level.si
    *_, flooded = cautions(judge(layout), None, System.SI)
    assert "up to 10.8 L of tank" in flooded  # 1.2 m by 0.6 m, from 0.55 m down to 0.56 m less half of 50 mm


def test_a_tank_drains_no_lower_than_its_lowest_intake() -> None:
    """The nozzle of 2.067 in, 6 in over the floor, keeps back what is under it: 4 ft by 4 ft of tank."""
    header = file.read(SHIPPED[0].parent / "header-two-pumps.toml").base
    *_, flooded = cautions(judge(header), None, System.US)
    content = 4.0 * 4.0 * (4.5 - (3.0 - 2.067 / 24)) * 12**3 / 231
    assert float(flooded.split("up to ")[1].split(" gal")[0]) == pytest.approx(content, rel=0.005)


def beside(*more: Intake | Pump | Reservoir | Run, x: float = 1.6) -> Layout:
    """A pump flooded through a valve, and what else is drawn."""
    return drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        fitting("valve", (x, 0.12)),
        pump(at=(2.4, 0.12)),
        run("outlet", "nozzle", "valve"),
        run("lead", "valve", "pump"),
        *more,
    )


def said_of_flooding(layout: Layout) -> list[str]:
    return [text for text in cautions(judge(layout), None, System.SI) if text.startswith("For work")]


def test_a_valve_on_one_line_is_not_said_to_shut_another() -> None:
    second = intake("second", (1.2, 0.3), kind="wall nozzle"), pump("booster", (2.4, 0.3))
    bare, shut = sorted(said_of_flooding(beside(*second, run("short", "second", "booster"))))
    assert shut.endswith("where pump is opened; shut and lock its valve first.")
    assert bare.endswith("where booster is opened; drain it first: no valve is drawn.")


def test_a_valve_that_no_hand_reaches_shuts_nothing() -> None:
    inside = replace(beside(x=0.9), intakes={"nozzle": intake("nozzle", (0.5, 0.12))})
    (flooded,) = said_of_flooding(inside)
    assert flooded.endswith("drain it first: no hand reaches its valve.")


def test_what_stands_over_a_pump_is_that_of_the_tank_behind_its_line_and_of_the_highest_case() -> None:
    """0.72 m² up to 0.65 m in a case, over the normal level; a tank beside it feeds nothing."""
    day = tank("day tank", at=(5.0, 0.5), normal=0.69)
    layout = with_case(beside(tank(), day), "full", levels__tank=metres(0.65))
    (flooded,) = said_of_flooding(layout)
    assert "up to 400 L of tank" in flooded  # 0.72 m² by 0.555 m


def test_what_may_run_out_is_said_with_what_it_is() -> None:
    flooded = next(each for each in cautions(judge(BESIDE), CARRIAGE.base, System.US) if "For work" in each)
    (behind,) = what_runs_out(judge(BESIDE), System.US)
    assert behind.startswith(f"The {flooded.partition('up to ')[2].partition(' runs out')[0]} over carriage ")
    assert list(what_runs_out(judge(CARRIAGE.base), System.US)) == []
