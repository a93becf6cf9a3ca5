"""What differs between two drawings, in the words of their parts."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.geometry import moving
from solver.layout.differences import differences
from solver.layout.parts import Case, Layout
from solver.quantities.units import Kind, System, quantity
from tests.solver.fixes.test_fixes import LAYOUTS

BASE = LAYOUTS["carriage-at-altitude"]


@pytest.mark.parametrize("name", LAYOUTS)
def test_a_drawing_does_not_differ_from_itself(name: str) -> None:
    assert differences(LAYOUTS[name], LAYOUTS[name]) == ()


def test_a_size_is_named_with_the_one_before() -> None:
    riser = replace(BASE.runs["riser"], size="NPS 3 schedule 40")
    told = differences(BASE, replace(BASE, runs={**BASE.runs, "riser": riser}))
    assert told == (f"riser: size NPS 3 schedule 40 instead of {BASE.runs['riser'].size}",)


def test_what_the_weather_takes_off_the_air_stands_in_the_unit_of_the_air() -> None:
    more = replace(BASE.site, weather_allowance=quantity("0.01 bar", Kind.PRESSURE))
    (line,) = differences(BASE, replace(BASE, site=more), System.US)
    assert line == "site: weather allowance 0.01 bar instead of 0.2 inHg"
    exact = replace(BASE.site, weather_allowance=quantity("0.4 inHg", Kind.PRESSURE))
    (line,) = differences(BASE, replace(BASE, site=exact), System.US)
    assert line == "site: weather allowance 0.4 inHg instead of 0.2 inHg"


def test_a_part_that_is_moved_takes_its_line_along() -> None:
    pump = BASE.pumps["carriage"]
    told = differences(BASE, moving.move_part(BASE, "carriage", pump.at[0].si, pump.at[1].si - 0.1))
    assert "carriage, connector: moved, height 3.34 ft instead of 3.67 ft" in told
    assert all("moved" in each or "other corners" in each for each in told)
    along = differences(
        BASE, moving.move_part(BASE, "carriage", pump.at[0].si + 0.1, pump.at[1].si), System.SI
    )
    assert along[0] == "carriage: moved, x 1.14 m instead of 1.04 m"
    lowered = replace(pump, at=(pump.at[0], quantity("0.2 m", Kind.LENGTH)))
    (alone,) = differences(BASE, replace(BASE, pumps={**BASE.pumps, "carriage": lowered}))
    assert alone == "carriage: moved, height 0.66 ft instead of 3.67 ft"


def with_fluid(layout: Layout, temperature: str) -> Layout:
    return replace(layout, fluid=replace(layout.fluid, temperature=quantity(temperature, Kind.TEMPERATURE)))


def test_the_fluid_the_screen_and_what_is_new_or_gone() -> None:
    assert differences(BASE, with_fluid(BASE, "50 degC")) == ("fluid: temperature 122 °F instead of 113 °F",)
    strainer = BASE.intakes["strainer"]
    assert strainer.screen is not None
    bare = replace(BASE, intakes={"strainer": replace(strainer, kind="plain end", screen=None)})
    (told,) = differences(BASE, bare)
    assert told.startswith("strainer: kind plain end instead of strainer, without screen")
    (back,) = differences(bare, BASE)
    assert back == "strainer: kind strainer instead of plain end, with screen"
    beside = LAYOUTS["carriage-at-altitude: Pump beside the tank"]
    assert any(each.startswith("new: ") for each in differences(BASE, beside))
    assert any(each.startswith("without ") for each in differences(BASE, beside))


def test_figures_are_in_the_units_asked_for_unless_those_would_round_them_away() -> None:
    after = LAYOUTS["carriage-at-altitude: Three-inch suction line"]
    assert any("screen area 220 in² instead of 110 in²" in each for each in differences(BASE, after))
    assert any(
        "screen area 1420 cm² instead of 710 cm²" in each for each in differences(BASE, after, System.SI)
    )
    warm, warmer = (with_fluid(BASE, text) for text in ("45.01 degC", "45.02 degC"))
    assert differences(warm, warmer, System.SI) == ("fluid: temperature 45.02 degC instead of 45.01 degC",)
    strainer = BASE.intakes["strainer"]
    assert strainer.screen is not None
    finer = replace(strainer.screen, wire=quantity("0.1 mm", Kind.LENGTH))
    (told,) = differences(
        BASE, replace(BASE, intakes={"strainer": replace(strainer, screen=finer)}), System.SI
    )
    assert told == "strainer: screen wire 0.1 mm instead of 0.0045 in"


def test_a_level_is_a_length_and_a_site_s_elevation_is_rounded() -> None:
    (tank,) = BASE.reservoirs.values()
    higher = {tank.name: replace(tank, minimum_level=quantity("0.6 m", Kind.LENGTH))}
    (told,) = differences(BASE, replace(BASE, reservoirs=higher), System.SI)
    assert told == "tank: minimum level 0.600 m instead of 0.559 m"
    site = replace(BASE.site, elevation=quantity("1700 m", Kind.ELEVATION))
    (told,) = differences(BASE, replace(BASE, site=site), System.US)
    assert told == "site: elevation 5577 ft instead of 5413 ft"


def test_a_case_that_an_alternative_changes_is_in_those_units_too() -> None:
    cold, colder = ({"cold": Case({"fluid": {"temperature": text}})} for text in ("41 degF", "32 degF"))
    told = differences(replace(BASE, cases=cold), replace(BASE, cases=colder), System.SI)
    assert told == ('cases: "cold" fluid temperature 0.0 °C instead of 5.0 °C',)


def test_a_case_that_is_new_or_gone_stands_in_quotes() -> None:
    cold = {"hard, cold morning": Case({"fluid": {"temperature": "5 degC"}})}
    with_case = replace(BASE, cases=cold)
    assert differences(with_case, BASE) == ('cases: without "hard, cold morning"',)
    assert differences(BASE, with_case) == ('cases: with "hard, cold morning"',)


@pytest.mark.parametrize("name", [name for name in LAYOUTS if ":" in name])
def test_every_alternative_differs_from_its_drawing_in_words(name: str) -> None:
    told = differences(LAYOUTS[name.partition(":")[0]], LAYOUTS[name])
    assert told
    assert all("{" not in each and "[" not in each for each in told)


def test_a_figure_that_goes_back_to_its_default_is_named_not_called_gone() -> None:
    told = differences(BASE, LAYOUTS["carriage-at-altitude: Three-inch suction line"])
    assert any("bend long radius instead of threaded elbow" in each for each in told)
    assert not any("without bend" in each for each in told)


def test_what_decides_most_comes_first() -> None:
    """The fluid, then where the pump stands, then levels, then sizes, then what is new or gone."""
    pump = BASE.pumps["carriage"]
    tank = next(iter(BASE.reservoirs.values()))
    moved = moving.move_part(with_fluid(BASE, "50 degC"), "carriage", pump.at[0].si, pump.at[1].si - 0.1)
    level = quantity("0.5 m", Kind.LENGTH)
    reservoirs = {**BASE.reservoirs, tank.name: replace(tank, minimum_level=level)}
    riser = replace(moved.runs["riser"], size="NPS 3 schedule 40")
    after = replace(moved, reservoirs=reservoirs, runs={**moved.runs, "riser": riser})
    told = differences(BASE, after)
    assert [each.partition(":")[0].partition(",")[0] for each in told[:4]] == [
        "fluid", "carriage", tank.name, "riser"
    ]  # fmt: skip
    beside = differences(BASE, LAYOUTS["carriage-at-altitude: Pump beside the tank"])
    assert beside[0].startswith("carriage: moved")
    sizes = [number for number, each in enumerate(beside) if "size " in each and not each.startswith("new")]
    assert sizes
    gone = next(number for number, each in enumerate(beside) if each.startswith("without "))
    assert "strainer" in beside[gone]
    assert all(number < gone for number in sizes)


def test_parts_that_are_changed_alike_share_a_sentence() -> None:
    told = differences(LAYOUTS["header-two-pumps"], LAYOUTS["header-two-pumps: Three-inch header"], System.SI)
    assert (
        "nozzle, isolator, split, outlet, header: size NPS 3 schedule 40 instead of NPS 2 schedule 40" in told
    )
    gone = differences(LAYOUTS["header-two-pumps"], LAYOUTS["header-two-pumps: Main pump alone"])
    assert gone[0] == "without pilot, split, main leg, pilot leg"
