"""What a document shows, as a sheet asks for it."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import BASE, Document
from sketch.page.sheet_parts import SheetWish
from sketch.window.sheet_writing import _options, _shown, write_sheet_of
from tests.drawings import SHIPPED


@pytest.fixture
def document(qtbot: QtBot) -> Document:
    made = Document(keeps=False)
    made.open(next(path for path in SHIPPED if path.stem == "carriage-at-altitude"))
    return made


def test_the_drawing_itself_stands_before_what_is_shown_and_compared(document: Document) -> None:
    first, second = document.alternatives[:2]
    assert [each.name for each in _options(document, ())] == [BASE]
    document.show_alternative(second)
    assert [each.name for each in _options(document, ())] == [BASE, second]
    assert [each.name for each in _options(document, (first, second))] == [BASE, second, first]


def test_the_case_in_view_is_the_one_shown_unless_another_is_asked_for(document: Document) -> None:
    assert _shown(document, SheetWish()).case == SheetWish().case
    document.set_case("coldest start")
    assert _shown(document, SheetWish()).case == "coldest start"
    assert _shown(document, SheetWish(case="as drawn")).case == "as drawn"


def test_an_alternative_that_is_not_there_is_refused_before_anything_is_written(
    document: Document, tmp_path: Path
) -> None:
    with pytest.raises(KeyError):
        write_sheet_of(document, tmp_path / "sheet.pdf", SheetWish(compare=("no such",)))
    assert not list(tmp_path.iterdir())
