"""An elevation on the screen, and what a hand does to it with the mouse."""

from __future__ import annotations

from pathlib import Path

from PySide6.QtCore import QEvent, QPoint, QPointF, Qt
from PySide6.QtGui import QMouseEvent, QWheelEvent
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.drawing.labels import Label
from sketch.model.document import Document
from sketch.window.main_window import Window

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"

GRAVITY = 9.80665


LEFT = Qt.MouseButton.LeftButton


NONE = Qt.KeyboardModifier.NoModifier


ALT = Qt.KeyboardModifier.AltModifier


def shown(qtbot: QtBot, path: Path) -> Elevation:
    document = Document()
    document.open(path)
    widget = Elevation(document)
    widget.kept = document
    qtbot.addWidget(widget)
    widget.resize(1000, 700)
    widget.show()
    qtbot.waitExposed(widget)
    widget.setFocus()
    return widget


def document_of(canvas: Elevation) -> Document:
    return canvas.kept


def spot(canvas: Elevation, x: float, y: float) -> QPoint:
    return QPointF(*canvas.view.device(x, y)).toPoint()


def send(canvas: Elevation, kind: QEvent.Type, at: QPoint, modifiers: Qt.KeyboardModifier = NONE) -> None:
    """A mouse event with modifiers, which QTest's moves do not carry."""
    button = LEFT if kind is not QEvent.Type.MouseMove else Qt.MouseButton.NoButton
    down = Qt.MouseButton.NoButton if kind is QEvent.Type.MouseButtonRelease else LEFT
    event = QMouseEvent(kind, QPointF(at), QPointF(canvas.mapToGlobal(at)), button, down, modifiers)
    QApplication.sendEvent(canvas, event)


def drag(
    canvas: Elevation,
    start: tuple[float, float],
    *way: tuple[float, float],
    modifiers: Qt.KeyboardModifier = NONE,
    release: bool = True,
) -> None:
    send(canvas, QEvent.Type.MouseButtonPress, spot(canvas, *start), modifiers)
    for point in way:
        send(canvas, QEvent.Type.MouseMove, spot(canvas, *point), modifiers)
    if release:
        send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, *(way or (start,))[-1]), modifiers)


def place(canvas: Elevation, name: str) -> tuple[float, float]:
    x, y = document_of(canvas).layout.joint(name).at
    return x.si, y.si


def lift(document: Document) -> float:
    return sum(entry.lift for entry in document.ledger.entries)


def loss(document: Document) -> float:
    return sum(entry.loss for entry in document.ledger.entries)


def wheel(canvas: Elevation, at: QPoint, notches: int) -> None:
    event = QWheelEvent(
        QPointF(at),
        QPointF(canvas.mapToGlobal(at)),
        QPoint(),
        QPoint(0, 120 * notches),
        Qt.MouseButton.NoButton,
        NONE,
        Qt.ScrollPhase.NoScrollPhase,
        False,
    )
    QApplication.sendEvent(canvas, event)


def carriage_shown(qtbot: QtBot) -> Elevation:
    """The carriage, painted once, so that its labels can be clicked on."""
    canvas = shown(qtbot, CARRIAGE)
    canvas.resize(1100, 700)
    canvas.repaint()
    return canvas


def label(canvas: Elevation, kind: str, begins: str = "") -> Label:
    canvas.repaint()
    return next(each for each in canvas.picture.labels if each.kind == kind and each.text.startswith(begins))


def double_click(qtbot: QtBot, canvas: Elevation, label: Label) -> None:
    at = QPointF(label.box.x + label.box.width / 2, label.box.y + label.box.height / 2).toPoint()
    qtbot.mouseDClick(canvas, LEFT, pos=at)


def type_over(qtbot: QtBot, canvas: Elevation, text: str) -> None:
    canvas.field.selectAll()
    qtbot.keyClick(canvas.field, Qt.Key.Key_Delete)
    qtbot.keyClicks(canvas.field, text)
    qtbot.keyClick(canvas.field, Qt.Key.Key_Return)


def pick(qtbot: QtBot, window: Window, name: str) -> None:
    """Pick a part on the shelf."""
    shelf = window.workspace.shelf
    (item,) = shelf.findItems(name, Qt.MatchFlag.MatchExactly)
    shelf.scrollToItem(item)
    qtbot.mouseClick(shelf.viewport(), LEFT, pos=shelf.visualItemRect(item).center())


def click(qtbot: QtBot, window: Window, at: QPoint) -> None:
    """Click on the drawing."""
    qtbot.mouseMove(window.workspace.elevation, at)
    qtbot.mouseClick(window.workspace.elevation, LEFT, pos=at)
