"""Changes of what presses on the fluid."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import pressures
from solver.fixes.candidate import Candidate
from solver.fixes.search import Offer
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity
from tests.drawings import RISER
from tests.solver.fixes.examples import judged, line, riser


def changes(layout: Layout) -> list[Candidate]:
    return list(pressures.candidates(layout, judged(layout)))


def words(candidates: list[Candidate]) -> str:
    return " ".join(each.describe(each.usual, System.SI) for each in candidates)


def with_tank(**changes: object) -> Layout:
    layout = riser()
    return replace(layout, reservoirs={"tank": replace(layout.reservoirs["tank"], **changes)})


def test_pressure_on_the_fluid_is_gained_to_the_last_pascal() -> None:
    layout = riser()
    (pressed,) = changes(layout)
    assert (pressed.now, pressed.most) == (0.0, 35e3)
    after = pressed.edit(layout, 7000.0)
    assert line(after).margin - line(layout).margin == pytest.approx(7000.0)


def test_no_pressure_is_put_on_a_tank_that_is_sealed_or_has_as_much_as_it_may() -> None:
    assert "hold" not in words(changes(with_tank(sealed=True)))
    assert changes(with_tank(pressure=quantity("35 kPa", Kind.PRESSURE))) == []


def test_a_breather_that_takes_something_gives_place_to_one_that_does_not() -> None:
    layout = with_tank(breather_drop=quantity("2 kPa", Kind.PRESSURE))
    (freed,) = changes(layout)
    assert freed.describe(1.0, System.SI).startswith("fit a breather to tank")
    assert line(freed.edit(layout, 1.0)).surface - line(layout).surface == pytest.approx(2000.0)


def test_a_breather_that_blocks_in_a_case_is_freed_before_it_does() -> None:
    """What is left of its drop is the margin gained."""
    text = RISER.replace("format = 1", "format = 2")
    layout = riser(f'{text}\n[cases."breather due"]\nreservoirs.tank.breather_drop = "4 kPa"\n')
    now = judged(layout)
    assert now.case == "breather due"
    (freed,) = changes(layout)
    order = 'free the breather of tank before it takes more than 1.00 kPa in the case "breather due"'
    assert freed.describe(1000.0, System.SI) == order
    assert judged(freed.edit(layout, 1000.0)).margin - now.margin == pytest.approx(3000.0, abs=1.0)


def test_a_sealed_tank_whose_gas_expands_is_let_breathe() -> None:
    layout = with_tank(sealed=True)
    (breathing,) = changes(layout)
    assert breathing.describe(1.0, System.SI).startswith("let tank breathe")
    after = breathing.edit(layout, 1.0)
    assert line(after).margin == pytest.approx(line(riser()).margin)
    assert line(after).margin > line(layout).margin


def test_pressure_that_a_case_has_of_its_own_is_raised_in_that_case() -> None:
    text = RISER.replace("format = 1", "format = 2").replace("[intakes", 'pressure = "10 kPa"\n[intakes', 1)
    layout = riser(f'{text}\n[cases."pressure lost"]\nreservoirs.tank.pressure = "1 kPa"\n')
    (pressed,) = changes(layout)
    assert pressed.now == pytest.approx(1000.0)
    assert pressed.describe(5000.0, System.SI).endswith(' in the case "pressure lost"')
    gained = judged(pressed.edit(layout, 5000.0)).margin - judged(layout).margin
    assert gained == pytest.approx(4000.0, abs=1.0)


def test_what_pressure_asks_for_has_the_force_on_the_lid_of_this_tank() -> None:
    """F = p A, under 1.2 m by 0.6 m: 35 kPa are 25.2 kN."""
    layout = riser()
    (pressed,) = changes(layout)
    cost = Offer(pressed, 35e3, judged(layout)).cost(System.SI)
    assert (
        cost == f"{pressures.BUILT_FOR_IT}: 35.0 kPa under a lid of 1.20 m by 0.600 m lifts it with 25.2 kN"
    )
