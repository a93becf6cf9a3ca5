"""Nothing on paper is cut where there is room for it, and what a client looks for first is on page 1."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from sketch.drawing.pencil import BODY, Ruler
from sketch.page.sheet import write_sheet
from sketch.page.sheet_frame import placed
from sketch.page.sheet_pages import figure_rows
from solver import layout_file, ledger
from solver.units import System

pytestmark = pytest.mark.usefixtures("qapp")

EXAMPLES = Path(__file__).parents[3] / "layouts"
LAYOUTS = sorted(EXAMPLES.glob("*.toml"))


def pages_of(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


def compared(name: str, path: Path, paper: str, system: System, **more: object) -> list[str]:
    """A sheet of a drawing beside its last alternative, read back."""
    drawing = layout_file.read(EXAMPLES / f"{name}.toml")
    after = list(drawing.alternatives)[-1]
    others = {after: ledger.solve(drawing.alternatives[after].layout)}
    solution = ledger.solve(drawing.base)
    write_sheet(solution, path, others=others, paper=paper, system=system, file=f"{name}.toml", **more)  # type: ignore[arg-type]
    return pages_of(path)


@pytest.mark.parametrize("system", list(System))
@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", [path.stem for path in LAYOUTS])
def test_nothing_on_paper_is_cut(name: str, paper: str, system: System, tmp_path: Path) -> None:
    for page in compared(name, tmp_path / "sheet.pdf", paper, system):
        assert "…" not in page


def test_figures_that_do_not_fit_go_on_another_row() -> None:
    ruler = Ruler()
    found = [("At the port", "2.3 inHg vac."), ("Allowed here", "none: +1.2 inHg"), ("Spent", "2.3 inHg")]
    for width in (150.0, 260.0, 600.0):
        rows = figure_rows(ruler, found, width)
        assert [field for row in rows for _, field in row] == found
        for row in rows:
            ends = [at + max(ruler.width(n), ruler.width(f, BODY, bold=True)) for at, (n, f) in row]
            assert ends[-1] <= width or len(row) == 1
            assert all(end < at for end, (at, _) in zip(ends, row[1:], strict=False))
    assert len(figure_rows(ruler, found, 150.0)) > len(figure_rows(ruler, found, 600.0)) == 1


def test_only_the_widest_field_of_the_title_block_gives_way() -> None:
    row = [("Fluid", "a name " * 30), ("File", "press.toml")]
    fields, wide = placed(Ruler(), row, 400.0)
    assert wide <= 400.0
    assert fields[0][1][1].endswith("…")
    assert fields[1][1] == row[1]
    assert [field for _, field in placed(Ruler(), row, 4000.0)[0]] == row


def test_the_title_block_says_where_and_from_which_file(tmp_path: Path) -> None:
    for page in compared("carriage-at-altitude", tmp_path / "sheet.pdf", "A4", System.US):
        for expected in ("5413 ft, 24.3 inHg abs", "carriage-at-altitude.toml", "Log carriage pump"):
            assert expected in page


@pytest.mark.parametrize("name", [path.stem for path in LAYOUTS])
def test_no_source_on_paper_leans_on_memory(name: str, tmp_path: Path) -> None:
    text = " ".join(compared(name, tmp_path / "sheet.pdf", "A4", System.SI, working=True))
    assert "from memory" not in text
    assert "unverified" in text
    assert "a typical value, not checked against its source" in text
