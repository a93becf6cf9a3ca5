"""What is tried beside the machine splits each way of drawing air from the others, the cheapest first."""

from __future__ import annotations

from dataclasses import replace
from itertools import combinations

import pytest

from solver.field.causes import AIR, CauseKind
from solver.field.explain import Explanation
from solver.field.trials import Trial, of_air, tried, vent_gauge
from solver.layout.logged import LoggedReading
from solver.quantities.units import System


def cause(kind: CauseKind) -> Explanation:
    return Explanation(kind, "", 0.4, 0.0, 0.0, 0.0, False, False, (12e3,), ())


JOINT, SEAL, VORTEX, RETURN = (cause(kind) for kind in AIR)
NOTHING = cause(CauseKind.NOTHING)


@pytest.mark.parametrize("one", [JOINT, SEAL, VORTEX, RETURN], ids=str)
def test_whether_there_is_air_at_all_a_jar_says(one: Explanation) -> None:
    step = next(of_air(one, NOTHING, False, ()), None)
    assert step is not None
    assert "jar" in step.what
    assert step.shows[0].endswith("it clears from below")
    assert step.shows[1].endswith("it is clear, or stays cloudy")


@pytest.mark.parametrize(("one", "other"), [*combinations((JOINT, SEAL, VORTEX, RETURN), 2)], ids=str)
def test_every_two_ways_of_drawing_air_are_split_and_by_something_else_where_that_was_tried(
    one: Explanation, other: Explanation
) -> None:
    step = next(of_air(one, other, False, {Trial.JAR}), None)
    assert step is not None
    assert step.shows[0].rpartition(": ")[2] != step.shows[1].rpartition(": ")[2]


def test_a_joint_and_the_seal_are_split_by_wetting_the_joints_and_that_needs_the_pump() -> None:
    step = next(of_air(JOINT, SEAL, False, ()), None)
    assert step is not None
    assert "wet one joint at a time" in step.what
    assert "hands clear" in step.what
    assert not step.stopped
    assert next(of_air(JOINT, SEAL, True, ()), None) is None


def test_a_joint_and_a_vortex_are_split_at_rest() -> None:
    step = next(of_air(JOINT, VORTEX, True, ()), None)
    assert step is not None
    assert step.stopped
    assert (step.shows[0][-8:], step.shows[1][-8:]) == ("it falls", "it holds")


def test_the_surface_is_never_looked_at_in_a_pressurised_tank() -> None:
    step = next(of_air(VORTEX, RETURN, False, ()), None)
    assert step is not None
    assert "never on a pressurised tank" in step.what


def test_what_is_noted_was_tried() -> None:
    logged = LoggedReading("2026-03-04", "carriage", filler_cap="no change", in_tank=("calm",))
    assert tried([logged]) == {Trial.CAP, Trial.SURFACE}
    assert next(of_air(VORTEX, RETURN, False, set(Trial)), None) is None


@pytest.mark.parametrize(
    ("size", "words"),
    [
        (4e3, "4.0 kPa of vacuum, more than the 1.6 kPa of its class, or fluid in its tube"),
        (1e3, "fluid in its tube; its zero tells nothing within 1.6 kPa, its class"),
    ],
)
def test_a_vented_gauge_is_off_only_past_what_its_class_allows(size: float, words: str) -> None:
    off = replace(cause(CauseKind.OFFSET), size=size)
    step = vent_gauge(off, NOTHING, 1600.0, System.SI)
    assert step.shows[0].endswith(words)
    assert step.shows[1].endswith("zero within 1.6 kPa, as its class allows, and nothing in its tube")
