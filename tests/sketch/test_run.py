"""What the command line asks for: a sheet, a picture."""

from __future__ import annotations

import threading
import time
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from pypdf import PdfReader
from PySide6.QtWidgets import QApplication

from sketch.page.sheet_parts import HOW_TO_WRITE_READINGS, NO_READINGS
from sketch.run import _wait, pages_in_words
from tests.sketch.runs import CARRIAGE, FLOODED, LAYOUTS, Run, Runner
from tests.sketch.sheets import pages, words
from tests.thorough import first


@pytest.fixture
def run(qapp: QApplication, capsys: pytest.CaptureFixture[str]) -> Iterator[Runner]:
    """The program in this process, which it leaves as it was."""
    names = qapp.organizationName(), qapp.applicationName()
    yield partial(Run, capsys)
    qapp.setOrganizationName(names[0])
    qapp.setApplicationName(names[1])


@pytest.mark.parametrize("ending", first(["pdf", "png"]))
def test_a_sheet_is_written_as_its_name_ends(ending: str, run: Runner, tmp_path: Path) -> None:
    out = tmp_path / f"sheet.{ending}"
    done = run(FLOODED, "--sheet", out, "--paper", "Letter", "--pages", "1")
    assert done.returncode == 0, done.stderr
    assert done.stdout == f"Wrote {out}\n"
    assert out.stat().st_size > 1000


