"""What new parts begin with."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import stock
from solver.quantities.units import Kind, System
from tests.drawings import drawing, run

SI = drawing(run("riser", "strainer", "pump"))
US = replace(SI, units=System.US)


@pytest.mark.parametrize(("layout", "unit"), [(SI, " m"), (US, " ft")], ids=["SI", "US"])
def test_a_length_is_typed_in_the_drawing_s_units(layout: object, unit: str) -> None:
    length = stock.length(layout, 1.5)  # type: ignore[arg-type]
    assert length.si == pytest.approx(1.5, abs=5e-5)
    assert length.text.endswith(unit)


def test_the_figure_of_the_drawing_s_units_is_taken() -> None:
    assert stock.figure(SI, "3 psi", "0.2 bar", Kind.PRESSURE).text == "0.2 bar"
    assert stock.figure(US, "3 psi", "0.2 bar", Kind.PRESSURE).text == "3 psi"


@pytest.mark.parametrize("layout", [SI, US], ids=["SI", "US"])
def test_a_new_tank_holds_its_levels(layout: object) -> None:
    tank = stock.tank(layout, "tank", 1.0, 0.0)  # type: ignore[arg-type]
    floor, rim = min(y.si for _, y in tank.outline), max(y.si for _, y in tank.outline)
    assert floor < tank.minimum_level.si < tank.normal_level.si < rim
    assert sum(x.si for x, _ in tank.outline) / 4 == pytest.approx(1.0, abs=1e-3)
