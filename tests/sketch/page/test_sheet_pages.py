"""Nothing on paper is cut where there is room for it, and what a client looks for first is on page 1."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import BODY, Ruler
from sketch.page.sheet_changes import ROUNDED
from sketch.page.sheet_pages import figure_rows
from sketch.page.sheet_text import CAUTIONS
from solver.findings.judgement import judge
from solver.findings.outlook import own_headline
from solver.quantities.units import System
from tests.sketch.sheets import NAMES, drawing, pages, solution, written
from tests.thorough import first

pytestmark = pytest.mark.usefixtures("qapp")


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


@pytest.mark.parametrize("system", first(System))
@pytest.mark.parametrize("paper", first(["A4", "Letter"]))
@pytest.mark.parametrize("name", NAMES)
def test_nothing_on_paper_is_cut(name: str, paper: str, system: System) -> None:
    for page in compared(name, paper, system):
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


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_first_page_has_notes_cautions_and_the_other_pumps(paper: str) -> None:
    first, *rest = compared("header-two-pumps", paper, System.US)
    for alternative in ("", "Three-inch header"):
        solved = solution("header-two-pumps", alternative)
        headline = own_headline(judge(solved.layout), "pilot", System.US)
        assert f"pilot, {alternative or 'as drawn'}: {headline}." in first
    note = drawing("header-two-pumps").alternatives["Three-inch header"].note
    for expected in (CAUTIONS[0], note, ROUNDED):
        assert expected in first
    assert "A veneer press had one pump on its overhead tank." in " ".join(rest)


def test_one_drawing_alone_has_its_cautions_on_the_first_page() -> None:
    first, *_ = pages(written("header-two-pumps", pump="main"))
    assert CAUTIONS[0] in first
    assert "pilot: " in first


@pytest.mark.parametrize("paper", first(["A4", "Letter"]))
@pytest.mark.parametrize("name", NAMES)
def test_the_first_page_explains_its_colours_once(name: str, paper: str) -> None:
    first, *_ = compared(name, paper, System.US)
    assert first.count("share of the inlet budget") == 1
    assert first.count("past the floor") == 1