@pytest.mark.thorough
def test_a_sheet_of_an_alternative_shows_what_it_is_an_alternative_to(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    done = run(CARRIAGE, "--sheet", out, "--alternative", "Pump beside the tank", "--pages", "1")
    assert done.returncode == 0, done.stderr
    text = words(out)
    assert "Pump beside the tank" in text
    assert "The drawing itself" in text


def test_a_sheet_sets_an_alternative_beside_the_drawing_when_asked(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "one.pdf"
    asked = ("--compare", "Three-inch suction line", "--pages", "1")
    assert run(CARRIAGE, "--sheet", out, *asked).returncode == 0
    assert "What changes: Three-inch suction line" in words(out)


@pytest.mark.thorough
def test_a_sheet_sets_the_best_or_the_one_named_beside_the_drawing(run: Runner, tmp_path: Path) -> None:
    one, every = tmp_path / "one.pdf", tmp_path / "every.pdf"
    assert run(CARRIAGE, "--sheet", one, "--compare", "Pump beside the tank").returncode == 0
    assert run(CARRIAGE, "--sheet", every, "--compare", "--pages", "2").returncode == 0
    first, whole = words(one), words(every)
    assert "What changes: Pump beside the tank" in first
    assert "What changes: Three-inch suction line" not in first
    assert "Also judged: Three-inch suction line" in first
    assert "Alternatives side by side" in first
    assert "Three-inch suction line" in whole
    assert "What changes: Pump beside the tank" in whole  # the better of the two


@pytest.mark.thorough
def test_the_first_page_alone_on_upright_paper_with_a_date(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "one.pdf"
    asked = ("--pages", "1", "--upright", "--paper", "A4", "--date", "2026-03-31", "--compare")
    assert run(CARRIAGE, "--sheet", out, *asked).returncode == 0
    (page,) = pages(out)
    assert "2026-03-31" in page
    assert "Page 1 of 1" in page


@pytest.mark.thorough
def test_another_file_is_compared_by_its_name(run: Runner, tmp_path: Path) -> None:
    out, other = tmp_path / "sheet.pdf", tmp_path / "rev-b.toml"
    other.write_text(CARRIAGE.read_text("utf-8").replace("NPS 2 schedule 40", "NPS 3 schedule 40"), "utf-8")
    assert run(CARRIAGE, "--sheet", out, "--compare", other, "--pages", "1").returncode == 0
    (page,) = pages(out)
    assert "What changes: rev-b.toml" in page
    assert "size NPS 3 schedule 40 instead of NPS 2 schedule 40" in page
    gone = run(CARRIAGE, "--sheet", tmp_path / "no.pdf", "--compare", tmp_path / "gone.toml")
    assert gone.returncode == 2
    assert "gone.toml" in gone.stderr


def test_a_file_of_somebody_s_is_written_over_only_when_that_is_asked_for(
    run: Runner, tmp_path: Path
) -> None:
    out = tmp_path / "holiday.svg"
    out.write_bytes(b"a photograph")
    refused = run(FLOODED, "--sheet", out, "--pages", "1")
    assert (refused.returncode, out.read_bytes()) == (2, b"a photograph")
    assert "holiday.svg is there already" in refused.stderr
    assert run(FLOODED, "--sheet", out, "--pages", "1", "--replace").returncode == 0
    assert out.read_bytes() != b"a photograph"


@pytest.mark.thorough
def test_an_optional_part_is_asked_for_by_its_name(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    assert run(CARRIAGE, "--sheet", out, "--with", "working").returncode == 0
    assert "Working of carriage" in words(out)


def test_what_cannot_be_compared_is_said(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    unknown = run(CARRIAGE, "--sheet", out, "--compare", "No such thing")
    assert (unknown.returncode, unknown.stderr.count("\n")) == (2, 1)
    assert '"Pump beside the tank"' in unknown.stderr
    header = LAYOUTS / "header-two-pumps.toml"
    lacking = run(header, "--sheet", out, "--pump", "pilot", "--compare", "Main pump alone")
    assert lacking.returncode == 2
    assert "pilot is not in it" in lacking.stderr
    assert not out.exists()


def test_the_card_for_the_machine_is_written_or_refused(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "card.pdf"
    assert run(FLOODED, "--card", out).returncode == 0
    assert "Card for the machine" in words(out)
    refused = run(FLOODED, "--card", tmp_path / "card.doc")
    assert (refused.returncode, "ends in .pdf, .svg, .png" in refused.stderr) == (2, True)


def test_a_bad_drawing_gives_no_sheet(run: Runner, tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(CARRIAGE.read_text("utf-8").replace('"45 degC"', '"45 m"'), "utf-8")
    done = run(bad, "--sheet", tmp_path / "sheet.pdf")
    assert done.returncode == 2
    assert "fluid.temperature" in done.stderr
    assert not (tmp_path / "sheet.pdf").exists()


def test_what_threads_work_out_goes_on_while_a_picture_waits_for_it(qapp: QApplication) -> None:
    done = threading.Event()

    def steps() -> None:
        for _ in range(50):
            time.sleep(1e-4)  # each of which asks for the interpreter again
        done.set()

    threading.Thread(target=steps, daemon=True).start()
    _wait(300)
    assert done.is_set()


def test_readings_that_a_drawing_has_none_of_are_said_to_be_none(run: Runner, tmp_path: Path) -> None:
    """On the page, and in the terminal; the sheet is written all the same."""
    out = tmp_path / "sheet.pdf"
    done = run(FLOODED, "--sheet", out, "--with", "readings", "--alone")
    assert done.returncode == 0
    assert done.stderr == f"Readings: {NO_READINGS} {HOW_TO_WRITE_READINGS}\n"
    assert NO_READINGS in words(out)
    assert "[[readings]]" not in words(out), "its reader has neither the window nor the file"


def test_parts_that_one_page_leaves_out_are_named(run: Runner, tmp_path: Path) -> None:
    out = tmp_path / "page.pdf"
    asked = ("--with", "working", "--with", "card")
    alone, whole = (
        run(FLOODED, "--sheet", out, "--alone", *asked, *pages) for pages in (("--pages", "1"), ())
    )
    assert alone.stderr == "Left out, as one page has no room for it: Card for the machine, Working.\n"
    assert (alone.returncode, whole.stderr) == (0, "")
    two = run(FLOODED, "--sheet", out, "--alone", *asked, "--pages", "2").stderr
    assert two == "Left out, as 2 pages have no room for it: Card for the machine, Working.\n"
    assert run(FLOODED, "--sheet", out, "--alone", "--pages", "1").stderr == ""


def test_a_sheet_is_said_to_have_its_pages_and_the_parts_that_were_asked_for(
    run: Runner, tmp_path: Path
) -> None:
    out = tmp_path / "sheet.pdf"
    done = run(FLOODED, "--sheet", out, "--with", "card", "--alone")
    assert done.returncode == 0, done.stderr
    wrote, said = done.stdout.splitlines()
    assert wrote == f"Wrote {out}"
    count = len(PdfReader(out).pages)
    assert said.startswith(f"{count} pages; behind the first: Every case")
    assert said.endswith(f"Card for the machine, page {count}.")


def test_pages_in_words_name_each_page_once() -> None:
    begin = [("First page", 1), ("Every case", 2), ("Parts list", 2), ("Working", 4)]
    assert (
        pages_in_words(9, begin)
        == "9 pages; behind the first: Every case, Parts list, page 2; Working, page 4."
    )
