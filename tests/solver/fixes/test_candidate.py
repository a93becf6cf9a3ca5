"""What a change is written with: figures in the drawing's own spelling, names that are free."""

from __future__ import annotations

import pytest

from solver.fixes.candidate import (
    Candidate,
    FixKind,
    but_then,
    drawbacks,
    free_name,
    new_quantity,
    rewritten,
    with_case_figure,
)
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.drawings import RISER, drawing, intake, run
from tests.solver.fixes.examples import riser


@pytest.mark.parametrize(
    ("typed", "si", "written"),
    [("2 ft", 0.9144, "3 ft"), ("0.40 m", 0.55, "0.55 m"), ("12 in", 0.127, "5 in")],
)
def test_a_figure_is_written_again_in_the_unit_it_was_typed_in(typed: str, si: float, written: str) -> None:
    changed = rewritten(quantity(typed, Kind.LENGTH), si)
    assert changed.text == written
    assert changed.si == pytest.approx(si)


def test_a_new_figure_is_in_the_units_of_the_drawing() -> None:
    assert new_quantity(1000.0, Kind.PRESSURE, riser()).text.endswith("kPa")
    customary = riser(RISER.replace('units = "SI"', 'units = "US customary"'))
    assert new_quantity(6894.757, Kind.PRESSURE, customary).text.endswith("psi")


def layout_with_names(*names: str) -> Layout:
    return drawing(*(intake(name) for name in names), run("riser", names[0], "pump"))


def test_a_name_is_the_one_wanted_or_the_first_that_is_new_in_the_drawing() -> None:
    assert free_name(layout_with_names("strainer"), "nozzle") == "nozzle"
    assert free_name(layout_with_names("nozzle"), "nozzle") == "nozzle 2"
    assert free_name(layout_with_names("nozzle", "nozzle 2"), "nozzle") == "nozzle 3"
    assert free_name(layout_with_names("nozzle"), "riser") == "riser 2", "a run's name is taken too"


def test_a_figure_of_a_case_changes_in_its_table_and_nowhere_else() -> None:
    layout = riser(
        RISER.replace("format = 1", "format = 2") + '\n[cases.cold]\nfluid.temperature = "0 degC"\n'
    )
    path = ("fluid", "temperature")
    changed = with_case_figure(layout, "cold", path, quantity("5 degC", Kind.TEMPERATURE))
    assert changed.cases["cold"].table == {"fluid": {"temperature": "5 degC"}}
    assert changed.cases["cold"].figures[path].si == pytest.approx(278.15)
    assert layout.cases["cold"].table == {"fluid": {"temperature": "0 degC"}}
    assert changed.fluid == layout.fluid
    with pytest.raises(KeyError):
        with_case_figure(layout, "no such case", path, 1.0)


def test_a_change_without_sizes_can_be_had_in_any() -> None:
    def edit(layout: Layout, size: float) -> Layout:
        return layout

    any_size = Candidate(FixKind.LEVEL, "tank", edit, lambda size, system: "", "")
    one_size = Candidate(FixKind.VALVE, "v", edit, lambda size, system: "", "", sizes=(1.0,))
    assert any_size.continuous
    assert not one_size.continuous


def test_what_speaks_against_a_change_is_its_worst_and_what_it_asks_for_first() -> None:
    assert drawbacks((), "") == ""
    assert drawbacks(("pump is over", "more"), "") == "; but then: pump is over"
    assert drawbacks((), "Only with a tank built for it") == " (only with a tank built for it)"
    assert drawbacks(("pump is over",), "Only warm") == "; but then: pump is over (only warm)"


def test_all_that_a_change_brings_is_a_sentence_of_its_own() -> None:
    assert but_then(()) == ""
    assert but_then(("riser: the line doubles back", "pump is over")) == (
        " But then: riser: the line doubles back; pump is over."
    )
