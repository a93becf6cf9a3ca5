"""The drawing and its alternatives side by side, as figures."""

from __future__ import annotations

from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views import comparison
from sketch.views.alternatives_view import _texts
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.cases import solve_cases
from solver.ledger.solve import PumpLedger
from solver.quantities.adding import gained
from solver.quantities.display import number
from solver.quantities.units import Kind, System, unit
from tests.drawings import SHIPPED

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
BESIDE = "Pump beside the tank"


def worst(layout: Layout) -> PumpLedger:
    """The ledger at the coldest start, where this drawing stands worst."""
    then = solve_cases(layout)["coldest start"].solution
    assert then is not None
    return then.pumps["carriage"]


def test_an_alternative_that_helps_when_warm_alone_does_not_rank_as_a_help(document: Document) -> None:
    """Both cases of every alternative: the figure shown is the worse of them, and the headline names it."""
    for row in comparison.rows(document)[1:]:
        layout = document.drawing.alternatives[row.name].layout
        margins = [
            case.solution.pumps["carriage"].margin for case in solve_cases(layout).values() if case.solution
        ]
        assert len(margins) == 2
        assert row.margin == pytest.approx(min(margins))
        assert min(margins) < max(margins)
        assert row.headline.endswith('in "coldest start"')


def test_rows_are_the_solves_of_each_alternative(document: Document) -> None:
    rows = comparison.rows(document)
    assert [row.title for row in rows] == ["The drawing itself", *document.alternatives]
    base = worst(document.drawing.base)
    assert rows[0].change is None
    for row in rows[1:]:
        ledger = worst(document.drawing.alternatives[row.name].layout)
        assert row.margin == pytest.approx(ledger.margin)
        assert row.lift + row.loss == pytest.approx(ledger.spent)
        assert row.change == gained(base.margin, ledger.margin, Kind.VACUUM, document.system)
        assert row.within is ledger.within
    assert "stop" in rows[0].findings


def test_alternative_that_cannot_be_calculated_says_why(document: Document) -> None:
    document.show_alternative(BESIDE)
    document.apply("Lift the nozzle", edits.set_level(document.layout, "tank", "minimum", 0.29))
    row = comparison.rows(document)[-1]
    assert row.within is None
    assert row.headline.startswith("Not calculated: nozzle")
    assert row.change is None


@pytest.mark.parametrize(
    ("within", "worst", "mark"),
    [
        (True, "", "good"),
        (True, "note", "good"),
        (True, "caution", "caution"),
        (True, "stop", "stop"),
        (False, "note", "stop"),
        (None, "", "caution"),
    ],
)
def test_tick_is_given_only_where_nothing_stands_against_it(
    within: bool | None, worst: str, mark: str
) -> None:
    row = comparison.ComparedAlternative("x", "", 0.0, 0.0, 0.0, 0.0, "", "", within, worst)
    assert row.mark == mark


@pytest.mark.parametrize(
    ("change", "said"),
    [
        (3386.389, "Margin 1.00 inHg better than the drawing."),
        (-3386.389, "Margin 1.00 inHg worse than the drawing."),
        (1.0, "Same margin as drawn."),
        (None, ""),
    ],
)
def test_comparison_in_words(change: float, said: str) -> None:
    assert comparison.margin_against(change, System.US) == said


@pytest.mark.parametrize(
    ("own", "said"),
    [
        ({"": 8e3, "cold": -32e3}, "Worst case 28.00 kPa worse than drawn; in view 3.00 kPa better."),
        ({"": 8e3, "cold": -4e3}, "Worst case as drawn; in view 3.00 kPa better."),
        ({"": 8e3, "cold": -1e3}, "Margin 3.00 kPa better than the drawing."),
        ({"": 8e3}, "Margin 3.00 kPa better than the drawing. 1 case not judged."),
        (
            {"": 8e3, "cold": 8e3, "gale": -5e3},
            "Worst case 1.00 kPa worse than drawn; in view 3.00 kPa better.",
        ),
        ({"gale": 8e3}, ""),
    ],
)
def test_what_is_worse_in_its_worst_case_never_reads_as_better(own: dict[str, float], said: str) -> None:
    assert comparison.against_drawing(own, {"": 5e3, "cold": -4e3}, "", System.SI) == said


def test_row_and_column_name_the_case_their_figures_are_of() -> None:
    document = Document()
    document.open(CARRIAGE.parent / "winter-press.toml")
    judgement = document.outcome_of("").judgement
    assert judgement is not None
    worst = judgement.worst(document.pump)
    assert worst is not None
    assert comparison.rows(document)[0].case == worst.case
    assert worst.case.strip('"') in next(comparison.columns(document)).margin


