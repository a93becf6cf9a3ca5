"""How far each thing may go, one at a time, before the margin is spent."""

from __future__ import annotations

from dataclasses import replace
from typing import NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
)
from PySide6.QtGui import QFontMetrics, QHideEvent, QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.look.appearance import theme_of
from sketch.look.colours import blend
from sketch.look.marks import severity_mark
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.worker import Worker
from sketch.views.wrapped_list import PAD, Index, WrappedList
from solver.answers import ask
from solver.answers.answer import Answer, Status, in_brief
from solver.findings.kinds import Grade
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, error_text

MARK = 16
WIDEST = 960  # of a line of text
MARKS = {
    Status.NO_LIMIT: Grade.GOOD,
    Status.ALREADY_OVER: Grade.STOP,
    Status.NO_ANSWER: Grade.CAUTION,
}
WORKING_OUT = "Working out how far each thing may go, in every case…"
AGAIN = "Working out again…"
NOTHING_ASKED = "Reach: no answer, as the drawing cannot be calculated as it runs"


class ReachQuestion(NamedTuple):
    """What the answers on the screen belong to."""

    layout: Layout
    pump: str
    level: Level
    system: System


class ReachWorker(Worker[ReachQuestion]):
    """The answers for the pump that is shown. Switched off, as while nobody sees them, it asks nothing."""

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self.on = False

    def question(self) -> ReachQuestion | None:
        """What answers would belong to now; None while it is off, and where the pump has no ledger."""
        document = self._document
        if not self.on or document.ledger is None:
            return None
        return ReachQuestion(document.layout, document.pump, document.level, document.system)

    @staticmethod
    def work(question: ReachQuestion) -> tuple[Answer, ...]:
        layout, pump, level, system = question
        return in_brief(ask.ask_all(replace(layout, units=system), pump, level))

    @staticmethod
    def why(error: Exception, question: ReachQuestion) -> str:
        if isinstance(error, NetworkError | FluidError):
            return f"{NOTHING_ASKED}: {error_text(error, question.system)}"
        return f"Reach: no answer, {Worker.why(error, question)}"


def _no_answer(why: str) -> Answer:
    return Answer("reach", None, why, Kind.NUMBER, Status.NO_ANSWER)


