"""What a document shows, as a sheet asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import BASE, Document
from sketch.page.paper import paper
from sketch.page.sheet_parts import SheetWish
from sketch.window.sheet_writing import options_of, pages_on_papers, write_sheet_of
from tests.drawings import BENT, SHIPPED
from tests.sketch.sheets import pages


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    document = Document(keeps=False)
    document.open(next(path for path in SHIPPED if path.stem == "carriage-at-altitude"))
    return document


def test_the_drawing_itself_stands_before_what_is_shown_and_compared(document: Document) -> None:
    first, second = document.alternatives[:2]
    assert [each.name for each in options_of(document, SheetWish(compare=()))] == [BASE]
    assert [each.name for each in options_of(document, SheetWish())] == [BASE, *document.alternatives]
    document.show_alternative(second)
    shown = options_of(document, SheetWish())
    assert [each.name for each in shown if not each.aside] == [BASE, second]
    assert [each.name for each in shown if each.aside] == [first]  # judged, to be named
    assert [each.name for each in options_of(document, SheetWish(compare=(first, second)))] == [
        BASE,
        second,
        first,
    ]


@pytest.mark.thorough
def test_whichever_case_is_in_view_the_first_page_shows_the_one_that_decides(
    document: Document, tmp_path: Path
) -> None:
    document.open(next(path for path in SHIPPED if path.stem == "winter-press"))
    document.set_case("hottest hour")
    assert document.case == "hottest hour"
    (path,) = write_sheet_of(document, tmp_path / "sheet.pdf", SheetWish(pages=1))
    (page,) = pages(path)
    assert 'Shown: press, "first stroke"' in page


def test_another_drawing_stands_beside_this_one_by_its_title_and_revision(
    document: Document, tmp_path: Path
) -> None:
    """Set revision against revision, in the units of this one."""
    other = tmp_path / "carriage.toml"
    text = next(path for path in SHIPPED if path.stem == "winter-press").read_text("utf-8")
    other.write_text(f'{text}\n[sheet]\nrevision = "B"\n', "utf-8")
    _, beside, *rest = options_of(document, SheetWish(other=other))
    assert not beside.aside
    assert [each.name for each in rest if each.aside] == list(document.alternatives[: len(rest)])
    assert beside.name == "Hay press in an unheated shed at \N{MINUS SIGN}10 °C, revision B"
    assert beside.file == "carriage.toml", "in the title block"
    assert beside.file_alternatives, "to be named on the first page"
    assert beside.judgement is not None
    assert beside.judgement.layout.units == document.system
    other.write_text(text.replace("format = 2", "format = 3"), "utf-8")
    with pytest.raises(ValueError, match="format"):
        options_of(document, SheetWish(other=other))


def test_another_drawing_of_the_same_title_stands_there_by_its_file(
    document: Document, tmp_path: Path
) -> None:
    """So does one without a title, and one whose title is the name of an alternative."""
    other, base = tmp_path / "wider.toml", document.drawing.base
    own = next(path for path in SHIPPED if path.stem == "carriage-at-altitude").read_text("utf-8")
    for title in (base.title, "", document.alternatives[0]):
        other.write_text(own.replace(f'title = "{base.title}"', f'title = "{title}"', 1), "utf-8")
        assert options_of(document, SheetWish(other=other))[1].name == "wider.toml"


def test_a_change_of_paper_asks_nothing_of_the_disk(document: Document, tmp_path: Path) -> None:
    """A disk that stalls would hold keys and clicks of the preview, which has no bar to give it up."""
    other, logo = tmp_path / "riser.toml", tmp_path / "mark.svg"
    other.write_text(BENT, "utf-8")
    logo.write_text(
        '<svg xmlns="http://www.w3.org/2000/svg" viewBox="0 0 8 4"><rect width="8" height="4"/></svg>'
    )
    drawn = tmp_path / "own.toml"
    drawn.write_text(f'{BENT}\n[sheet]\nlogo = "mark.svg"\n'.replace("format = 1", "format = 2"), "utf-8")
    document.open(drawn)
    pages_on = pages_on_papers(document, SheetWish(other=other, pages=1))
    other.unlink()
    logo.unlink()
    for name in ("A4", "Letter"):
        assert len(pages_on(paper(name, tmp_path / "sheet.pdf"))) == 1


@pytest.mark.thorough
def test_the_pages_for_a_printer_are_those_that_are_written(document: Document, tmp_path: Path) -> None:
    (path,) = write_sheet_of(document, tmp_path / "sheet.pdf")
    on = paper("Letter", path)
    assert len(pages_on_papers(document, SheetWish())(on)) == len(pages(path))
    assert len(pages_on_papers(document, SheetWish(pages=1))(on)) == 1


def test_an_alternative_that_is_not_there_is_refused_before_anything_is_written(
    document: Document, tmp_path: Path
) -> None:
    with pytest.raises(KeyError):
        write_sheet_of(document, tmp_path / "sheet.pdf", SheetWish(compare=("no such",)))
    assert not list(tmp_path.iterdir())
