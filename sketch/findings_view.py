"""The findings, most serious first: what, the number against its limit, why it matters, what to try."""

from __future__ import annotations

from typing import NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QPersistentModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QFont, QFontMetrics, QKeyEvent, QKeySequence, QPainter, QPaintEvent, QResizeEvent
from PySide6.QtWidgets import QApplication, QListView, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.appearance import blend, theme_of
from sketch.document import Document
from sketch.marks import severity_colour, severity_mark
from sketch.words import unbroken
from solver import findings
from solver.findings import Finding
from solver.units import System

Index = QModelIndex | QPersistentModelIndex
WORDS = {"stop": "Stop", "caution": "Caution", "note": "Note"}
EMPTY = "Nothing to report"
EMPTY_WHY = (
    "The checks found nothing to say about this line. They do not replace the pump maker's figures, "
    "the local codes or the judgement of a licensed engineer."
)
PAD = 8
MARK = 18
SIDE = 112  # mark and word
WIDEST = 620  # of one column of text: longer lines are hard to read
WRAP = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignTop


def shown_findings(document: Document) -> tuple[Finding, ...]:
    """The document's findings, their sentences in the units that are shown."""
    solution, system = document.solution, document.system
    if solution is None or system is System(document.layout.units):
        return document.findings
    return findings.check(solution, system=system)


def sentence(finding: Finding) -> str:
    """The finding in words, for the clipboard and for whoever hears it."""
    said = [f"{WORDS[finding.severity]}: {finding.text}"]
    said += [finding.why] if finding.why else []
    said += [f"Try: {finding.advice}"] if finding.advice else []
    said += [f"Source: {finding.source}"] if finding.source else []
    return "\n".join(said)


