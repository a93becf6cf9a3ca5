"""Pumps by cases and alternatives by cases: every figure is the ledger's own, the worst case first."""

from __future__ import annotations

import pytest

from sketch.editing import cases
from sketch.look.marks import NOT_JUDGED
from sketch.model.document import BASE, Document
from sketch.views import case_making, case_table
from solver.findings.judgement import PumpState
from solver.findings.kinds import Grade
from solver.layout.cases import layout_in_case
from solver.ledger.solve import solve
from solver.quantities import units
from solver.quantities.units import Kind
from tests import drawings

pytestmark = pytest.mark.usefixtures("qapp")


def open_drawing(name: str) -> Document:
    document = Document(keeps=False)
    document.open(next(path for path in drawings.SHIPPED if path.stem == name))
    return document


@pytest.fixture
def header() -> Document:
    """Two pumps on one header, each alone and together."""
    document = open_drawing("header-two-pumps")
    for name, table in (
        ("hot", {"fluid": {"temperature": "60 degC"}}),
        ("pilot off", {"pumps": {"pilot": {"at_rest": True}}}),
        ("boiled off", {"fluid": {"temperature": "900 degC"}}),
    ):
        case_making.add(document, name, table)
    return document


def test_each_margin_is_that_of_the_drawing_typed_out(header: Document) -> None:
    shown = case_table.columns(header)
    layout = header.layout
    for row in case_table.rows(header, shown):
        if row.case == "boiled off":
            continue
        alone = solve(layout_in_case(layout, row.case, layout.cases[row.case])
                      if row.case in layout.cases else layout)  # fmt: skip
        if row.case not in layout.cases and row.case != "as drawn":
            continue
        for column, cell in zip(shown, row.cells, strict=True):
            if column.pump in alone.pumps:
                margin = units.fixed(alone.pumps[column.pump].margin, Kind.VACUUM, header.system)
                assert cell.text.removeprefix(f"{case_table.NOT_FIT}, ") == margin, (row.case, column.title)


def test_a_cell_in_the_colour_of_a_stop_says_why_or_is_below_zero(header: Document) -> None:
    shown = case_table.columns(header)
    every = [(row.case, cell) for row in case_table.rows(header, shown) for cell in row.cells]
    stops = [(case, cell) for case, cell in every if case_table.mark_of(cell.pump_state) == Grade.STOP]
    unfit = [case for case, cell in stops if cell.text.startswith(case_table.NOT_FIT)]
    assert "as drawn" in unfit, "the header is too fast for the pilot pump, which is within its budget"
    for case, cell in every:
        said = cell.text.startswith(("−", "breaks", case_table.NOT_FIT))
        assert said == ((case, cell) in stops), (case, cell)


def test_a_pump_at_rest_has_no_margin_and_no_mark(header: Document) -> None:
    shown = case_table.columns(header)
    row = next(row for row in case_table.rows(header, shown) if row.case == "pilot off")
    by_title = {column.title: cell for column, cell in zip(shown, row.cells, strict=True)}
    assert by_title["pilot"].text == case_table.AT_REST
    assert by_title["pilot"].pump_state is None
    assert by_title["main"].pump_state is not None


def test_a_case_that_was_not_judged_is_marked_so_and_never_last(header: Document) -> None:
    rows = case_table.rows(header, case_table.columns(header))
    names = [row.case for row in rows]
    boiled = rows[names.index("boiled off")]
    assert {cell.text for cell in boiled.cells} == {NOT_JUDGED}
    assert "density at 1652 °F; its figures hold from" in boiled.cells[0].why
    assert case_table.mark_of(case_table.pump_state_of(header.outcome.judgement, "boiled off")) == NOT_JUDGED
    within = [
        row.case
        for row in rows
        if case_table.pump_state_of(header.outcome.judgement, row.case) is PumpState.WITHIN
    ]
    assert all(names.index("boiled off") < names.index(each) for each in within)


def test_the_worst_case_comes_first(header: Document) -> None:
    judgement = header.outcome.judgement
    assert judgement is not None
    rows = case_table.rows(header, case_table.columns(header))
    assert rows[0].case == judgement.worst().case
    ranks = [case_table.order(judgement, row.case) for row in rows]
    assert ranks == sorted(ranks)


def test_an_alternative_shows_its_worst_pump(header: Document) -> None:
    shown = case_table.columns(header)
    rows = case_table.rows(header, shown)
    for at, column in enumerate(shown):
        if column.pump:
            continue
        judgement = header.outcome_of(column.alternative).judgement
        for row in rows:
            place = judgement.worst(cases=[row.case]) if row.case in judgement.cases else None
            assert row.cells[at].pump_state is (place.pump_state if place else None)
            assert row.cells[at].pump == (place.pump if place else "")


def test_one_pump_with_alternatives_is_not_shown_twice() -> None:
    document = open_drawing("winter-press")
    titles = [column.title for column in case_table.columns(document)]
    assert titles == ["The drawing itself", *document.alternatives]
    header = open_drawing("header-two-pumps")
    assert [column.title for column in case_table.columns(header)][:3] == [
        "main",
        "pilot",
        "The drawing itself",
    ]


def test_an_alternative_without_the_part_still_has_the_case() -> None:
    document = open_drawing("header-two-pumps")
    taken = [name for name in document.alternatives if "pilot" not in
             document.drawing.alternatives[name].layout.pumps]  # fmt: skip
    assert taken
    case_making.add(document, "pilot off", {"pumps": {"pilot": {"at_rest": True}}})
    for name in taken:
        judgement = document.outcome_of(name).judgement
        assert judgement.cases["pilot off"].judged
        assert judgement.cases["pilot off"].passed_over


def test_a_case_that_an_alternative_drops_is_no_case_of_it() -> None:
    document = open_drawing("winter-press")
    case_making.add(document, "hot", {"fluid": {"temperature": "60 degC"}})
    name = document.alternatives[0]
    document.show_alternative(name)
    document.apply("Drop", cases.remove(document.layout, "hot"))
    document.show_alternative(BASE)
    shown = case_table.columns(document)
    row = next(row for row in case_table.rows(document, shown) if row.case == "hot")
    cell = row.cells[[column.alternative for column in shown].index(name)]
    assert (cell.text, cell.exists) == (case_table.NO_SUCH_CASE, False)


def test_each_standing_has_its_mark() -> None:
    marks = [case_table.mark_of(standing) for standing in (*PumpState, None)]
    assert marks == [Grade.STOP, Grade.STOP, Grade.STOP, Grade.CAUTION, Grade.GOOD, NOT_JUDGED]


def test_a_cell_of_a_pump_that_is_not_fit_to_run_says_why_in_its_tip(header: Document) -> None:
    shown = case_table.columns(header)
    drawn = next(row for row in case_table.rows(header, shown) if row.case == "as drawn")
    cell = next(cell for column, cell in zip(shown, drawn.cells, strict=True) if column.pump == "pilot")
    assert cell.pump_state is PumpState.UNFIT
    assert cell.why.startswith("within, but not fit to run: the fluid runs too fast; ")


def test_of_cases_that_come_to_the_same_the_drawing_as_drawn_stands_first(header: Document) -> None:
    judgement = header.outcome.judgement
    assert judgement is not None
    drawn, cold = (judgement.worst(cases=[case]) for case in ("as drawn", "coldest start"))
    assert drawn is not None
    assert cold is not None
    assert drawn.ledger.margin == cold.ledger.margin
    assert judgement.worst() == drawn
    assert [row.case for row in case_table.rows(header, case_table.columns(header))][:2] == [
        "as drawn", "coldest start",
    ]  # fmt: skip
