"""The findings, most serious first: what, the number against its limit, why it matters, what to try."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import (
    QKeyEvent,
    QKeySequence,
    QPainter,
    QPaintEvent,
    QShowEvent,
)
from PySide6.QtWidgets import QApplication, QListView, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.look.appearance import theme_of
from sketch.look.colours import blend
from sketch.look.marks import severity_colour, severity_mark
from sketch.look.words import tooltip, typographic
from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.views.from_top import FromTop
from sketch.views.wrapped_list import PAD, Index, WrappedList
from solver.findings.checks import Finding
from solver.findings.criteria import held_in
from solver.findings.judgement import judged
from solver.findings.kinds import FindingId, Grade, Severity

WORDS = {Severity.STOP: "Stop", Severity.CAUTION: "Caution", Severity.NOTE: "Note"}
EMPTY = "Nothing to report"
EMPTY_WHY = (
    "The checks found nothing to say about this line. They do not replace the pump maker's figures, "
    "the local codes or the judgement of a licensed engineer."
)
MARK = 18
SIDE = 112  # mark and word
MOST_SET = (
    200  # findings whose lines are kept at least, so that a drag does not break them again at every move
)
WIDEST = 620  # of one column of text: longer lines are hard to read


WORKING_OUT = "Being worked out from this drawing…"


def shown_findings(document: Document) -> tuple[Finding, ...]:
    """The document's findings, their sentences in the units that are shown."""
    judgement, system = document.outcome.judgement, document.system
    if judgement is None:
        return document.findings
    if system is not document.layout.units:
        judgement = judged(replace(document.layout, units=system), judgement.cases, system=system)
    known = advisor(document)
    if known.advice_by_pump is not None:
        from solver.fixes.remedies import with_remedies

        return with_remedies(judgement, document.level, known.advice_by_pump).findings
    later = f"Not worked out: {known.trouble}." if known.trouble else WORKING_OUT
    return tuple(replace(each, advice=later) if each.unsolved else each for each in judgement.worded_findings)


def sentence(finding: Finding, cases: int) -> str:
    """The finding in words, for the clipboard and for whoever hears it; `cases` that were judged."""
    sentences = [f"{WORDS[finding.severity]}: {finding.text}"]
    sentences += [holds] if (holds := held_in(finding, cases)) else []
    sentences += [finding.why] if finding.why else []
    sentences += [f"Try: {finding.advice}"] if finding.advice else []
    sentences += [f"Source: {finding.source}"] if finding.source else []
    return "\n".join(sentences)


