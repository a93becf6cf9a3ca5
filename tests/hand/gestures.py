"""A hand without a plan: real events on whatever the window shows, each gesture chosen by a seed."""

from __future__ import annotations

import random
from collections import Counter
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from itertools import pairwise
from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt, QTimer
from PySide6.QtGui import QAction, QContextMenuEvent, QKeyEvent, QMouseEvent, QWheelEvent
from PySide6.QtPrintSupport import QAbstractPrintDialog
from PySide6.QtTest import QTest
from PySide6.QtWidgets import (
    QAbstractButton,
    QAbstractItemView,
    QAbstractSpinBox,
    QApplication,
    QComboBox,
    QDialog,
    QFileDialog,
    QGraphicsView,
    QLineEdit,
    QMenu,
    QSlider,
    QTextBrowser,
    QWidget,
)

from sketch.air_column.column import AirColumn
from sketch.canvas.elevation import Elevation
from sketch.plots.curves_plot import CurvesPlot
from sketch.strip.scale import Name
from sketch.views.alternatives_page import ColumnsSideBySide
from sketch.views.tabs import TABS
from sketch.window.heading import OneLineText
from sketch.window.main_window import Window
from solver.geometry import outline
from tests.hand import errands

LEFT, NO_BUTTON = Qt.MouseButton.LeftButton, Qt.MouseButton.NoButton
NO_KEY = Qt.KeyboardModifier.NoModifier
MODIFIERS = (
    NO_KEY, NO_KEY, NO_KEY, NO_KEY, Qt.KeyboardModifier.AltModifier, Qt.KeyboardModifier.ShiftModifier,
    Qt.KeyboardModifier.ControlModifier,
)  # fmt: skip
KEYS = (
    Qt.Key.Key_Left, Qt.Key.Key_Right, Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_Escape, Qt.Key.Key_Return,
    Qt.Key.Key_Tab, Qt.Key.Key_Home, Qt.Key.Key_Plus, Qt.Key.Key_Minus, Qt.Key.Key_Space, Qt.Key.Key_Delete,
    Qt.Key.Key_Backspace, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown, Qt.Key.Key_F2, Qt.Key.Key_End,
)  # fmt: skip
TYPED = (
    "1", "0", "-3", "1.2 m", "4 ft", "50 mm", "2 in", "1e9", "1e-9 m", "nan", "0.3", "12 ft 6 in", "",
    "-40 degC", "180 degF", "3000 m", "x", "=1+1", "<b>x</b>", "\u202e", "2 inHg", "30 L/min",
    "1500 rpm", "100000 m", "1/2 in",
)  # fmt: skip
PICTURES = (Elevation, AirColumn, ColumnsSideBySide, QGraphicsView)
"""What is pointed at, pressed and dragged in."""

PANES = (QLineEdit, QComboBox, QSlider, QAbstractButton, QAbstractItemView, QAbstractSpinBox, QTextBrowser,
         AirColumn, ColumnsSideBySide, QGraphicsView, Name, OneLineText)  # fmt: skip
WITH_MENU = (
    "ledger", "profile", "findings", "fixes", "working", "cases", "alternatives", "reach", "curves",
    "priming", "readings", "causes",
)  # fmt: skip
"""Views that open a menu by the right button."""

WORKED_OUT = ("reach", "causes")
"""Views whose rows, to point at, a thread works out."""

MOST_ANSWERS = 12  # to one dialog before it is closed
ANSWER_MS = 3
CURIOUS = 0.5  # of what is chosen by chance: how often it is what was reached least


def _called(widget: QWidget) -> str:
    """What a widget is called, as a hand would know it again."""
    text = widget.text() if isinstance(widget, QAbstractButton) else ""
    return f"{type(widget).__name__} {widget.accessibleName() or text or widget.toolTip()}"


