"""The shelf of parts."""

from __future__ import annotations

from PySide6.QtCore import QSize, Qt
from PySide6.QtGui import QIcon
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication

from sketch.canvas import shelf as shelves
from sketch.editing.building import FREE, HOSE, IN_LINE, LINE
from sketch.editing.readings import ON_SHELF
from sketch.editing.remarks import REMARKS, TEXT
from sketch.editing.tanks import IN_TANK
from sketch.look.colours import DARK, LIGHT, contrast
from sketch.window.main_window import Window

LEFT = Qt.MouseButton.LeftButton


def test_the_shelf_holds_everything_that_can_be_built() -> None:
    assert {what for _, what, _ in shelves.PARTS} == {
        LINE,
        HOSE,
        ON_SHELF,
        *IN_LINE,
        *FREE,
        *IN_TANK,
        *REMARKS,
    }


def test_a_new_drawing_comes_with_its_shelf_and_a_result(window: Window) -> None:
    assert window.workspace.shelf.isVisible()
    assert window.document.ledger is not None
    assert window.document.clean
    assert window.document.path is None


def test_what_is_picked_has_a_symbol_to_be_seen_on_the_colour_of_the_choice(qapp: QApplication) -> None:
    for theme in (LIGHT, DARK):
        picture = shelves.icon(TEXT, theme, 1.0).pixmap(QSize(18, 18), QIcon.Mode.Selected).toImage()
        places = ((x, y) for x in range(picture.width()) for y in range(picture.height()))
        inks = [picture.pixelColor(x, y) for x, y in places if picture.pixelColor(x, y).alpha() > 160]
        assert max(contrast(ink, theme.accent) for ink in inks) >= 4.5, theme.name


def test_what_the_arrow_keys_have_marked_is_marked_no_more_where_nothing_is_in_hand(window: Window) -> None:
    shelf, sheet = window.workspace.shelf, window.workspace.elevation
    shelf.setFocus()
    QTest.keyClick(shelf, Qt.Key.Key_Down)
    assert shelf.selectedItems()
    sheet.setFocus()
    assert not sheet.tool.picked
    assert not shelf.selectedItems()
    sheet.pick(LINE)
    assert [item.text() for item in shelf.selectedItems()] == ["Line"]
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    assert not shelf.selectedItems()
