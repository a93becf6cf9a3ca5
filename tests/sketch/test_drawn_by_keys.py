"""An example drawn from the empty sheet by keys alone, to the last digit of its ledgers."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from PySide6.QtCore import QEvent, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractItemView, QApplication, QComboBox, QDialog, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.appearance import ThemeChoice
from sketch.window.main_window import Window, make_window
from tests.sketch.test_drawn_by_hand import check_ledgers

NONE, CONTROL = Qt.KeyboardModifier.NoModifier, Qt.KeyboardModifier.ControlModifier
SHIFT, ALT = Qt.KeyboardModifier.ShiftModifier, Qt.KeyboardModifier.AltModifier
KEY = Qt.Key


class Typist:
    """A hand with a keyboard before one window: each key goes to what has the keyboard."""

    def __init__(self, window: Window) -> None:
        self.window, self.acts, self.keys, self.fields = window, 0, 0, 0  # acts: of a mouse, none
        self.popup: QWidget | None = None

    @property
    def focused(self) -> QWidget:
        self.popup = QApplication.activePopupWidget()  # kept: what lies in it goes with it
        if self.popup is not None:
            return (
                self.popup.findChild(QAbstractItemView) or self.popup
            )  # a list that opened has the keyboard
        return QApplication.focusWidget() or self.window

    def press(self, *keys: Qt.Key, held: Qt.KeyboardModifier = NONE) -> None:
        for key in keys:
            QTest.keyClick(self.focused, key, held)
            self.keys += 1
            QApplication.processEvents()

    def write(self, text: str) -> None:
        for letter in text:
            QTest.keyClick(self.focused, letter)
            self.keys += 1

    def dialog(self, key: Qt.Key, text: str, held: Qt.KeyboardModifier = NONE) -> None:
        """A key that opens a box; what is typed into it; Return."""
        self.press(key, held=held)
        self.activate(next(each for each in self.window.findChildren(QDialog) if each.isVisible()))
        self.write(text)
        self.press(KEY.Key_Return)
        self.activate(self.window)

    def activate(self, window: QWidget) -> None:
        """Make a window the active one, as a desktop does when a box opens or closes."""
        for _ in range(50):
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
            window.activateWindow()
            QApplication.processEvents()
            if window.isActiveWindow():
                return
        raise AssertionError(window)

    def take(self, name: str) -> None:
        """Find a part of the shelf by its name, and take it in hand."""
        self.dialog(KEY.Key_F3, name)
        assert self.window.workspace.elevation.tool.picked, name

    def put(self, name: str, place: str) -> None:
        self.take(name)
        self.place(place)

    def place(self, text: str) -> None:
        """Type a place, or a length of the line in hand."""
        self.write(text)
        self.press(KEY.Key_Return)
        self.fields += 1

    def walk_to(self, name: str) -> None:
        """Tab, until the part is selected."""
        for _ in range(12):
            if self.window.document.selection == (name,):
                return
            self.press(KEY.Key_Tab)
        raise AssertionError(name)

    def rename(self, name: str) -> None:
        """F2, the name, Return; the box holds up the key that opens it."""

        def answer() -> None:
            dialog = QApplication.activeModalWidget()
            if dialog is None:  # not there yet
                QTimer.singleShot(5, answer)
                return
            field = dialog.findChild(QLineEdit)
            field.selectAll()
            QTest.keyClicks(field, name)
            QTest.keyClick(field, KEY.Key_Return)

        QTimer.singleShot(0, answer)
        self.press(KEY.Key_F2)
        self.activate(self.window)
        assert self.window.document.selection == (name,)
        self.keys += len(name) + 1
        self.fields += 1

    def fill(self, figures: Mapping[str, str]) -> None:
        """Each figure of the card found by its label and typed; then back to the drawing."""
        for label, text in figures.items():
            self.dialog(KEY.Key_F, label, CONTROL | SHIFT)
            if not (isinstance(self.focused, QComboBox) and self.focused.lineEdit() is None):
                self.press(KEY.Key_A, held=CONTROL)
            self.write(text)
            self.press(KEY.Key_Return)
            self.activate(self.window)
            self.fields += 1
            card = self.window.workspace.views["card"]
            assert not card.pending, (label, text, [each.trouble.text() for each in card.fields.values()])
        self.press(KEY.Key_F4)
        assert self.window.workspace.elevation.hasFocus()


@pytest.fixture
def typist(qtbot: QtBot, qapp: QApplication) -> Typist:
    window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    window.resize(1600, 900)
    with qtbot.waitExposed(window):
        window.show()
    typist = Typist(window)
    typist.activate(window)
    typist.press(KEY.Key_U, KEY.Key_0, held=CONTROL | ALT)  # US customary; an empty sheet
    assert window.document.has_drawing
    assert not window.document.layout.reservoirs
    return typist


@pytest.mark.thorough
def test_the_carriage_pump_on_its_tank_by_keys_alone(typist: Typist) -> None:
    hand = typist
    hand.put("Tank", "2 ft; 6 in")
    hand.fill(
        {
            "Height": "2 ft 4 in",
            "Normal level": "2 ft 4 in",
            "Minimum level": "1 ft 10 in",
            "Depth into the page": "2 ft",
        }
    )
    hand.put("Strainer", "1 ft; 1 ft 1 in")
    hand.fill({"Screen area": "110 in^2"})
    hand.put("Pump", "3 ft 5 in; 3 ft 8 in")
    hand.rename("carriage")
    hand.fill(
        {
            "Vacuum limit": "7 inHg",
            "Displacement": "82 cm^3/rev",
            "Speed": "1450 rpm",
            "Rated speed": "1450 rpm",
            "Rated density": "870 kg/m^3",
            "Start viscosity": "860 cSt",
        }
    )
    hand.press(KEY.Key_Escape)
    hand.take("Line")
    hand.walk_to("strainer")
    hand.press(KEY.Key_Return, KEY.Key_Up)
    hand.place("2 ft 7 in")
    hand.walk_to("carriage")
    hand.press(KEY.Key_Return)
    hand.fill({"Material": "commercial"})
    hand.put("Flexible connector", "2 ft 1 in; 3 ft 8 in")
    hand.rename("connector")
    hand.press(KEY.Key_Tab)
    hand.rename("lead")
    hand.press(KEY.Key_Escape, KEY.Key_Right)
    hand.walk_to("line")
    hand.rename("riser")
    hand.fill({"Bends": "threaded"})
    hand.press(KEY.Key_Escape)
    hand.fill({"Site elevation": "1650 m", "Weather allowance": "0.2 inHg", "Coldest start": "25 degC"})
    check_ledgers(hand, "carriage-at-altitude", ("as drawn", "coldest start"))  # type: ignore[arg-type]
    print(f"{hand.keys} keys")
