"""The list of fixes: rows that are out of date cannot be pointed at."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from sketch.views import fix_rows
from sketch.views.fix_list import KEEP, FixList
from solver.quantities.units import System
from tests.solver.fixes.test_fixes import advice


def test_rows_are_painted_wide_and_narrow_and_pointed_at_only_while_they_hold(qtbot: QtBot) -> None:
    shown = fix_rows.rows(advice("carriage-at-altitude", "carriage"), System.US)
    made = FixList()
    qtbot.addWidget(made)
    made.show_rows(shown, frozenset())
    heights = []
    for width in (500, 1200):
        made.resize(width, 400)
        with qtbot.waitExposed(made):
            made.show()
        qtbot.waitUntil(lambda: made.visualRect(made.fixes.index(0)).height() > 0)
        heights.append(made.visualRect(made.fixes.index(0)).height())
        assert made.button(0).right() <= made.viewport().width()
    assert heights[0] > heights[1], "sentences wrap where there is less room"
    made.point_at(0)
    assert made.pointed_row == 0
    made.grey()
    assert made.pointed_row == -1
    made.point_at(0)
    assert made.pointed_row == -1
    assert made.fontMetrics().horizontalAdvance(KEEP) < made.button(0).width()
