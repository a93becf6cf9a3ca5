"""What the solver makes of a drawing."""

from dataclasses import replace

import pytest

from sketch.model import outcome
from solver.layout import file
from solver.quantities.units import Kind, System, quantity

from ..conftest import RISER


@pytest.mark.parametrize(
    ("units", "range_of_data"), [(System.SI, "−20 °C to 100 °C"), (System.US, "−4 °F to 212 °F")]
)
def test_a_fluid_out_of_its_range_is_refused_in_the_drawing_s_units(units: str, range_of_data: str) -> None:
    layout = file.parse(RISER, "riser").base
    hot = replace(layout.fluid, temperature=quantity("120 degC", Kind.TEMPERATURE))
    solved_outcome = outcome.solve_layout(replace(layout, units=units, fluid=hot), "minimum")
    ((part, text),) = solved_outcome.refusal
    assert part == "fluid"
    assert text.endswith(f"its figures hold from {range_of_data}")
