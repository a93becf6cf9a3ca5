"""The client's page: its words can be read back from the file, and what cannot be written is said."""

from __future__ import annotations

import datetime
import os
import re
import subprocess
import sys
import xml.etree.ElementTree as ET
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from sketch.drawing.pencil import Ruler
from sketch.look.colours import DARK, LIGHT
from sketch.page.blocks import Block, Heading, Paragraph, paginate
from sketch.page.paper import paths_of, told
from sketch.page.sheet import Option, SheetError, write_sheet
from sketch.page.sheet_changes import changes, figure
from sketch.page.sheet_text import ledger_blocks
from sketch.page.table import Row, Table
from sketch.views import ledger_rows
from solver.findings.checks import check
from solver.layout.file import read
from solver.ledger import solve as ledger
from solver.ledger.solve import Solution, solve
from solver.quantities.units import System
from tests import drawings

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

EXAMPLES = Path(__file__).parents[3] / "layouts"
DAY = datetime.date(2024, 5, 17)


@pytest.fixture(scope="module")
def carriage() -> Solution:
    return ledger.solve(read(EXAMPLES / "carriage-at-altitude.toml").base)


def text_of(path: Path) -> str:
    """The words of a PDF, one space between any two."""
    return " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)


def test_everything_on_the_page_can_be_found_by_its_words(carriage: Solution, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path, date=DAY)
    text = text_of(path)
    for expected in (
        "Log carriage pump at 1650 m, on the tank lid",
        "2024-05-17",
        "Ledger of carriage",
        "Budget",
        "Findings",
        "Assumptions",
        "Cautions",
        "Over the limit",
        "minimum level 1.83 ft",
        "riser NPS 2 schedule 40",
        "kept to fill the pump",
        "flexible connector",
        "licensed engineer's judgement",
    ):
        assert expected in text, expected
    total = len(PdfReader(path).pages)
    for number in range(1, total + 1):
        assert f"{number} of {total}" in text


@pytest.mark.parametrize("word", ["flow", "first", "fluid", "fills", "flexible", "offer", "efficient"])
def test_no_ligature_hides_a_word(word: str, carriage: Solution, tmp_path: Path) -> None:
    """A font's ligature comes out of a PDF as one sign, and nobody finds the word again."""
    path = tmp_path / "sheet.pdf"
    write_sheet(replace(carriage, layout=replace(carriage.layout, title=f"The {word} here")), path)
    text = text_of(path)
    assert f"The {word} here" in text
    assert not re.search("[\N{LATIN SMALL LIGATURE FF}-\N{LATIN SMALL LIGATURE FFL}]", text)


def test_every_font_is_embedded(carriage: Solution, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path)
    seen = 0
    for page in PdfReader(path).pages:
        for font in page["/Resources"]["/Font"].values():
            (inner,) = font.get_object()["/DescendantFonts"]
            descriptor = inner.get_object()["/FontDescriptor"].get_object()
            assert "/FontFile2" in descriptor or "/FontFile3" in descriptor
            seen += 1
    assert seen


@pytest.mark.parametrize(("paper", "size"), [("A4", (297.0, 210.0)), ("Letter", (279.4, 215.9))])
def test_the_paper_has_the_size_that_was_asked_for(
    paper: str, size: tuple[float, float], carriage: Solution, tmp_path: Path
) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path, paper=paper)
    for page in PdfReader(path).pages:
        found = (float(page.mediabox.width) / 72 * 25.4, float(page.mediabox.height) / 72 * 25.4)
        assert found == pytest.approx(size, abs=0.4)


def test_the_scale_is_true_on_paper(carriage: Solution, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path)
    assert re.search(r"scale 1 : (8|10|12)\b", text_of(path))


def test_svg_is_drawn_with_text_that_stays_text(carriage: Solution, tmp_path: Path) -> None:
    written = write_sheet(carriage, tmp_path / "sheet.svg")
    roots = [ET.parse(path).getroot() for path in written]
    texts = [
        element.text or "" for root in roots for element in root.iter("{http://www.w3.org/2000/svg}text")
    ]
    assert any("Ledger of carriage" in text for text in texts)
    assert any("Steady flow" in text for text in texts)
    assert not any("nan" in text for text in texts)
    assert {root.get("viewBox") for root in roots} == {"0 0 1056 816"}


