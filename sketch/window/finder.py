"""A list that gets shorter as one types: one row of it is chosen by Return or a double click."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from functools import partial
from typing import NamedTuple

from PySide6.QtCore import QCoreApplication, QSize, Qt, QTimer
from PySide6.QtGui import QKeyEvent
from PySide6.QtWidgets import (
    QAbstractItemView,
    QDialog,
    QHeaderView,
    QLineEdit,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketch.look.label import Label
from sketch.look.more_below import MoreBelow
from sketch.window.small_screen import within_screen

SIZE = QSize(620, 440)
SPACING = 8  # pixels between rows; between columns twice as many
NOTHING = "Nothing matches these words"
MOVING_KEYS = (Qt.Key.Key_Up, Qt.Key.Key_Down, Qt.Key.Key_PageUp, Qt.Key.Key_PageDown)
ROLE = Qt.ItemDataRole.UserRole


class FinderRow(NamedTuple):
    """One row: what is chosen by it, its name, and what stands in the columns behind."""

    key: str
    name: str
    columns: tuple[str, ...] = ()
    words: str = ""  # looked through too, not shown
    enabled: bool = True

    def fits(self, typed: str) -> bool:
        """Whether every typed word is in the row, whatever its case."""
        text = " ".join((self.name, *self.columns, self.words)).casefold()
        return all(word in text for word in typed.casefold().split())


def best_match(rows: Sequence[FinderRow], typed: str) -> int | None:
    """Which row is meant by what is typed: of that very name, before one that begins so or has it anywhere.

    None where none fits that is enabled.
    """
    fitting = [at for at, row in enumerate(rows) if row.enabled and row.fits(typed)]
    names = {at: rows[at].name.casefold() for at in fitting}
    wanted = typed.strip().casefold()
    return min(
        fitting,
        key=lambda at: (names[at] != wanted, not names[at].startswith(wanted), wanted not in names[at]),
        default=None,
    )


class _Field(QLineEdit):
    """Keys that walk through a list go to the list."""

    def __init__(self, rows: QTreeWidget) -> None:
        super().__init__()
        self._rows = rows

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.key() in MOVING_KEYS:
            QCoreApplication.sendEvent(self._rows, event)
        else:
            super().keyPressEvent(event)


class Finder(QDialog):
    """Stays in front of its window until a row is chosen or Esc is pressed."""

    def __init__(
        self,
        parent: QWidget,
        title: str,
        hint: str,
        rows: Sequence[FinderRow],
        choose: Callable[[str], object],
    ) -> None:
        super().__init__(parent)
        self.setWindowTitle(title)
        self.setAttribute(Qt.WidgetAttribute.WA_DeleteOnClose)
        self._window, self._all, self._choose = parent, tuple(rows), choose
        self.rows = QTreeWidget()
        self.field = _Field(self.rows)
        self._nothing = Label(NOTHING)
        self._arrange(title, hint)
        self.field.textChanged.connect(self._filter)
        self.field.returnPressed.connect(self._take)
        self.rows.itemActivated.connect(self._take)
        self._filter("")

    def _arrange(self, title: str, hint: str) -> None:
        self.field.setPlaceholderText(hint)
        self.field.setAccessibleName(title)
        self.field.setClearButtonEnabled(True)
        self.rows.setAccessibleName(f"{title}: what fits")
        self.rows.setHeaderHidden(True)
        self.rows.setRootIsDecorated(False)
        self.rows.setUniformRowHeights(True)
        self.rows.setEditTriggers(QAbstractItemView.EditTrigger.NoEditTriggers)
        self.rows.setColumnCount(1 + max((len(row.columns) for row in self._all), default=0))
        for row in self._all:
            item = QTreeWidgetItem([row.name, *row.columns])
            item.setData(0, ROLE, row.key)
            item.setDisabled(not row.enabled)
            item.setSizeHint(0, QSize(0, self.fontMetrics().height() + SPACING))
            self.rows.addTopLevelItem(item)
        header = self.rows.header()
        header.setStretchLastSection(False)
        header.setSectionResizeMode(0, QHeaderView.ResizeMode.Stretch)
        for at in range(
            1, self.rows.columnCount()
        ):  # of all rows, so that they stay while the list gets shorter
            self.rows.resizeColumnToContents(at)
            self.rows.setColumnWidth(at, self.rows.columnWidth(at) + 2 * SPACING)
        column = QVBoxLayout(self)
        for widget in (self.field, self._nothing, self.rows):
            column.addWidget(widget)
        MoreBelow(self.rows)
        self.resize(within_screen(self, SIZE))
        self.field.setFocus()

    def shown(self) -> tuple[str, ...]:
        """The names in the list now, from top to bottom."""
        items = (self.rows.topLevelItem(at) for at in range(len(self._all)))
        return tuple(item.text(0) for item in items if item is not None and not item.isHidden())

    def _filter(self, typed: str) -> None:
        for at, row in enumerate(self._all):
            item = self.rows.topLevelItem(at)
            if item is not None:
                item.setHidden(not row.fits(typed))
        meant = best_match(self._all, typed)
        item = None if meant is None else self.rows.topLevelItem(meant)
        self.rows.setCurrentItem(item)  # type: ignore[arg-type]
        if item is not None:  # it may be the one that was chosen, scrolled away as the rows above it went
            self.rows.scrollToItem(item)
        self._nothing.setVisible(not self.shown())

    def _take(self) -> None:
        item = self.rows.currentItem()
        if item is None or item.isDisabled() or item.isHidden():
            return
        # Once this has been left: what is chosen may open a dialog, whose loop would drop the finder.
        QTimer.singleShot(0, self._window, partial(self._choose, item.data(0, ROLE)))
        self.accept()
