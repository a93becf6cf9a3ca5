"""Curves on the sheet, where they are asked for: of every case, with where the margin is spent."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
import pytest

from sketch.page.blocks import Paragraph
from sketch.page.sheet import _sheet
from sketch.page.sheet_curves import OVER_TEMPERATURE, _ends, curves_part
from sketch.page.sheet_parts import SheetWish
from sketch.plots.curves import CurveLine, CurveMark, CurvesPicture, LineRole
from solver.answers import ask
from solver.answers.curves import curves, subjects
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees
from tests.sketch.sheets import ALL_PARTS, options_of, pages, words, written

pytestmark = pytest.mark.usefixtures("qapp")

CARRIAGE = "carriage-at-altitude"


@pytest.mark.thorough
def test_the_margin_over_temperature_names_its_cases_and_where_it_is_spent() -> None:
    text = words(written(CARRIAGE, compared=True, parts=ALL_PARTS))
    text = text[text.index("Curves of carriage") :]
    option = options_of(CARRIAGE)[0]
    worst = option.worst()
    assert worst is not None
    assert option.judgement is not None
    layout = option.judgement.layout
    (subject,) = (each for each in subjects(layout, worst.ledger, _level()) if each.name == "temperature")
    swept = curves(layout, "carriage", subject, points=41)
    assert "worst case" in text
    for case in swept.cases:
        assert case in text
    for crossing in swept.crossings:
        assert typeset(crossing, Kind.TEMPERATURE, System.US).split()[0] in text


def _level():
    from solver.layout.parts import Level

    return Level.MINIMUM


def test_without_being_asked_there_are_none() -> None:
    assert not any("Curves of" in page for page in pages(written(CARRIAGE)))


def test_a_plot_ends_where_no_curve_is_on_it_any_more() -> None:
    xs = np.linspace(0.0, 10.0, 11)
    lines = (
        CurveLine("worst case", LineRole.WORST, xs, np.where(xs < 3.5, 2.0, -50.0)),
        CurveLine("before", LineRole.ALTERNATIVE, xs + 1.0, np.full(11, np.nan)),
    )
    shown = CurvesPicture(
        lines, (), (), (), CurveMark(6.5, 1.0, "today"), "", "", Kind.SPEED, Kind.VACUUM, System.SI, ()
    )
    assert _ends(shown, -4.0) == (0.0, 6.5)
    assert _ends(replace(shown, today=CurveMark(2.0, 1.0, "today")), -4.0) == (0.0, 4.0)
    assert _ends(shown, -60.0) == (0.0, 10.0)


def test_a_crossing_is_told_apart_from_the_one_at_one_temperature_in_all_cases() -> None:
    """The curve varies the drawing's own temperature; cases that type one keep theirs, and decide."""
    sheet = _sheet(options_of("winter-press"), SheetWish(), _level(), System.US)
    panel = sheet.chosen
    (over,) = (
        each.text
        for each in curves_part(sheet)
        if isinstance(each, Paragraph) and each.text.startswith(OVER_TEMPERATURE)
    )
    reach = ask.ask("coldest start", panel.judgement.layout, panel.pump)
    at = reach.value if reach.by_margin is None else reach.by_margin
    assert at is not None
    assert f"the margin is spent at {degrees(at, System.US)}." in over
    for name in ("coldest start", "an hour later", "hottest hour"):
        assert f'"{name}"' in over
    assert '"first stroke"' not in over