def test_pictures_are_a_file_a_page(carriage: Solution, tmp_path: Path) -> None:
    write_sheet(carriage, tmp_path / "sheet.pdf")
    count = len(PdfReader(tmp_path / "sheet.pdf").pages)
    written = write_sheet(carriage, tmp_path / "sheet.png")
    assert [path.name for path in written] == [f"sheet-{number}.png" for number in range(1, count + 1)]
    assert sorted(tmp_path.glob("*.png")) == sorted(written)
    for path in written:
        image = QImage(str(path))
        assert image.width() == pytest.approx(279.4 / 25.4 * 192, abs=1)
        assert image.height() == pytest.approx(215.9 / 25.4 * 192, abs=1)
        assert image.text("Title") == carriage.layout.title


def test_one_page_keeps_its_name_and_several_are_told(tmp_path: Path) -> None:
    path = tmp_path / "out.png"
    assert paths_of(path, 1) == (path,)
    several = paths_of(path, 3)
    assert [each.name for each in several] == ["out-1.png", "out-2.png", "out-3.png"]
    assert told([path]) == str(path)
    assert told(several) == f"{several[0]} to out-3.png, a page each"


def options_of(name: str) -> tuple[Solution, list[Option]]:
    """A drawing calculated, and its alternatives as the sheet takes them."""
    drawing = read(EXAMPLES / f"{name}.toml")
    made = []
    for title, each in drawing.alternatives.items():
        solution = ledger.solve(each.layout)
        made.append(Option(title, each.note, solution, check(solution)))
    return ledger.solve(drawing.base), made


def pages_of(path: Path) -> list[str]:
    return [" ".join(page.extract_text().split()) for page in PdfReader(path).pages]


def test_before_and_after_stand_on_one_page_with_what_it_buys(tmp_path: Path) -> None:
    base, options = options_of("carriage-at-altitude")
    after = options[1]
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={after.name: after.solution}, options=options)
    first, *rest = pages_of(path)
    for expected in ("As drawn", after.name, "before and after", "Over by", "Within", "Gain", "Lift"):
        assert expected in first, expected
    for name, page in zip(("As drawn", after.name), rest, strict=False):
        assert f"budget goes: {name}" in page
    text = " ".join(rest)
    assert "Alternatives side by side" in text
    for option in options:
        assert option.name in text
    assert f"What {options[0].name} buys" in text  # it is not drawn, but told
    assert f"What {after.name} buys" not in text  # that stands on the first page


def test_every_alternative_that_is_drawn_has_its_pages(tmp_path: Path) -> None:
    base, options = options_of("carriage-at-altitude")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={option.name: option.solution for option in options})
    pages = pages_of(path)
    for option in options:
        assert any(f"before and after: {option.name}" in page for page in pages)
        assert any(f"budget goes: {option.name}" in page for page in pages)


def test_both_halves_are_drawn_to_one_scale(tmp_path: Path) -> None:
    base, options = options_of("header-two-pumps")
    after = options[-1]
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={after.name: after.solution})
    scales = re.findall(r"scale 1 : (\d+)", pages_of(path)[0])
    assert len(scales) == 2
    assert len(set(scales)) == 1


def test_an_alternative_that_is_refused_is_told_and_not_drawn(tmp_path: Path) -> None:
    base, options = options_of("carriage-at-altitude")
    refused = Option("Broken", "", None, (), "riser: ends in the air at 2.0 m, 1.4 m")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, options=[*options, refused])
    text = " ".join(pages_of(path))
    assert "Broken is not calculated: riser: ends in the air" in text


def test_every_figure_of_the_comparison_is_the_ledger_s(tmp_path: Path) -> None:
    base, options = options_of("header-two-pumps")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, "main", options=options, system=System.SI)
    text = " ".join(pages_of(path))
    before = base.pumps["main"]
    for option in options:
        ledger_after = option.ledger("main")
        assert ledger_after is not None
        for value in (
            ledger_after.vacuum,
            ledger_after.allowed_vacuum,
            ledger_after.budget,
            ledger_after.margin,
            ledger_after.margin - before.margin,
        ):
            assert figure(value, System.SI) in text
        for change in changes(before, ledger_after):
            assert change.cause in text
            assert figure(change.gain, System.SI) in text


