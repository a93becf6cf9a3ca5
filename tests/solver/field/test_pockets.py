"""What a line holds, against arithmetic by hand and against polygons of it."""

from __future__ import annotations

import math
from itertools import pairwise

import pytest
import shapely

from solver.field.pockets import Station, line_volume, pockets, stations, volume_above
from solver.layout import file
from solver.ledger.solve import solve
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}
AREA = 0.002


def way(*points: tuple[float, float]) -> tuple[Station, ...]:
    """A way of one bore through some points [m]."""
    lengths = (0.0, *(math.dist(a, b) for a, b in pairwise(points)))
    return tuple(Station(x, z, "run", AREA, length) for (x, z), length in zip(points, lengths, strict=True))


def test_a_line_holds_its_bore_times_its_length_by_hand() -> None:
    """NPS 2 schedule 40, 2.067 in bore. The riser goes 31 in up and 13 in along, less two tangents of a
    threaded elbow, plus its arc; the lead is 16 in long."""
    layout = LAYOUTS["carriage-at-altitude"]
    solution = solve(layout)
    tangent = 2 * 0.0254
    run = (31 + 13) * 0.0254 - 2 * tangent + math.pi / 2 * tangent
    by_hand = math.pi / 4 * (2.067 * 0.0254) ** 2 * (run + 16 * 0.0254)
    assert line_volume(stations(solution, "carriage")) == pytest.approx(by_hand, rel=1e-3)


def test_volume_above_a_height_agrees_with_polygons() -> None:
    points = ((0.0, 0.0), (0.0, 1.3), (2.0, 1.3), (2.0, 0.4))
    line = shapely.LineString(points)
    for height in (-1.0, 0.2, 0.7, 1.2, 1.5):
        over = line.intersection(shapely.box(-1.0, height, 3.0, 9.0))
        assert volume_above(way(*points), height) == pytest.approx(AREA * over.length)


def test_a_line_over_a_wall_has_one_pocket_and_its_sill_is_the_pump_s_side() -> None:
    layout = LAYOUTS["over-the-bund-wall"]
    (pocket,) = pockets(solve(layout), "transfer")
    assert (pocket.part, pocket.z, pocket.sill) == ("crossing", pytest.approx(1.9), pytest.approx(0.5))
    assert not pocket.below_level
    bore = 3.068 * 0.0254
    along, radius = 1.4 + 1.4 + 1.4, 1.5 * 3 * 0.0254
    bends = 2 * (2 * radius - math.pi / 2 * radius)
    assert pocket.volume == pytest.approx(math.pi / 4 * bore**2 * (along - bends), rel=0.03)


@pytest.mark.parametrize("name", sorted(set(LAYOUTS) - {"over-the-bund-wall", "shear-started-dry"}))
def test_lines_that_rise_all_the_way_have_none(name: str) -> None:
    solution = solve(LAYOUTS[name])
    assert all(pockets(solution, pump) == () for pump in solution.pumps)
