"""A case is the drawing typed out, to the last digit, through window and sheet: random drawings.

The drawings, and what they are typed out, are those of the solver's own test of random cases.
"""

from __future__ import annotations

from collections.abc import Mapping
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.look.appearance import ThemeChoice
from sketch.model.document import Document
from sketch.views import case_table, ledger_rows
from sketch.window.main_window import Window, make_window
from sketch.window.sheet_writing import write_sheet_of
from solver.findings.judgement import PumpState
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, fixed
from tests.sketch.sheets import words
from tests.solver.ledger.test_random_cases import DRAWINGS, alone, drawn, figures, random_drawing, typed_out

EVERY = 3  # of how many drawings the sheet is written too, at length


@pytest.fixture
def window(qtbot: QtBot, qapp: QApplication) -> Window:
    window = make_window(qapp, None, ThemeChoice.LIGHT)
    qtbot.addWidget(window)
    window.show()
    window.workspace.show_tab("cases")
    return window


@pytest.mark.thorough
def test_window_and_sheet_show_every_case_of_a_few_drawings_as_typed_out(
    window: Window, tmp_path: Path
) -> None:
    check(window, tmp_path, [57], sheets=1)


@pytest.mark.random
@pytest.mark.parametrize("tenth", range(10))
def test_window_and_sheet_show_every_case_of_three_hundred_drawings_as_typed_out(
    window: Window, tmp_path: Path, tenth: int
) -> None:
    check(window, tmp_path, range(tenth, DRAWINGS, 10), sheets=EVERY)


def check(window: Window, folder: Path, seeds: Any, sheets: int) -> None:
    document, judged = window.document, 0
    for number, seed in enumerate(seeds):
        text, raw, others = random_drawing(seed)
        path = folder / f"drawing {seed}.toml"
        path.write_text(text, "utf-8")
        assert window.files.read(path)
        for name, partial in ("", None), *others.items():
            typed = typed_cases(drawn(raw, partial))
            document.show_alternative(name)
            if document.outcome.judgement is not None:
                judged += checked_window(window, typed, seed)
        document.show_alternative("")
        if number % sheets == 0 and document.outcome.judgement is not None:
            checked_sheet(document, folder / "sheet.pdf", typed_cases(drawn(raw, None)), seed)
    assert judged >= len(seeds)


def typed_cases(raw: dict[str, Any]) -> dict[str, Solution | None]:
    """Every case of a drawing by name, solved as typed out; None where that is refused."""
    wanted: dict[str, dict[str, Any] | None] = {"as drawn": None}
    if "coldest_start" in raw["fluid"]:
        wanted["coldest start"] = {"fluid": {"temperature": raw["fluid"]["coldest_start"]}}
    wanted |= raw["cases"]
    return {name: alone(typed_out(raw, case)) for name, case in wanted.items()}


def checked_window(window: Window, typed: Mapping[str, Solution | None], seed: int) -> int:
    """How many cases were judged; in view each is the drawing typed out, and its cells have those margins."""
    document, table = window.document, window.workspace.views["cases"].table
    table.refresh()
    rows = {row.case: row for row in table.rows}
    shown = case_table.columns(document)
    assert typed.keys() <= rows.keys(), seed
    for name, solution in typed.items():
        document.set_case(name)
        assert document.case == name
        assert (document.solution is None) is (solution is None), (seed, name)
        if solution is None or document.solution is None:
            continue
        assert figures(document.solution) == figures(solution), (seed, name)
        for column, cell in zip(shown, rows[name].cells, strict=True):
            ledger = solution.pumps.get(column.pump) if column.alternative == document.alternative else None
            if ledger is not None and cell.pump_state is not PumpState.BREAKS:
                assert cell.text.endswith(fixed(ledger.margin, Kind.VACUUM, document.system)), (seed, name)
    return sum(solution is not None for solution in typed.values())


def checked_sheet(document: Document, path: Path, typed: Mapping[str, Solution | None], seed: int) -> None:
    """The ledger of every pump on the sheet is that of its worst case typed out, figure by figure."""
    document.set_case("as drawn")
    judgement, system = document.outcome.judgement, document.system
    assert judgement is not None
    write_sheet_of(document, path)
    text = "".join(words(path).split())
    for pump in judgement.layout.pumps:
        place = judgement.worst(pump)
        if place is None:
            continue
        solution = typed[place.case]
        assert solution is not None, (seed, place.case)
        least = min(
            (not each.pumps[pump].breaks, each.pumps[pump].within, each.pumps[pump].margin)
            for each in typed.values()
            if each is not None and pump in each.pumps
        )
        if not place.ledger.sound:
            assert least == (not place.ledger.breaks, place.ledger.within, place.ledger.margin), (seed, pump)
        at = text.index("".join(f"Ledger of {pump}".split()))
        for row in ledger_rows.rows(solution, pump):
            if row.role != ledger_rows.Role.LINE:
                cells = [ledger_rows.text(row, each, system) for each in range(2, ledger_rows.ESSENTIAL)]
                said = "".join("".join(cells).split())
                assert said in text[at:], (seed, pump, row.name, said)
