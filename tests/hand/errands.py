"""Errands of the random hand: several events that belong together, which chance alone seldom brings."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from pathlib import Path
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QAction, QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QAbstractButton, QApplication, QMenu

from sketch.card.own_parts_button import OwnPartsButton
from sketch.model.worker import Worker
from sketch.views.tabs import TABS

if TYPE_CHECKING:
    from tests.hand.gestures import RandomHand

LEFT, NO_KEY = Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
REST_MS, MOST_RESTS = 300, 20  # after which a view has begun to work out what it shows; how often
LEAST_REACHED = 3  # items of which one is pressed
LAYOUTS = sorted((Path(__file__).resolve().parents[2] / "layouts").glob("*.toml"))
Way = tuple[QAction, ...]
"""From a menu of the bar down to an item."""


def items(hand: RandomHand) -> list[Way]:
    """Every item of the menu bar that can be pressed now; the window stays open."""
    paths: list[Way] = []
    open_ends: list[Way] = [(each,) for each in hand.window.menuBar().actions() if each.isVisible()]
    while open_ends:
        path = open_ends.pop()
        inner = path[-1].menu()
        if isinstance(inner, QMenu):
            open_ends += [(*path, each) for each in inner.actions() if each.isVisible()]
        elif path[-1].isEnabled() and path[-1].text() and "Quit" not in path[-1].text():
            paths.append(path)
    return paths


def press(hand: RandomHand, path: Way) -> str:
    """Open the menus on the way by the mouse and press what stands at its end; its text."""
    bar, text = hand.window.menuBar(), path[-1].text()
    QTest.mouseClick(bar, LEFT, NO_KEY, bar.actionGeometry(path[0]).center())
    menu = path[0].menu()
    for action in path[1:]:
        if not (isinstance(menu, QMenu) and menu.isVisible() and action in menu.actions()):
            return text
        if action is path[-1]:
            hand.reached[f"item {text}"] += 1  # before it runs: a dialog of its own may end with the window
        inner = action.menu()
        hand.press_item(menu, action)
        menu = inner
    return text


def seldom(hand: RandomHand, wanted: Callable[[Way], bool] = lambda _: True) -> str:
    """Press one of the items of the menu bar that were pressed least; its text."""
    paths = [path for path in items(hand) if wanted(path)]
    hand.chance.shuffle(paths)
    paths.sort(key=lambda path: hand.reached[f"item {path[-1].text()}"])
    return press(hand, hand.chance.choice(paths[:LEAST_REACHED])) if paths else "nothing"


def arrange(hand: RandomHand) -> str:
    """Select several parts, by keys, by clicks with Shift or by a rubber band, or one line; arrange them."""
    way, sheet = hand.chance.choice(("all", "line", "clicks", "band", "run")), hand.sheet
    sheet.setFocus()
    QTest.keyClick(sheet, Qt.Key.Key_Escape)
    if way == "all":
        QTest.keyClick(sheet, Qt.Key.Key_A, Qt.KeyboardModifier.ControlModifier)
    elif way == "line":
        QTest.mouseClick(sheet, LEFT, NO_KEY, hand.place_of_part())
        QTest.keyClick(sheet, Qt.Key.Key_L, Qt.KeyboardModifier.ControlModifier)
    elif way == "run":
        QTest.mouseClick(sheet, LEFT, NO_KEY, hand.place_of_run())
    elif way == "clicks":
        for _ in range(hand.chance.randint(2, 5)):
            QTest.mouseClick(sheet, LEFT, SHIFT, hand.place_of_part())
    else:
        corners = [hand.place_of_part() for _ in range(2)]
        hand.mouse(QEvent.Type.MouseButtonPress, corners[0], SHIFT)
        hand.mouse(QEvent.Type.MouseMove, corners[1], SHIFT)
        hand.mouse(QEvent.Type.MouseButtonRelease, corners[1], SHIFT)
    return seldom(hand, lambda path: "Arrange" in [each.text() for each in path])


def wait_until_worked_out(hand: RandomHand) -> None:
    """Make no gesture until no thread works anything out, or for as long as a hand would wait."""
    for _ in range(MOST_RESTS):
        QTest.qWait(REST_MS)
        if not any(worker.busy for worker in hand.window.document.findChildren(Worker)):
            return


def at_rest(hand: RandomHand) -> str:
    """Wait until what stands behind a tab is worked out, and press one of the buttons that it then has."""
    name = min(hand.shuffled(TABS), key=lambda each: hand.reached[f"rest {each}"])
    hand.reached[f"rest {name}"] += 1
    hand.window.workspace.show_tab(name)
    wait_until_worked_out(hand)
    view = hand.window.workspace.views[name]
    buttons = [each for each in view.findChildren(QAbstractButton) if each.isVisible() and each.isEnabled()]
    if buttons:
        button = hand.least_used(buttons)
        QTest.mouseClick(button, LEFT, NO_KEY, button.rect().center())
    return name


def own_parts(hand: RandomHand) -> str:
    """Press the card's button for own parts, of a part or of the fluid, and one of its items."""
    hand.window.workspace.show_tab("card")
    if hand.chance.random() < 0.7:
        QTest.mouseClick(hand.sheet, LEFT, NO_KEY, hand.place_of_part())
    else:
        QTest.keyClick(hand.sheet, Qt.Key.Key_Escape)
    QTest.qWait(1)
    for button in hand.window.workspace.views["card"].findChildren(OwnPartsButton):
        if button.isVisible() and button.isEnabled():
            QTest.keyClick(button, Qt.Key.Key_Space)
            popup = QApplication.activePopupWidget()
            return hand.choose(popup) if isinstance(popup, QMenu) else "nothing"
    return "nothing"


def own_alternative(hand: RandomHand) -> str:
    """Do something with the alternatives of the drawing."""
    return seldom(hand, lambda path: "lternative" in path[-1].text())


def drop(hand: RandomHand) -> str:
    """Drop a file on the window, one of the examples as they are shipped: the hand wears drawings out."""
    hand.dropped += 1
    path = shutil.copy(hand.chance.choice(LAYOUTS), hand.folder / f"dropped-{hand.dropped}.toml")
    files = QMimeData()
    files.setUrls([QUrl.fromLocalFile(str(path))])
    at, copy = hand.window.rect().center(), Qt.DropAction.CopyAction
    given = files, LEFT, NO_KEY
    QApplication.sendEvent(hand.window, QDragEnterEvent(at, copy, *given))
    QApplication.sendEvent(hand.window, QDropEvent(QPointF(at), copy, *given))
    return "drop"


def own_case(hand: RandomHand) -> str:
    """Have a case of the drawing's own in view, and do something with it."""
    if hand.chance.random() < 0.8:
        keys = hand.chance.choice((Qt.Key.Key_PageDown, Qt.Key.Key_PageUp))
        QTest.keyClick(hand.window, keys, Qt.KeyboardModifier.AltModifier)
    return seldom(hand, lambda path: "case" in path[-1].text())


ERRANDS = {seldom: 12, arrange: 6, own_parts: 4, own_case: 6, own_alternative: 4, at_rest: 6, drop: 1}
"""Each with how often it is run, against the weights of single gestures."""
