"""The scale bar covers nothing of a page."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.backdrop import tanks
from sketch.drawing.labels import Box
from sketch.drawing.painting import fit
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.recorder import Recorder
from sketch.drawing.scale_bar import scale_bar
from sketch.look.colours import LIGHT
from solver.quantities.units import System
from tests.sketch.drawing.sheets import SIZE, paint
from tests.sketch.sheets import solution

pytestmark = pytest.mark.usefixtures("qapp")


def test_on_a_page_it_leaves_the_ground_of_a_tank_alone_and_in_a_window_it_stays() -> None:
    known = solution("winter-press")
    layout = known.layout
    page = fit(layout, *SIZE, true_scale=True)
    (tank,) = tanks(layout, page)
    usual, *_ = paint(layout, known, view=replace(page, true_scale=False))
    over = page.panned(usual.scale_bar.x - tank.x, usual.scale_bar.y - tank.bottom - 2.0)
    ground = tanks(layout, over)[0]._replace(height=tank.height + 7.0)
    for true_scale, covered in ((True, False), (False, True)):
        view = replace(over, true_scale=true_scale)
        drawn, *_ = paint(layout, known, view=view, on_paper=true_scale)
        assert drawn.scale_bar.overlaps(ground) == covered
        assert not any(drawn.scale_bar.overlaps(each.box) for each in drawn.labels)


def test_it_is_shorter_on_a_drawing_that_is_too_narrow_for_it() -> None:
    known = solution("winter-press")
    for wide in (200.0, 240.0, 300.0, 400.0):
        view = fit(known.layout, wide, 400.0, true_scale=True)
        pencil = Recorder(1.0, Box(0.0, 0.0, wide, 400.0))
        bar = scale_bar(pencil, view, (wide, 400.0), LIGHT, System.SI, PaperPlacer(wide, 400.0))
        assert bar.right <= wide


def test_on_a_page_no_name_reads_on_from_the_scale() -> None:
    """ "scale 1 : 40 transfer" stood there as one text."""
    known = solution("winter-press")
    for true_scale in (True, False):
        view = fit(known.layout, 400.0, 400.0, true_scale=True)
        view, placer = replace(view, true_scale=true_scale), PaperPlacer(400.0, 400.0)
        pencil = Recorder(1.0, Box(0.0, 0.0, 400.0, 400.0))
        bar = scale_bar(pencil, view, (400.0, 400.0), LIGHT, System.SI, placer)
        beside = Box(bar.right + 8.0, bar.y + 2.0, 2.0, 8.0)
        assert placer.texts.free(beside) is not true_scale
