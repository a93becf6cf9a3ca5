"""A bar over the drawing that says what happened, with what can be done, and asks for nothing at once."""

from __future__ import annotations

from collections.abc import Callable, Sequence
from pathlib import Path

from PySide6.QtCore import QEvent, QSize, Signal
from PySide6.QtWidgets import (
    QAbstractItemView,
    QApplication,
    QFrame,
    QHBoxLayout,
    QHeaderView,
    QPushButton,
    QTreeWidget,
    QTreeWidgetItem,
    QVBoxLayout,
    QWidget,
)

from sketch.look.appearance import read_style_sheets_again
from sketch.look.label import Label
from sketch.look.more_below import MoreBelow
from sketch.look.words import tooltip, unbroken, without_no_break
from sketch.model.disk import path_text
from sketch.views.refusal import mark_icon
from sketch.views.table_style import HEADER
from solver.findings.kinds import Severity
from solver.layout.file import Problem

HEADINGS = ("Line", "Key", "Found", "Allowed")
WITH_FILE = ("File, line", *HEADINGS[1:])
LEFT_OUT = "What is wrong in your catalogues is left out; all else in them can be used."
DISMISS = "Dismiss"
DISMISS_TIP = "Put this away (Shift+Esc; Esc too, once nothing is held or selected)"
MOST_ROWS = 5
PAD = 4
STYLE = f"""{HEADER}
QTreeWidget::item {{ padding: 0 7px; }}
QTreeWidget::item:selected {{ background: palette(alternate-base); color: palette(text); }}
"""
Answer = tuple[str, Callable[[], object]]


class Notice(QFrame):
    """One message at a time; a later one replaces it."""

    left = Signal()  # by the keyboard, as it went
    changed = Signal()  # it is there, says something else, or went

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setFrameShape(QFrame.Shape.StyledPanel)
        self.setAutoFillBackground(True)
        self._passes = False
        self._mark = Label()
        self._text = Label()
        self._text.setWordWrap(True)
        self._list = self._make_list()
        self._buttons = QHBoxLayout()
        top = QHBoxLayout()
        top.setSpacing(8)
        top.addWidget(self._mark)
        top.addWidget(self._text, 1)
        top.addLayout(self._buttons)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 8, 12, 8)
        column.addLayout(top)
        column.addWidget(self._list)
        self.hide()

    def _make_list(self) -> QTreeWidget:
        tree = QTreeWidget()
        tree.setHeaderLabels(HEADINGS)
        tree.setRootIsDecorated(False)
        tree.setUniformRowHeights(True)
        tree.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        tree.setAccessibleName("Errors in the file")
        tree.setStyleSheet(STYLE)
        MoreBelow(tree)
        tree.header().setSectionResizeMode(QHeaderView.ResizeMode.ResizeToContents)
        return tree

    def changeEvent(self, event: QEvent) -> None:
        super().changeEvent(event)
        if event.type() == QEvent.Type.PaletteChange:
            read_style_sheets_again(self)

    @property
    def text(self) -> str:
        """The message shown, "" when there is none."""
        return "" if self.isHidden() else without_no_break(self._text.text())

    def rows(self) -> list[tuple[str, ...]]:
        """The errors listed under the message."""
        items = (self._list.topLevelItem(row) for row in range(self._list.topLevelItemCount()))
        return [tuple(item.text(column) for column in range(len(HEADINGS))) for item in items if item]

    def show_message(
        self,
        text: str,
        answers: Sequence[Answer] = (),
        problems: Sequence[Problem] = (),
        severity: Severity = Severity.NOTE,
        *,
        passes: bool = False,
    ) -> None:
        """Show a message with its errors and a button for each answer; one that `passes` goes by itself with
        the next step of the drawing."""
        self._passes = passes
        self._mark.setPixmap(mark_icon(severity, self.palette(), self.devicePixelRatioF()).pixmap(16, 16))
        self._text.setText(unbroken(text))
        self._fill(problems)
        for button in self.findChildren(QPushButton):
            self._buttons.removeWidget(button)
            button.deleteLater()
        for label, answer in (*answers, (DISMISS, lambda: None)):
            self._buttons.addWidget(self._button(label, answer))
        self.show()
        self.changed.emit()

    def pass_away(self) -> None:
        """Go, where the message was of a step that the drawing has left behind."""
        if self._passes:
            self.dismiss()

    def dismiss(self) -> None:
        """Go, whatever the message; the keyboard returns to where it was in the window."""
        focus = QApplication.focusWidget()
        held = focus is not None and self.isAncestorOf(focus)
        self.hide()
        if held:
            self.left.emit()
        self.changed.emit()

    def show_left_out(self, problems: Sequence[Problem]) -> None:
        """Show what is wrong in catalogues of one's own."""
        self.show_message(LEFT_OUT, severity=Severity.CAUTION)
        self._fill(problems, with_file=True)

    def _button(self, label: str, answer: Callable[[], object]) -> QPushButton:
        button = QPushButton(label)
        if label == DISMISS:
            button.setToolTip(DISMISS_TIP)

        def pressed() -> None:
            self.dismiss()
            answer()

        button.clicked.connect(pressed)
        return button

    def _fill(self, problems: Sequence[Problem], *, with_file: bool = False) -> None:
        self._list.clear()
        self._list.setHeaderLabels(WITH_FILE if with_file else HEADINGS)
        for problem in problems:
            place = str(problem.line) if problem.line else ""
            if with_file:
                place = f"{path_text(Path(Path(problem.file).name))}, {place}".removesuffix(", ")
            item = QTreeWidgetItem([place, problem.key, problem.found, problem.allowed])
            metrics = self.fontMetrics()
            item.setSizeHint(0, QSize(metrics.horizontalAdvance(place) + 8 * PAD, metrics.height() + PAD))
            for column in range(len(HEADINGS)):
                item.setToolTip(column, tooltip(item.text(column)))
            self._list.addTopLevelItem(item)
        rows = min(len(problems), MOST_ROWS) * max(self._list.sizeHintForRow(0), 0)
        self._list.setVisible(bool(problems))
        self._list.setFixedHeight(self._list.header().sizeHint().height() + rows + 2 * PAD)
