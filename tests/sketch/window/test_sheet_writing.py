"""What a document shows, as a sheet asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import BASE, Document
from sketch.page.paper import paper
from sketch.page.sheet_parts import SheetWish
from sketch.window.sheet_writing import _shown, options_of, pages_of, write_sheet_of
from tests.drawings import SHIPPED
from tests.sketch.sheets import pages


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    document = Document(keeps=False)
    document.open(next(path for path in SHIPPED if path.stem == "carriage-at-altitude"))
    return document


def test_the_drawing_itself_stands_before_what_is_shown_and_compared(document: Document) -> None:
    first, second = document.alternatives[:2]
    assert [each.name for each in options_of(document, SheetWish())] == [BASE]
    document.show_alternative(second)
    assert [each.name for each in options_of(document, SheetWish())] == [BASE, second]
    assert [each.name for each in options_of(document, SheetWish(compare=(first, second)))] == [
        BASE,
        second,
        first,
    ]


def test_the_case_in_view_is_the_one_shown_unless_another_is_asked_for(document: Document) -> None:
    assert _shown(document, SheetWish()).case == SheetWish().case
    document.set_case("coldest start")
    assert _shown(document, SheetWish()).case == "coldest start"
    assert _shown(document, SheetWish(case="as drawn")).case == "as drawn"


def test_another_drawing_stands_beside_this_one_by_its_file_and_revision(
    document: Document, tmp_path: Path
) -> None:
    """Set revision against revision, in the units of this one."""
    other = tmp_path / "carriage.toml"
    text = next(path for path in SHIPPED if path.stem == "winter-press").read_text("utf-8")
    other.write_text(f'{text}\n[sheet]\nrevision = "B"\n', "utf-8")
    _, beside = options_of(document, SheetWish(other=other))
    assert beside.name == "carriage.toml, revision B"
    assert beside.judgement is not None
    assert beside.judgement.layout.units == document.system
    other.write_text(text.replace("format = 2", "format = 3"), "utf-8")
    with pytest.raises(ValueError, match="format"):
        options_of(document, SheetWish(other=other))


@pytest.mark.thorough
def test_the_pages_for_a_printer_are_those_that_are_written(document: Document, tmp_path: Path) -> None:
    (path,) = write_sheet_of(document, tmp_path / "sheet.pdf")
    on = paper("Letter", path)
    assert len(pages_of(document, SheetWish(), on)) == len(pages(path))
    assert len(pages_of(document, SheetWish(pages=1), on)) == 1


def test_an_alternative_that_is_not_there_is_refused_before_anything_is_written(
    document: Document, tmp_path: Path
) -> None:
    with pytest.raises(KeyError):
        write_sheet_of(document, tmp_path / "sheet.pdf", SheetWish(compare=("no such",)))
    assert not list(tmp_path.iterdir())