def test_what_an_alternative_buys_is_of_one_pump_which_is_named_where_another_stands_worst(
    tmp_path: Path,
) -> None:
    text = (CARRIAGE.parent / "header-two-pumps.toml").read_text(encoding="utf-8")
    path = tmp_path / "two.toml"
    path.write_text(text.partition("\n[alternatives")[0], encoding="utf-8")
    document = Document(keeps=False)
    document.open(path)
    document.add_alternative("wide")
    runs = {
        name: replace(run, size="NPS 1-1/4 schedule 40" if name == "pilot leg" else "NPS 3 schedule 40")
        for name, run in document.layout.runs.items()
    }
    document.apply("wide", replace(document.layout, runs=runs))
    row = comparison.rows(document)[1]
    assert row.pump == "pilot"
    assert row.change_of == "main"
    drawn, wide = (document.outcome_of(name).judgement.worst("main") for name in ("", "wide"))
    assert row.change == gained(drawn.ledger.margin, wide.ledger.margin, Kind.VACUUM, document.system)
    assert _texts(row, System.US)[5].endswith(" (main)")


@pytest.mark.parametrize("shown", ["main", "pilot"])
def test_figures_and_verdict_of_a_row_are_of_one_pump_whichever_is_shown(shown: str) -> None:
    document = Document(keeps=False)
    document.open(CARRIAGE.parent / "header-two-pumps.toml")
    document.show_pump(shown)
    for row, column in zip(comparison.rows(document), comparison.columns(document), strict=True):
        judgement = document.outcome_of(row.name).judgement
        assert judgement is not None
        worst = judgement.worst()
        assert worst is not None
        assert (row.pump, row.case, row.margin) == (worst.pump, worst.case, worst.ledger.margin)
        assert row.headline.startswith(row.pump) or len(judgement.layout.pumps) == 1
        assert row.within is worst.ledger.sound
        assert column.ledger is worst.ledger
        assert column.margin.startswith(f"{worst.pump}: ")
    assert comparison.rows(document)[0].place == "main, as drawn"


def test_what_an_alternative_buys_is_the_difference_of_the_margins_as_shown() -> None:
    otherwise = 0  # what the figures before rounding would have come to
    for drawing in map(file.read, SHIPPED):
        before = judge(drawing.base)
        for alternative in drawing.alternatives.values():
            after = judge(alternative.layout)
            for system in System:
                bought, pump = comparison._bought(before, after, system)
                drawn, built = before.worst(cases=after.cases), after.worst(pump)
                if bought is None or drawn is None or built is None:
                    continue
                was, now = (
                    Decimal(number(each.ledger.margin, Kind.VACUUM, system, 2)) for each in (drawn, built)
                )
                assert number(bought, Kind.VACUUM, system, 2) == f"{now - was}"
                gain = built.ledger.margin - drawn.ledger.margin
                otherwise += number(gain, Kind.VACUUM, system, 2) != f"{now - was}"
    assert otherwise


def test_what_is_said_over_the_alternatives_is_what_their_table_has() -> None:
    otherwise = 0  # what the figures before rounding would have come to
    for path in SHIPPED:
        document = Document(keeps=False)
        document.open(path)
        for system in System if document.alternatives else ():
            document.set_system(system)
            drawn = document.outcome_of("")
            for row in comparison.rows(document)[1:]:
                judgement, own = drawn.judgement, document.outcome_of(row.name)
                pump = row.change_of or row.pump or document.pump
                if row.change is None or judgement is None or pump not in own.layout.pumps:
                    continue
                saved, now = drawn.margins(pump), own.margins(pump)
                said = comparison.against_drawing(now, saved, own.case, system)
                figure = _texts(row, system)[5].removesuffix(f" ({pump})").strip("+-\N{MINUS SIGN}")
                word = "better" if row.change > 0 else "worse"
                whole = f"{figure} {unit(Kind.VACUUM, system)} {word} than "
                assert whole in said if float(figure) else said.startswith(("Same margin", "Worst case as"))
                gain = min(now.values()) - min(saved[case] for case in now.keys() & saved.keys())
                otherwise += number(abs(gain), Kind.VACUUM, system, 2) != figure
    assert otherwise


def test_each_figure_against_the_drawing_is_that_of_its_own_case() -> None:
    own, drawn = {"": 10_236.0, "cold": -2_758.0}, {"": 9_000.0, "cold": -3_994.0}
    said = "Worst case 1.23 kPa better than drawn; in view 1.24 kPa better."
    assert comparison.against_drawing(own, drawn, "", System.SI) == said
