"""What is said beside what is dragged."""

from __future__ import annotations

from dataclasses import replace

from sketch.canvas import readout
from sketch.canvas.elevation import Elevation
from solver.quantities import units
from solver.quantities.units import System
from tests.sketch.canvas.mouse import (
    document_of,
    drag,
)


def test_readout_names_height_and_margin(canvas: Elevation) -> None:
    document_of(canvas).set_system(System.US)
    drag(canvas, (0.6, 1.0), (0.6, 1.2), release=False)
    height, margin = (text for text, _ in canvas.readout())
    assert height.startswith("height 3.9")
    assert height.endswith(" ft")
    assert margin.startswith("margin ")
    assert margin.endswith(" inHg")


def test_readout_and_description_name_a_cold_start_that_is_over(canvas: Elevation) -> None:
    document = document_of(canvas)
    fluid = replace(document.layout.fluid, coldest_start=units.Quantity("-10 degC", 263.15))
    document.apply("Start", replace(document.layout, fluid=fluid))
    drag(canvas, (0.6, 1.0), (0.6, 1.1), release=False)
    said = canvas.readout()
    assert said[-1][0].startswith('in "coldest start" over by ')
    assert said[-1][1] == canvas.theme.stop
    assert 'In "coldest start" over by' in readout.description(document)


def test_words_for_those_who_do_not_see_it(canvas: Elevation) -> None:
    assert canvas.accessibleName() == "Elevation"
    said = canvas.accessibleDescription()
    assert said.startswith("Riser. Margin ")
    drag(canvas, (0.6, 1.0), (0.6, 1.3))
    assert canvas.accessibleDescription() != said
