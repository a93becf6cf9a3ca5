"""What a line holds, against arithmetic by hand and against polygons of it."""

from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise

import pytest
import shapely

from solver.field.pockets import Station, line_volume, pockets, stations, volume_above
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from tests.drawings import SHIPPED, point, twins

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
    bore = 3.068 * 0.0254
    spills = 0.5 + bore / 2  # along the top of the bore
    assert (pocket.part, pocket.z, pocket.sill) == ("crossing", pytest.approx(1.9), pytest.approx(spills))
    assert not pocket.below_level
    along, radius = 1.4 + 1.4 + 1.4, 1.5 * 3 * 0.0254
    bends = 2 * (2 * radius - math.pi / 2 * radius)
    assert pocket.volume == pytest.approx(math.pi / 4 * bore**2 * (along - bends), rel=0.03)


@pytest.mark.parametrize("name", sorted(set(LAYOUTS) - {"over-the-bund-wall", "shear-started-dry"}))
def test_lines_that_rise_all_the_way_have_none(name: str) -> None:
    solution = solve(LAYOUTS[name])
    assert all(pockets(solution, pump) == () for pump in solution.pumps)


@pytest.mark.parametrize("rise", [0.0, 1e-9, 0.02, 0.3, 2.0, 2.999999, 3.0])
def test_a_level_cuts_the_bore_of_a_line_that_slopes(rise: float) -> None:
    """Against cuts across a straight of 3 m, each with its segment of a circle over the level: half the area
    of a line that lies is over its axis, and nothing is over the top of its bore."""
    radius, steps = math.sqrt(AREA / math.pi), 4000
    straight = (Station(0.0, 0.0, "run", AREA, 0.0), Station(3.0, rise, "run", AREA, 3.0))
    upright = math.sqrt(1.0 - (rise / 3.0) ** 2)

    def over(height: float) -> float:
        chord = (height - rise * (step + 0.5) / steps for step in range(steps))
        at = (min(max(each / max(radius * upright, 1e-12), -1.0), 1.0) for each in chord)
        return sum(math.acos(u) - u * math.sqrt(1.0 - u * u) for u in at) / math.pi / steps * AREA * 3.0

    heights = (-0.1, -0.01, 0.0, 0.01, radius, rise / 2, rise, rise + radius / 2)
    for height in heights:
        assert volume_above(straight, height) == pytest.approx(over(height), rel=1e-3, abs=2e-6)
    assert volume_above(straight, rise + radius + 1e-9) == 0.0
    assert volume_above(straight, -radius - 1e-9) == pytest.approx(AREA * 3.0)


def test_a_high_place_is_vented_only_where_the_fluid_covers_the_top_of_its_bore() -> None:
    """What stands over the axis alone lets air in through the vent."""
    layout = LAYOUTS["over-the-bund-wall"]
    solution = solve(layout)
    axis, half = 1.9, 3.068 * 0.0254 / 2
    for level, under in ((axis + half + 1e-6, True), (axis + half - 1e-6, False), (axis + 1e-6, False)):
        ledger = replace(solution.pumps["transfer"], fluid_level=level)
        (pocket,) = pockets(replace(solution, pumps={"transfer": ledger}), "transfer")
        assert pocket.below_level is under


def humped(blocked: str) -> Layout:
    """Two lines to one header at 1.4 m, the left one over a hump at 1.9 m; the strainer of one is blocked."""
    layout = twins()
    left = layout.runs["left riser"]
    over = tuple(map(point, [(0.5, 1.9), (1.2, 1.9), (1.2, 1.4)]))
    strainer = layout.intakes[blocked]
    assert strainer.screen is not None
    screened = replace(strainer, screen=replace(strainer.screen, blocked=0.98))
    return replace(
        layout,
        runs={**layout.runs, "left riser": replace(left, via=over)},
        intakes={**layout.intakes, blocked: screened},
    )


def test_a_high_place_holds_its_air_whichever_line_the_most_flows_through() -> None:
    """By hand: over 1.426 m two legs of 0.474 m and 0.7 m across, less what two bends of 78 mm cut off."""
    solved = {blocked: solve(humped(blocked)) for blocked in ("right", "left")}
    walked = ["left" in {entry.part for entry in each.pumps["press"].entries} for each in solved.values()]
    assert walked == [True, False]
    (on_walk,), (beside,) = (pockets(each, "press") for each in solved.values())
    assert beside.part == on_walk.part == "left riser"
    assert (beside.z, beside.sill) == pytest.approx((on_walk.z, on_walk.sill))
    assert beside.volume == pytest.approx(on_walk.volume)
    area, cut = math.pi / 4 * 0.052**2, (2 - math.pi / 2) * 0.078
    assert beside.volume == pytest.approx(area * (2 * 0.474 + 0.7 - 2 * cut), rel=0.02)


def test_a_high_place_that_two_lines_share_holds_the_air_of_both() -> None:
    """Over 0.726 m: the header, both risers, and the leg that falls to the lower pump."""
    (pocket,) = pockets(solve(twins()), "pilot")
    area, cut = math.pi / 4 * 0.052**2, (2 - math.pi / 2) * 0.078
    by_hand = area * (1.0 + 0.674 + 0.674 + 0.5 + 0.674 - cut)
    assert pocket.volume == pytest.approx(by_hand, rel=0.02)
