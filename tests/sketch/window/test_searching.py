"""Commands and parts looked for by name, with real keys in a real window."""

from __future__ import annotations

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.editing import building, selection
from sketch.window.finder import Finder
from sketch.window.main_window import Window
from sketch.window.searching import PLAIN_WORDS, command_rows
from solver.layout.own_parts import Catalogue, parse
from solver.quantities.units import System
from tests.sketch.window.windows import CONTROL, Opener
from tests.solver.layout.test_own_parts import WHOLE

ONE_WINDOW = True

PLAIN = Qt.KeyboardModifier.NoModifier


def finder_after(qtbot: QtBot, window: Window, key: Qt.Key, held: Qt.KeyboardModifier = PLAIN) -> Finder:
    """The one that a key of the window opens. Without a desktop nothing makes the window active again."""
    window.activateWindow()
    qtbot.waitUntil(window.isActiveWindow, timeout=1000)
    qtbot.keyClick(window.workspace.elevation, key, held)
    (finder,) = (each for each in window.findChildren(Finder) if each.isVisible())
    return finder


def test_a_command_is_found_by_what_it_does_and_run(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    finder = finder_after(qtbot, window, Qt.Key.Key_F3)
    assert finder.focusWidget() is finder.field
    offered = [row for row in window.actions_by_name.commands if row.offered is None or row.offered()]
    assert len(finder.shown()) == len(offered) - 1, "all but itself"
    qtbot.keyClicks(finder.field, "metres kilopascals")
    assert finder.shown() == ("SI",)
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: window.document.system is System.SI, timeout=1000)
    finder = finder_after(qtbot, window, Qt.Key.Key_F3)
    qtbot.keyClicks(finder.field, "undo last change")
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    assert finder.isVisible(), "nothing to take back: greyed, and not run"
    qtbot.keyClick(finder, Qt.Key.Key_Escape)
    assert not finder.isVisible()


@pytest.mark.thorough
def test_a_part_is_found_by_its_name_selected_and_brought_into_sight(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    elevation, document = window.workspace.elevation, window.document
    elevation.sight.pan(5000.0, 0.0)
    for typed, name in (("intake", "strainer"), ("reservoir", "tank"), ("carr", "carriage")):
        finder = finder_after(qtbot, window, Qt.Key.Key_F, CONTROL)
        assert set(finder.shown()) == set(selection.everything(document.layout))
        qtbot.keyClicks(finder.field, typed)
        qtbot.keyClick(finder.field, Qt.Key.Key_Return)
        qtbot.waitUntil(lambda name=name: document.selection == (name,), timeout=1000)  # type: ignore[misc]
    port = document.layout.pumps["carriage"].at
    x, y = elevation.view.device(port[0].si, port[1].si)
    assert 0 <= x <= elevation.width()
    assert 0 <= y <= elevation.height()
    before, chosen = elevation.view, document.selection
    finder = finder_after(qtbot, window, Qt.Key.Key_F, CONTROL)
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: document.selection != chosen, timeout=1000)
    assert elevation.view == before, "what is in sight stays where it is"


def test_a_figure_of_the_card_is_found_by_its_name_and_f4_leads_back(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.document.select("carriage")
    finder = finder_after(qtbot, window, Qt.Key.Key_F, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    qtbot.keyClicks(finder.field, "speed")
    assert "Rated speed" in finder.shown()
    assert finder.rows.topLevelItem(0).text(1) == window.document.selected_part, "whose it is"
    rows = [finder.rows.topLevelItem(at) for at in range(finder.rows.topLevelItemCount())]
    held = {row.text(0): row.text(2) for row in rows}
    assert held["Displacement"] == "82 cm³/rev", "as the card shows it"
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    card = window.workspace.views["card"]
    assert isinstance(card, PartCard)
    window.activateWindow()
    qtbot.waitUntil(card.fields["speed"].edit.hasFocus, timeout=1000)
    assert card.fields["speed"].edit.selectedText() == "1450 rpm", "of just that name, to be typed over"
    qtbot.keyClick(card.fields["speed"].edit, Qt.Key.Key_F4)
    assert window.workspace.elevation.hasFocus()


def test_an_end_is_turned_onto_another_port_by_keys_alone(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document = window.document
    document.apply("Pump", building.add(document.layout, building.PUMP, 1.6, 1.2).layout)
    document.select("lead")
    finder = finder_after(qtbot, window, Qt.Key.Key_J, CONTROL | Qt.KeyboardModifier.AltModifier)
    assert "pump" in finder.shown()
    qtbot.keyClicks(finder.field, "pump its end")
    assert finder.shown() == ("pump",)
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: document.layout.runs["lead"].end == "pump", timeout=1000)
    assert document.undo_stack.undoText() == "Connect an end of lead: 2 bends more in lead"
    document.undo_stack.undo()
    assert document.layout.runs["lead"].end == "carriage"


def test_parts_of_ones_own_are_found_and_stand_in_the_menu(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    workspace = window.workspace
    menu = window.actions_by_name.menu("Insert/Own parts")
    menu.aboutToShow.emit()
    assert [action.isEnabled() for action in menu.actions()] == [False], "and says that there are none"
    workspace.card.own_parts.own.set_catalogue(parse(WHOLE))
    menu.aboutToShow.emit()
    assert [action.text() for action in menu.actions()] == ["vane 82", "bellows 2", "basket 100"]
    menu.actions()[1].trigger()
    assert "put bellows 2 into it" in workspace.elevation.tool.hint
    finder = finder_after(qtbot, window, Qt.Key.Key_F3)
    qtbot.keyClicks(finder.field, "vane 82")
    qtbot.keyClick(finder.field, Qt.Key.Key_Return)
    qtbot.waitUntil(lambda: "vane 82" in workspace.elevation.tool.hint, timeout=1000)
    workspace.elevation.pick("")
    workspace.card.own_parts.own.set_catalogue(Catalogue())


def test_one_more_part_is_selected_by_keys_and_left_again(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document = window.document
    document.select("riser")
    for selected in (("riser", "lead"), ("riser",)):
        finder = finder_after(qtbot, window, Qt.Key.Key_F, CONTROL | Qt.KeyboardModifier.AltModifier)
        qtbot.keyClicks(finder.field, "lead")
        qtbot.keyClick(finder.field, Qt.Key.Key_Return)
        qtbot.waitUntil(lambda wanted=selected: document.selection == wanted, timeout=1000)  # type: ignore[misc]


def test_the_card_of_site_and_fluid_is_a_command(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.document.select("carriage")
    qtbot.keyClick(window, Qt.Key.Key_I, CONTROL)
    assert window.workspace.card.owner == "Site and fluid"
    assert window.workspace.card.isVisible()
    finder = finder_after(qtbot, window, Qt.Key.Key_F3)
    qtbot.keyClicks(finder.field, "site and fluid")
    assert "Site and fluid" in finder.shown()
    finder.reject()


@pytest.mark.parametrize(
    ("typed", "shown"),
    [("bigger", "One size up"), ("diameter", "One size up"), ("hose", "Hose"), ("pipe", "Line"),
     ("elbow", "Add a bend"),
     ("bigger diameter", "One size up"), ("print", "Write sheet…"), ("metric", "SI")],
)  # fmt: skip
def test_a_command_is_found_by_plain_words_of_what_it_does(opener: Opener, typed: str, shown: str) -> None:
    names = [row.name for row in command_rows(opener().actions_by_name) if row.fits(typed)]
    assert shown in names


def test_plain_words_are_of_commands_that_there_are(opener: Opener) -> None:
    assert set(PLAIN_WORDS) <= {command.name for command in opener().actions_by_name.commands}
