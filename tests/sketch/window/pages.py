"""What a tab says: every cell, span, heading and text of its widgets, and the words painted on them."""

from __future__ import annotations

import re
from collections.abc import Iterable, Iterator
from itertools import product

from PySide6.QtCore import QBuffer, QModelIndex, QPoint, Qt, QTimer
from PySide6.QtGui import QPainter, QRegion
from PySide6.QtSvg import QSvgGenerator
from PySide6.QtWidgets import QAbstractItemView, QGraphicsView, QTableView, QTextEdit, QWidget
from pytestqt.qtbot import QtBot

from sketch.look.unit_hint import UnitHint
from sketch.model.worker import Worker
from sketch.views.tabs import TABS
from sketch.window.main_window import Window

Role = Qt.ItemDataRole
SAID = (Role.DisplayRole, Role.ToolTipRole, Role.AccessibleTextRole, Role.ForegroundRole, Role.BackgroundRole)


def at_rest(window: Window) -> bool:
    """Whether nothing is being worked out for the window, and nothing waits to be."""
    workers = window.document.findChildren(Worker)
    asked = any(each._running is not None or each._idle.isActive() for each in workers)
    timers = window.workspace.findChildren(QTimer)
    return not asked and not any(each.isActive() and each.isSingleShot() for each in timers)


AT_ONCE = ("ledger", "findings", "cases", "alternatives", "card")
"""Tables of the drawing that wait for nothing that takes long."""


def pages_of(window: Window, qtbot: QtBot, names: Iterable[str] = TABS) -> dict[str, list[str]]:
    """What each tab says, once what it shows has been worked out."""
    pages = {}
    for name in names:
        window.workspace.show_tab(name)
        qtbot.wait(1)
        qtbot.waitUntil(lambda: at_rest(window), timeout=60000)
        qtbot.wait(1)  # what has come is laid out
        page = window.workspace.tabs.currentWidget()
        assert page is not None
        pages[name] = [words for words in words_of(page) if words]
    return pages


def words_of(page: QWidget) -> Iterator[str]:
    """All that the visible widgets of a page say, and what is painted on those that have no words."""
    for widget in (page, *page.findChildren(QWidget)):
        if not widget.isVisible() or isinstance(widget, UnitHint):
            continue
        if isinstance(widget, QAbstractItemView):
            yield from _cells(widget)
        elif isinstance(widget, QTextEdit):
            yield widget.toHtml()
        elif callable(text := getattr(widget, "text", None)):
            yield f"{text()} {widget.toolTip()}".strip()
        elif isinstance(widget, QGraphicsView) or "paintEvent" in vars(type(widget)):
            yield from _painted(widget)
        yield widget.accessibleDescription()


def _painted(widget: QWidget) -> list[str]:
    """The words painted on a widget, in any order: where they stand depends on what stood there before."""
    buffer = QBuffer()
    picture = QSvgGenerator()
    picture.setOutputDevice(buffer)
    painter = QPainter(picture)
    drawn = QWidget.RenderFlag.DrawWindowBackground
    if isinstance(widget, QGraphicsView):
        drawn |= QWidget.RenderFlag.DrawChildren  # its plot among them
    QWidget.render(widget, painter, QPoint(), QRegion(), drawn)
    painter.end()
    return sorted(re.findall(r"<text[^>]*>([^<]+)", buffer.data().toStdString()))


def _cells(view: QAbstractItemView) -> Iterator[str]:
    model = view.model()
    columns = range(model.columnCount() if isinstance(view, QTableView) else 1)
    for column in columns:
        yield f"heading {column}: {model.headerData(column, Qt.Orientation.Horizontal)}"
    for row, column in product(range(model.rowCount()), columns):
        span = ()
        if isinstance(view, QTableView):
            span = (view.rowSpan(row, column), view.columnSpan(row, column))
        said = ", ".join(_data(model.index(row, column), role) for role in SAID)
        yield f"cell {row}, {column}, {span}: {said}"


def _data(index: QModelIndex, role: Role) -> str:
    value = index.data(role)
    colour = getattr(value, "color", None)
    return str(colour().name() if callable(colour) else value)
