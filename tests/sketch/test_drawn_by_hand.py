"""Two examples drawn from the empty sheet by mouse and keys only, to the last digit of their ledgers."""

from __future__ import annotations

from collections.abc import Mapping

import pytest
from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QComboBox, QLineEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.look.appearance import ThemeChoice
from sketch.views.tabs import TABS
from sketch.window.main_window import Window, make_window
from sketch.window.welcome import Welcome
from solver.layout import file
from solver.layout.cases import cases_of
from solver.ledger.cases import solve_cases
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

LEFT = Qt.MouseButton.LeftButton
NAME_KEY = Qt.Key.Key_F2


class Designer:
    """A hand with a mouse and a keyboard before one window; every act is an event."""

    def __init__(self, window: Window) -> None:
        self.window, self.sheet = window, window.workspace.elevation
        self.acts = self.fields = 0

    def click(self, widget: QWidget, at: QPoint) -> None:
        QTest.mouseMove(widget, at)
        QTest.mouseClick(widget, LEFT, pos=at)
        self.acts += 1

    def spot(self, x: str, y: str) -> QPoint:
        at = (quantity(each, Kind.LENGTH).si for each in (x, y))
        return QPointF(*self.sheet.view.device(*at)).toPoint()

    def take(self, name: str) -> None:
        """Click a part on the shelf."""
        shelf = self.window.workspace.shelf
        (item,) = shelf.findItems(name, Qt.MatchFlag.MatchExactly)
        shelf.scrollToItem(item)
        self.click(shelf.viewport(), shelf.visualItemRect(item).center())

    def put(self, name: str, x: str, y: str) -> None:
        """Take a part from the shelf and type where it stands."""
        self.take(name)
        self.type_on_sheet(f"{x}; {y}")
        self.key(self.sheet, Qt.Key.Key_Home)

    def type_on_sheet(self, text: str) -> None:
        """Type a place, or a length of the line in hand."""
        QTest.keyClick(self.sheet, text[0])
        QTest.keyClicks(self.sheet.field, text[1:])
        self.key(self.sheet.field, Qt.Key.Key_Return)
        self.fields += 1

    def key(self, widget: QWidget, key: Qt.Key) -> None:
        QTest.keyClick(widget, key)

    def point(self, x: str, y: str) -> None:
        QTest.mouseMove(self.sheet, self.spot(x, y) + QPoint(1, 1))
        QTest.mouseMove(self.sheet, self.spot(x, y))
        QApplication.processEvents()

    def select(self, x: str, y: str) -> None:
        self.click(self.sheet, self.spot(x, y))

    def rename(self, name: str) -> None:
        """F2, the name, Return."""

        def answer() -> None:
            dialog = QApplication.activeModalWidget()
            if dialog is None:  # not open yet
                QTimer.singleShot(5, answer)
                return
            field = dialog.findChild(QLineEdit)
            field.selectAll()
            QTest.keyClicks(field, name)
            QTest.keyClick(field, Qt.Key.Key_Return)

        self.activate()
        QTimer.singleShot(0, answer)
        self.key(self.sheet, NAME_KEY)
        assert self.window.document.selected_part == name
        self.fields += 1

    def activate(self) -> None:
        """Make the window the active one: without a window manager nobody does when a box closes."""
        for _ in range(50):
            QApplication.sendPostedEvents(None, QEvent.Type.DeferredDelete)
            self.window.activateWindow()
            QApplication.processEvents()
            if self.window.isActiveWindow():
                break
        self.sheet.setFocus()

    @property
    def card(self) -> PartCard:
        card = self.window.workspace.views["card"]
        assert isinstance(card, PartCard)
        return card

    def fill(self, figures: Mapping[str, str]) -> None:
        """Type on the card of what is selected, each figure with Return."""
        bar = self.window.workspace.tabs.tabBar()
        self.click(bar, bar.tabRect(list(TABS).index("card")).center())
        for key, text in figures.items():
            edit = self.card.fields[key].edit
            edit.setFocus()
            if isinstance(edit, QComboBox) and edit.lineEdit() is None:
                QTest.keyClicks(edit, text[0])  # it opens the list, which then has the keyboard
                QTest.keyClicks(edit.view(), text[1:])
                QTest.keyClick(edit.view(), Qt.Key.Key_Return)
            else:
                field = edit.lineEdit() if isinstance(edit, QComboBox) else edit
                field.selectAll()
                QTest.keyClicks(field, text)
                # Names that match are offered below, in a list that has the keyboard.
                QTest.keyClick(QApplication.activePopupWidget() or field, Qt.Key.Key_Return)
            assert not self.card.pending, (key, text, self.card.fields[key].trouble.text())
            self.fields += 1
        self.sheet.setFocus()


@pytest.fixture
def designer(qtbot: QtBot, qapp: QApplication) -> Designer:
    window = make_window(qapp, None, ThemeChoice.LIGHT, keeps=False)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    window.resize(1600, 900)
    with qtbot.waitExposed(window):
        window.show()
    starters = window.findChildren(Welcome)[0].starters
    QTest.mouseClick(starters.units[System.US], LEFT)
    QTest.mouseClick(starters.buttons["Empty drawing"], LEFT)
    QApplication.processEvents()
    assert not window.document.layout.reservoirs
    return Designer(window)


