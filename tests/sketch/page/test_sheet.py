"""The client's sheet: what stands on it can be read back, and what cannot be written is said."""

from __future__ import annotations

import ast
import os
import re
import subprocess
import sys
from collections.abc import Iterator
from dataclasses import replace
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtGui import QImage

from sketch.editing import beginning
from sketch.look.colours import DARK
from sketch.page.options import Option, option_of
from sketch.page.paper import paper as paper_of
from sketch.page.sheet import _beside_files, on_any_paper, write_sheet
from sketch.page.sheet_parts import PAPERS, SheetWish
from solver.answers import ask
from solver.answers.answer import Status, in_short
from solver.answers.uncertainty import uncertainty
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.kinds import LimitForm
from solver.layout.parts import Level, Limit
from solver.quantities.units import Quantity, System
from tests.drawings import RISER, twins_text
from tests.once import work_out_once
from tests.sketch.sheets import (
    DAY,
    EXAMPLES,
    NAMES,
    options_of,
    pages,
    small_options,
    solution,
    words,
    written,
)
from tests.solver.checking import lifted, with_pump
from tests.test_house import parsed
from tests.thorough import first

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

CARRIAGE, PRESS = "carriage-at-altitude", "winter-press"
FIRST = SheetWish(pages=1)


def test_everything_on_the_sheet_can_be_found_by_its_words() -> None:
    page_list = pages(written(CARRIAGE))
    text = " ".join(page_list)
    for expected in (
        "Log carriage pump at 1650 m, on the tank lid",
        "2026-03-31",
        "Every case",
        "Ledger of carriage",
        "Inlet budget",
        "Pressure profile",
        "How far each thing may go",
        "Findings",
        "Assumptions and sources",
        "Cautions",
        "kept to fill the pump",
        "flexible connector",
        "licensed engineer's judgement",
    ):
        assert expected in text, expected
    for number, page in enumerate(page_list, 1):
        assert f"{number} of {len(page_list)}" in page
    assert "Behind this page: Every case, " in page_list[0]


def test_no_ligature_hides_a_word(tmp_path: Path) -> None:
    """A font's ligature comes out of a PDF as one sign, and nobody finds the word again."""
    path = tmp_path / "sheet.pdf"
    title = "The first fluid flow fills flexible lines; offer efficient ones"
    layout = replace(lifted(), title=title)
    write_sheet([option_of("", "", layout, Level.MINIMUM, System.US)], path, FIRST)
    text = " ".join(" ".join(page.extract_text().split()) for page in PdfReader(path).pages)
    assert title in text
    assert not re.search("[\N{LATIN SMALL LIGATURE FF}-\N{LATIN SMALL LIGATURE FFL}]", text)


def test_a_highest_port_where_no_pump_can_stand_says_so_behind_its_height(
    tmp_path: Path,
) -> None:
    limit = Limit(LimitForm.VACUUM, ((None, Quantity("-0.1 bar", -10e3)),))
    layout, path = with_pump(lifted(), limit=limit), tmp_path / "sheet.pdf"
    write_sheet([option_of("", "", layout, Level.MINIMUM, System.SI)], path, FIRST)
    answer = ask.highest_port(layout, "pump", Level.MINIMUM)
    assert f"Highest port {in_short(answer, System.SI)}" in words(path)
    assert re.fullmatch(r"none, [\d.−-]+ m would be below the tank's floor", in_short(answer, System.SI))
    assert in_short(answer, System.SI, shortest=True) == "no height will do"


def test_a_highest_port_that_the_search_did_not_reach_is_said_with_where_it_ended() -> None:
    answer = replace(ask.highest_port(lifted(), "pump", Level.MINIMUM), status=Status.NO_LIMIT, value=0.838)
    assert in_short(answer, System.US) == "at least 2.75 ft"


def test_the_first_page_alone_is_one_file_of_that_page(tmp_path: Path) -> None:
    page_list = pages(written(CARRIAGE, compared=True, pages=1, parts=frozenset({"priming"})))
    assert len(page_list) == 1
    assert "Fill line and pump before the first start. " in page_list[0], "no plan to go by is behind it"
    assert "Page 1 of 1" in page_list[0]
    assert "Behind this page" not in page_list[0]
    (path,) = write_sheet(options_of(CARRIAGE), tmp_path / "out.svg", FIRST)
    assert path.name == "out.svg"


@pytest.mark.thorough
def test_contents_name_the_page_on_which_each_part_begins() -> None:
    first, *rest = pages(written(PRESS, compared=True))
    listed = first.partition("Behind this page: ")[2]
    headings = {
        "Every case": "Every case",
        "Ledgers and air columns": "Ledger of press",
        "Pressure profile": "Pressure profile",
        "How far each thing may go": "How far each thing may go",
        "Findings": "Findings Where nothing else is named",
        "Assumptions, sources and cautions": "Assumptions and sources",
    }
    for title, heading in headings.items():
        number = re.search(rf"{title}(?:, [^;]*?)?, p. (\d+)", listed)  # those of one page have it in common
        assert number is not None, title
        assert heading in rest[int(number[1]) - 2], title


