import re
import weakref
from dataclasses import replace
from decimal import Decimal
from pathlib import Path

import pytest

from sketch.drawing import ways
from sketch.views import ledger_rows
from sketch.views.ledger_rows import (
    BORE,
    COLUMNS,
    ESSENTIAL,
    FRICTION,
    LENGTH,
    LIFT,
    LOSS,
    PRESSURE,
    REYNOLDS,
    SHARE,
    TOTAL,
    K,
    Role,
)
from solver.findings.judgement import alone
from solver.layout import file as layout_file
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.text import report
from tests import drawings
from tests.sketch import by_hand
from tests.solver.geometry.test_leads import fed_from_below

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


def by_name(extra: float = 0.0) -> dict[str, ledger_rows.LedgerRow]:
    return {row.key or row.name: row for row in ledger_rows.rows(by_hand.solution(extra), "press")}


def test_the_sums_are_looked_at_without_the_lines_of_the_budget(monkeypatch: pytest.MonkeyPatch) -> None:
    rows = ledger_rows.rows(by_hand.solution(), "press")
    monkeypatch.setattr(ledger_rows, "_budget", lambda ledger: pytest.fail("made for nothing"))
    assert rows[-1].role == Role.SUM
    assert rows[rows.place_of("press/port")].key == "press/port"
    monkeypatch.undo()
    assert [row.role for row in rows[: rows._first]] == [Role.FOLD] + (rows._first - 1) * [Role.LINE]


def test_where_the_sums_begin_is_known_without_a_row_of_an_entry(monkeypatch: pytest.MonkeyPatch) -> None:
    """A line is drawn over the first of them, in every frame of a drag."""
    rows = ledger_rows.rows(by_hand.solution(), "press")
    monkeypatch.setattr(ledger_rows, "_entry", lambda *given: pytest.fail("made for nothing"))
    assert rows[rows.first_sum].role == Role.SUM
    monkeypatch.undo()
    assert rows[rows.first_sum - 1].role == Role.ENTRY


def test_the_rows_go_from_the_budget_along_the_walk_to_what_is_left() -> None:
    rows = ledger_rows.rows(by_hand.solution(), "press")
    assert [row.role for row in rows] == [
        Role.FOLD,
        Role.LINE,
        Role.LINE,
        Role.LINE,
        *[Role.ENTRY] * 5,
        Role.SUM,
        Role.SUM,
    ]
    assert [row.key for row in rows if row.role == Role.ENTRY] == [e.key for e in by_hand.ledger().entries]


def test_an_entry_shows_its_figures_in_the_units_asked_for() -> None:
    row = by_name()["riser/straight 1"]
    rest = ["50.0", "", "", "0.50"]
    si = [ledger_rows.text(row, column, System.SI) for column in range(len(COLUMNS))]
    assert si == ["straight 1", "riser", "9.00", "2.10", "11.10", "56", "89.22", "0.85", "1\u202f230", *rest]
    us = [ledger_rows.text(row, column, System.US) for column in (LIFT, LOSS, TOTAL, SHARE, PRESSURE, BORE)]
    assert us == ["2.66", "0.62", "3.28", "56", "26.35", "1.97"]


def test_what_an_element_has_none_of_is_left_blank() -> None:
    rows = ledger_rows.rows(solve(layout_file.read(CARRIAGE).base), "carriage")
    shown = {
        row.key: [ledger_rows.text(row, at, System.US) for at in (BORE, LENGTH, FRICTION, K)] for row in rows
    }
    assert shown["strainer/screen"] == ["2.07", "", "", ""]
    assert shown["riser/bend 1"] == ["2.07", "", "", "1.21"]
    assert shown["riser/straight 1"] == ["2.07", "2.42", "0.0489", ""]


def test_every_heading_has_its_meaning_in_plain_words() -> None:
    assert all(len(column.tip.split()) > 4 for column in COLUMNS)
    assert COLUMNS[ESSENTIAL].heading == "Bore"


def test_the_budget_is_one_sum_less_another_and_each_total_is_one() -> None:
    """What there is adds up to the pressure at the surface, what must remain to the floor."""
    for file in sorted(CARRIAGE.parent.glob("*.toml")):
        solution = solve(layout_file.read(file).base)
        for pump, ledger in solution.pumps.items():
            lines = [row for row in ledger_rows.rows(solution, pump) if row.role == Role.LINE]
            for part, whole in (("what there is", ledger.surface), ("what must remain", ledger.floor)):
                total = 0.0
                for row in (row for row in lines if row.part == part):
                    total += row.figures[TOTAL]
                    assert row.figures[PRESSURE] == pytest.approx(total)
                assert total == pytest.approx(whole)