class FindingsModel(QAbstractListModel):
    """The document's findings, one a row."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.findings: tuple[Finding, ...] = ()
        self.cases = 0  # that were judged

    def show(self, shown: tuple[Finding, ...], cases: int) -> None:
        """Show these findings of so many cases; the rows stay where only their figures are new."""
        before, self.cases = self.findings, cases
        if [_identity(each) for each in shown] != [_identity(each) for each in before]:
            self.beginResetModel()
            self.findings = shown
            self.endResetModel()
            return
        self.findings = shown
        for row, (old, new) in enumerate(zip(before, shown, strict=True)):
            if (old.text, old.cases, old.figures_of, old.advice) != (
                new.text,
                new.cases,
                new.figures_of,
                new.advice,
            ):
                self.dataChanged.emit(self.index(row), self.index(row))

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.findings)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        finding = self.findings[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return finding.text
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return sentence(finding, self.cases)
        if role == Qt.ItemDataRole.ToolTipRole:
            return tooltip(f"Source: {finding.source}") if finding.source else None
        return None


def _identity(finding: Finding) -> tuple[FindingId, Severity, str, str]:
    return finding.finding, finding.severity, finding.part, finding.key


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
        self._set: dict[tuple[str, str, str, str, int], tuple[list[_Block], int]] = {}

    def forget(self) -> None:
        """Set every finding again: the type has changed."""
        self._set.clear()

    def blocks(self, finding: Finding, width: int) -> tuple[list[_Block], int]:
        """The texts with their places, and the height they take."""
        holds = held_in(finding, self._view.findings.cases)
        key = (finding.text, finding.why, finding.advice, holds, width)
        if key not in self._set:
            if len(self._set) >= max(MOST_SET, 2 * len(self._view.findings.findings)):
                self._set.clear()
            self._set[key] = self._blocks(finding, holds, width)
        return self._set[key]

    def _blocks(self, finding: Finding, holds: str, width: int) -> tuple[list[_Block], int]:
        room = width - SIDE - 2 * PAD
        two_columns = room > 640
        half = min(WIDEST, (room - 3 * PAD) // 2 if two_columns else room)
        what, why, advice = map(typographic, (finding.text, finding.why, finding.advice))
        left = [(what, True, False), (typographic(holds), False, False), (why, False, True)]
        right = [("What to try", False, True), (advice, False, False)] if advice else []
        if not two_columns:
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
            height = self._view.height_of(text, width, bold=bold)
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
            ink = theme.quiet if block.quiet else theme.ink
            view.write(painter, block.box.translated(rect.topLeft()), block.text, ink, bold=block.bold)


class FindingsView(WrappedList):
    """A click selects the part a finding speaks of; the copy key takes the finding as text."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__("Findings", parent)
        self.setSelectionMode(QListView.SelectionMode.SingleSelection)
        self._document = document
        self.selected_part = ""
        self.pointed_key = ""
        self.findings = FindingsModel(self)
        self.setModel(self.findings)
        self._stale = True
        self._from_top = FromTop(document, self, of_pump=False)  # a click on one shows its pump
        self._delegate = FindingDelegate(self)
        self.setItemDelegate(self._delegate)
        self.setMouseTracking(True)
        document.changed.connect(self._mark_stale)
        self._advisor = advisor(document)
        self._advisor.changed.connect(self._mark_stale)
        document.pointed.connect(self._show_pointed)
        document.selected.connect(self._show_selected)
        self.entered.connect(self._entered)
        self.clicked.connect(self._clicked)
        self.activated.connect(self._clicked)
        self.refresh()

    def _mark_stale(self) -> None:
        self._stale = True
        if self.isVisible():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale or self._advisor.advice_by_pump is None:
            self.refresh()

    def wrap_anew(self) -> None:
        """Break every finding into lines again."""
        self._delegate.forget()
        super().wrap_anew()

    def refresh(self) -> None:
        """Take the findings from the document, now or when the list is next seen."""
        self._stale = False
        if self.isVisible():
            self._advisor.ask()
        before = self._heights()
        judgement = self._document.outcome.judgement
        cases = sum(case.judged for case in judgement.cases.values()) if judgement is not None else 0
        self.findings.show(shown_findings(self._document), cases)
        if self._heights() != before:
            self.scheduleDelayedItemsLayout()
        if self._from_top.is_due():
            self.setCurrentIndex(QModelIndex())
            self.scrollToTop()
        empty = not self.findings.findings
        self.setAccessibleDescription(f"{EMPTY}. {EMPTY_WHY}" if empty else "")

    def _heights(self) -> list[int]:
        width = self.viewport().width()
        return [self._delegate.blocks(finding, width)[1] for finding in self.findings.findings]

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if self.findings.findings:
            return
        painter = QPainter(self.viewport())
        theme = theme_of(self.palette())
        severity_mark(painter, QRectF(2 * PAD, 2 * PAD, MARK, MARK), Grade.GOOD, theme)
        left, width = 3 * PAD + MARK, min(WIDEST, self.viewport().width() - 5 * PAD - MARK)
        painter.setFont(self.bold)
        painter.setPen(theme.ink)
        painter.drawText(QRect(left, 2 * PAD, width, MARK), Qt.AlignmentFlag.AlignVCenter, EMPTY)
        self.write(painter, QRect(left, 2 * PAD + MARK + 4, width, 200), EMPTY_WHY, theme.quiet)
        painter.end()

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
        QApplication.clipboard().setText("\n\n".join(sentence(each, self.findings.cases) for each in chosen))

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
