"""The shelf of parts."""

from __future__ import annotations

from PySide6.QtCore import Qt

from sketch.canvas import shelf as shelves
from sketch.editing.building import FREE, IN_LINE, LINE
from sketch.editing.readings import ON_SHELF
from sketch.editing.remarks import REMARKS
from sketch.editing.tanks import IN_TANK
from sketch.window.main_window import Window

LEFT = Qt.MouseButton.LeftButton


def test_the_shelf_holds_everything_that_can_be_built() -> None:
    assert {what for _, what, _ in shelves.PARTS} == {LINE, ON_SHELF, *IN_LINE, *FREE, *IN_TANK, *REMARKS}


def test_a_new_drawing_comes_with_its_shelf_and_a_result(window: Window) -> None:
    assert window.workspace.shelf.isVisible()
    assert window.document.ledger is not None
    assert window.document.clean
    assert window.document.path is None