def test_sums_and_margin_close_the_budget() -> None:
    rows = by_name()
    assert rows["Spent"].figures[TOTAL] + rows["Margin"].figures[TOTAL] == pytest.approx(20_000.0)
    assert rows["Spent"].figures[SHARE] + rows["Margin"].figures[SHARE] == pytest.approx(1.0)
    assert rows["Spent"].figures[LIFT] + rows["Spent"].figures[LOSS] == pytest.approx(12_000.0)
    assert rows["Margin"].figures[PRESSURE] == 81_325.0


def test_over_budget_the_margin_is_negative_and_what_lies_past_the_floor_is_known() -> None:
    rows = by_name(extra=9_000.0)
    assert ledger_rows.text(rows["Margin"], TOTAL, System.SI) == "−1.00"
    assert rows["Margin"].part == "below the floor"
    assert [key for key, row in rows.items() if row.past] == ["fall/straight 1", "press/port"]


def test_a_credit_is_negative_and_nothing_is_a_dash() -> None:
    rows = by_name()
    assert ledger_rows.text(rows["fall/straight 1"], SHARE, System.SI) == "−2"
    assert ledger_rows.text(rows["sock/screen"], LIFT, System.SI) == "–"


@pytest.mark.parametrize(
    ("value", "decimals", "shown"),
    [
        (0.0, 2, "0.00"),
        (0.0123, 2, "0.01"),
        (3.14159, 2, "3.14"),
        (9.996, 2, "10.0"),
        (83.21, 2, "83.2"),
        (123.4, 2, "123"),
        (-2.345, 2, "−2.35"),
        (-0.001, 2, "0.00"),
        (1234.5, 0, "1\u202f230"),
        (0.4, 0, "0"),
    ],
)
def test_a_figure_has_three_digits_at_most(value: float, decimals: int, shown: str) -> None:
    assert ledger_rows.figure(value, decimals) == shown


@pytest.mark.parametrize(
    ("percent", "shown"),
    [(31.4, "31"), (0.4, "<1"), (0.6, "1"), (0.0, "0"), (-3.2, "−3"), (-0.2, "0"), (112.6, "113")],
)
def test_a_share_is_whole(percent: float, shown: str) -> None:
    assert ledger_rows.share_figure(percent) == shown


def test_headings_carry_their_units() -> None:
    assert ledger_rows.heading(LOSS, System.US) == "Loss\ninHg"
    assert ledger_rows.heading(PRESSURE, System.US) == "Pressure after\ninHg abs"
    assert ledger_rows.heading(PRESSURE, System.SI) == "Pressure after\nkPa abs"


def test_a_row_can_be_heard() -> None:
    said = ledger_rows.sentence(by_name()["riser/straight 1"], System.SI)
    assert said.startswith("straight 1, riser, lift 9.00 kPa, loss 2.10 kPa")
    assert "share 56 %" in said


def test_without_a_budget_no_shares_are_shown() -> None:
    rows = by_name()
    assert rows["Spent"].figures[SHARE] is not None
    bare = by_hand.ledger()
    object.__setattr__(bare, "budget", -5_000.0)
    shown = by_hand.solution()
    shown.pumps["press"] = bare  # type: ignore[index]
    again = {row.name: row for row in ledger_rows.rows(shown, "press") if row.role in (Role.FOLD, Role.SUM)}
    assert again["Spent"].figures[SHARE] is None
    assert again["Inlet budget"].figures[SHARE] is None


def shown(row: ledger_rows.LedgerRow, column: int, system: System) -> Decimal:
    text = ledger_rows.text(row, column, system)
    return Decimal("0" if text in ("", ledger_rows.NOTHING) else text.replace(ledger_rows.MINUS, "-"))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("file", sorted(CARRIAGE.parent.glob("*.toml")), ids=lambda file: file.stem)