@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_example_has_its_page(path: Path, tmp_path: Path) -> None:
    solution = ledger.solve(read(path).base)
    for pump in solution.pumps:
        out = tmp_path / f"{pump}.pdf"
        write_sheet(solution, out, pump)
        text = text_of(out)
        assert f"Ledger of {pump}" in text
        assert "nan" not in text.split()
        for entry in solution.pumps[pump].entries:
            assert entry.element in text


@pytest.mark.parametrize("paper", ["A4", "Letter"])
@pytest.mark.parametrize("path", sorted(EXAMPLES.glob("*.toml")), ids=lambda path: path.stem)
def test_every_figure_of_the_page_is_the_ledger_s(path: Path, paper: str, tmp_path: Path) -> None:
    """The rows of the ledger stand on the page in their order, each with its own figures."""
    solution = ledger.solve(read(path).base)
    pump = next(iter(solution.pumps))
    for system in System:
        out = tmp_path / f"{system.name}.pdf"
        write_sheet(solution, out, pump, system=system, paper=paper)
        text = text_of(out)
        at = text.index(f"Ledger of {pump}")
        for row in ledger_rows.rows(solution, pump):
            if row.role == ledger_rows.LINE:
                continue
            cells = [ledger_rows.text(row, column, system) for column in range(ledger_rows.ESSENTIAL)]
            said = " ".join(cell for cell in cells if cell)
            assert _bare(said) in _bare(text[at:]), said


def test_the_budget_is_two_sums_and_their_difference(carriage: Solution, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path)
    text = _bare(text_of(path))
    at = text.index("Whatthereis")
    assert at < text.index("Sealevel29.9229.92", at) < text.index("Whatmustremain", at)
    assert "Maker'slimit22.9222.92" in text[at:].replace("\u2019", "'")
    assert "Inletbudget1.39whatthereislesswhatmustremain" in text[at:]


def _bare(text: str) -> str:
    """Without the spaces, which a file sets as it likes."""
    return "".join(text.split())


def test_a_dark_sheet_is_dark(carriage: Solution, tmp_path: Path) -> None:
    path, *_ = write_sheet(carriage, tmp_path / "sheet.png", theme=DARK)
    assert QImage(str(path)).pixelColor(5, 5).lightness() < 60


def test_what_cannot_be_written_is_said_and_leaves_nothing_behind(carriage: Solution, tmp_path: Path) -> None:
    with pytest.raises(SheetError, match=r"sheet\.pdf"):
        write_sheet(carriage, tmp_path / "no folder" / "sheet.pdf")
    with pytest.raises(SheetError):
        write_sheet(carriage, tmp_path / ("x" * 300 + ".pdf"))
    folder = tmp_path / "folder.pdf"
    folder.mkdir()
    with pytest.raises(SheetError):
        write_sheet(carriage, folder)
    assert list(tmp_path.iterdir()) == [folder]


