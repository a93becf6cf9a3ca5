"""A picture that is kept from frame to frame equals one that is painted at once, pixel by pixel."""

from __future__ import annotations

import random
from collections.abc import Iterator, Sequence
from itertools import pairwise
from pathlib import Path

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.glyphs import Glyph, glyphs
from sketch.drawing.kept_picture import KeptPicture, Tiles, changes
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit, paint_elevation
from sketch.drawing.pencil import Pencil
from sketch.drawing.recorder import Recorder
from sketch.drawing.view import View
from sketch.editing import edits
from sketch.look.colours import LIGHT
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger import solve
from solver.ledger.solve import Solution
from solver.network.build import NetworkError
from solver.quantities.units import System
from tests.thorough import one_in

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))
SIZE = (900, 520)


def blank() -> QImage:
    return QImage(*SIZE, QImage.Format.Format_RGB32)


def solved(layout: Layout) -> Solution | None:
    """None where the line can no longer be drawn: a bend needs more room than a move has left it."""
    try:
        return solve.solve(layout)
    except NetworkError:
        return None


def at_once(layout: Layout, view: View, pump: str, highest: float) -> QImage:
    image = blank()
    painter = QPainter(image)
    paint_elevation(
        painter, layout, solved(layout), view, SIZE, LIGHT, System.SI, pump=pump, highest_port=highest
    )
    painter.end()
    return image


def recorded(
    layout: Layout,
    view: View,
    pump: str,
    highest: float,
    before: Recorder | None = None,
    shapes: Sequence[Glyph] | None = None,
) -> Recorder:
    recorder = Recorder(view.dot, Box(0.0, 0.0, *SIZE), before)
    paint_elevation(
        recorder,
        layout,
        solved(layout),
        view,
        SIZE,
        LIGHT,
        System.SI,
        pump=pump,
        highest_port=highest,
        shapes=shapes,
    )
    return recorder


def shown(kept: KeptPicture, recorder: Recorder) -> QImage:
    image = blank()
    painter = QPainter(image)
    try:
        kept.paint(painter, recorder, SIZE)
    finally:
        painter.end()  # one that is left open on a picture that goes takes the whole process along
    return image


def moves(layout: Layout, pump: str, seed: int) -> Iterator[Layout]:
    """The drawing, and the drawing with its pump raised and lowered by a little."""
    choose = random.Random(seed)
    yield layout
    for _ in range(3):
        z = layout.pumps[pump].at[1].si + choose.uniform(-0.08, 0.08)
        yield edits.set_port_height(layout, pump, z)


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("path", one_in(3, LAYOUTS), ids=lambda path: path.stem)
def test_what_is_painted_again_equals_the_whole(path: Path) -> None:
    layout = file.parse(path.read_text("utf-8"), path.stem).base
    pump, view = next(iter(layout.pumps)), fit(layout, *SIZE)
    kept, recorder, before = KeptPicture(), None, layout
    for number, moved in enumerate(moves(layout, pump, len(path.stem))):
        highest = 1.0 + number // 2
        recorder = recorded(moved, view, pump, highest, recorder)
        assert shown(kept, recorder) == at_once(moved, view, pump, highest)
        if number and solved(moved) is not None and solved(before) is not None:
            assert kept.repainted < 0.6, "all of the sheet is painted again for a pump that moves a little"
        before = moved