def test_every_sum_is_that_of_the_figures_over_it_as_shown(file: Path, system: System) -> None:
    solution = solve(layout_file.read(file).base)
    for pump, ledger in solution.pumps.items():
        budget, *rows, spent, margin = ledger_rows.rows(solution, pump)
        walked = {entry.key for entry in ledger.entries}
        entries = [row for row in rows if row.key in walked]
        for column in (LIFT, LOSS, TOTAL):
            assert sum(shown(row, column, system) for row in entries) == shown(spent, column, system)
        for row in (*entries, spent):
            assert shown(row, LIFT, system) + shown(row, LOSS, system) == shown(row, TOTAL, system)
        left = shown(budget, TOTAL, system) - shown(spent, TOTAL, system)
        over_floor = shown(spent, PRESSURE, system) - shown(margin, PRESSURE, system)
        assert left == over_floor == shown(margin, TOTAL, system)
        assert ledger_rows.text(entries[-1], PRESSURE, system) == ledger_rows.text(spent, PRESSURE, system)
        sums = [[row for row in rows if row.part == part] for part in ("what there is", "what must remain")]
        ends = [sum(shown(row, TOTAL, system) for row in each) for each in sums]
        assert ends == [shown(each[-1], PRESSURE, system) for each in sums]
        assert ends[0] - ends[1] == shown(budget, TOTAL, system)


def test_the_loss_of_the_carriage_is_the_same_in_every_view() -> None:
    """0.8657 inHg, which with the lift of 1.3860 would come to 2.26 of the 2.25 that are spent."""
    solution = solve(layout_file.read(CARRIAGE).base)
    spent = next(row for row in ledger_rows.rows(solution, "carriage") if row.name == "Spent")
    assert spent.figures[LOSS] / 3386.389 == pytest.approx(0.8657, abs=5e-5)
    assert ledger_rows.text(spent, LOSS, System.US) == "0.86"
    assert re.search(r"spent: 2\.25 inHg +1\.39 +0\.86 ", report(alone(solution, ())))
    limit = next(row for row in ledger_rows.rows(solution, "carriage") if row.name == "Maker's limit")
    assert "kPa" in limit.tip(System.SI)
    assert "kPa" not in limit.tip(System.US)
    assert "inHg" in limit.tip(System.US)


def test_the_sums_say_how_they_are_rounded() -> None:
    rows = by_name()
    assert all(ledger_rows.ROUNDED in rows[name].tip(System.SI) for name in ("Spent", "Margin"))


def test_window_and_terminal_show_one_and_the_same_figures() -> None:
    solution = solve(layout_file.read(CARRIAGE).base)
    lines = report(alone(solution, ())).splitlines()
    start = next(i for i, line in enumerate(lines) if line.startswith("  Where the budget goes"))
    rows = [row for row in ledger_rows.rows(solution, "carriage") if row.role == Role.ENTRY]
    for row, line in zip(rows, lines[start + 3 :], strict=False):
        assert line.endswith(ledger_rows.text(row, PRESSURE, System.US))
        for column in (LIFT, LOSS, REYNOLDS):
            shown = ledger_rows.text(row, column, System.US).replace("\N{NARROW NO-BREAK SPACE}", "")
            assert shown in (*line.split(), ledger_rows.NOTHING)


def test_a_margin_down_to_an_estimated_floor_says_so() -> None:
    ledger = replace(by_hand.ledger(), limit_estimated=True)
    solution = replace(by_hand.solution(), pumps={"press": ledger})
    assert ledger_rows.rows(solution, "press")[-1].part == "above the floor, est."
    assert by_name()["Margin"].part == "above the floor"


def test_a_pressure_no_fluid_can_have_is_no_figure() -> None:
    rows = by_name(extra=90_000.0)
    assert ledger_rows.text(rows["press/port"], PRESSURE, System.SI) == "breaks"
    assert ledger_rows.text(rows["Spent"], PRESSURE, System.SI) == "breaks"
    assert ledger_rows.text(rows["riser/bend 1"], PRESSURE, System.SI) == "89.19"


def test_lines_in_parallel_stand_under_a_heading_between_the_walk_and_the_sums() -> None:
    solution = solve(drawings.ring())
    ledger, rows = solution.pumps["large"], ledger_rows.rows(solution, "large")
    walked, beside = len(ledger.entries), len(ledger.parallel_entries)
    assert beside > 3
    *_, spent, margin = rows
    between = [row for row in rows if row.role not in (Role.FOLD, Role.LINE)][:-2]
    assert [row.role for row in between] == [*[Role.ENTRY] * walked, Role.PARALLEL, *[Role.ENTRY] * beside]
    keys = [entry.key for entry in (*ledger.entries, *ledger.parallel_entries)]
    assert [row.key for row in between if row.role == Role.ENTRY] == keys
    assert [spent.name, margin.name] == ["Spent", "Margin"]
    for key in keys:
        assert rows[rows.place_of(key)].key == key
    assert rows.place_of("") == rows.place_of("no such thing") == -1