class RandomHand:
    """Makes gestures in a window; `gestures` says which were made, `reached` how often it was where."""

    def __init__(self, window: Window, seed: int, folder: Path) -> None:
        self.window, self.folder = window, folder
        self.chance = random.Random(seed)
        self.gestures: list[str] = []
        self.reached: Counter[str] = Counter()
        self.used: Counter[str] = Counter()  # widgets, by what they are called
        self.first_reached: dict[str, int] = {}  # by which gesture
        self.opened = False  # whether another text than the first has been opened, or written
        self.dropped = 0  # files, on the window
        self._answers = 0
        QTimer.singleShot(ANSWER_MS, window, self._answer)
        window.document.opened.connect(self._another)

    def _another(self) -> None:
        self.opened = True

    def move(self) -> str:
        """Make one gesture; what it was."""
        ways: list[tuple[int, Callable[[], str]]] = [
            (30, self.drag), (8, self.click_sheet), (4, self.double_click), (10, self.keys), (6, self.shelf),
            (10, self.card), (10, self.strip), (10, self.any_widget), (5, self.tab), (10, self.menu),
            (4, self.wheel), (10, self.undo), (2, self.resize), (12, self.view), (6, self.context_menu),
            *((weight, partial(self.errand, way)) for way, weight in errands.ERRANDS.items()),
        ]  # fmt: skip
        weights, ways_to_move = zip(*ways, strict=True)
        self._answers = 0
        if QApplication.activeWindow() is None:  # a desktop gives it back after a menu
            self.window.activateWindow()
        name: str = self.chance.choices(ways_to_move, weights)[0]()
        self._close_popups()
        self.gestures.append(name)
        self.reached[name.split()[0]] += 1
        return name

    def errand(self, way: Callable[[RandomHand], str]) -> str:
        """Run an errand, whose last item says what may be slow."""
        name = way(self)
        self.reached[way.__name__] += 1
        return f"menu {name}"

    # The sheet

    @property
    def sheet(self) -> QWidget:
        return self.window.workspace.elevation

    def _place(self) -> QPoint:
        """A place on the sheet: by chance, or one where something can be taken hold of."""
        elevation, chance = self.window.workspace.elevation, self.chance
        if chance.random() < 0.8:
            return self.place_of_part()
        return QPoint(
            chance.randrange(max(elevation.width(), 1)), chance.randrange(max(elevation.height(), 1))
        )

    def place_of_part(self) -> QPoint:
        """Where one of the parts is, or the corner of a run or a tank; the middle where there is none."""
        elevation, chance = self.window.workspace.elevation, self.chance
        layout, view = self.window.document.layout, elevation.view
        spots = [view.device(part.at[0].si, part.at[1].si) for group in
                 (layout.pumps, layout.intakes, layout.fittings) for part in group.values()]  # fmt: skip
        spots += [view.device(x.si, y.si) for run in layout.runs.values() for x, y in run.via]
        for tank in layout.reservoirs.values():
            spots += [view.device(x.si, y.si) for x, y in tank.outline]
        x, y = chance.choice(spots or [(elevation.width() / 2, elevation.height() / 2)])
        return QPointF(x + chance.uniform(-3, 3), y + chance.uniform(-3, 3)).toPoint()

    def place_of_run(self) -> QPoint:
        """On a line, halfway between two of its corners; where a part is, where there is no line."""
        layout, view = self.window.document.layout, self.window.workspace.elevation.view
        lines = [outline.corners(layout, run) for run in layout.runs.values()]
        pairs = [(a, b) for line in lines for a, b in pairwise(line)]
        if not pairs:
            return self.place_of_part()
        (ax, ay), (bx, by) = self.chance.choice(pairs)
        return QPointF(*view.device((ax + bx) / 2, (ay + by) / 2)).toPoint()

    def mouse(self, kind: QEvent.Type, at: QPoint, modifiers: Qt.KeyboardModifier) -> None:
        button = NO_BUTTON if kind is QEvent.Type.MouseMove else LEFT
        down = NO_BUTTON if kind is QEvent.Type.MouseButtonRelease else LEFT
        place = QPointF(self.sheet.mapToGlobal(at))
        QApplication.sendEvent(self.sheet, QMouseEvent(kind, QPointF(at), place, button, down, modifiers))

    def drag(self) -> str:
        start, chance, held = self._place(), self.chance, self.chance.choice(MODIFIERS)
        self.mouse(QEvent.Type.MouseButtonPress, start, held)
        far = chance.choice((4, 30, 200, 3000))
        for _ in range(chance.randint(1, 6)):
            to = start + QPoint(chance.randint(-far, far), chance.randint(-far, far))
            self.mouse(QEvent.Type.MouseMove, to, held)
        if chance.random() < 0.1:
            QTest.keyClick(self.sheet, Qt.Key.Key_Escape)
        self.mouse(QEvent.Type.MouseButtonRelease, start, held)
        return "drag"

    def click_sheet(self) -> str:
        at = self._place()
        QTest.mouseMove(self.sheet, at)
        QTest.mouseClick(self.sheet, LEFT, NO_KEY, at)
        return "click"

    def double_click(self) -> str:
        QTest.mouseDClick(self.sheet, LEFT, NO_KEY, self._place())
        focus = QApplication.focusWidget()
        if isinstance(focus, QLineEdit):
            self._type(focus)
        return "double click"

    def wheel(self) -> str:
        at, notches = self._place(), self.chance.choice((-3, -1, 1, 3))
        place, turn = QPointF(self.sheet.mapToGlobal(at)), QPoint(0, 120 * notches)
        event = QWheelEvent(QPointF(at), place, QPoint(), turn, NO_BUTTON, NO_KEY,
                            Qt.ScrollPhase.NoScrollPhase, False)  # fmt: skip
        QApplication.sendEvent(self.sheet, event)
        return "wheel"

    def shelf(self) -> str:
        shelf = self.window.workspace.shelf
        if not shelf.isVisible():
            self.window.workspace.toggle("shelf")
        item = shelf.item(self.chance.randrange(shelf.count()))
        shelf.scrollToItem(item)
        QTest.mouseClick(shelf.viewport(), LEFT, NO_KEY, shelf.visualItemRect(item).center())
        for _ in range(self.chance.randint(1, 3)):
            self.click_sheet()
        if self.chance.random() < 0.5:
            self.double_click()
        QTest.keyClick(self.sheet, Qt.Key.Key_Escape)
        return "shelf"

    # The rest of the window

    def keys(self) -> str:
        focus = self.sheet if self.chance.random() < 0.6 else QApplication.focusWidget() or self.sheet
        focus.setFocus()
        for _ in range(self.chance.randint(1, 5)):
            QTest.keyClick(focus, self.chance.choice(KEYS), self.chance.choice(MODIFIERS))
            if self._has_gone(focus):
                break
        return "keys"

    def card(self) -> str:
        self.window.workspace.show_tab("card")
        if not self.window.document.selected_part:
            self.click_sheet()
        return f"card {self._work(self.window.workspace.views['card'])}"

    def strip(self) -> str:
        return f"strip {self._work(self.window.workspace.whatif)}"

    def any_widget(self) -> str:
        return f"widget {self._work(self.window)}"

    def view(self) -> str:
        """Use what stands behind a tab, as far as it is shown."""
        name = self._one_name(TABS, "view")
        self.window.workspace.show_tab(name)
        QTest.qWait(1)
        used = self._work(self.window.workspace.views[name])
        self.reached[f"view {name}"] += used != "nothing"
        return f"view {name} {used}"

    def context_menu(self) -> str:
        """The right button on the sheet, on the column or on what the tab shows; one of the menu's items."""
        workspace = self.window.workspace
        where = self._one_name(("sheet", "sheet", "column", *WITH_MENU), "menu of")
        chosen: QWidget = workspace.elevation if where == "sheet" else workspace.column
        if where in WITH_MENU:
            workspace.show_tab(where)
            QTest.qWait(1)
            if where in WORKED_OUT:
                errands.wait_until_worked_out(self)
            view = workspace.views[where]
            seen = [each for each in self.window.menus.watched if each.isVisible()]
            chosen = self.chance.choice(
                [each for each in seen if each is view or view.isAncestorOf(each)] or [view]
            )
        at = self._place() if where == "sheet" else self._in_row(chosen)
        asked = QContextMenuEvent(QContextMenuEvent.Reason.Mouse, at, chosen.mapToGlobal(at))
        QApplication.sendEvent(chosen, asked)
        popup = QApplication.activePopupWidget()
        name = self.choose(popup) if isinstance(popup, QMenu) else ""
        self.reached[f"menu of {where}"] += popup is not None
        return f"context {name}"

    def _work(self, inside: QWidget) -> str:
        """Use one of the widgets inside: type, turn, press or pick."""
        wanted = [each for each in (inside, *inside.findChildren(QWidget)) if isinstance(each, PANES)
                  and each.isVisible() and each.isEnabled() and each.width() > 0]  # fmt: skip
        if not wanted:
            return "nothing"
        chosen = self.one_of(wanted)
        if isinstance(chosen, QLineEdit):
            self._type(chosen)
        elif isinstance(chosen, PICTURES):
            self._stroke(chosen)
        elif isinstance(chosen, QTextBrowser):
            self._read(chosen)
        elif isinstance(chosen, Name | OneLineText):
            QTest.mouseDClick(chosen, LEFT, NO_KEY, chosen.rect().center())
        elif isinstance(chosen, QComboBox | QAbstractSpinBox):
            QTest.keyClick(chosen, self.chance.choice((Qt.Key.Key_Down, Qt.Key.Key_Up)))
        elif isinstance(chosen, QAbstractItemView):
            self._pick(chosen)
        elif isinstance(chosen, QSlider):
            for _ in range(self.chance.randint(1, 4)):
                QTest.mouseClick(chosen, LEFT, NO_KEY, self._inside(chosen))
        else:
            QTest.mouseClick(chosen, LEFT, NO_KEY, chosen.rect().center())
        return type(chosen).__name__

    def one_of(self, choice: Sequence[QWidget]) -> QWidget:
        """One of the widgets by chance, often the one that was used least."""
        if self.chance.random() < CURIOUS:
            return self.least_used(choice)
        chosen = self.chance.choice(choice)
        self.used[_called(chosen)] += 1
        return chosen

    def least_used(self, choice: Sequence[QWidget]) -> QWidget:
        """One of the widgets that were used least."""
        widgets = self.chance.sample(choice, len(choice))
        chosen = min(widgets, key=lambda each: self.used[_called(each)])
        self.used[_called(chosen)] += 1
        return chosen

    def _one_name(self, names: Iterable[str], what: str) -> str:
        """One of the names by chance, often the one that was reached least."""
        shuffled = self.shuffled(names)
        curious = self.chance.random() < CURIOUS
        return min(shuffled, key=lambda each: self.reached[f"{what} {each}"]) if curious else shuffled[0]

    def shuffled(self, names: Iterable[str]) -> list[str]:
        """Names in an order by chance."""
        listed = list(names)
        self.chance.shuffle(listed)
        return listed

    def _pick(self, table: QAbstractItemView) -> None:
        at = self._inside(table.viewport())
        QTest.mouseClick(table.viewport(), LEFT, NO_KEY, at)
        if self.chance.random() < 0.2:
            QTest.mouseDClick(table.viewport(), LEFT, NO_KEY, at)
        if self.chance.random() < 0.3:
            QTest.keyClick(table, self.chance.choice(KEYS))

    def _stroke(self, picture: QWidget) -> None:
        """Press, drag and let go in a picture, from its own point where it has one; and turn the wheel."""
        surface = picture.viewport() if isinstance(picture, QGraphicsView) else picture
        start = self._inside(surface)
        if isinstance(picture, CurvesPlot) and (today := picture.today()) is not None:
            start = today.toPoint() if self.chance.random() < 0.7 else start
        QTest.mouseMove(surface, start)
        QTest.mousePress(surface, LEFT, NO_KEY, start)
        for _ in range(self.chance.randint(0, 4)):
            at = QPointF(self._inside(surface))
            place = QPointF(surface.mapToGlobal(at))
            moved = QMouseEvent(QEvent.Type.MouseMove, at, place, NO_BUTTON, LEFT, NO_KEY)
            QApplication.sendEvent(surface, moved)
        if self.chance.random() < 0.2:
            QTest.keyClick(picture, self.chance.choice(KEYS))
        QTest.mouseRelease(surface, LEFT, NO_KEY, self._inside(surface))

    def _read(self, page: QTextBrowser) -> None:
        """Follow one of the links of a page by keys, or click somewhere on it."""
        if self.chance.random() < 0.3:
            QTest.mouseClick(page.viewport(), LEFT, NO_KEY, self._inside(page.viewport()))
            return
        page.setFocus()
        for _ in range(self.chance.randint(1, 4)):
            QTest.keyClick(page, Qt.Key.Key_Tab)
        focus = QApplication.focusWidget()
        if focus is page:
            QTest.keyClick(page, Qt.Key.Key_Return)

    def _type(self, field: QLineEdit) -> None:
        field.setFocus()
        field.selectAll()
        for letter in self.chance.choice(TYPED):
            if self._has_gone(field):
                return
            event = QKeyEvent(QEvent.Type.KeyPress, 0, NO_KEY, letter)  # QTest ends at what is not Latin
            QApplication.sendEvent(field, event)
        if not self._has_gone(field):
            QTest.keyClick(field, self.chance.choice((Qt.Key.Key_Return, Qt.Key.Key_Tab, Qt.Key.Key_Escape)))

    def _in_row(self, widget: QWidget) -> QPoint:
        """On a row that a widget or its parent lists, as a rule; anywhere in another widget."""
        table = widget if isinstance(widget, QAbstractItemView) else widget.parent()
        model = table.model() if isinstance(table, QAbstractItemView) else None
        if model is None or not model.rowCount() or self.chance.random() < 0.2:
            return self._inside(widget)
        assert isinstance(table, QAbstractItemView)
        return table.visualRect(model.index(self.chance.randrange(model.rowCount()), 0)).center()

    def _inside(self, widget: QWidget) -> QPoint:
        wide, high = max(widget.width(), 1), max(widget.height(), 1)
        return QPoint(self.chance.randrange(wide), self.chance.randrange(high))

    @staticmethod
    def _has_gone(widget: QWidget) -> bool:
        try:
            return not widget.isVisible()
        except RuntimeError:  # its C++ half is deleted
            return True

    def tab(self) -> str:
        bar = self.window.workspace.tabs.tabBar()
        name = self._one_name(TABS, "tab")
        at = list(TABS).index(name)
        self.reached[f"tab {name}"] += 1
        QTest.mouseClick(bar, LEFT, NO_KEY, bar.tabRect(at).center())
        return f"tab {at}"

    def undo(self) -> str:
        name = self.chance.choice(("undo", "undo", "redo"))
        for _ in range(self.chance.randint(1, 6)):
            self.window.actions_by_name[name].trigger()
        return name

    def resize(self) -> str:
        self.window.resize(self.chance.randint(700, 1900), self.chance.randint(500, 1100))
        return "resize"

    def menu(self) -> str:
        """Open a menu of the bar by the mouse, and press one of its items."""
        bar = self.window.menuBar()
        top = self.chance.choice([each for each in bar.actions() if each.isVisible()])
        QTest.mouseClick(bar, LEFT, NO_KEY, bar.actionGeometry(top).center())
        return f"menu {self.choose(top.menu())}"

    def choose(self, menu: object) -> str:
        """Press one of the items of an open menu, or of a menu that it opens; its text."""
        name = ""
        while isinstance(menu, QMenu) and menu.isVisible():
            wanted = [each for each in menu.actions() if each.isEnabled() and each.isVisible()
                      and not each.isSeparator() and "Quit" not in each.text()]  # fmt: skip
            if not wanted:
                break
            chosen = self.chance.choice(wanted)
            name, inner = chosen.text(), chosen.menu()  # what it does may take it away
            self.reached[f"item {name}"] += inner is None
            self.press_item(menu, chosen)
            menu = inner
        return name

    @staticmethod
    def press_item(menu: QMenu, action: QAction) -> None:
        at = menu.actionGeometry(action).center()
        QTest.mouseMove(menu, at)
        QTest.mouseClick(menu, LEFT, NO_KEY, at)

    def _close_popups(self) -> None:
        for _ in range(5):
            popup = QApplication.activePopupWidget()
            if popup is None:
                return
            QTest.keyClick(popup, Qt.Key.Key_Escape)
            if not self._has_gone(popup):
                popup.close()

    # Dialogs, which run a loop of their own: answered from a timer within it

    def _answer(self) -> None:
        # Each time anew: a timer does not fire within its own answer, and that may open another dialog.
        QTimer.singleShot(ANSWER_MS, self.window, self._answer)
        self._answers += 1
        popup = QApplication.activePopupWidget()
        if popup is not None:
            if self._answers > MOST_ANSWERS:
                popup.close()  # it may run a loop of its own
            return
        dialog = QApplication.activeModalWidget()
        if not isinstance(dialog, QDialog):
            return
        self.reached[f"dialog {dialog.windowTitle()}"] += 1
        if self._answers > MOST_ANSWERS:
            dialog.reject()
        elif isinstance(dialog, QAbstractPrintDialog):
            dialog.reject()  # it would print to wherever this machine prints
        elif isinstance(dialog, QFileDialog):
            self._answer_with_path(dialog)
        elif self.chance.random() < 0.3:
            QTest.keyClick(dialog, self.chance.choice((Qt.Key.Key_Escape, Qt.Key.Key_Return)))
        else:
            self._work(dialog)

    def _answer_with_path(self, dialog: QFileDialog) -> None:
        field = dialog.findChild(QLineEdit)
        if field is None or self.chance.random() < 0.4:
            dialog.reject()
            return
        drawings = sorted(str(each) for each in self.folder.glob("*.toml"))
        odd = [str(self.folder / "no folder" / "x.toml"), "", str(self.folder), str(self.folder / "new")]
        field.setText(self.chance.choice([*drawings, *odd]))
        QTest.keyClick(field, Qt.Key.Key_Return)
