"""The elevation, tested as the data of what was drawn where, and by a handful of pixels."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.glyphs import pump_circle
from sketch.drawing.legend import NO_SHARES
from sketch.drawing.painting import Label, fit, paint_elevation
from sketch.look.colours import LIGHT
from solver.ledger import solve
from solver.quantities.units import System
from tests import drawings
from tests.sketch import samples
from tests.sketch.drawing.sheets import SIZE, label, near, paint, pixel
from tests.thorough import first

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def overlaps(labels: tuple[Label, ...]) -> list[tuple[str, str]]:
    return [
        (one.text, other.text)
        for number, one in enumerate(labels)
        for other in labels[number + 1 :]
        if one.box.overlaps(other.box)
    ]


def test_no_label_covers_another() -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), highest_port=1.7)
    assert len(drawn.labels) > 8
    assert not overlaps(drawn.labels)


@pytest.mark.parametrize("count", [20, 60, 200])
def test_no_label_covers_another_on_a_crowded_line(count: int) -> None:
    layout, solution = samples.staircase(count)
    drawn, _, _ = paint(layout, solution, highest_port=1.2)
    assert not overlaps(drawn.labels)


@pytest.mark.parametrize("scale", [60.0, 130.0, 300.0, 900.0])
def test_no_label_covers_another_at_any_zoom(scale: float) -> None:
    base = fit(drawings.stand(), *SIZE)
    view = base.zoomed(scale / base.scale, 500.0, 320.0)
    drawn, _, _ = paint(drawings.stand(), samples.solution(), view=view, highest_port=1.2)
    assert not overlaps(drawn.labels)


def test_no_label_covers_a_pipe_or_the_level() -> None:
    drawn, _, view = paint(drawings.stand(), samples.solution(), highest_port=1.7)
    level = view.device(0.0, 0.5)[1]
    for each in drawn.labels:
        if each.kind in ("share", "name", "bore"):
            inside = each.box.x < view.device(1.4, 0)[0] and each.box.right > view.device(0, 0)[0]
            assert not (inside and each.box.y < level < each.box.bottom), each.text
        for glyph in drawn.glyphs:
            for k in range(21) if glyph.is_pipe else ():
                (ax, ay), (bx, by) = glyph.points[0], glyph.points[-1]
                if len(glyph.points) == 2:
                    assert not each.box.holds(ax + (bx - ax) * k / 20, ay + (by - ay) * k / 20), each.text


def test_every_share_of_one_per_cent_is_written_and_smaller_ones_are_not() -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution())
    written = {each.key for each in drawn.labels if each.kind == "share"}
    assert written == {key for key, share in samples.SHARES.items() if share >= 0.01}
    assert label(drawn, "riser/straight 1").text == "46 %"
    assert label(drawn, "isolator/ball valve").text == "2 % isolator"


@pytest.mark.parametrize("how", [{"pointed": "strainer/entrance"}, {"selected": ("strainer",)}])
def test_a_small_share_shows_when_pointed_at_or_selected(how: dict[str, Any]) -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution(), **how)
    assert label(drawn, "strainer/entrance").text == "0.4 %"


def test_the_fluid_stands_at_the_level_that_is_used() -> None:
    for level, z in (("minimum", 0.5), ("normal", 0.65)):
        solution = replace(samples.solution(), level=level)
        _, image, view = paint(drawings.stand(), solution)
        x, y = view.device(0.6, z)
        assert near(pixel(image, x, y + 12), LIGHT.fluid)
        assert not near(pixel(image, x, y - 4), LIGHT.fluid)


def test_both_levels_are_named_with_their_elevation() -> None:
    drawn, _, _ = paint(drawings.stand(), samples.solution())
    assert {each.text for each in drawn.labels if each.kind == "level"} == {
        "minimum level 0.500 m",
        "normal level 0.650 m",
    }


def test_levels_near_one_another_keep_their_order_and_stay_near_their_lines() -> None:
    layout = drawings.stand()
    near_by = replace(layout.reservoirs["tank"], normal_level=drawings.metres(0.505))
    drawn, _, view = paint(replace(layout, reservoirs={"tank": near_by}), None)
    minimum, normal = (
        next(each for each in drawn.labels if each.kind == "level" and each.text.startswith(which))
        for which in ("minimum", "normal")
    )
    assert normal.box.y <= minimum.box.y
    for level, z in ((minimum, 0.5), (normal, 0.505)):
        middle = level.box.y + level.box.height / 2
        assert abs(middle - view.device(0.0, z)[1]) <= 3.5 * level.box.height


def test_elevations_below_the_datum_have_a_true_minus_sign() -> None:
    layout = drawings.stand()
    corners = tuple(map(drawings.point, ((0, -2), (1.4, -2), (1.4, 0.8), (0, 0.8))))
    low = replace(layout.reservoirs["tank"], minimum_level=drawings.metres(-1.4), outline=corners)
    drawn, _, _ = paint(replace(layout, reservoirs={"tank": low}), None)
    assert "minimum level −1.40 m" in {each.text for each in drawn.labels}


def test_a_port_below_the_level_is_flooded_and_shows_its_credit() -> None:
    layout = drawings.stand(port_height=0.3)
    flooded = samples.entry("tank/flooded head", -0.25, "flooded head")
    pump_ledger = samples.ledger(samples.SHARES)
    pump_ledger = replace(pump_ledger, entries=(flooded, *pump_ledger.entries))
    drawn, _, _ = paint(layout, samples.solution(layout, made_ledger=pump_ledger))
    assert label(drawn, "lift press", "lift").text == "−25 % flooded 0.200 m"


def test_without_a_solution_nothing_is_claimed() -> None:
    drawn, image, view = paint(drawings.stand(), None)
    assert {each.kind for each in drawn.labels} <= {"name", "level", "bore"}
    assert near(pixel(image, *view.device(0.9, 1.2)), LIGHT.pipe)


@pytest.mark.parametrize("dot", [1.0, 2.0, 12.5])
def test_the_same_drawing_at_every_dot(dot: float) -> None:
    """Paper and screen share the code: twice the dots, twice the drawing."""
    size = (SIZE[0] * dot, SIZE[1] * dot)
    image = QImage(8, 8, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    view = fit(drawings.stand(), *size, dot)
    drawn = paint_elevation(
        painter, drawings.stand(), samples.solution(), view, size, LIGHT, System.SI, pump="press"
    )
    painter.end()
    plain, _, _ = paint(drawings.stand(), samples.solution())
    assert [each.text for each in drawn.labels] == [each.text for each in plain.labels]
    for big, small in zip(drawn.glyphs, plain.glyphs, strict=True):
        assert big.width / dot == pytest.approx(small.width)
        assert big.points[0][0] / dot == pytest.approx(small.points[0][0])


def test_the_axes_read_in_either_system_and_start_where_the_drawing_does() -> None:
    for system, text in ((System.SI, "lift 1.10 m"), (System.US, "lift 3.61 ft")):
        drawn, _, _ = paint(drawings.stand(), samples.solution(), system=system)
        assert label(drawn, "lift press", "lift").text == text


@pytest.mark.parametrize("level", first(["minimum", "normal"]))
def test_every_example_is_drawn_without_a_label_on_another(level: str) -> None:
    from pathlib import Path

    from solver.layout.file import read

    examples = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))
    assert examples
    for path in examples:
        drawing = read(path)
        for layout in (drawing.base, *(each.layout for each in drawing.alternatives.values())):
            solution = solve.solve(layout, level)
            for pump in solution.pumps:
                drawn, _, _ = paint(
                    layout, solution, pump=pump, system=System(layout.units), highest_port=1.0
                )
                assert not overlaps(drawn.labels), (path.name, pump)
                shares = {e.key for e in solution.pumps[pump].entries if abs(e.share) >= 0.01}
                written = {each.key for each in drawn.labels if each.kind == "share"}
                assert {key for key in shares if not key.endswith("/flooded head")} <= written


@pytest.mark.parametrize("factor", [1e-6, 1e-3, 1e3, 1e6])
def test_any_zoom_is_painted_and_no_more_than_the_sheet_is(factor: float) -> None:
    shares = {**samples.SHARES, "riser/straight 1": 1.5}
    solution = samples.solution(shares=shares)
    view = fit(drawings.stand(), *SIZE)
    drawn, _, _ = paint(
        drawings.stand(), solution, view=view.zoomed(factor, *view.device(0.9, 1.2)), highest_port=1.3
    )
    assert not overlaps(drawn.labels)


def test_the_legend_gives_way_to_what_is_drawn() -> None:
    """With the line in the bottom right corner the legend goes to another, and covers no pipe."""
    view = fit(drawings.stand(), *SIZE)
    port = view.device(2.1, 1.6)
    low = view.panned(900.0 - port[0], 580.0 - port[1])
    drawn, image, _ = paint(drawings.stand(), samples.solution(), view=low)
    (lead,) = [glyph for glyph in drawn.glyphs if glyph.key == "lead/straight 1"]
    x, y = lead.middle
    assert near(pixel(image, x + 30, y), LIGHT.classes[3])


def test_what_is_pointed_at_on_a_line_in_parallel_has_its_label() -> None:
    solution = solve.solve(drawings.twins())
    drawn, _, _ = paint(solution.layout, solution, pointed="left/entrance")
    (glyph,) = (each for each in drawn.glyphs if each.key == "left/entrance")
    assert glyph.share is not None
    assert label(drawn, "left/entrance").text == f"{100 * glyph.share:.1f} %"


def test_what_keeps_a_drawing_from_being_calculated_is_marked() -> None:
    layout = drawings.stand()
    view = fit(layout, *SIZE)
    plain = paint(layout, None, view=view)[1]
    marked = paint(layout, None, view=view, trouble=["lead", "press", "tank"])[1]
    lead = view.device(1.7, 1.6)
    edge = [round(lead[1] + step) for step in range(-16, 17)]
    for image, expected in ((plain, False), (marked, True)):
        near_stop = [near(pixel(image, lead[0], y), LIGHT.stop) for y in edge]
        assert any(near_stop) is expected
    x, y, radius = pump_circle(layout, "press", view)
    assert near(pixel(marked, x, y - radius - 4), LIGHT.stop, 30)
    wall = view.device(0.0, 0.7)
    assert any(near(pixel(marked, wall[0] + step, wall[1]), LIGHT.stop, 30) for step in (-1, 0, 1))


def test_without_a_budget_there_are_no_classes_to_explain() -> None:
    pump_ledger = samples.ledger(samples.SHARES, budget=-6_000.0)
    drawn, _, _ = paint(drawings.stand(), samples.solution(made_ledger=pump_ledger))
    assert [label.text for label in drawn.labels if label.kind == "legend"] == [NO_SHARES]


def test_a_name_too_long_for_the_sheet_is_cut_short() -> None:
    layout = drawings.stand()
    long = "isolating valve beside the north stair, under the walkway, behind the second press"
    fitting = replace(layout.fittings["isolator"], name=long)
    runs = {
        "riser": replace(layout.runs["riser"], end=long),
        "lead": replace(layout.runs["lead"], start=long),
    }
    renamed = replace(layout, fittings={long: fitting}, runs={**layout.runs, **runs})
    drawn, _, _ = paint(renamed, None)
    (label,) = [each for each in drawn.labels if each.key == long]
    assert label.text.endswith("…")
    assert label.box.width < 230
