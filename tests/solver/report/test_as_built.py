"""The line as it is built: every change that is ordered, together."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.findings.judgement import judge
from solver.ledger.sentences import at_port
from solver.quantities.units import System
from solver.report.as_built import as_built, ordered_changes
from solver.report.choices import laid_together
from solver.report.choosing import JudgedDrawing
from solver.report.clearing import uncleared
from solver.report.order_of_work import order_of_work
from tests.solver.report.test_choices import changed
from tests.solver.report.test_not_drawn import both

US = System.US


@pytest.fixture(scope="module")
def header() -> tuple[JudgedDrawing, JudgedDrawing]:
    return both("header-two-pumps", "Three-inch header")


def test_a_gauge_is_read_on_the_line_with_all_that_is_ordered(header) -> None:
    """The wider header alone was read where the leg is widened too."""
    before, after = header
    (change,) = ordered_changes(after)
    assert change.text == "lay main leg in NPS 2-1/2 schedule 40"
    wide = after.judgement.layout
    leg = replace(wide.runs["main leg"], size=change.layout.runs["main leg"].size)
    by_hand = judge(replace(wide, runs={**wide.runs, "main leg": leg})).worst("main")
    together = as_built(after)
    assert together is not None
    assert uncleared(together) == []
    then = together.worst("main")
    assert then.ledger.vacuum < 0.5 * after.judgement.worst("main").ledger.vacuum
    assert then.ledger.vacuum == pytest.approx(by_hand.ledger.vacuum, rel=0.2), "but for its reducers"
    step = list(order_of_work(after, US, drawn=before.judgement))[-1]
    reading = at_port(then.ledger, US)[0]
    now = at_port(before.judgement.worst("main").ledger, US)[0].partition(" ")[0]
    assert f"Expected as then built: main {reading} (now {now}, allowed " in step


def test_of_changes_that_exclude_one_another_nothing_is_foretold_together(header) -> None:
    _, after = header
    layout = after.judgement.layout
    (change,) = ordered_changes(after)
    wider = replace(layout.runs["main leg"], size="NPS 4 schedule 40")
    other = changed("main", "wider it", replace(layout, runs={**layout.runs, "main leg": wider}))
    assert laid_together(layout, (change, other)) is None
    assert laid_together(layout, (change,)) is not None


def test_what_orders_nothing_besides_is_itself(header) -> None:
    _, after = header
    without = replace(after, advice={})
    assert ordered_changes(without) == ()
    assert as_built(without) is after.judgement
