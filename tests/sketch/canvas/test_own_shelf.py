"""Parts of a catalogue of one's own picked from the shelf and put down, by the mouse."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import QPointF, Qt
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas import own_shelf
from sketch.editing import beginning, building
from sketch.editing.building import Built
from sketch.editing.edits import EditError
from sketch.look.appearance import ThemeChoice
from sketch.window.main_window import make_window
from solver.layout.own_parts import OwnPart, parse
from solver.quantities import units
from solver.quantities.units import Kind, System
from tests import drawings
from tests.solver.layout.test_own_parts import WHOLE

LEFT = Qt.MouseButton.LeftButton


@pytest.mark.thorough
def test_they_stand_on_the_shelf_and_bring_their_figures(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    (path,) = (each for each in drawings.SHIPPED if each.stem == "carriage-at-altitude")
    drawing = tmp_path / "drawing.toml"
    drawing.write_bytes(path.read_bytes())
    (tmp_path / "shop.parts.toml").write_text(WHOLE, encoding="utf-8")
    window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    window.show()
    assert window.files.read(drawing)
    shelf, sheet, document = window.workspace.shelf, window.workspace.elevation, window.document
    shelf.show()

    def own() -> list[str]:
        texts = [shelf.item(at).text() for at in range(shelf.count())]
        return texts[texts.index("Own parts") + 1 :] if "Own parts" in texts else []

    qtbot.waitUntil(lambda: own() == ["vane 82", "bellows 2", "basket 100"])
    (item,) = shelf.findItems("bellows 2", Qt.MatchFlag.MatchExactly)
    shelf.scrollToItem(item)
    qtbot.mouseClick(shelf.viewport(), LEFT, pos=shelf.visualItemRect(item).center())
    assert "put bellows 2 into it" in sheet.tool.hint
    assert shelf.currentItem() is item
    at = QPointF(*sheet.view.device(3.0 * 0.3048, (3 + 8 / 12) * 0.3048)).toPoint()
    qtbot.mouseMove(sheet, at)
    qtbot.mouseClick(sheet, LEFT, pos=at)
    part = document.layout.fittings["bellows 2"]
    assert (part.kind, part.drop.text, part.own_part) == ("known drop", "2 kPa", "bellows 2")
    assert document.undo_stack.undoText() == "Add bellows 2"
    assert document.solution is not None
    document.begin()
    qtbot.waitUntil(lambda: own() == [])


def test_a_part_gets_a_name_that_is_free_and_what_cannot_be_is_refused() -> None:
    layout, pump = beginning.begin(System.SI), parse(WHOLE).of_kind("pumps")[0]
    built = own_shelf.with_figures(building.add(layout, building.PUMP, 3.0, 1.0), pump)
    assert built.layout.pumps["vane 82"].own_part == "vane 82"
    again = own_shelf.with_figures(building.add(built.layout, building.PUMP, 4.0, 1.0), pump)
    assert again.name != "vane 82"
    assert again.layout.pumps[again.name].own_part == "vane 82"
    with pytest.raises(EditError, match="none: "):
        own_shelf.with_figures(Built(built.layout, "vane 82"), OwnPart("pumps", "none", {"type": "vane"}))


def test_a_pump_put_down_runs_at_the_rated_speed_of_its_catalogue() -> None:
    text = WHOLE.replace('type = "vane"', 'type = "vane"\nrated_speed = "1450 rpm"')
    layout, pump = beginning.begin(System.SI), parse(text).of_kind("pumps")[0]
    built = own_shelf.with_figures(building.add(layout, building.PUMP, 3.0, 1.0), pump)
    assert built.layout.pumps["vane 82"].speed == units.quantity("1450 rpm", Kind.SPEED)