@pytest.mark.thorough
@pytest.mark.parametrize(("name", "system"), [(PRESS, System.US), (CARRIAGE, System.SI)])
def test_two_alternatives_take_six_pages_at_most(name: str, system: System) -> None:
    assert len(pages(written(name, compared=True, system=system, paper="A4"))) <= 6


CASES = """
[cases."cold morning"]
fluid.temperature = "15 degC"
[cases."low-pressure day"]
site.weather_allowance = "3 kPa"
"""
WARM = """
[alternatives.warm]
fluid.temperature = "50 degC"
cases."cold morning".fluid.temperature = "30 degC"
"""
WIDER = "\n[alternatives.wider]\n"
ONE_PUMP = f'{RISER}{CASES}{WARM}{WIDER}runs.riser.bore = "66 mm"\n'
TWO_PUMPS = "".join((twins_text(), CASES, WARM, WIDER, 'runs.header.bore = "66 mm"\n'))


HEADER = (EXAMPLES / "header-two-pumps.toml").read_text(
    encoding="utf-8"
)  # which has two alternatives and three cases of its own


@pytest.fixture(scope="module")
def trials_kept() -> Iterator[None]:
    """Lines in parallel are solved trial by trial, which takes a minute, and laid out sixteen times."""
    with pytest.MonkeyPatch.context() as patch:
        work_out_once(patch, uncertainty)
        yield


@pytest.mark.thorough
@pytest.mark.usefixtures("trials_kept")
@pytest.mark.parametrize("upright", [False, True])
@pytest.mark.parametrize("paper", PAPERS)
@pytest.mark.parametrize("text", [ONE_PUMP, TWO_PUMPS, HEADER])
def test_two_alternatives_and_three_cases_take_few_pages(text: str, paper: str, *, upright: bool) -> None:
    read = file.parse(text, "drawing")
    named = (("", read.base), *((name, each.layout) for name, each in read.alternatives.items()))
    most = 4 if text is ONE_PUMP else 6
    for system in System:
        options = [option_of(name, "", layout, Level.MINIMUM, system) for name, layout in named]
        on, wish = paper_of(paper, Path("sheet.pdf"), upright=upright), SheetWish()
        laid_out, _ = on_any_paper(options, wish, system=system)(on)
        assert len(laid_out) <= most


@pytest.mark.thorough
def test_the_alternative_beside_the_drawing_is_the_best_and_not_the_first(tmp_path: Path) -> None:
    """The heater leaves more in every case, but its line is still as cold as the shed at the first start."""
    drawn, oil, heater = options_of(PRESS)
    assert (oil.name, heater.name) == ("High-VI oil, ISO VG 32", "Tank heater to 10 °C")
    write_sheet([drawn, heater, oil], tmp_path / "sheet.pdf", FIRST)
    (first,) = pages(tmp_path / "sheet.pdf")
    assert f"What changes: {oil.name}" in first
    assert f'Recommendation: Choose "{oil.name}"' in first
    assert re.search(
        rf"Also judged: {heater.name}: [^:]*, but over by 5.81 inHg while the line is still", first
    )


def test_both_halves_are_drawn_to_one_scale() -> None:
    scales = re.findall(r"scale 1 : (\d+)", pages(written(PRESS, compared=True))[0])
    assert len(scales) == 2
    assert len(set(scales)) == 1


@pytest.mark.thorough
def test_an_alternative_that_is_refused_is_named_and_makes_nothing_look_better(tmp_path: Path) -> None:
    refused = Option("Broken", "", None, "riser: ends in the air at 2.0 m, 1.4 m")
    path = tmp_path / "sheet.pdf"
    write_sheet([*options_of(CARRIAGE)[:1], refused], path)
    text = " ".join(pages(path))
    assert "Broken is not calculated: riser: ends in the air" in text
    assert "What it buys" not in text


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_every_example_has_its_sheet(name: str) -> None:
    text = words(written(name, compared=True))
    judgement = options_of(name)[0].judgement
    assert judgement is not None
    assert "nan" not in text.split()
    for pump in judgement.layout.pumps:
        place = judgement.worst(pump)
        assert place is not None
        assert f"Ledger of {pump}, The drawing itself" in text or f"Ledger of {pump}" in text
        for entry in place.ledger.entries:
            assert entry.element in text


def test_a_dark_sheet_is_dark(tmp_path: Path) -> None:
    path, *_ = write_sheet(options_of(CARRIAGE)[:1], tmp_path / "sheet.png", FIRST, theme=DARK)
    assert QImage(str(path)).pixelColor(5, 5).lightness() < 60