class FindingsModel(QAbstractListModel):
    """The document's findings, one a row."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.findings: tuple[Finding, ...] = ()

    def show(self, shown: tuple[Finding, ...]) -> None:
        """Show these findings."""
        if shown != self.findings:
            self.beginResetModel()
            self.findings = shown
            self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.findings)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        finding = self.findings[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return sentence(finding)
        if role == Qt.ItemDataRole.ToolTipRole:
            return f"Source: {finding.source}" if finding.source else None
        return None


class _Block(NamedTuple):
    """A piece of text and where it goes."""

    text: str
    box: QRect
    bold: bool
    quiet: bool


class FindingDelegate(QStyledItemDelegate):
    """Paints one finding: mark and word, then what and why, and beside or below it what to try."""

    def __init__(self, view: FindingsView) -> None:
        super().__init__(view)
        self._view = view

    def blocks(self, finding: Finding, width: int) -> tuple[list[_Block], int]:
        """The texts with their places, and the height they take."""
        room = width - SIDE - 2 * PAD
        beside = room > 640
        half = min(WIDEST, (room - 3 * PAD) // 2 if beside else room)
        what, why, advice = map(unbroken, (finding.text, finding.why, finding.advice))
        left = [(what, True, False), (why, False, True)]
        right = [("What to try", False, True), (advice, False, False)] if advice else []
        if not beside:
            return self._stack(left + right[1:], SIDE, PAD, half)
        first, one = self._stack(left, SIDE, PAD, half)
        second, other = self._stack(right, SIDE + half + 3 * PAD, PAD, half)
        return first + second, max(one, other)

    def _stack(
        self, texts: list[tuple[str, bool, bool]], x: int, y: int, width: int
    ) -> tuple[list[_Block], int]:
        placed: list[_Block] = []
        for text, bold, quiet in texts:
            if not text:
                continue
            metrics = QFontMetrics(self._view.bold if bold else self._view.font())
            height = metrics.boundingRect(QRect(0, 0, width, 10000), WRAP, text).height()
            placed.append(_Block(text, QRect(x, y, width, height), bold, quiet))
            y += height + 2
        return placed, y + PAD - 2

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        width = self._view.viewport().width()
        _, height = self.blocks(self._view.findings.findings[index.row()], width)
        return QSize(width, max(height, MARK + 2 * PAD))

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        view, rect = self._view, QRect(option.rect)
        finding = view.findings.findings[index.row()]
        theme = theme_of(view.palette())
        if finding.part and finding.part == view.selected_part:
            painter.fillRect(rect, blend(theme.accent, theme.paper, 0.10))
        elif finding.key and finding.key == view.pointed_key:
            painter.fillRect(rect, blend(theme.halo, theme.paper, 0.22))
        painter.setPen(theme.grid)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        severity_mark(
            painter, QRectF(rect.left() + PAD, rect.top() + PAD, MARK, MARK), finding.severity, theme
        )
        painter.setFont(view.bold)
        painter.setPen(severity_colour(finding.severity, theme))
        word = QRect(rect.left() + 2 * PAD + MARK, rect.top() + PAD, SIDE, MARK)
        painter.drawText(word, Qt.AlignmentFlag.AlignVCenter, WORDS[finding.severity])
        for block in self.blocks(finding, rect.width())[0]:
            painter.setFont(view.bold if block.bold else view.font())
            painter.setPen(theme.quiet if block.quiet else theme.ink)
            painter.drawText(block.box.translated(rect.topLeft()), WRAP, block.text)


class FindingsView(QListView):
    """A click selects the part a finding speaks of; the copy key takes the finding as text."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self.selected_part = ""
        self.pointed_key = ""
        self.bold = QFont(self.font())
        self.bold.setBold(True)
        self.findings = FindingsModel(self)
        self.setModel(self.findings)
        self.setItemDelegate(FindingDelegate(self))
        self.setAccessibleName("Findings")
        self.setMouseTracking(True)
        self.setFrameShape(QListView.Shape.NoFrame)
        self.setResizeMode(QListView.ResizeMode.Adjust)
        self.setVerticalScrollMode(QListView.ScrollMode.ScrollPerPixel)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        document.changed.connect(self.refresh)
        document.pointed.connect(self._show_pointed)
        document.selected.connect(self._show_selected)
        self.entered.connect(self._entered)
        self.clicked.connect(self._clicked)
        self.activated.connect(self._clicked)
        self.refresh()

    def refresh(self) -> None:
        """Take the findings from the document."""
        self.findings.show(shown_findings(self._document))
        empty = not self.findings.findings
        self.setAccessibleDescription(f"{EMPTY}. {EMPTY_WHY}" if empty else "")

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.findings.findings:
            return
        painter = QPainter(self.viewport())
        theme = theme_of(self.palette())
        severity_mark(painter, QRectF(2 * PAD, 2 * PAD, MARK, MARK), "good", theme)
        left, width = 3 * PAD + MARK, min(WIDEST, self.viewport().width() - 5 * PAD - MARK)
        painter.setFont(self.bold)
        painter.setPen(theme.ink)
        painter.drawText(QRect(left, 2 * PAD, width, MARK), Qt.AlignmentFlag.AlignVCenter, EMPTY)
        painter.setFont(self.font())
        painter.setPen(theme.quiet)
        painter.drawText(QRect(left, 2 * PAD + MARK + 4, width, 200), WRAP, EMPTY_WHY)
        painter.end()

    def resizeEvent(self, event: QResizeEvent) -> None:
        super().resizeEvent(event)
        self.scheduleDelayedItemsLayout()  # the texts wrap at another width

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self._document.point("")

    def keyPressEvent(self, event: QKeyEvent) -> None:
        if event.matches(QKeySequence.StandardKey.Copy):
            self.copy()
            return
        super().keyPressEvent(event)

    def copy(self) -> None:
        """Put the current finding, or all of them when none is, on the clipboard."""
        at = self.currentIndex().row()
        chosen = self.findings.findings[at : at + 1] if at >= 0 else self.findings.findings
        QApplication.clipboard().setText("\n\n".join(sentence(each) for each in chosen))

    def _entered(self, index: QModelIndex) -> None:
        self._document.point(self.findings.findings[index.row()].key)

    def _clicked(self, index: QModelIndex) -> None:
        self._document.select(self.findings.findings[index.row()].part)

    def _show_pointed(self, key: str) -> None:
        self.pointed_key = key
        self.viewport().update()

    def _show_selected(self, part: str) -> None:
        self.selected_part = part
        self.viewport().update()
