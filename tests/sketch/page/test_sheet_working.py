"""The calculation on the client's page, read back from it."""

from pathlib import Path

import pypdf
import pytest

from sketch.page.sheet import write_sheet
from solver.layout import file
from solver.ledger import solve
from solver.quantities.units import System
from solver.working import working

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


def pages_of(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in pypdf.PdfReader(path).pages]


@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_every_step_is_on_the_sheet(qapp: object, tmp_path: Path, system: System, paper: str) -> None:
    solution = solve.solve(file.read(CARRIAGE).base)
    target = tmp_path / "sheet.pdf"
    write_sheet(solution, target, system=system, paper=paper, working=True)
    text = " ".join(pages_of(target)).replace("\N{NO-BREAK SPACE}", " ")
    squeezed = text.replace(" ", "")
    for section in working.pages(solution, "carriage", system):
        assert section.title in text
        for row in section.rows:
            assert row.name in text
            assert row.result.replace("\N{NO-BREAK SPACE}", "").replace(" ", "") in squeezed


def test_without_being_asked_the_sheet_keeps_to_its_pages(qapp: object, tmp_path: Path) -> None:
    solution = solve.solve(file.read(CARRIAGE).base)
    counts = []
    for working_too in (False, True):
        write_sheet(solution, tmp_path / "s.pdf", working=working_too)
        counts.append(len(pages_of(tmp_path / "s.pdf")))
    assert counts[0] < counts[1]