def test_an_existing_file_is_kept_when_the_new_one_cannot_be_made(
    carriage: Solution, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "sheet.pdf"
    path.write_bytes(b"the old one")

    def fail(*_: object) -> None:
        raise SheetError("the page could not be begun")

    monkeypatch.setattr("sketch.page.paper._begin", fail)
    with pytest.raises(SheetError):
        write_sheet(carriage, path)
    assert path.read_bytes() == b"the old one"


@pytest.mark.parametrize(("name", "paper"), [("sheet.docx", "A4"), ("sheet", "A4"), ("sheet.pdf", "A0")])
def test_what_is_not_known_is_refused_with_what_is(
    name: str, paper: str, carriage: Solution, tmp_path: Path
) -> None:
    with pytest.raises(ValueError, match=r"\.pdf|A4, Letter"):
        write_sheet(carriage, tmp_path / name, paper=paper)
    assert not list(tmp_path.iterdir())


def test_an_unknown_pump_is_a_key_error(carriage: Solution, tmp_path: Path) -> None:
    with pytest.raises(KeyError):
        write_sheet(carriage, tmp_path / "sheet.pdf", "nobody")


def test_it_needs_no_display_and_no_widgets(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from PySide6.QtGui import QGuiApplication\n"
        "application = QGuiApplication([])\n"
        "from solver.layout.file import read\n"
        "from solver.ledger.solve import solve\n"
        "from sketch.page.sheet import write_sheet\n"
        "write_sheet(solve(read(sys.argv[1]).base), sys.argv[2])\n"
        "assert 'PySide6.QtWidgets' not in sys.modules\n"
        "assert 'PySide6.QtSvg' not in sys.modules\n"
    )
    out = tmp_path / "sheet.pdf"
    nowhere = {key: value for key, value in os.environ.items() if key not in ("DISPLAY", "WAYLAND_DISPLAY")}
    subprocess.run(
        [sys.executable, "-c", code, str(EXAMPLES / "baler-flooded.toml"), str(out)],
        env=nowhere | {"QT_QPA_PLATFORM": "offscreen"},
        cwd=EXAMPLES.parent,
        check=True,
    )
    assert "Ledger of baler" in text_of(out)


def _height(blocks: list[Block], ruler: Ruler) -> float:
    return sum(block.height(ruler, 800.0) for block in blocks)


def test_pages_hold_what_fits_and_lose_nothing() -> None:
    ruler = Ruler()
    rows = tuple(Row((f"row {number}", f"{number}.5")) for number in range(100))
    blocks: list[Block] = [Heading("One"), Table(("Name", "Figure"), rows, frozenset((0,)))]
    blocks += [Paragraph("word " * 60) for _ in range(20)]
    pages = paginate(blocks, ruler, 800.0, 500.0)
    assert all(_height(page, ruler) <= 500.0 for page in pages)
    tables = [block for page in pages for block in page if isinstance(block, Table)]
    assert [row for table in tables for row in table.rows] == list(rows)
    assert sum(isinstance(block, Paragraph) for page in pages for block in page) == 20


def test_no_heading_ends_a_page() -> None:
    ruler = Ruler()
    for count in range(1, 40):
        blocks: list[Block] = [Paragraph("a line") for _ in range(count)]
        blocks += [Heading("Next"), Paragraph("its text"), Paragraph("more")]
        for page in paginate(blocks, ruler, 800.0, 300.0):
            assert not isinstance(page[-1], Heading)


def test_a_heading_stays_with_what_is_tied_to_what_it_heads() -> None:
    ruler = Ruler()
    for count in range(1, 40):
        blocks: list[Block] = [Paragraph("a line") for _ in range(count)]
        blocks += [Heading("Next"), Paragraph("lead", keep=True), Paragraph("its text " * 60)]
        pages = paginate(blocks, ruler, 800.0, 300.0)
        assert not any(isinstance(page[-1], Heading) or page[-1].keep for page in pages[:-1])


def test_a_table_that_fits_on_a_page_is_not_torn_for_a_little_room() -> None:
    ruler = Ruler()
    table = Table(("Name", "Figure"), tuple(Row((f"{k}", f"{k}.5")) for k in range(12)), frozenset((0,)))
    above = [Paragraph("a line") for _ in range(9)]
    pages = paginate([*above, Heading("Ledger"), table], ruler, 800.0, 400.0)
    assert [table in page for page in pages] == [False, True]


def test_words_too_long_for_their_column_are_broken_not_cut() -> None:
    ruler = Ruler()
    words = "a sentence that says where a figure comes from and what replaces it " * 2
    table = Table(("How", "Source", "kPa"), (Row((words, words, "1.25")),), frozenset((0, 1)))
    short = Table(("How", "Source", "kPa"), (Row(("short", "short", "1.25")),), frozenset((0, 1)))
    assert table.height(ruler, 500.0) > 2 * short.height(ruler, 500.0) - ruler.height()
    assert table.height(ruler, 4000.0) == short.height(ruler, 4000.0)


def test_a_block_taller_than_a_page_is_not_waited_for_for_ever() -> None:
    tall = Paragraph("word " * 2000)
    pages = paginate([Heading("One"), tall, Paragraph("after")], Ruler(), 800.0, 200.0)
    assert [block for page in pages for block in page if block is tall] == [tall]


def test_lines_in_parallel_are_on_the_page_under_a_quiet_heading() -> None:
    solution = solve(drawings.ring())
    blocks = list(ledger_blocks(solution, (), "large", System.SI, LIGHT, ""))
    (table,) = (block for block in blocks if isinstance(block, Table))
    at = next(at for at, row in enumerate(table.rows) if row.cells[0] == "Beside this way, in parallel")
    assert table.rows[at].quiet
    assert table.rows[at].cells[1:] == ("not in the sums", *[""] * (len(table.headings) - 2))
    ledger = solution.pumps["large"]
    assert [row.cells[1] for row in table.rows[at + 1 : -2]] == [entry.part for entry in ledger.beside]
    assert [row.rule for row in table.rows[-2:]] == [True, False]
