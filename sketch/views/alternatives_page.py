"""The alternatives as a table of figures, or as air columns side by side."""

from __future__ import annotations

from PySide6.QtCore import QEvent, QPointF, QSize, Qt
from PySide6.QtGui import QMouseEvent, QPainter, QPaintEvent, QShowEvent
from PySide6.QtWidgets import QCheckBox, QHBoxLayout, QStackedWidget, QToolButton, QVBoxLayout, QWidget

from sketch.air_column.side_by_side import ComparedColumn, SideBySide, paint_side_by_side
from sketch.drawing.labels import Box
from sketch.failsafe import Failsafe
from sketch.look.appearance import theme_of
from sketch.look.word_tips import WordTips
from sketch.model.document import Document
from sketch.views import comparison
from sketch.views.alternatives_view import AlternativesView
from sketch.views.idle_refresh import IdleRefresh


class ColumnsSideBySide(QWidget):
    """Every alternative's air column in the case that decides; a click shows the alternative."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._failsafe = Failsafe(self, document)
        self.idle_refresh = IdleRefresh(self, document, self.refresh)
        self.compared: tuple[ComparedColumn, ...] = ()
        self.drawn = SideBySide((), (), ())
        self.setMouseTracking(True)
        self.setAccessibleName("Air columns side by side")
        WordTips(self, self._words_at)
        document.pointed.connect(self.update)

    def sizeHint(self) -> QSize:
        return QSize(700, 240)

    def refresh(self) -> None:
        """Take the ledgers from the document, now or when the columns are next seen."""
        self.idle_refresh.stale = False
        self.compared = tuple(comparison.columns(self._document))
        description = "; ".join(f"{each.title}: {each.margin}" for each in self.compared)
        self.setAccessibleDescription(description or "nothing to compare")
        self.update()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self.idle_refresh.shown()

    def paintEvent(self, event: QPaintEvent) -> None:
        self._failsafe.paint(self._paint)

    def _paint(self, painter: QPainter) -> None:
        document = self._document
        self.drawn = paint_side_by_side(
            painter,
            Box(0.0, 0.0, float(self.width()), float(self.height())),
            self.compared,
            theme_of(self.palette()),
            shown=document.alternative,
            pointed=document.pointed_key,
        )

    def mouseMoveEvent(self, event: QMouseEvent) -> None:
        self._document.point(self._key_at(event.position()))

    def leaveEvent(self, event: QEvent) -> None:
        self._document.point("")
        super().leaveEvent(event)

    def mousePressEvent(self, event: QMouseEvent) -> None:
        at = event.position()
        for name, box in self.drawn.columns:
            if box.x - 40 <= at.x() <= box.right + 40 and event.button() is Qt.MouseButton.LeftButton:
                self._document.show_alternative(name)
                return

    def _key_at(self, at: QPointF) -> str:
        return next((key for _, key, box in self.drawn.slices if box.holds(at.x(), at.y())), "")

    def _words_at(self, at: QPointF) -> str:
        key = self._key_at(at)
        return key.rpartition("/")[2]


class AlternativesPage(QWidget):
    """The table, and its columns where they are asked for."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.table, self.columns = AlternativesView(document), ColumnsSideBySide(document)
        self.side_by_side = QCheckBox("Air columns side by side")
        self.side_by_side.setToolTip("What each alternative spends where, in the case that leaves it least")
        self.new = QToolButton()  # of the window's command, which asks for a name
        self.new.setFocusPolicy(Qt.FocusPolicy.StrongFocus)
        self._stack = QStackedWidget()
        self._stack.addWidget(self.table)
        self._stack.addWidget(self.columns)
        self.side_by_side.toggled.connect(lambda on: self._stack.setCurrentIndex(int(on)))
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(2)
        column.addWidget(self._stack, 1)
        foot = QHBoxLayout()
        foot.setContentsMargins(8, 0, 8, 2)
        foot.addWidget(self.side_by_side)
        foot.addStretch()
        foot.addWidget(self.new)
        column.addLayout(foot)
        self.setFocusProxy(self.table)