def test_what_lies_beside_is_no_part_of_the_sums_and_says_so() -> None:
    solution = solve(drawings.ring())
    ledger, rows = solution.pumps["large"], ledger_rows.rows(solution, "large")
    walked = sum(entry.lift + entry.loss for entry in ledger.entries)
    (spent,) = (row for row in rows if row.name == "Spent")
    assert spent.figures[TOTAL] == pytest.approx(walked)
    (heading,) = (row for row in rows if row.role == Role.PARALLEL)
    assert ledger_rows.sentence(heading, System.SI) == "In parallel with this path, not in the sums"
    assert "no part of the sums" in heading.tip(System.SI)
    assert heading.key == ""
    assert all(figure is None for figure in heading.figures)


def test_an_entry_beside_the_walk_shows_its_figures_as_any_other() -> None:
    solution = solve(drawings.ring())
    entry = next(each for each in solution.pumps["large"].parallel_entries if each.key == "east/straight 1")
    rows = ledger_rows.rows(solution, "large")
    row = rows[rows.place_of(entry.key)]
    assert (row.name, row.part) == ("straight 1", "east")
    assert row.figures[LIFT] == entry.lift
    assert row.figures[SHARE] == entry.share
    assert row.figures[PRESSURE] == entry.pressure


def test_what_lies_past_the_floor_beside_the_walk_is_hatched_as_the_drawing_hatches_it() -> None:
    solution = solve(drawings.twins(vacuum="8 kPa"))
    past = {row.key for row in ledger_rows.rows(solution, "press") if row.past}
    assert past == set(ways.beyond(solution, "press"))
    assert past & {entry.key for entry in solution.pumps["press"].parallel_entries}


def test_a_tree_has_no_such_heading() -> None:
    assert not [row for row in ledger_rows.rows(by_hand.solution(), "press") if row.role == Role.PARALLEL]


def test_only_the_rows_that_are_looked_at_are_made() -> None:
    rows = ledger_rows.rows(solve(drawings.ring()), "large")
    assert rows[len(rows) - 3].role == Role.ENTRY
    assert len(rows._made) == 1


def test_rows_that_nobody_looks_at_any_more_go_at_once_with_their_solution() -> None:
    rows = ledger_rows.rows(solve(drawings.ring()), "large")
    texts = [ledger_rows.text(row, TOTAL, system) for row in rows for system in System]
    assert any(texts)
    gone = weakref.ref(rows)
    del rows
    assert gone() is None, "a cycle keeps them"


def test_rows_of_other_ways_are_others() -> None:
    ring, twins = (
        ledger_rows.rows(solve(drawings.ring()), "large"),
        ledger_rows.rows(solve(drawings.twins()), "press"),
    )
    assert ring.alike(ledger_rows.rows(solve(drawings.ring(vacuum="30 kPa")), "large"))
    assert not ring.alike(twins)


def test_a_flooded_head_shows_no_pressure_that_stands_nowhere() -> None:
    layout = layout_file.read(CARRIAGE.with_name("baler-flooded.toml")).base
    solution = solve(layout)
    rows = ledger_rows.rows(solution, next(iter(solution.pumps)))
    flooded = next(row for row in rows if row.key.endswith("/flooded head"))
    assert flooded.figures[PRESSURE] is None
    assert flooded.figures[LIFT] < 0
    assert "it rises, whatever the element loses" in COLUMNS[PRESSURE].tip


@pytest.mark.parametrize(("length", "shown"), [(None, "0.30"), (0.2, "0.20")])
def test_a_connector_shows_the_length_that_its_k_counts(length: float | None, shown: str) -> None:
    layout = fed_from_below()
    typed = None if length is None else drawings.metres(length)
    layout = replace(layout, fittings={"joint": replace(layout.fittings["joint"], length=typed)})
    (row,) = (each for each in ledger_rows.rows(solve(layout), "pump") if each.part == "joint")
    assert ledger_rows.text(row, LENGTH, System.SI) == shown
    assert ledger_rows.text(row, K, System.SI) != ""
