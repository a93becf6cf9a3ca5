"""The places for a port, in colours: those of the worst case, and nothing where a case is not judged."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QLineF, QRectF
from PySide6.QtGui import QImage, QPainter

from sketch.drawing import reach_ground
from sketch.drawing.labels import Box
from sketch.drawing.reach_ground import TINTS, Question, _hatch, _patterns, clear_of, ground, paint_ground
from sketch.drawing.view import View
from sketch.look.colours import DARK, LIGHT, Theme, blend, contrast
from solver.geometry import moving
from solver.layout import file
from solver.layout.cases import cases_of, layout_in_case
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def layout() -> Layout:
    return file.read(LAYOUTS / "baler-flooded.toml").base


def test_the_worst_case_decides_at_every_place(layout: Layout) -> None:
    reach_ground = ground(Question(layout, Level.MINIMUM, "baler"), (1.9, 0.0, 3.0, 1.4))
    xs, ys = reach_ground.map.xs, reach_ground.map.ys
    for i, j in ((0, 59), (20, 40), (39, 10)):
        moved = moving.move_part(layout, "baler", float(xs[j]), float(ys[i]))
        alone = [
            solve(layout_in_case(moved, name, case)).pumps["baler"].margin
            for name, case in cases_of(moved).items()
        ]
        assert reach_ground.map.margin[i, j] == pytest.approx(min(alone), abs=2.0)


def test_a_case_that_cannot_be_judged_leaves_every_place_blank(layout: Layout) -> None:
    fluid = replace(layout.fluid, coldest_start=quantity("-90 degC", Kind.TEMPERATURE))
    reach_ground = ground(
        Question(replace(layout, fluid=fluid), Level.MINIMUM, "baler"), (1.9, 0.0, 3.0, 1.4)
    )
    assert np.isnan(reach_ground.map.margin).all()
    assert reach_ground.zero == reach_ground.thin == []


def test_every_place_is_painted_in_the_colour_of_what_it_comes_to(layout: Layout) -> None:
    reach_ground = ground(Question(layout, Level.MINIMUM, "baler"), (1.9, 0.0, 3.0, 1.4))
    view = View(scale=200.0, x0=-1.9 * 200.0, y0=1.4 * 200.0)
    image = QImage(220, 280, QImage.Format.Format_RGB32)
    image.fill(LIGHT.paper)
    painter = QPainter(image)
    paint_ground(painter, reach_ground._replace(zero=[], thin=[]), view, LIGHT)
    painter.end()
    tints = {
        name: blend(getattr(LIGHT, name), LIGHT.paper, TINTS["light"]).rgb()
        for name in ("stop", "caution", "good")
    }
    seen = set()
    for i, j in ((5, 5), (20, 30), (35, 50), (30, 8)):
        margin, spare = reach_ground.map.margin[i, j], reach_ground.spare[i, j]
        wanted = "stop" if margin < 0 else "caution" if spare < 0 else "good"
        x, y = view.device(float(reach_ground.map.xs[j]), float(reach_ground.map.ys[i]))
        expected = LIGHT.paper.rgb() if np.isnan(margin) else tints[wanted]
        assert image.pixel(min(round(x), 219), min(round(y), 279)) == expected
        seen.add(expected)
    assert len(seen) >= 2


def test_on_paper_what_is_over_is_crossed_what_is_thin_is_hatched_and_all_else_is_not(layout: Layout) -> None:
    ready = ground(Question(layout, Level.MINIMUM, "baler"), (1.9, 0.0, 3.0, 1.4))
    xs, ys, view = ready.map.xs, ready.map.ys, View(scale=200.0, x0=-1.9 * 200.0, y0=1.4 * 200.0)
    kinds = np.linspace(-1.5, 1.5, len(ys))[:, None] + 0.0 * xs  # over below, thin amid, within above
    ready = ready._replace(map=replace(ready.map, margin=kinds * 1e3), spare=(kinds - 0.5) * 1e3)
    for where, _, ways in _patterns(ready, LIGHT):
        lows, highs = (ys[where.any(axis=1)][end] for end in (0, -1))
        for slope in (-1.0, 1.0)[:ways]:
            lines = list(_hatch(where, ready, view, slope))
            assert len(lines) > 5
            for line in lines:
                assert (line.dx() * line.dy() > 0) is (slope < 0)
                for _, height in (view.world(line.x1(), line.y1()), view.world(line.x2(), line.y2())):
                    assert lows - 1e-6 <= height <= highs + 1e-6
    assert [ways for *_, ways in _patterns(ready, LIGHT)] == [2, 1]


@pytest.mark.parametrize(
    ("line", "left"),
    [
        ((0.0, 5.0, 100.0, 5.0), [(0.0, 10.0), (30.0, 40.0), (60.0, 100.0)]),
        ((100.0, 5.0, 0.0, 5.0), [(0.0, 10.0), (30.0, 40.0), (60.0, 100.0)]),
        ((12.0, 5.0, 28.0, 5.0), []),
        ((0.0, 11.0, 100.0, 11.0), [(0.0, 100.0)]),
        ((0.0, -5.0, 20.0, 15.0), [(0.0, 10.0), (15.0, 20.0)]),
        ((20.0, -5.0, 20.0, 15.0), [(20.0, 20.0), (20.0, 20.0)]),
    ],
)
def test_a_line_is_left_out_where_a_text_stands(
    line: tuple[float, float, float, float], left: list[tuple[float, float]]
) -> None:
    boxes = [Box(10.0, 0.0, 20.0, 10.0), Box(40.0, 0.0, 20.0, 10.0), Box(15.0, 0.0, 10.0, 10.0)]
    kept = list(clear_of(boxes, [QLineF(*line)]))
    spans = sorted(tuple(sorted((each.x1(), each.x2()))) for each in kept)
    assert [x for span in spans for x in span] == pytest.approx([x for span in left for x in span])


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_quiet_labels_stay_legible_on_every_colour_of_the_map(theme: Theme) -> None:
    for colour in (theme.good, theme.caution, theme.stop):
        tint = blend(colour, theme.paper, TINTS[theme.name])
        assert contrast(theme.quiet, tint) >= 4.5
        assert contrast(theme.limit, tint) >= 4.5


def test_what_the_colours_mean_stands_in_a_stack_where_a_line_would_cover_something() -> None:
    strip, stack, size = (540.0, 24.0), (250.0, 90.0), (1000.0, 360.0)
    line = reach_ground._least_covered(strip, stack, 1.0, size, [QRectF(0.0, 300.0, 1000.0, 60.0)])
    assert (line.width(), line.height()) == strip
    middle = [QRectF(300.0, 0.0, 400.0, 360.0)]
    box = reach_ground._least_covered(strip, stack, 1.0, size, middle)
    assert (box.width(), box.height()) == stack
    assert not box.intersects(middle[0])
    assert QRectF(0.0, 0.0, *size).contains(box)
