"""The card's button for parts of one's own, by real clicks."""

from pathlib import Path

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QApplication, QComboBox, QInputDialog, QMessageBox
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.model import own_parts
from sketch.model.document import Document
from tests.sketch.card.cards import LAYOUTS, show, type_in
from tests.sketch.shown import shown
from tests.solver.layout.test_own_parts import WHOLE


@pytest.fixture
def document(tmp_path: Path, monkeypatch: pytest.MonkeyPatch) -> Document:
    monkeypatch.setenv("XDG_DATA_HOME", str(tmp_path / "home"))
    drawing = tmp_path / "drawing.toml"
    drawing.write_bytes((LAYOUTS / "carriage-at-altitude.toml").read_bytes())
    (tmp_path / "shop.parts.toml").write_text(WHOLE.replace("82 cm", "90 cm"), encoding="utf-8")
    document = Document(keeps=False)
    document.open(drawing)
    return document


def pick_fluid(qtbot: QtBot, card: PartCard, name: str) -> None:
    box = card.fields["fluid.name"].edit
    assert isinstance(box, QComboBox)
    editor = box.lineEdit()
    editor.setFocus()
    editor.setText(name)  # by keys the list of completions opens, and takes the next click
    qtbot.keyClick(editor, Qt.Key.Key_Return)


def choose(qtbot: QtBot, card: PartCard, begins: str) -> None:
    """Open the button's menu and choose the action that begins with those words, by keys."""
    qtbot.waitUntil(lambda: bool(card.own_parts.own.catalogue.parts) and not card._rest.isActive())
    menu = card.own_parts.menu()

    def opened() -> bool:
        """Whether the menu is open; a window that has just been made active closes it again."""
        if not menu.isVisible():
            qtbot.mouseClick(card.own_parts, Qt.MouseButton.LeftButton)
        return bool(menu.isVisible())

    qtbot.waitUntil(opened)
    menu.setActiveAction(next(each for each in menu.actions() if each.text().startswith(begins)))
    qtbot.keyClick(menu, Qt.Key.Key_Return)


def test_own_fluids_stand_in_the_list_and_the_card_says_when_their_figures_have_changed(
    qtbot: QtBot, document: Document
) -> None:
    card = shown(qtbot, PartCard(document), 1366, 220)
    qtbot.waitUntil(lambda: "Supplier's oil" in card.fields["fluid.name"].line.options)
    pick_fluid(qtbot, card, "Supplier's oil")
    fluid = document.layout.fluid
    assert (fluid.name, fluid.density.text) == ("Supplier's oil", "868 kg/m^3")
    assert "other figures" not in card.trouble.text()
    type_in(qtbot, card, "fluid.density", "900 kg/m^3")
    assert "shop.parts.toml has other figures for Supplier's oil, changed 2026-03-04" in card.trouble.text()
    choose(qtbot, card, "Supplier's oil")
    assert document.layout.fluid.density.text == "868 kg/m^3"
    qtbot.waitUntil(lambda: not card.trouble.text())
    card.hide()
    catalogue = document.path.with_name("shop.parts.toml")
    catalogue.write_text(WHOLE.replace("868 kg", "866 kg"), encoding="utf-8")
    card.show()
    qtbot.waitUntil(lambda: "other figures" in card.trouble.text())
    pick_fluid(qtbot, card, "Polyol ester (HFDU)")
    fluid = document.layout.fluid
    assert (fluid.name, fluid.density, fluid.viscosity) == ("Polyol ester (HFDU)", None, None)
    document.begin()
    qtbot.waitUntil(lambda: "Supplier's oil" not in card.fields["fluid.name"].line.options)


@pytest.mark.thorough
def test_parts_are_taken_and_kept_and_what_is_wrong_is_told(qtbot: QtBot, document: Document) -> None:
    card = shown(qtbot, PartCard(document), 1366, 220)
    choose(qtbot, card, "Supplier's oil")
    assert document.layout.fluid.name == "Supplier's oil"
    assert document.undo_stack.undoText() == "Take Supplier's oil for the fluid"
    document.undo_stack.undo()
    assert document.clean
    show(qtbot, card, document, "carriage")
    choose(qtbot, card, "vane 82")
    assert document.layout.pumps["carriage"].displacement.text == "90 cm^3/rev"

    def name_it() -> None:
        dialog = QApplication.activeModalWidget()
        if not isinstance(dialog, QInputDialog):
            return
        wait.stop()
        dialog.setTextValue("mine")
        dialog.accept()

    wait = QTimer(card, interval=5)
    wait.timeout.connect(name_it)
    wait.start()
    choose(qtbot, card, "Keep as own pump")
    qtbot.waitUntil(own_parts.user_catalogue().exists)
    kept = own_parts.catalogue_for(None).part("pumps", "mine")
    assert kept.table["displacement"] == "90 cm^3/rev"
    assert "speed" not in kept.table
    assert document.layout.pumps["carriage"].own_part == "mine", "the drawing says whose figures it has"
    assert document.undo_stack.undoText() == "Keep mine as own pump"
    text = own_parts.user_catalogue().read_text("utf-8")
    own_parts.user_catalogue().write_text(text.replace("90 cm", "95 cm"), "utf-8")
    card.own_parts.follow()
    qtbot.waitUntil(lambda: "own.parts.toml has other figures for mine" in card.trouble.text())
    own_parts.user_catalogue().write_text(text, "utf-8")
    before = own_parts.user_catalogue().read_bytes()

    def say_no() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        qtbot.mouseClick(box.button(QMessageBox.StandardButton.No), Qt.MouseButton.LeftButton)

    QTimer.singleShot(0, say_no)
    card.own_parts.keep(kept)
    assert own_parts.user_catalogue().read_bytes() == before
    own_parts.user_catalogue().write_text("[pumps", encoding="utf-8")
    card.own_parts.follow()
    qtbot.waitUntil(lambda: card.own_parts.text() == "Own parts: 1 refused")
    with qtbot.waitSignal(card.own_parts.left_out) as left_out:
        choose(qtbot, card, "What is wrong")
    ((problem,),) = left_out.args
    assert (Path(problem.file).name, problem.line) == ("own.parts.toml", 1)
    document.select("tank")
    qtbot.waitUntil(card.own_parts.isHidden)
