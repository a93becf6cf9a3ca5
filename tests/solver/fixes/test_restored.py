"""A part of an alternative that takes more than the one drawn is put back first; a better one is left."""

from __future__ import annotations

from dataclasses import replace

from solver.field.causes import CauseKind
from solver.field.explain import Explanation
from solver.field.put_in import put_in
from solver.findings.judgement import judge
from solver.findings.kinds import OVER_BUDGET, FindingId
from solver.fixes import restored
from solver.fixes.fixes import advise_lazily
from solver.fixes.remedies import with_remedies
from solver.layout import file
from solver.layout.parts import Layout
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base


def with_cause(kind: CauseKind, part: str, size: float) -> Layout:
    explanation = Explanation(kind, part, 1.0, size, size, size, False, False, (1.0,), ())
    line = put_in(DRAWN, explanation).line
    assert line is not None
    return line


def orders(layout: Layout) -> list[str]:
    units = DRAWN.units
    return [each.describe(1.0, units) for each in restored.candidates(layout, DRAWN)]


def test_each_cause_that_makes_another_line_is_put_back_as_drawn() -> None:
    narrow = with_cause(CauseKind.BORE, "riser", 0.6)
    assert orders(narrow) == ["put riser back as drawn: NPS 2 schedule 40, whole and clean"]
    stuck = with_cause(CauseKind.RESISTANCE, "connector", 20.0)
    assert orders(stuck) == ["put connector back as drawn, flexible connector: open, whole and free"]
    assert orders(with_cause(CauseKind.AS_BUILT, "", 1.0)) == ["lay the line as long as drawn"]
    for layout in (narrow, stuck):
        (candidate,) = restored.candidates(layout, DRAWN)
        again = candidate.edit(layout, 1.0)
        assert (again.runs, again.fittings) == (DRAWN.runs, DRAWN.fittings)


def test_what_the_drawing_has_alike_or_worse_is_not_put_back() -> None:
    assert orders(DRAWN) == []
    narrow = with_cause(CauseKind.BORE, "riser", 0.6)
    assert list(restored.candidates(DRAWN, narrow)) == []
    moved = replace(narrow.runs["riser"], via=())
    assert orders(replace(narrow, runs={**narrow.runs, "riser": moved})) == []


def test_it_comes_before_fixes_that_buy_more_and_only_where_the_drawing_is_known() -> None:
    narrow = with_cause(CauseKind.BORE, "lead", 0.6)
    assert not advise_lazily(narrow)["carriage"].fixes[0].text.startswith("put lead back")
    first = advise_lazily(narrow, drawn=DRAWN)["carriage"].fixes[0]
    assert first.text.startswith("put lead back as drawn")
    assert first.as_drawn
    assert first.gain > 5e3


def test_a_finding_of_the_margin_or_of_a_figure_begins_with_it() -> None:
    judgement = judge(with_cause(CauseKind.BORE, "lead", 0.6))
    advised = with_remedies(judgement, drawn=DRAWN).findings
    begun = {each.finding for each in advised if "Put lead back as drawn" in each.advice.partition(": ")[0]}
    counted = {each.finding for each in advised if "Put lead back as drawn" in each.advice}
    assert FindingId.SUCTION_VELOCITY in begun
    over = next(each for each in advised if each.finding in OVER_BUDGET)
    assert over.advice.index("Put lead back as drawn") < over.advice.index("buys")
    assert {FindingId.SUCTION_VELOCITY, over.finding} <= counted
    alone = with_remedies(judgement).findings
    assert not any("as drawn:" in each.advice for each in alone)
