"""The ledger, its sums and its sources in words on the page."""

from __future__ import annotations

import pytest

from sketch.look.colours import LIGHT
from sketch.page.sheet_text import ledger_blocks
from sketch.page.table import Table
from sketch.views import ledger_rows
from solver.findings.judgement import judge
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests import drawings
from tests.sketch.sheets import NAMES, pages, solution, words, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_no_source_on_paper_leans_on_memory(name: str) -> None:
    text = " ".join(compared(name, "A4", System.SI, working=True))
    assert "from memory" not in text
    assert "unverified" in text
    assert "a typical value, not checked against its source" in text


CARRIAGE = "carriage-at-altitude"


@pytest.mark.parametrize("paper", first(["A4", "Letter"]))
@pytest.mark.parametrize("name", NAMES)
def test_every_figure_of_the_page_is_the_ledger_s(name: str, paper: str) -> None:
    """The rows of the ledger stand on the page in their order, each with its own figures."""
    solved = solution(name)
    pump = next(iter(solved.pumps))
    for system in System:
        text = words(written(name, pump=pump, system=system, paper=paper))
        at = text.index(f"Ledger of {pump}")
        for row in ledger_rows.rows(solved, pump):
            if row.role == ledger_rows.LINE:
                continue
            cells = [ledger_rows.text(row, column, system) for column in range(ledger_rows.ESSENTIAL)]
            said = " ".join(cell for cell in cells if cell)
            assert _bare(said) in _bare(text[at:]), said


def test_the_budget_is_two_sums_and_their_difference() -> None:
    text = _bare(words(written(CARRIAGE)))
    at = text.index("Whatthereis")
    assert at < text.index("Sealevel29.9229.92", at) < text.index("Whatmustremain", at)
    assert "Maker'slimit22.9222.92" in text[at:].replace("\u2019", "'")
    assert "Inletbudget1.39whatthereislesswhatmustremain" in text[at:]


def _bare(text: str) -> str:
    """Without the spaces, which a file sets as it likes."""
    return "".join(text.split())


def test_lines_in_parallel_are_on_the_page_under_a_quiet_heading() -> None:
    solved = solve(drawings.ring())
    blocks = list(ledger_blocks(solved, judge(solved.layout), "large", System.SI, LIGHT, ""))
    (table,) = (block for block in blocks if isinstance(block, Table))
    at = next(at for at, row in enumerate(table.rows) if row.cells[0] == "Beside this way, in parallel")
    assert table.rows[at].quiet
    assert table.rows[at].cells[1:] == ("not in the sums", *[""] * (len(table.headings) - 2))
    ledger = solved.pumps["large"]
    assert [row.cells[1] for row in table.rows[at + 1 : -2]] == [
        entry.part for entry in ledger.parallel_entries
    ]
    assert [row.rule for row in table.rows[-2:]] == [True, False]
