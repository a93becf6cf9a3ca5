"""What lies under a point of the elevation."""

from __future__ import annotations

import pytest

from sketch.drawing.glyphs import pump_circle
from sketch.drawing.pointing import Targets
from sketch.drawing.view import fit
from solver.ledger import solve
from tests import drawings
from tests.sketch import samples

SIZE = (1000.0, 640.0)


@pytest.fixture
def targets() -> Targets:
    solution = samples.solution()
    return Targets(solution.layout, solution, fit(drawings.stand(), *SIZE), "press")


@pytest.mark.parametrize(
    ("key", "at"),
    [
        ("riser/straight 1", (0.9, 1.0)),
        ("riser/straight 2", (1.2, 1.6)),
        ("isolator/ball valve", (1.5, 1.6)),
        ("strainer/screen", (0.9, 0.15)),
        ("press/port", (2.1, 1.6)),
        ("", (0.3, 1.3)),
    ],
)
def test_a_point_means_the_entry_drawn_there_and_nothing_else(
    targets: Targets, key: str, at: tuple[float, float]
) -> None:
    assert targets.key_at(*targets.view.device(*at)) == key


def test_the_circle_of_a_pump_means_its_port_and_the_pump(targets: Targets) -> None:
    x, y, _ = pump_circle(targets.layout, "press", targets.view)
    assert targets.key_at(x, y) == "press/port"
    assert targets.part_at(x, y) == "press"


def test_a_line_in_parallel_can_be_pointed_at() -> None:
    solution = solve.solve(drawings.twins())
    targets = Targets(solution.layout, solution, fit(solution.layout, *SIZE), "press")
    assert targets.key_at(*targets.view.device(0.5, 1.0)) == "left riser/straight 1"


def test_without_a_result_parts_are_found_and_entries_are_not(targets: Targets) -> None:
    plain = Targets(targets.layout, None, targets.view, "press")
    at = targets.view.device(1.2, 1.6)
    assert plain.part_at(*at) == "riser"
    assert plain.key_at(*at) == ""


def test_inside_a_reservoir_away_from_everything_the_reservoir_is_meant(targets: Targets) -> None:
    (name,) = targets.layout.reservoirs
    left, bottom = (value.si for value in targets.layout.reservoirs[name].outline[0])
    right, top = (value.si for value in targets.layout.reservoirs[name].outline[2])
    at = targets.view.device(left + 0.05 * (right - left), bottom + 0.05 * (top - bottom))
    assert targets.part_at(*at) == name
    assert targets.key_at(*at) == ""
