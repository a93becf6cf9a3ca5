"""Nothing on paper is cut where there is room for it, and what a client looks for first is on page 1."""

from __future__ import annotations

from pathlib import Path

import pytest
from pypdf import PdfReader

from sketch.drawing.pencil import BODY, Ruler
from sketch.page.sheet import write_sheet
from sketch.page.sheet_asides import cold_start
from sketch.page.sheet_changes import ROUNDED, Option
from sketch.page.sheet_frame import placed
from sketch.page.sheet_pages import figure_rows
from sketch.page.sheet_text import CAUTIONS
from solver.findings import checks
from solver.findings.outlook import own_headline
from solver.layout import file
from solver.ledger import solve
from solver.quantities.units import System

pytestmark = pytest.mark.usefixtures("qapp")

EXAMPLES = Path(__file__).parents[3] / "layouts"
LAYOUTS = sorted(EXAMPLES.glob("*.toml"))


def pages_of(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


def compared(name: str, path: Path, paper: str, system: System, **more: object) -> list[str]:
    """A sheet of a drawing beside its last alternative, read back."""
    drawing = file.read(EXAMPLES / f"{name}.toml")
    after = list(drawing.alternatives)[-1]
    others = {after: solve.solve(drawing.alternatives[after].layout)}
    options = [Option(after, drawing.alternatives[after].note, others[after])]
    solution = solve.solve(drawing.base)
    write_sheet(
        solution,
        path,
        others=others,
        options=options,
        paper=paper,
        system=system,
        file=f"{name}.toml",
        **more,
    )  # type: ignore[arg-type]
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


@pytest.mark.parametrize("system", list(System))
def test_the_first_page_says_how_the_cold_start_stands_before_and_after(
    system: System, tmp_path: Path
) -> None:
    drawing = file.read(EXAMPLES / "carriage-at-altitude.toml")
    first, *_ = compared("carriage-at-altitude", tmp_path / "sheet.pdf", "A4", system)
    for layout in (drawing.base, drawing.alternatives["Pump beside the tank"].layout):
        told = cold_start(solve.solve(layout), "carriage", system)
        assert told is not None
        assert " ".join(told) in first
    assert "over by" in first
    assert "within, margin" in first
    assert "Margin, cold start" in first


def test_without_a_coldest_start_the_first_page_has_none(tmp_path: Path) -> None:
    first, *_ = compared("wash-water-npsh", tmp_path / "sheet.pdf", "A4", System.SI)
    assert "cold start" not in first.lower()


def test_a_cold_start_that_cannot_be_calculated_says_so() -> None:
    text = (EXAMPLES / "carriage-at-altitude.toml").read_text()
    cold = text.replace('coldest_start = "25 degC"', 'coldest_start = "-60 degF"')
    assert cold != text
    told = cold_start(solve.solve(file.parse(cold, "cold").base), "carriage", System.US)
    assert told is not None
    assert told[1].startswith("not calculated: ")


@pytest.mark.parametrize("paper", ["A4", "Letter"])
def test_the_first_page_has_notes_cautions_and_the_other_pumps(paper: str, tmp_path: Path) -> None:
    drawing = file.read(EXAMPLES / "header-two-pumps.toml")
    first, *rest = compared("header-two-pumps", tmp_path / "sheet.pdf", paper, System.US)
    after = drawing.alternatives["Three-inch header"]
    for layout, name in ((drawing.base, "as drawn"), (after.layout, "Three-inch header")):
        solution = solve.solve(layout)
        headline = own_headline(solution, checks.check(solution), "pilot", System.US)
        assert f"pilot, {name}: {headline}." in first
    for expected in (CAUTIONS[0], after.note, ROUNDED):
        assert expected in first
    assert "A veneer press had one pump on its overhead tank." in " ".join(rest)


def test_one_drawing_alone_has_its_cautions_on_the_first_page(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(solve.solve(file.read(EXAMPLES / "header-two-pumps.toml").base), path, "main")
    first, *_ = pages_of(path)
    assert CAUTIONS[0] in first
    assert "pilot: " in first


def test_no_heading_stands_apart_from_its_table(tmp_path: Path) -> None:
    for path in LAYOUTS:
        for paper in ("A4", "Letter"):
            for page in compared(path.stem, tmp_path / "sheet.pdf", paper, System.US):
                for heading in ("Ledger of", "Budget", "Alternatives side by side"):
                    if heading in page:
                        assert page.index(heading) < len(page) - 200, (path.stem, paper, heading)


def test_what_both_drawings_share_is_worked_out_once(tmp_path: Path) -> None:
    pages = compared("carriage-at-altitude", tmp_path / "sheet.pdf", "A4", System.US, working=True)
    text = " ".join(pages)
    assert text.count("The same as for As drawn.") >= 2
    assert text.count("0.6278/875 =") == 1


def test_letter_is_for_us_customary_drawings_unless_asked_otherwise(tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    for name, wide in (("carriage-at-altitude", 279.4), ("wash-water-npsh", 297.0)):
        write_sheet(solve.solve(file.read(EXAMPLES / f"{name}.toml").base), path)
        found = float(PdfReader(path).pages[0].mediabox.width) / 72 * 25.4
        assert found == pytest.approx(wide, abs=0.4)


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("name", [path.stem for path in LAYOUTS])
def test_the_first_page_explains_its_colours_once(name: str, paper: str, tmp_path: Path) -> None:
    first, *_ = compared(name, tmp_path / "sheet.pdf", paper, System.US)
    assert first.count("share of the inlet budget") == 1
    assert first.count("past the floor") == 1
