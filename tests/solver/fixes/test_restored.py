"""A part of an alternative that takes more than the one drawn is put back first; a better one is left."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.causes import CauseKind
from solver.field.explain import Explanation
from solver.field.put_in import merged, put_in
from solver.findings.judgement import judge
from solver.findings.kinds import OVER_BUDGET, FindingId
from solver.fixes import restored
from solver.fixes.fixes import advise_lazily
from solver.fixes.remedies import with_remedies
from solver.layout import changes, file, raw
from solver.layout.cases import read_case
from solver.layout.keys import PARTS
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


def with_fault(kind: CauseKind, part: str, size: float, *, fault: bool = True) -> Layout:
    """The drawing with a cause as a case, and as one of its cold case."""
    explanation = Explanation(kind, part, 1.0, size, size, size, False, False, (1.0,), ())
    table = put_in(DRAWN, explanation).table
    assert table is not None
    known = {(group, name) for group in PARTS for name in getattr(DRAWN, group)}
    marked = {"fault": True, **table} if fault else table
    cold = {"fluid": {"temperature": "15 degC"}}
    tables = {"cold": cold, "wrong": marked, "cold, wrong": merged(cold, marked)}
    cases = {name: read_case(each, ("cases",), name, known) for name, each in tables.items()}
    return replace(DRAWN, cases=cases, fluid=replace(DRAWN.fluid, coldest_start=None))


@pytest.mark.parametrize(
    ("kind", "part", "size", "order"),
    [
        (CauseKind.SCREEN, "strainer", 0.95, "clean strainer until it is free, as drawn"),
        (CauseKind.FLUID, "", 3.0, "bring the fluid back to what is drawn, Mineral oil, ISO VG 46"),
        (CauseKind.SURFACE, "tank", 9e3, "clear the breather of tank, so that its drop is that drawn"),
    ],
)
def test_a_case_that_is_a_fault_begins_with_what_is_wrong_put_right(
    kind: CauseKind, part: str, size: float, order: str
) -> None:
    layout = with_fault(kind, part, size)
    first = advise_lazily(layout)["carriage"].fixes[0]
    assert first.text == order
    assert first.as_drawn
    left = {path for case in first.layout.cases.values() for path in case.figures}
    assert left == {("fluid", "temperature")}
    assert first.layout.cases["cold"] == layout.cases["cold"]
    (own,) = (each for each in restored.candidates(layout, None))
    assert own.edit(layout, 1.0).cases == first.layout.cases


def test_a_case_that_only_happens_is_not_put_right() -> None:
    happens = with_fault(CauseKind.SCREEN, "strainer", 0.95, fault=False)
    assert list(restored.candidates(happens, None)) == []


def test_a_fault_that_is_put_right_can_be_kept_as_an_alternative() -> None:
    layout = with_fault(CauseKind.SCREEN, "strainer", 0.95)
    (mended,) = restored.candidates(layout, None)
    after = mended.edit(layout, 1.0)
    patch = changes.partial({}, layout, after, "cleaned")
    merged_raw = raw.lay_over(raw.to_full_raw(layout), patch)["cases"]
    assert merged_raw == raw.to_full_raw(after)["cases"]
