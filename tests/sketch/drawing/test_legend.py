"""The legend covers nothing, in any example, at any size of the sheet."""

from __future__ import annotations

import math
from collections.abc import Iterator
from dataclasses import replace
from functools import cache
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtGui import QPainter, QPicture

from sketch.drawing import legend
from sketch.drawing.glyphs import Glyph, pump_circle
from sketch.drawing.labels import Box, Label
from sketch.drawing.painting import Drawn, paint_elevation
from sketch.drawing.symbols import extent
from sketch.drawing.view import XY, View, fit
from sketch.look.colours import LIGHT
from solver.layout import file
from solver.layout.parts import Layout, Site
from solver.ledger import solve
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, quantity
from tests import drawings
from tests.sketch import samples
from tests.thorough import one_in

pytestmark = pytest.mark.usefixtures("qapp")

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))
SIZES = [(385, 213), (640, 360), (1021, 398), (1046, 518), (1400, 900), (2080, 900)]
ROOMY = (600, 350)
"""A sheet of at least that size always has a legend."""


@cache
def solutions(path: Path) -> tuple[Solution, ...]:
    drawing = file.read(path)
    layouts = (drawing.base, *(each.layout for each in drawing.alternatives.values()))
    return tuple(solve.solve(layout) for layout in layouts)


def paint(solution: Solution, view: View, size: XY, pump: str, **how: object) -> Drawn:
    painter = QPainter(record := QPicture())
    system = System(solution.layout.units)
    drawn = paint_elevation(painter, solution.layout, solution, view, size, LIGHT, system, pump=pump, **how)  # type: ignore[arg-type]
    painter.end()
    assert record.size() > 0
    return drawn


def legend_of(drawn: Drawn) -> Label | None:
    legends = [label for label in drawn.labels if label.kind == "legend"]
    assert len(legends) < 2
    return legends[0] if legends else None


def covered(drawn: Drawn, layout: Layout, view: View, box: Box) -> Iterator[str]:
    """What lies under a box."""
    for glyph in drawn.glyphs:
        if _touches(glyph, box, view.dot):
            yield glyph.key
    for name in layout.pumps:
        x, y, radius = pump_circle(layout, name, view)
        if math.dist(box.nearest(x, y), (x, y)) < radius:
            yield name
    for name, tank in layout.reservoirs.items():
        corners = [view.device(x.si, y.si) for x, y in tank.outline]
        if any(_crosses(a, b, box) for a, b in pairwise((*corners, corners[0]))):
            yield name
    for label in drawn.labels:
        if label.kind != "legend" and label.box.overlaps(box):
            yield label.text
        if label.leader is not None and _crosses(*label.leader, box):
            yield f"leader of {label.text}"


def _touches(glyph: Glyph, box: Box, dot: float) -> bool:
    if not glyph.is_pipe:
        return extent(glyph, dot).overlaps(box)
    return any(_crosses(a, b, box.grown(glyph.width / 2)) for a, b in pairwise(glyph.points))


def _crosses(a: XY, b: XY, box: Box) -> bool:
    points = ((a[0] + (b[0] - a[0]) * k / 200, a[1] + (b[1] - a[1]) * k / 200) for k in range(201))
    return any(box.x < x < box.right and box.y < y < box.bottom for x, y in points)


@pytest.mark.parametrize("path", one_in(6, LAYOUTS), ids=lambda path: path.stem)
@pytest.mark.parametrize("size", one_in(3, SIZES), ids=str)
def test_in_no_example_does_the_legend_cover_anything(path: Path, size: tuple[int, int]) -> None:
    for solution in solutions(path):
        for pump in solution.pumps:
            view = fit(solution.layout, *size)
            drawn = paint(solution, view, size, pump)
            legend = legend_of(drawn)
            assert legend is not None or size < ROOMY
            if legend is not None:
                assert not list(covered(drawn, solution.layout, view, legend.box)), (solution.layout, pump)


@pytest.mark.parametrize("dot", one_in(3, [1.5, 2.0, 12.5]))
def test_nor_at_any_scale_of_the_screen_or_on_paper(dot: float) -> None:
    for path in LAYOUTS:
        for solution in solutions(path):
            size = (820 * dot, 620 * dot)
            view = fit(solution.layout, *size, dot, true_scale=True)
            drawn = paint(solution, view, size, next(iter(solution.pumps)))
            legend = legend_of(drawn)
            assert legend is not None
            assert not list(covered(drawn, solution.layout, view, legend.box)), path


