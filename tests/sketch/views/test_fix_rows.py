"""Fixes as rows: their words and where their bars stand, without a widget."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.views import fix_rows
from solver.field.as_read import as_read
from solver.quantities.units import System
from tests.solver.fixes.test_fixes import LAYOUTS, advice

FOUND = advice("carriage-at-altitude", "carriage")


def test_the_least_margin_stands_at_the_left_and_the_best_at_the_right() -> None:
    shown = fix_rows.rows(FOUND, System.US)
    scale = fix_rows.scale(shown)
    assert scale.share(FOUND.now.margin) == pytest.approx(0.0)
    assert scale.share(max(row.after for row in shown)) == pytest.approx(1.0)
    assert 0 < scale.share(0.0) < 1


def test_a_row_says_what_the_margin_is_now_and_then() -> None:
    (first, *_) = fix_rows.rows(FOUND, System.US)
    assert first.buys == "buys 3.12 inHg, 1.35 inHg more than needed; margin −1.77 inHg now, 1.35 inHg then"
    assert first.title in first.spoken
    assert all(each in first.spoken for each in first.details)


def test_the_heading_says_so_where_nothing_gains_or_a_case_is_not_judged() -> None:
    assert "nothing" not in fix_rows.heading(FOUND, System.US)
    empty = replace(FOUND, fixes=(), now=replace(FOUND.now, unjudged={"frost": "no data"}))
    said = fix_rows.heading(empty, System.US)
    assert "No change that was tried gains anything." in said
    assert 'The case "frost" is not judged: no data.' in said


def test_the_heading_says_of_a_screen_read_as_blocked_that_it_is_cleaned_first() -> None:
    ample = advice("strainer-over-a-year", "feed")
    said = fix_rows.heading(ample, System.SI, as_read(LAYOUTS["strainer-over-a-year"]))
    share = "strainer as drawn (clean), not as read (74 to 83 % blocked)"
    assert f"The margin is enough with {share}. As read feed is over: clean strainer before all else." in said
    assert "As read" not in fix_rows.heading(ample, System.SI)


def test_a_pump_that_is_judged_by_npsh_has_its_margins_as_head() -> None:
    pump_advice = advice("wash-water-npsh", "wash")
    (first, *_) = fix_rows.rows(pump_advice, System.SI)
    assert first.buys.startswith("buys 3.07 m of NPSH; margin 1.66 m now, ")
    assert "1.66 m of NPSH left" in fix_rows.heading(pump_advice, System.SI)


def test_one_line_laid_another_way_is_one_row_of_the_best_way() -> None:
    listed = advice("over-the-bund-wall", "transfer")
    corners = [fix for fix in listed.fixes if "corner" in fix.text]
    assert len(corners) == 3
    shown = fix_rows.rows(listed, System.SI)
    (row,) = (row for row in shown if "corner" in row.title)
    assert row.fix is corners[0]
    assert all(fix.text in row.details[-1] and fix.buys(System.SI) in row.details[-1] for fix in corners[1:])
    worse = replace(corners[0], worsens=("a pocket",))
    (kept,) = (row for row in fix_rows.rows(replace(listed, fixes=(worse, *corners[1:])), System.SI))
    assert kept.fix is corners[1]
    assert "; but then: a pocket)" in kept.details[-1]


def test_what_is_put_back_as_drawn_stands_before_those_made_together() -> None:
    one, two, *_ = FOUND.fixes
    back = replace(two, as_drawn=True)
    both = replace(FOUND, fixes=(back, one), together=(one,))
    assert [row.fix for row in fix_rows.rows(both, System.US)] == [back, one, one]
    assert "those made together stand first after what is as drawn." in fix_rows.heading(both, System.US)
