"""Every command has its keys, its menu and its work."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QLineEdit, QToolButton
from pytestqt.qtbot import QtBot

from sketch.canvas.shelf import PARTS
from sketch.views.alternatives_view import NAME, NOTE, AlternativesView
from sketch.views.tabs import TABS
from solver.quantities.units import System
from tests.sketch.window.windows import ALT, CARRIAGE, CONTROL, LAYOUTS, Opener, margin

ONE_WINDOW = True

NO_KEY = Qt.KeyboardModifier.NoModifier


def test_units_switch_by_key_everywhere_but_in_the_drawing(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    held = window.document.layout
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL | ALT)
    assert window.document.system is System.SI
    assert window.document.layout is held
    assert "1650 m" in window._facts.text()
    assert window.actions_by_name["si"].isChecked()
    qtbot.keyClick(window, Qt.Key.Key_U, CONTROL | ALT)
    assert "5413 ft" in window._facts.text()


def test_the_level_switches_and_a_higher_level_leaves_more(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    before = margin(window)
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL | ALT)
    assert window.document.level == "normal"
    assert margin(window) > before
    assert window.actions_by_name["normal"].isChecked()
    assert not window.actions_by_name["minimum"].isChecked()


def test_keys_for_a_name_are_the_tables_where_it_has_the_keyboard(qtbot: QtBot, opener: Opener) -> None:
    """F2 and Shift+F2 also rename a part and a case: neither key may be nobody's, with a warning of Qt's."""
    window = opener()
    document, table = window.document, window.workspace.findChild(AlternativesView)
    document.select(document.pump)
    document.set_case("coldest start")
    window.workspace.show_tab("alternatives")
    qtbot.waitUntil(lambda: table.rowCount() > 1, timeout=3000)
    table.setCurrentCell(1, 0)
    table.setFocus()
    for modifier, column in ((NO_KEY, NAME), (Qt.KeyboardModifier.ShiftModifier, NOTE)):
        qtbot.keyClick(table, Qt.Key.Key_F2, modifier)
        field = table.findChild(QLineEdit)
        assert field is not None
        assert table.visualItemRect(table.item(1, column)).contains(field.geometry().center())
        qtbot.keyClick(field, Qt.Key.Key_Escape)
        qtbot.waitUntil(lambda: table.findChild(QLineEdit) is None)


DRAWN = 'depth = "2 ft"\ndraw_down = "30 gal"\n'


def test_a_level_is_offered_only_where_it_can_be_told_apart(
    qtbot: QtBot, opener: Opener, tmp_path: Path
) -> None:
    from solver.layout.parts import Level

    window = opener()
    offered = [name for name in Level if window.actions_by_name[name].isVisible()]
    assert offered == list(window.document.levels) == ["minimum", "normal"]
    path = tmp_path / "drawn.toml"
    path.write_text(CARRIAGE.read_text("utf-8").replace('depth = "2 ft"\n', DRAWN), "utf-8")
    assert window.files.read(path)
    assert window.document.levels == tuple(Level)
    shown = [b for b in window.heading.findChildren(QToolButton) if b.accessibleName().startswith("Level")]
    assert [button.text() for button in shown if button.isVisible()] == [n.capitalize() for n in Level]
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL | ALT)
    normal = margin(window)
    qtbot.keyClick(window, Qt.Key.Key_W, CONTROL | ALT)
    assert window.document.level == "drawn down"
    assert margin(window) < normal
    assert window.files.read(CARRIAGE)
    assert window.document.level == "minimum"


def test_every_action_has_its_keys_and_stands_in_a_menu(opener: Opener) -> None:
    window = opener()
    bare = {
        row.name
        for row in window.actions_by_name.commands
        if not window.actions_by_name[row.name].shortcuts()
    }
    shelf = {row.name for row in window.actions_by_name.commands if row.menu == "Insert"}
    assert len(shelf) == len(PARTS)
    assert bare == {"as desktop"} | shelf, "the shelf's parts are reached by F3, or by the menu's own key"
    for row in window.actions_by_name.commands:
        assert window.actions_by_name[row.name] in window.actions_by_name.menu(row.menu).actions()


def test_no_two_actions_have_the_same_key(opener: Opener) -> None:
    window = opener()
    keys = [
        keys.toString()
        for row in window.actions_by_name.commands
        for keys in window.actions_by_name[row.name].shortcuts()
    ]
    assert [each for each in keys if keys.count(each) > 1] == []


def test_every_view_has_a_key_that_exists_and_brings_it_up(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    keys = {name: window.actions_by_name[name].shortcut().toString() for name in TABS}
    assert all(key and key.rpartition("+")[2] in "123456789" for key in keys.values()), keys
    qtbot.keyClick(window, Qt.Key.Key_2, ALT)
    assert list(TABS)[window.workspace.tabs.currentIndex()] == list(TABS)[10]


def test_every_choice_of_the_terminal_is_in_a_menu(opener: Opener) -> None:
    from solver.layout.parts import Level

    window = opener(LAYOUTS / "header-two-pumps.toml")
    for name in (
        *TABS,
        *Level,
        "us",
        "si",
        "sheet",
        "ledger file",
        "calculation file",
        "drawing picture",
        "picture",
        "light",
        "dark",
        "as desktop",
    ):
        assert window.actions_by_name[name].text()
    for path, names in (
        ("View/Alternative", ("The drawing itself", *window.document.alternatives)),
        ("View/Pump", tuple(window.document.layout.pumps)),
    ):
        menu = window.actions_by_name.menu(path)
        menu.aboutToShow.emit()
        assert [action.text() for action in menu.actions()] == list(names)
