"""The list of fixes: rows that are out of date cannot be pointed at."""

from __future__ import annotations

from pytestqt.qtbot import QtBot

from sketch.views import fix_rows
from sketch.views.fix_list import KEEP, FixList
from solver.quantities.units import System
from tests.solver.fixes.test_fixes import advice


def test_rows_are_painted_wide_and_narrow_and_pointed_at_only_while_they_hold(qtbot: QtBot) -> None:
    shown = fix_rows.rows(advice("carriage-at-altitude", "carriage"), System.US)
    fix_list = FixList()
    qtbot.addWidget(fix_list)
    fix_list.show_rows(shown, frozenset())
    heights = []
    for width in (500, 1200):
        fix_list.resize(width, 400)
        with qtbot.waitExposed(fix_list):
            fix_list.show()
        qtbot.waitUntil(lambda: fix_list.visualRect(fix_list.fixes.index(0)).height() > 0)
        heights.append(fix_list.visualRect(fix_list.fixes.index(0)).height())
        assert fix_list.button(0).right() <= fix_list.viewport().width()
    assert heights[0] > heights[1], "sentences wrap where there is less room"
    fix_list.point_at(0)
    assert fix_list.pointed_row == 0
    fix_list.grey()
    assert fix_list.pointed_row == -1
    fix_list.point_at(0)
    assert fix_list.pointed_row == -1
    assert fix_list.fontMetrics().horizontalAdvance(KEEP) < fix_list.button(0).width()
