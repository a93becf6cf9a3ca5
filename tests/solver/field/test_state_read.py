"""The drawing in the state of a reading: strokes and cylinders as they were noted."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.places import Place
from solver.field.state_read import STANDBY, NotExplainedError, place_of, state_of
from solver.layout.logged import LoggedReading
from solver.network.build import pump_flow
from tests.solver.field.carriage_bench import DRAWN

LOGGED = LoggedReading("2026-03-04", "carriage")


def test_a_pump_on_standby_takes_in_a_little_of_its_flow() -> None:
    state, absent = state_of(DRAWN, 0, replace(LOGGED, strokes={"carriage": "standby"}))
    assert pump_flow(state.pumps["carriage"]) == pytest.approx(STANDBY * pump_flow(DRAWN.pumps["carriage"]))
    assert absent == ()


def test_cylinders_that_are_in_leave_the_tank_at_its_normal_level() -> None:
    state, _ = state_of(DRAWN, 0, replace(LOGGED, cylinders="in"))
    assert state.level == "normal"


def test_a_place_that_is_none_of_the_drawing_is_refused() -> None:
    assert place_of(DRAWN, LOGGED) == Place("carriage")
    with pytest.raises(NotExplainedError, match="there is no run gone"):
        place_of(DRAWN, replace(LOGGED, run="gone"))
