"""A tank stood higher than its pump, where beside its tank no line could be enough."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import raised
from solver.fixes.candidate import Candidate, FixKind, NoRoomError
from solver.fixes.fixes import advise
from solver.fixes.judging import judge
from solver.geometry import reservoirs
from solver.layout import file
from solver.layout.parts import Layout, Level, Limit
from solver.quantities.units import Kind, Quantity, System, quantity
from tests.drawings import drawing, intake, pump, run
from tests.solver.checking import with_fluid


def hungry(floor: float, coldest: str = "10 degC") -> Layout:
    """A pump over its tank that needs so much at its port [Pa], and starts cold."""
    limit = Limit("pressure", ((None, Quantity(f"{floor!r} Pa", floor)),))
    line = drawing(intake(), replace(pump(), limit=limit), run("riser", "strainer", "pump"))
    return with_fluid(line, coldest_start=quantity(coldest, Kind.TEMPERATURE))


def offered(layout: Layout) -> list[Candidate]:
    return list(raised.candidates(layout, judge(layout, "pump", Level.MINIMUM)))


@pytest.mark.parametrize("height", raised.HEIGHTS)
def test_the_lowest_level_stands_as_far_over_the_port_as_it_says(height: float) -> None:
    layout = hungry(105e3)
    (candidate,) = offered(layout)
    after = candidate.edit(layout, height)
    (tank,) = after.reservoirs.values()
    port = after.pumps["pump"].at[1].si
    assert tank.minimum_level.si - port == pytest.approx(height, abs=1e-3)
    assert port >= reservoirs.ground(after) + reservoirs.OVER_A_FLOOR
    assert not file.check(after)
    ledger = judge(after, "pump", Level.MINIMUM).ledger
    assert ledger.flooded_head == pytest.approx(height, abs=1e-3)
    described = candidate.describe(height, System.SI)
    assert f"{height:.2f} m over the port of pump" in described


def test_everything_in_the_tank_goes_up_with_it() -> None:
    layout = hungry(105e3)
    (name, tank), *_ = layout.reservoirs.items()
    (candidate,) = offered(layout)
    after = candidate.edit(layout, 2.0).reservoirs[name]
    by = after.minimum_level.si - tank.minimum_level.si
    assert by > 0.5
    assert after.normal_level.si - tank.normal_level.si == pytest.approx(by)
    for (_, before), (_, now) in zip(tank.outline, after.outline, strict=True):
        assert now.si - before.si == pytest.approx(by)


def test_it_is_offered_only_where_a_short_line_beside_the_tank_cannot_do() -> None:
    assert not offered(hungry(60e3))
    assert offered(hungry(105e3))


def test_a_tank_that_another_line_draws_from_stays() -> None:
    layout = hungry(105e3)
    other = replace(layout.intakes["strainer"], name="other")
    shared = replace(layout, intakes={**layout.intakes, "other": other})
    assert not list(raised.candidates(shared, judge(layout, "pump", Level.MINIMUM)))


def test_a_tank_that_stands_that_high_already_has_no_room_for_it() -> None:
    layout = hungry(125e3)
    (candidate,) = offered(layout)
    with pytest.raises(NoRoomError, match="stands that high already"):
        candidate.edit(candidate.edit(layout, 2.0), 1.0)


def test_with_it_a_cold_pump_that_needs_more_than_the_air_gives_is_answered_without_a_pressed_tank() -> None:
    advice = advise(hungry(105e3), "pump")
    every = [*advice.fixes, *advice.together]
    enough = [fix for fix in every if fix.cures and not fix.only]
    assert enough
    assert all(FixKind.RAISED in fix.kinds for fix in enough)
    assert advice.overhead is None
