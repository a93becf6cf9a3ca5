"""How far each thing may go, one at a time, before the margin is spent."""

from __future__ import annotations

import threading
from dataclasses import replace
from typing import NamedTuple

from PySide6.QtCore import (
    QAbstractListModel,
    QModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    QTimer,
)
from PySide6.QtGui import QFontMetrics, QPainter, QShowEvent
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.look.appearance import theme_of
from sketch.look.marks import severity_mark
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.views.wrapped_list import PAD, Index, WrappedList
from solver.answers import ask
from solver.answers.answer import Answer, Status, in_brief
from solver.findings.kinds import Grade
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import Kind, System
from solver.quantities.wording import error_text

IDLE_MS = 180  # of no change before the questions are asked again: each is a search through many solves
POLL_MS = 15  # between two looks at whether the thread is done
MARK = 16
WIDEST = 720  # of a line of text
MARKS = {
    Status.NO_LIMIT: Grade.GOOD,
    Status.ALREADY_OVER: Grade.STOP,
    Status.NO_ANSWER: Grade.CAUTION,
}
NOTHING_ASKED = "Reach: no answer, as the drawing cannot be calculated as it runs"


class Asked(NamedTuple):
    """What the answers on the screen belong to."""

    layout: Layout
    pump: str
    level: Level
    system: System


class _Job:
    """The questions on their way. It holds plain values: a thread must never be the last to hold a widget."""

    def __init__(self, asked: Asked) -> None:
        self.asked = asked
        self.answers: tuple[Answer, ...] = ()
        self.done = threading.Event()
        threading.Thread(target=self._work, daemon=True).start()

    def _work(self) -> None:
        layout, pump, level, system = self.asked
        try:
            self.answers = in_brief(ask.ask_all(replace(layout, units=system), pump, level))
        except (NetworkError, FluidError) as error:
            self.answers = (_no_answer(f"{NOTHING_ASKED}: {error_text(error, system)}"),)
        except Exception as error:
            why = f"Reach: no answer, the program failed: {type(error).__name__} ({error})"
            self.answers = (_no_answer(why),)
        self.done.set()


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
            return f"{answer.text}; bound by: {answer.reason}" if answer.reason else answer.text
        return answer.text if role == Qt.ItemDataRole.DisplayRole else None


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
        text = answer.text.partition(": ")[2]
        sentence = typographic(text[:1].upper() + text[1:])
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
        self._asked: Asked | None = None
        self._running: _Job | None = None
        self.reach = ReachModel(self)
        self.setModel(self.reach)
        self.setItemDelegate(LimitDelegate(self))
        self.setAccessibleDescription("How far each thing may go, one at a time, before the margin is spent")
        self._idle = QTimer(self, interval=IDLE_MS, singleShot=True)
        self._idle.timeout.connect(self.refresh)
        self._poll = QTimer(self, interval=POLL_MS)
        self._poll.timeout.connect(self._look)
        document.changed.connect(self._changed)
        document.opened.connect(self._forget)

    @property
    def stale(self) -> bool:
        """Whether the answers belong to a drawing that is no longer the one shown."""
        return self._asked != self._wanted()

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

    def _wanted(self) -> Asked:
        document = self._document
        return Asked(document.layout, document.pump, document.level, document.system)

    @property
    def busy(self) -> bool:
        """Whether answers are on their way."""
        return self._running is not None

    def refresh(self) -> None:
        """Have the questions answered on a thread of their own, unless the answers are at hand."""
        wanted = self._wanted()
        if wanted == self._asked or self._document.ledger is None or self._running is not None:
            return  # what runs is looked at again when it is done
        self._running = _Job(wanted)
        self._poll.start()

    def _look(self) -> None:
        job = self._running
        if job is None or not job.done.is_set():
            return
        self._poll.stop()
        self._running = None
        if job.asked == self._wanted():
            self._asked = job.asked
            self.reach.show(job.answers)
        elif self.isVisible():
            self._idle.start()

    def _forget(self) -> None:
        """Another drawing is here: nothing of the last one stays on the screen."""
        self._asked = None
        self.reach.show(())

    def _changed(self) -> None:
        if self.isVisible():
            self._idle.start()
            if self.reach.answers:
                self.viewport().update()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.refresh()