class ReachModel(QAbstractListModel):
    """The answers, one a row."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.answers: tuple[Answer, ...] = ()

    def show(self, shown: tuple[Answer, ...]) -> None:
        """Show these answers."""
        self.beginResetModel()
        self.answers = shown
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.answers)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        answer = self.answers[index.row()]
        if role == Qt.ItemDataRole.AccessibleTextRole:
            return f"{answer.whole_text}; limited by: {answer.reason}" if answer.reason else answer.whole_text
        return answer.whole_text if role == Qt.ItemDataRole.DisplayRole else None


class LimitDelegate(QStyledItemDelegate):
    """Paints one answer: mark, question, what binds it, and how far."""

    def __init__(self, view: ReachView) -> None:
        super().__init__(view)
        self._view = view

    def _boxes(self, answer: Answer, width: int) -> tuple[QRect, QRect, QRect, str]:
        """Where question, reason and sentence stand, and the sentence."""
        left = 2 * PAD + MARK
        middle = left + self._view.question_width + 2 * PAD
        second = middle + self._view.reason_width + 2 * PAD
        text = answer.whole_text.partition(": ")[2]
        sentence = typographic(capitalised(text))
        room = max(min(width - second - PAD, WIDEST), 120)
        height = self._view.height_of(sentence, room)
        return (
            QRect(left, PAD // 2, self._view.question_width, height),
            QRect(middle, PAD // 2, self._view.reason_width, height),
            QRect(second, PAD // 2, room, height),
            sentence,
        )

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        width = self._view.viewport().width()
        _, _, box, _ = self._boxes(self._view.reach.answers[index.row()], width)
        return QSize(width, max(box.height(), MARK) + PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        view, rect = self._view, QRect(option.rect)
        answer, theme = view.reach.answers[index.row()], theme_of(view.palette())
        question, reason, box, sentence = self._boxes(answer, rect.width())
        if view.hasFocus() and index.row() == view.currentIndex().row():  # what the menu key is about
            painter.fillRect(rect, blend(theme.accent, theme.paper, 0.10))
        known = answer.status != Status.NOT_ASKED and not view.stale
        if known and answer.status in MARKS:
            mark = QRectF(rect.left() + PAD, rect.top() + PAD / 2, MARK, MARK)
            severity_mark(painter, mark, MARKS[answer.status], theme)
        ink = theme.ink if known else theme.quiet
        view.write(painter, question.translated(rect.topLeft()), answer.question.capitalize(), ink, bold=True)
        view.write(painter, reason.translated(rect.topLeft()), answer.reason or "", theme.quiet)
        view.write(painter, box.translated(rect.topLeft()), sentence, ink)


class ReachView(WrappedList):
    """Asks once the drawing has come to rest, and only while it is seen; old answers are greyed at once."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__("Reach", parent)
        self._document = document
        self._shown_of = ("", "")  # alternative and pump
        self._worker = ReachWorker(document)
        self._worker.changed.connect(self._show_answers)
        self.reach = ReachModel(self)
        self.setModel(self.reach)
        self.setItemDelegate(LimitDelegate(self))
        self.setAccessibleDescription("How far each thing may go, one at a time, before the margin is spent")
        document.changed.connect(self._changed)
        document.opened.connect(self._show_answers)

    @property
    def stale(self) -> bool:
        """Whether the answers belong to a drawing that is no longer the one shown."""
        return not self._worker.at_hand

    @property
    def question_width(self) -> int:
        """Room for the longest question."""
        metrics = QFontMetrics(self.bold)
        questions = (answer.question.capitalize() for answer in self.reach.answers)
        return max((metrics.horizontalAdvance(each) for each in questions), default=0) + 2

    @property
    def reason_width(self) -> int:
        """Room for the longest of what binds an answer."""
        metrics = self.fontMetrics()
        return (
            max((metrics.horizontalAdvance(each.reason or "") for each in self.reach.answers), default=0) + 2
        )

    @property
    def busy(self) -> bool:
        """Whether answers are on their way."""
        return self._worker.busy

    def _show_answers(self) -> None:
        """Show what is known of this drawing: of another that is opened nothing stays on the screen."""
        trouble = self._worker.trouble
        self._shown_of = self._document.alternative, self._document.pump
        self.reach.show((_no_answer(trouble),) if trouble else self._worker.answer or ())

    def _changed(self) -> None:
        if self._shown_of != (self._document.alternative, self._document.pump) and self.reach.answers:
            self._show_answers()  # nothing of another line or pump stays
        if self.isVisible():
            self._worker.ask()
            self.viewport().update()

    @property
    def waiting_text(self) -> str:
        """What is said over the answers while they are worked out; "" once they are at hand."""
        if not self.stale or self._worker.question() is None:
            return ""
        return AGAIN if self.reach.answers else WORKING_OUT

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        if not (text := self.waiting_text):
            return
        theme, room = theme_of(self.palette()), self.viewport().rect()
        painter = QPainter(self.viewport())
        box = QRect(PAD, PAD, QFontMetrics(self.bold).horizontalAdvance(text) + 2 * PAD, 0)
        box.setHeight(QFontMetrics(self.bold).height() + PAD)
        if self.reach.answers:
            box.moveRight(room.right() - PAD)
            painter.setPen(theme.construction)
            painter.setBrush(theme.paper)
            painter.drawRect(box)
        self.write(painter, box.adjusted(PAD, PAD // 2, 0, 0), text, theme.ink, bold=True)

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._worker.on = True
        if self._worker.at_hand:
            self._show_answers()
        self._worker.ask()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self._worker.on = False