@pytest.mark.parametrize("step", range(12))
def test_it_gives_way_to_a_line_that_is_dragged_across_the_sheet(step: int) -> None:
    size = (1000.0, 640.0)
    view = fit(drawings.stand(), *size)
    x, y = view.device(1.5, 1.6)
    view = view.panned(950.0 - x - 80.0 * step, 560.0 - y)
    solution = samples.solution()
    drawn = paint(solution, view, size, "press")
    legend = legend_of(drawn)
    assert legend is not None
    assert not list(covered(drawn, solution.layout, view, legend.box))


def test_the_highest_port_does_not_run_through_it() -> None:
    solution, size = samples.solution(), (1000.0, 640.0)
    view = fit(solution.layout, *size)
    plain = legend_of(paint(solution, view, size, "press"))
    assert plain is not None
    height = view.world(0.0, plain.box.y + plain.box.height / 2)[1]
    moved = legend_of(paint(solution, view, size, "press", highest_port=height))
    assert moved is not None
    line = view.device(0.0, height)[1]
    assert not moved.box.y < line < moved.box.bottom
    assert not moved.box.overlaps(plain.box)


def test_where_nothing_is_calculated_there_is_nothing_to_explain() -> None:
    painter = QPainter(record := QPicture())
    layout = drawings.stand()
    view = fit(layout, 1000, 640)
    drawn = paint_elevation(painter, layout, None, view, (1000, 640), LIGHT, System.SI, pump="press")
    painter.end()
    assert record.size() > 0
    assert legend_of(drawn) is None


def _small(name: str) -> tuple[Solution, View, XY]:
    """An example on half a page, at the scale that it has there."""
    solution = solutions(LAYOUTS[0].with_name(f"{name}.toml"))[0]
    size = (515.0, 300.0)
    return solution, fit(solution.layout, *size, true_scale=True), size


def test_past_the_floor_is_explained_on_a_small_sheet_where_it_is_used() -> None:
    for name, used in (("header-two-pumps", True), ("baler-flooded", False)):
        solution, view, size = _small(name)
        drawn = paint(solution, view, size, next(iter(solution.pumps)))
        assert any(glyph.crossing < 1.0 for glyph in drawn.glyphs) == used
        legend = legend_of(drawn)
        assert legend is not None
        assert ("over budget" in legend.text) == used


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_the_largest_taker_has_its_tag_on_half_a_page(path: Path) -> None:
    for solution in solutions(path):
        for pump, spent in solution.pumps.items():
            if spent.budget <= 0:
                continue
            size = (480.0, 210.0)
            view = fit(solution.layout, *size, true_scale=True)
            drawn = paint(solution, view, size, pump, legend=False)
            takers = [glyph for glyph in drawn.glyphs if glyph.share is not None and glyph.share > 0.0]
            dearest = max(takers, key=lambda glyph: glyph.share)
            if dearest.share >= 0.005:  # less is 0 %, which nobody is shown
                assert any(label.kind == "share" and label.key == dearest.key for label in drawn.labels)


def test_the_highest_port_leaves_out_the_scale_bar() -> None:
    from sketch.drawing import annotation
    from sketch.drawing.pencil import Pencil
    from sketch.drawing.placer import Placer

    _, view, size = _small("baler-flooded")
    drawn: list[tuple[XY, XY]] = []

    class Watched(Pencil):
        def lines(self, lines, *how, **more) -> None:  # type: ignore[no-untyped-def]
            drawn.extend(lines)

    painter = QPainter(record := QPicture())
    pencil, placer = Watched(painter), Placer(*size)
    bar = Box(80.0, 240.0, 140.0, 18.0)
    placer.block_text(bar)
    height = view.world(0.0, bar.y + 9.0)[1]
    label = annotation.highest_port(pencil, view, size, height, LIGHT, System.SI, placer)
    painter.end()
    assert record.size() > 0
    assert label is not None
    assert not label.box.overlaps(bar)
    assert len(drawn) == 2
    assert all(end[0] <= bar.x or start[0] >= bar.right for start, end in drawn)


def test_without_a_budget_it_is_said_why_nothing_has_a_colour() -> None:
    layout = file.read(next(path for path in LAYOUTS if path.stem == "carriage-at-altitude")).base
    high = replace(layout, site=Site(elevation=quantity("5200 m", Kind.ELEVATION)))
    solution = solve.solve(high)
    assert solution.pumps["carriage"].budget < 0
    drawn = paint(solution, fit(high, 1021, 398), (1021, 398), "carriage")
    assert legend.NO_SHARES in [label.text for label in drawn.labels]
