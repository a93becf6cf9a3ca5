"""The client's page: its words can be read back from the file, and what cannot be written is said."""

from __future__ import annotations

import datetime
import os
import re
import subprocess
import sys
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from sketch.editing import beginning
from sketch.look.colours import DARK
from sketch.page.sheet import Option, write_sheet
from sketch.page.sheet_changes import changes, figure
from solver.findings.judgement import judge
from solver.ledger.solve import Solution, solve
from solver.quantities.units import Kind, System, fixed
from tests.sketch.sheets import EXAMPLES, NAMES, options_of, pages, solution, words, written

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

DAY = datetime.date(2024, 5, 17)
CARRIAGE = "carriage-at-altitude"


@pytest.fixture(scope="module")
def carriage() -> Solution:
    return solution(CARRIAGE)


def test_everything_on_the_page_can_be_found_by_its_words(carriage: Solution, tmp_path: Path) -> None:
    path = tmp_path / "sheet.pdf"
    write_sheet(carriage, path, date=DAY)
    text = words(path)
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


def test_no_ligature_hides_a_word(carriage: Solution, tmp_path: Path) -> None:
    """A font's ligature comes out of a PDF as one sign, and nobody finds the word again."""
    path = tmp_path / "sheet.pdf"
    title = "The first fluid flow fills flexible lines; offer efficient ones"
    write_sheet(replace(carriage, layout=replace(carriage.layout, title=title)), path)
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)
    assert title in text
    assert not re.search("[\N{LATIN SMALL LIGATURE FF}-\N{LATIN SMALL LIGATURE FFL}]", text)


def test_the_scale_is_true_on_paper() -> None:
    assert re.search(r"scale 1 : (8|10|12)\b", words(written(CARRIAGE)))


def test_before_and_after_stand_on_one_page_with_what_it_buys(tmp_path: Path) -> None:
    base, options = solution("carriage-at-altitude"), options_of("carriage-at-altitude")
    after = options[1]
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={after.name: after.solution}, options=options)
    first, *rest = pages(path)
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
    base, options = solution("carriage-at-altitude"), options_of("carriage-at-altitude")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={option.name: option.solution for option in options})
    found = pages(path)
    for option in options:
        assert any(f"before and after: {option.name}" in page for page in found)
        assert any(f"budget goes: {option.name}" in page for page in found)


def test_both_halves_are_drawn_to_one_scale(tmp_path: Path) -> None:
    base, options = solution("header-two-pumps"), options_of("header-two-pumps")
    after = options[-1]
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, others={after.name: after.solution})
    scales = re.findall(r"scale 1 : (\d+)", pages(path)[0])
    assert len(scales) == 2
    assert len(set(scales)) == 1


def test_an_alternative_that_is_refused_is_told_and_not_drawn(tmp_path: Path) -> None:
    base, options = solution("carriage-at-altitude"), options_of("carriage-at-altitude")
    refused = Option("Broken", "", None, (), "riser: ends in the air at 2.0 m, 1.4 m")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, options=[*options, refused])
    text = " ".join(pages(path))
    assert "Broken is not calculated: riser: ends in the air" in text


def test_every_figure_of_the_comparison_is_the_ledger_s(tmp_path: Path) -> None:
    base, options = solution("header-two-pumps"), options_of("header-two-pumps")
    path = tmp_path / "sheet.pdf"
    write_sheet(base, path, "main", options=options, system=System.SI)
    text = " ".join(pages(path))
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


@pytest.mark.parametrize("name", NAMES)
def test_every_example_has_its_page(name: str) -> None:
    solved = solution(name)
    for pump in solved.pumps:
        text = words(written(name, pump=pump, paper="A4", system=System.US))
        assert f"Ledger of {pump}" in text
        assert "nan" not in text.split()
        for entry in solved.pumps[pump].entries:
            assert entry.element in text


def test_a_dark_sheet_is_dark(carriage: Solution, tmp_path: Path) -> None:
    path, *_ = write_sheet(carriage, tmp_path / "sheet.png", theme=DARK)
    assert QImage(str(path)).pixelColor(5, 5).lightness() < 60


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
    assert "Ledger of baler" in words(out)


def test_a_starter_drawing_prints_its_assumed_limit_and_not_its_note(tmp_path: Path) -> None:
    solved = solve(beginning.begin(System.SI))
    target = tmp_path / "sheet.pdf"
    write_sheet(solved, target)
    text = words(target)
    assert "limit assumed" in text
    assert "no maker has stated it" in text
    assert "Double-click" not in text
    assert "Round figures" not in text


def test_findings_are_in_the_units_of_the_sheet() -> None:
    """The drawing is typed in feet and inHg."""
    text = words(written("header-two-pumps", system=System.SI))
    layout = solution("header-two-pumps").layout
    for finding in judge(replace(layout, units=System.SI)).findings:
        assert finding.text in text
    foreign = [finding.text for finding in judge(layout).findings if "inHg" in finding.text]
    assert foreign
    assert not any(each in text for each in foreign)


def test_a_sheet_of_two_pumps_has_the_ledger_and_the_column_of_both() -> None:
    path = written("header-two-pumps", pump="pilot")
    text = words(path)
    assert text.index("Ledger of pilot") < text.index("Ledger of main")
    for name, ledger in solution("header-two-pumps").pumps.items():
        assert f"Pump {name}" in text
        assert any(fixed(ledger.budget, Kind.VACUUM, System.US) in page for page in pages(path))
    first, second = pages(path)[:2]
    assert "scale 1 :" in first
    assert "scale 1 :" in second


def test_how_far_a_screen_is_blocked_is_among_the_assumptions() -> None:
    text = words(written("carriage-at-altitude"))
    assert "nothing of its screen is taken as blocked" in text[text.index("Assumptions") :]