@pytest.mark.parametrize(
    ("name", "wish", "named"),
    [
        ("sheet.docx", FIRST, r"\.pdf, \.svg"),
        ("sheet", FIRST, r"\.pdf, \.svg"),
        ("sheet.pdf", SheetWish(paper="A0"), "A4, A3, Letter, Tabloid"),
        ("sheet.pdf", SheetWish(parts=frozenset(["weather"])), "working"),
        ("sheet.pdf", SheetWish(case="flood"), "flood"),
    ],
)
def test_what_is_not_known_is_refused_with_what_is(
    name: str, wish: SheetWish, named: str, tmp_path: Path
) -> None:
    with pytest.raises(ValueError, match=named):
        write_sheet(options_of(CARRIAGE)[:1], tmp_path / name, wish)
    assert not list(tmp_path.iterdir())


def test_an_unknown_pump_is_a_key_error(tmp_path: Path) -> None:
    with pytest.raises(KeyError):
        write_sheet(options_of(CARRIAGE)[:1], tmp_path / "sheet.pdf", SheetWish(pump="nobody"))


def loaded_by(module: str, known: dict[str, set[str]]) -> None:
    """Put into `known` a module and all of `sketch` that it loads, with what each imports at its top."""
    path = EXAMPLES.parent / f"{module.replace('.', '/')}.py"
    if module in known or not module.startswith("sketch.") or not path.exists():
        return
    known[module] = set()
    for node in parsed(path.read_text("utf-8")).body:
        if isinstance(node, ast.ImportFrom):
            known[module] |= {str(node.module), *(f"{node.module}.{alias.name}" for alias in node.names)}
        elif isinstance(node, ast.Import):
            known[module] |= {alias.name for alias in node.names}
    for name in list(known[module]):
        loaded_by(name, known)


def test_nothing_that_is_loaded_for_it_brings_widgets() -> None:
    known: dict[str, set[str]] = {}
    loaded_by("sketch.page.sheet", known)
    assert len(known) > 30
    brought = {module: names & {"PySide6.QtWidgets", "PySide6.QtSvg"} for module, names in known.items()}
    assert {module: names for module, names in brought.items() if names} == {}


@pytest.mark.thorough
def test_it_needs_no_display_and_no_widgets(tmp_path: Path) -> None:
    code = (
        "import sys\n"
        "from PySide6.QtGui import QGuiApplication\n"
        "application = QGuiApplication([])\n"
        "from solver.layout.file import read\n"
        "from solver.layout.parts import Level\n"
        "from solver.quantities.units import System\n"
        "from sketch.page.sheet import option_of, write_sheet\n"
        "write_sheet([option_of('', '', read(sys.argv[1]).base, Level.MINIMUM, System.US)], sys.argv[2])\n"
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


@pytest.mark.thorough
def test_a_starter_drawing_prints_its_assumed_limit_and_not_its_note(tmp_path: Path) -> None:
    target = tmp_path / "sheet.pdf"
    write_sheet([option_of("", "", beginning.begin(System.SI), Level.MINIMUM, System.SI)], target)
    text = words(target)
    assert "limit assumed" in text
    assert "the limit is assumed; no maker has stated it" in text
    assert "Double-click" not in text
    assert "Round figures" not in text


@pytest.mark.thorough
def test_findings_are_in_the_units_of_the_sheet() -> None:
    """The drawing is typed in feet and inHg."""
    text = words(written(CARRIAGE, system=System.SI))
    layout = solution(CARRIAGE).layout
    for finding in judge(replace(layout, units=System.SI)).findings:
        assert finding.text in text
    foreign = [finding.text for finding in judge(layout).findings if "inHg" in finding.text]
    assert foreign
    assert not any(each in text for each in foreign)


@pytest.mark.thorough
def test_a_judgement_in_other_units_is_put_in_those_of_the_sheet(tmp_path: Path) -> None:
    path, file = tmp_path / "sheet.pdf", EXAMPLES / f"{CARRIAGE}.toml"
    write_sheet(options_of(CARRIAGE)[:1], path, SheetWish(paper="A4"), system=System.SI, date=DAY, file=file)
    assert words(path) == words(written(CARRIAGE, system=System.SI))


def test_how_far_a_screen_is_blocked_is_on_the_first_page_and_among_the_assumptions() -> None:
    first, *rest = pages(written(CARRIAGE))
    assert "nothing of its screen is taken as blocked" in first
    assert "nothing of its screen is taken as blocked" in " ".join(rest)
    assert "Usual values assumed: commercial steel: a roughness of 0.0018 in" in " ".join(rest)


@pytest.mark.parametrize(
    ("other", "file", "name"),
    [
        ("b.toml, revision B", "a.toml", "a.toml"),
        ("Wider riser, revision B", "a.toml", "Press"),
        ("b.toml, revision B", "b.toml", ""),
        ("Wider riser", "", "Press"),
    ],
)
def test_beside_another_file_the_drawing_is_named_as_that_is(other: str, file: str, name: str) -> None:
    """By its file or by its title; of two files of one name neither is taken for the other."""
    (drawn,) = small_options()
    assert _beside_files([replace(drawn, name=other, file="b.toml")], file, "Press") == name