@pytest.mark.usefixtures("qapp")
def test_a_picture_that_stays_as_it_is_is_not_painted_again() -> None:
    layout = file.parse(LAYOUTS[0].read_text("utf-8"), "drawing").base
    pump, view = next(iter(layout.pumps)), fit(layout, *SIZE)
    shapes = glyphs(layout, solved(layout), view, pump)
    first = recorded(layout, view, pump, 1.0, shapes=shapes)
    again = recorded(layout, view, pump, 1.0, first, shapes)
    assert changes(first.strokes, again.strokes) == []
    kept = KeptPicture()
    whole = shown(kept, first)
    assert kept.repainted == 1.0
    assert shown(kept, again) == whole
    assert kept.repainted == 0.0


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize("dash", [(), (8.0, 4.0)], ids=["whole", "dashed"])
def test_of_a_line_that_grows_only_its_end_is_painted_again(dash: tuple[float, ...]) -> None:
    def lines(start: float, right: float, low: float) -> Recorder:
        recorder = Recorder(1.0, Box(0.0, 0.0, *SIZE))
        recorder.fill(LIGHT.paper)
        recorder.lines([((start, 60.3), (right, 60.3)), ((40.6, 100.2), (40.6, low))], LIGHT.ink, 1.7, dash)
        return recorder

    kept = KeptPicture()
    shown(kept, lines(20.4, 620.7, 480.0))
    for start, right, low in ((20.4, 633.2, 480.0), (20.4, 633.2, 395.5), (30.9, 600.1, 395.5)):
        after = lines(start, right, low)
        assert shown(kept, after) == shown(KeptPicture(), after)
        assert kept.repainted < (0.01 if start == 20.4 or not dash else 0.05)


@pytest.mark.usefixtures("qapp")
def test_of_a_batch_of_lines_those_far_from_what_has_changed_are_not_drawn(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Each slopes, and touches the next."""

    def lines(end: float) -> Recorder:
        recorder = Recorder(1.0, Box(0.0, 0.0, *SIZE))
        recorder.fill(LIGHT.paper)
        points = [(50.3 * at, 60.2 + 31.4 * (at % 2)) for at in range(16)]
        recorder.lines(pairwise([*points, (800.0, end)]), LIGHT.ink, 5.3)
        return recorder

    kept, drawn = KeptPicture(), list[int]()
    shown(kept, lines(80.0))
    segments = Pencil.segments
    monkeypatch.setattr(
        Pencil, "segments", lambda self, of, *how: drawn.append(len(of)) or segments(self, of, *how)
    )
    again = shown(kept, lines(95.5))
    assert drawn == [2]
    assert again == shown(KeptPicture(), lines(95.5))


@pytest.mark.usefixtures("qapp")
def test_an_error_while_it_is_painted_has_all_of_it_painted_again() -> None:
    layout = file.parse(LAYOUTS[0].read_text("utf-8"), "drawing").base
    pump, view = next(iter(layout.pumps)), fit(layout, *SIZE)
    kept, sound = KeptPicture(), recorded(layout, view, pump, 1.0)
    whole = shown(kept, sound)
    broken = Recorder(view.dot, Box(0.0, 0.0, *SIZE))
    broken.fill(LIGHT.ink)

    def fail(_: object) -> None:
        raise OverflowError

    broken.repeated("broken", (), fail, lambda: Box(10.0, 10.0, 20.0, 20.0))
    with pytest.raises(OverflowError):
        shown(kept, broken)
    assert shown(kept, sound) == whole


def test_tiles_hold_what_was_put_down() -> None:
    tiles = Tiles(Box(0.0, 0.0, 320.0, 160.0))
    assert tiles.share == 0.0
    assert tiles.bounds == (0.0, 0.0, 0.0, 0.0)
    tiles.add(20.0, 20.0, 50.0, 30.0)
    assert tiles.bounds == (16.0, 16.0, 64.0, 32.0)
    tiles.add(-50.0, 150.0, 10.0, 750.0)
    tiles.add(900.0, 0.0, 910.0, 10.0)
    assert tiles.touched_by(47.0, 17.0, 48.0, 18.0)
    assert not tiles.touched_by(70.0, 17.0, 300.0, 18.0)
    areas = [(area.x(), area.y(), area.width(), area.height()) for area in tiles.areas()]
    assert areas == [(16, 16, 48, 16), (0, 144, 16, 16)]
    assert tiles.share == 4 / 200
    assert tiles.bounds == (0.0, 16.0, 64.0, 160.0)
