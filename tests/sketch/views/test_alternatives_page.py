"""The alternatives as a table, and as columns once they are asked for."""

from pathlib import Path

import pytest
from PySide6.QtCore import QPoint, Qt
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views.alternatives_page import AlternativesPage
from tests.sketch.shown import shown

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
BESIDE = "Pump beside the tank"


@pytest.fixture
def document() -> Document:
    document = Document(keeps=False)
    document.open(CARRIAGE)
    return document


@pytest.fixture
def page(qtbot: QtBot, document: Document) -> AlternativesPage:
    return shown(qtbot, AlternativesPage(document), 1300, 260)


def test_the_table_stands_first_and_the_columns_work_nothing_out_until_they_are_seen(
    qtbot: QtBot, page: AlternativesPage, document: Document
) -> None:
    assert page.table.isVisible()
    assert page.columns.compared == ()
    qtbot.mouseClick(page.side_by_side, Qt.MouseButton.LeftButton, pos=QPoint(8, 8))
    assert page.columns.isVisible()
    assert not page.table.isVisible()
    assert [each.name for each in page.columns.compared] == ["", *document.alternatives]
    assert 'over by 1.77 inHg in "coldest start"' in page.columns.accessibleDescription()


def test_a_click_shows_an_alternative_and_pointing_lights_its_entry_up(
    qtbot: QtBot, page: AlternativesPage, document: Document
) -> None:
    page.side_by_side.setChecked(True)
    page.columns.repaint()
    _name, key, box = next(
        each for each in page.columns.drawn.slices if each[1] == "riser/straight 1" and each[0] == ""
    )
    middle = QPoint(round(box.x + box.width / 2), round(box.y + box.height / 2))
    qtbot.mouseMove(page.columns, middle)
    assert document.pointed_key == key
    column = dict(page.columns.drawn.columns)[BESIDE]
    place = QPoint(round(column.x + 5), round(column.bottom - 5))
    qtbot.mouseClick(page.columns, Qt.MouseButton.LeftButton, pos=place)
    assert document.alternative == BESIDE