def check_ledgers(designer: Designer, name: str, cases: tuple[str, ...]) -> None:
    """What is drawn has the ledgers of the file, figure by figure."""
    (path,) = [each for each in SHIPPED if each.stem == name]
    drawn, wanted = designer.window.document.layout, file.read(path).base
    ours, theirs = solve_cases(drawn), solve_cases(wanted)
    assert set(cases) <= set(cases_of(drawn))
    for case in cases:
        assert ours[case].solution.pumps == theirs[case].solution.pumps, case
    print(f"{name}: {designer.acts} mouse acts, {designer.fields} typed fields")


def test_the_carriage_pump_on_its_tank(designer: Designer) -> None:
    hand = designer
    hand.put("Tank", "2 ft", "6 in")
    hand.fill(
        {
            "side.height": "2 ft 4 in",
            "normal_level": "2 ft 4 in",
            "minimum_level": "1 ft 10 in",
            "depth": "2 ft",
        }
    )
    hand.put("Strainer", "1 ft", "1 ft 1 in")
    hand.fill({"screen.area": "110 in^2"})
    hand.put("Pump", "3 ft 5 in", "3 ft 8 in")
    hand.rename("carriage")
    hand.fill(
        {
            "limit.vacuum": "7 inHg",
            "displacement": "82 cm^3/rev",
            "speed": "1450 rpm",
            "rated_speed": "1450 rpm",
            "rated_density": "870 kg/m^3",
            "start_viscosity": "860 cSt",
        }
    )
    hand.take("Line")
    hand.select("1 ft", "1 ft 1 in")
    hand.point("1 ft", "3 ft")
    hand.type_on_sheet("2 ft 7 in")
    hand.select("3 ft 5 in", "3 ft 8 in")
    hand.fill({"material": "commercial"})
    hand.take("Flexible connector")
    hand.select("2 ft 1 in", "3 ft 8 in")
    hand.rename("connector")
    hand.select("1 ft", "2 ft 6 in")
    hand.rename("riser")
    hand.fill({"bend": "threaded"})
    hand.select("2 ft 10 in", "3 ft 8 in")
    hand.rename("lead")
    hand.key(hand.sheet, Qt.Key.Key_Escape)
    hand.fill(
        {"site.elevation": "1650 m", "site.weather_allowance": "0.2 inHg", "fluid.coldest_start": "25 degC"}
    )
    check_ledgers(hand, "carriage-at-altitude", ("as drawn", "coldest start"))


@pytest.mark.thorough
def test_two_pumps_on_a_header(designer: Designer) -> None:
    hand = designer
    hand.put("Tank", "2 ft", "2 ft 6 in")
    hand.fill({"normal_level": "4 ft 6 in", "minimum_level": "4 ft", "depth": "4 ft"})
    hand.put("Wall nozzle", "4 ft", "3 ft")
    hand.rename("nozzle")
    figures = {"rated_density": "870 kg/m^3", "start_viscosity": "860 cSt"}
    hand.put("Pump", "11 ft 3 in", "1 ft 3 in")
    hand.rename("pilot")
    hand.fill(
        {
            "type": "gear",
            "limit.vacuum": "8 inHg",
            "displacement": "2.5 in^3/rev",
            "speed": "1750 rpm",
            "rated_speed": "1800 rpm",
            **figures,
        }
    )
    hand.put("Pump", "8 ft 3 in", "1 ft 3 in")
    hand.rename("main")
    hand.fill(
        {
            "limit.vacuum": "4.5 inHg",
            "displacement": "9 in^3/rev",
            "speed": "1180 rpm",
            "rated_speed": "1200 rpm",
            **figures,
        }
    )
    hand.take("Line")
    hand.select("4 ft", "3 ft")
    hand.point("9 ft", "3 ft")
    hand.type_on_sheet("6 ft")
    hand.point("10 ft", "2 ft")
    hand.type_on_sheet("1 ft 9 in")
    hand.select("11 ft 3 in", "1 ft 3 in")
    hand.fill({"material": "commercial"})
    hand.take("Gate valve")
    hand.select("5 ft", "3 ft")
    hand.rename("isolator")
    hand.take("Tee")
    hand.select("6 ft 6 in", "3 ft")
    hand.rename("split")
    hand.take("Line")
    hand.select("6 ft 6 in", "3 ft")
    hand.point("6 ft 6 in", "2 ft")
    hand.type_on_sheet("1 ft 9 in")
    hand.select("8 ft 3 in", "1 ft 3 in")
    hand.rename("main leg")
    hand.fill({"material": "commercial"})
    for at, name in (
        (("4 ft 6 in", "3 ft"), "outlet"),
        (("5 ft 9 in", "3 ft"), "header"),
        (("8 ft 9 in", "3 ft"), "pilot leg"),
    ):
        hand.select(*at)
        hand.rename(name)
    hand.fill({"size": "NPS 1-1/2 schedule 40"})
    hand.select("11 ft 3 in", "1 ft 3 in")  # its port chosen sooner, the whole line would take its size
    hand.fill({"size": "NPS 1-1/2 schedule 40"})
    hand.key(hand.sheet, Qt.Key.Key_Escape)
    hand.fill(
        {
            "site.elevation": "820 ft",
            "fluid.name": "Mineral oil, ISO VG 68",
            "fluid.temperature": "60 degF",
            "fluid.coldest_start": "60 degF",
        }
    )
    check_ledgers(hand, "header-two-pumps", ("as drawn", "coldest start"))
