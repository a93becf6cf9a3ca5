"""From one margin to another, cause by cause: the gains add up, and the figures are the ledgers'."""

from __future__ import annotations

from decimal import Decimal
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.page.sheet_changes import change_table, counted, margin_changes
from solver.findings import checks
from solver.layout import file
from solver.ledger import solve
from solver.ledger.rounding import RoundedLedger, in_decimals, in_writing
from solver.ledger.solve import PumpLedger
from solver.quantities.units import System
from tests.sketch import samples

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))

ledgers = st.builds(
    lambda shares, budget: samples.ledger(
        {f"p{k}/straight 1": share for k, share in enumerate(shares)}, budget=budget
    ),
    st.lists(st.floats(-0.2, 0.6), min_size=1, max_size=12),
    st.floats(2_000, 40_000),
)


@given(ledgers, ledgers)
def test_the_gains_add_up_to_the_difference_of_the_margins(before: PumpLedger, after: PumpLedger) -> None:
    causes = margin_changes(before, after)
    assert sum(change.gain for change in causes) == pytest.approx(after.margin - before.margin, abs=1e-6)


@pytest.mark.parametrize("path", LAYOUTS, ids=lambda path: path.stem)
def test_so_they_do_in_every_example(path: Path) -> None:
    drawing = file.read(path)
    base = solve.solve(drawing.base)
    for alternative in drawing.alternatives.values():
        other = solve.solve(alternative.layout)
        for pump in base.pumps.keys() & other.pumps.keys():
            before, after = base.pumps[pump], other.pumps[pump]
            causes = margin_changes(before, after)
            assert sum(change.gain for change in causes) == pytest.approx(after.margin - before.margin)
            named = {change.cause: change for change in causes}
            assert named["Inlet budget"].after == after.budget
            assert named["Lift"].before == sum(entry.lift for entry in before.entries)


def test_nothing_changed_is_nothing_gained() -> None:
    one = samples.ledger(samples.SHARES)
    assert all(change.gain == 0.0 for change in margin_changes(one, one))


def test_the_largest_come_first_and_the_small_ones_together() -> None:
    before = samples.ledger({f"p{k}/straight 1": 0.05 for k in range(12)})
    after = samples.ledger({f"p{k}/straight 1": 0.05 - 0.004 * k for k in range(12)})
    budget, lift, *parts = margin_changes(before, after)
    assert (budget.cause, lift.cause) == ("Inlet budget", "Lift")
    assert [change.cause for change in parts[:3]] == ["p11", "p10", "p9"]
    assert parts[-1].cause == "6 other parts"
    gains = [change.gain for change in parts[:-1]]
    assert gains == sorted(gains, reverse=True)


def test_a_part_that_is_gone_or_new_has_one_figure() -> None:
    before = samples.ledger({"a/straight 1": 0.3, "b/straight 1": 0.2})
    after = samples.ledger({"a/straight 1": 0.3, "c/straight 1": 0.1})
    table = change_table(before, after, ("Before", "After"), System.SI)
    cells = {row.cells[0]: row.cells[1:4] for row in table.rows}
    assert cells["b"] == ("4.00", "", "4.00")
    assert cells["c"] == ("", "2.00", "\N{MINUS SIGN}2.00")
    assert cells["Margin"] == ("10.00", "12.00", "2.00")
    assert "Worst case" not in cells
    worst = change_table(before, after, ("Before", "After"), System.SI, worst=(9_000.0, 12_500.0))
    assert worst.rows[-1].cells[:4] == ("Worst case", "9.00", "12.50", "3.50")


def test_what_is_new_is_named_before_the_small_ones_stand_together() -> None:
    before = samples.ledger({f"p{k}/straight 1": 0.05 for k in range(6)})
    shares = {f"p{k}/straight 1": 0.01 for k in range(6)} | {"nozzle/entrance": 0.02, "hair/straight 1": 1e-4}
    causes = [change.cause for change in margin_changes(before, samples.ledger(shares), 2)]
    assert "nozzle" in causes
    assert "hair" not in causes
    assert causes[-1] == "1 new and 4 other parts"


@given(ledgers, ledgers, st.sampled_from(list(System)))
def test_where_no_part_is_named_what_is_spent_stands_under_the_budget(
    before: PumpLedger, after: PumpLedger, system: System
) -> None:
    rows = change_table(before, after, ("Before", "After"), system, most=0).rows
    assert [row.cells[0] for row in rows] == ["Inlet budget", "Spent", "Margin"]
    budget, spent, margin = ([Decimal(cell.replace("−", "-")) for cell in row.cells[1:4]] for row in rows)
    assert budget[0] - spent[0] == margin[0]
    assert budget[1] - spent[1] == margin[1]
    assert budget[2] + spent[2] == margin[2] == margin[1] - margin[0]
    assert rows[0].bar + rows[1].bar == pytest.approx(rows[2].bar, abs=1e-6)


def test_findings_are_counted_worst_first() -> None:
    findings = checks.check(solve.solve(file.read(LAYOUTS[1]).base))
    kinds = [finding.severity for finding in findings]
    assert counted(findings).startswith(f"{kinds.count('stop')} stop")
    assert counted(()) == "none"


@given(ledgers, ledgers, st.integers(1, 6), st.sampled_from(list(System)))
def test_both_columns_and_every_line_add_up_as_shown(
    before: PumpLedger, after: PumpLedger, most: int, system: System
) -> None:
    rows = change_table(before, after, ("Before", "After"), system, most).rows
    figures = {
        row.cells[0]: [Decimal((cell or "0").replace("−", "-")) for cell in row.cells[1:4]] for row in rows
    }
    (budget, *parts), margin = list(figures.values())[:-1], figures["Margin"]
    for column in (0, 1):
        assert budget[column] - sum(part[column] for part in parts) == margin[column]
    assert budget[2] + sum(part[2] for part in parts) == margin[2]
    assert all(part[0] - part[1] == part[2] for part in parts)
    assert margin[1] - margin[0] == margin[2]
    shown = RoundedLedger(before, system)
    for name, figure in (("Inlet budget", shown.budget), ("Margin", shown.margin)):
        assert figures[name][0] == in_decimals(figure), "as in the ledger"


def test_a_part_has_the_figure_that_its_ledger_shows() -> None:
    shares = {"a/straight 1": 0.10035, "b/straight 1": 0.10035, "c/straight 1": 0.2}
    before, after = samples.ledger(shares, budget=10_000.0), samples.ledger({"a/straight 1": 0.1}, budget=1e4)
    rows = change_table(before, after, ("Before", "After"), System.SI).rows
    figures = RoundedLedger(before, System.SI)
    for entry in before.entries:
        (cell,) = (row.cells[1] for row in rows if row.cells[0] == entry.part)
        assert cell == in_writing(figures.entry(entry)[1])
    assert {row.cells[0]: row.cells[1] for row in rows}["Margin"] == "5.99"
