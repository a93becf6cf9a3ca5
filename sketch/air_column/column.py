"""The air column as a widget: points with the rest of the window, and is pointed at."""

from __future__ import annotations

import math
from typing import TYPE_CHECKING

from PySide6.QtCore import QEvent, QPointF, QRectF, QSize, Qt, QTimer
from PySide6.QtGui import QGuiApplication, QMouseEvent, QPainter, QPaintEvent
from PySide6.QtWidgets import QSizePolicy, QWidget

from sketch.air_column.painting import ColumnDrawn, paint_column, slice_at
from sketch.air_column.slices import part_of
from sketch.air_column.verdict import paint_outlook
from sketch.drawing.labels import Box
from sketch.drawing.memory import Memory
from sketch.drawing.recorder import RememberingPencil
from sketch.look.appearance import theme_of
from sketch.look.word_tips import WordTips
from sketch.model.doubt import doubt
from sketch.model.inspector import gauger
from sketch.model.pace import pace

if TYPE_CHECKING:
    from sketch.model.document import Document
from sketch.failsafe import Failsafe
from solver.findings.outlook import Outlook
from solver.layout.cases import cases_of

REST_MS = 300  # without a change before the scale makes room for a longer headline

__all__ = ["AirColumn", "ColumnDrawn", "paint_column", "slice_at"]


class AirColumn(QWidget):
    """Shows one pump's inlet budget as a column of air; reads the document and changes nothing in it."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._failsafe = Failsafe(self, document)
        self._drawn = ColumnDrawn(())
        self._outlook: Outlook | None = None  # that the headline shows
        self._verdict: Outlook | None = None  # that it is to show
        self._said = ""
        self._memory = Memory()  # of the last frame
        self._room: float | None = None  # of the headline, while one change follows another
        self._rest = QTimer(self, interval=REST_MS, singleShot=True)
        self._rest.timeout.connect(self._come_to_rest)
        WordTips(self, self._text_at)
        self.setMouseTracking(True)
        self.setSizePolicy(QSizePolicy.Policy.Preferred, QSizePolicy.Policy.Expanding)
        self.setMinimumSize(280, 200)
        self.setAccessibleName("Air column")
        self._gauger = gauger(document)
        self._doubt = doubt(document)
        self._doubt.changed.connect(self.update)
        self._gauger.changed.connect(self.update)
        document.changed.connect(self._follow_verdict)
        pace(document).changed.connect(self._follow)
        document.opened.connect(self._come_to_rest)
        document.changed.connect(self._gauger.ask_if_any)
        document.pointed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(320, 560)

    @property
    def drawn(self) -> ColumnDrawn:
        """What the last paint put where."""
        return self._drawn

    def _follow(self) -> None:
        """Keep the scale where it is from move to move of a drag, however long the headline gets."""
        self._room = self._drawn.headline if self._rest.isActive() and self._drawn.headline else None
        self._rest.start()
        self.update()

    def _follow_verdict(self) -> None:
        """Keep the headline with every frame of a drag; the column has a pace of its own."""
        if self._document.ledger is None or self._drawn.empty:
            self.update()
            return
        self._verdict = self._gauger.outlook
        if self._verdict != self._outlook:
            self.update(0, 0, self.width(), self._headline_room)

    @property
    def _headline_room(self) -> int:
        """Whole rows of pixels that the headline has for itself."""
        return max(math.floor(self._drawn.headline) - 1, 0)

    def _come_to_rest(self) -> None:
        if QGuiApplication.mouseButtons() != Qt.MouseButton.NoButton and self._room is not None:
            self._rest.start()
        elif self._room is not None:
            self._room = None
            self.update()

    def paintEvent(self, event: QPaintEvent) -> None:
        if event.rect().bottom() < self._headline_room:
            self._failsafe.paint(self._paint_headline)
            return
        self._failsafe.paint(self._paint)
        if self._room is None or QGuiApplication.mouseButtons() == Qt.MouseButton.NoButton:
            self._describe()

    def _paint_headline(self, painter: QPainter) -> None:
        pencil, area = RememberingPencil(painter, before=self._memory), Box(0, 0, self.width(), self.height())
        theme, shown = theme_of(self.palette()), self._verdict
        pencil.box(area, theme.paper)
        if shown is not None:
            paint_outlook(pencil, area, shown, theme, self._drawn.headline)
        self._outlook = shown

    def _paint(self, painter: QPainter) -> None:
        document = self._document
        pencil = RememberingPencil(painter, before=self._memory)
        self._memory, self._outlook = pencil.memory, self._gauger.outlook
        self._verdict = self._outlook
        self._drawn = paint_column(
            pencil,
            QRectF(self.rect()),
            document.solution,
            document.pump,
            theme_of(self.palette()),
            document.system,
            document.pointed_key,
            refusal=document.refusal,
            known_outlook=self._outlook,
            case=self._case,
            others=document.ledgers_of_other_cases,
            reads=self._gauger.marks,
            band=self._doubt.band,
            room=self._room,
        )

    @property
    def _case(self) -> str:
        """The pump and the case whose pressures the column holds, where the headline is of several."""
        document = self._document
        pump = document.pump if len(document.layout.pumps) > 1 else ""
        case = document.case if len(cases_of(document.layout)) > 1 else ""
        return ", ".join(filter(None, (pump, case)))

    def _describe(self) -> None:
        """Say the column in words for those who do not see it; only what changed."""
        outlook = self._gauger.outlook
        headline = [outlook.word, outlook.sentence, outlook.detail] if outlook is not None else []
        labels = [label.text for label in self._drawn.labels]
        shown = f"shown: {self._case}" if self._case else ""
        words = "; ".join(text for text in (*headline, shown, *labels) if text) or "no result"
        if words != self._said:
            self._said = words
            self.setAccessibleDescription(words)

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        self._document.point(slice_at(self._drawn, place.x(), place.y()))

    def mousePressEvent(self, event: QMouseEvent) -> None:
        place = event.position()
        key = slice_at(self._drawn, place.x(), place.y())
        self._document.select(part_of(self._document.ledger, key))

    def _text_at(self, place: QPointF) -> str:
        """The note at a place, the bold ones by what they are about; the headline above them."""
        outlook = self._gauger.outlook
        if outlook is not None and place.y() < self._drawn.headline:
            return f"{outlook.word}. {outlook.sentence}"
        return next((label.text for label in self._drawn.labels if label.box.holds(place.x(), place.y())), "")

    def leaveEvent(self, event: QEvent) -> None:
        self._document.point("")
        super().leaveEvent(event)
