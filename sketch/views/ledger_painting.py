"""How the ledger's cells and headings are painted."""

from __future__ import annotations

from functools import lru_cache
from typing import Protocol

from PySide6.QtCore import QPointF, QRect, QRectF, QSize, Qt
from PySide6.QtGui import QColor, QFont, QFontMetricsF, QPainter, QPaintEvent, QPolygonF
from PySide6.QtWidgets import QHeaderView, QStyle, QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.look.colours import Theme
from sketch.look.marks import share_chip
from sketch.views.ledger_model import Index, LedgerModel
from sketch.views.ledger_rows import ELEMENT, PART, SHARE, LedgerRow, Role

GAP = 8
CHIP = 11
INDENT = 20


@lru_cache(maxsize=1024)  # few figures differ before the point; those of the sums are written in every frame
def _measured(text: str, font: QFont) -> tuple[float, float, float]:
    """How wide a text is, and how high its line and what of that lies over its foot [logical pixels]."""
    metrics = QFontMetricsF(font)
    return metrics.horizontalAdvance(text), metrics.height(), metrics.ascent()


class RowStyle(Protocol):
    """What a table of ledger rows looks like: the rows, their fonts and their colours."""

    @property
    def ledger(self) -> LedgerModel: ...

    @property
    def theme(self) -> Theme: ...

    @property
    def bold(self) -> QFont:
        """The font of sums and of the fold."""

    @property
    def folded(self) -> bool:
        """Whether the lines that make the budget are hidden."""

    @property
    def current_ground(self) -> QColor:
        """Behind the row that the keys are on, where it has no tint."""

    def ground(self, row: LedgerRow) -> QColor | None:
        """The tint behind a row, where it has one."""

    def ink(self, row: LedgerRow) -> QColor:
        """The colour a row is written in."""

    def fraction_width(self, column: int) -> float:
        """Room right of the decimal point in a column [logical pixels]."""


class LedgerDelegate(QStyledItemDelegate):
    """Paints a cell: figures on their decimal point, the chip of the share, what is pointed at."""

    def __init__(self, style: RowStyle, parent: QWidget) -> None:
        super().__init__(parent)
        self._style = style

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        style, rect = self._style, QRectF(option.rect)
        row = style.ledger.rows[index.row()]
        ground = style.ground(row)
        if ground is None and option.state & QStyle.StateFlag.State_Selected:
            ground = style.current_ground  # Qt's own would put dark ink on a dark ground
        if ground is not None:
            painter.fillRect(rect, ground)
        if index.row() == style.ledger.first_sum:
            painter.setPen(style.theme.construction)
            painter.drawLine(rect.topLeft(), rect.topRight())
        painter.setFont(style.bold if row.role in (Role.SUM, Role.FOLD) else option.font)
        painter.setPen(style.ink(row))
        if index.column() <= PART:
            self._words(painter, rect, row, index.column())
        else:
            self._figure(painter, rect, row, index)

    def _words(self, painter: QPainter, rect: QRectF, row: LedgerRow, column: int) -> None:
        left = rect.left() + GAP
        if column == ELEMENT:
            left += INDENT if row.role != Role.FOLD else 0
            if row.role == Role.FOLD:
                self._arrow(painter, QPointF(left + 4, rect.center().y()))
                left += INDENT
        else:
            painter.setPen(self._style.theme.quiet)
        box = QRectF(left, rect.top(), rect.right() - left - 2, rect.height())
        text = row.name if column == ELEMENT else row.part
        shown = painter.fontMetrics().elidedText(text, Qt.TextElideMode.ElideRight, int(box.width()))
        painter.drawText(box, Qt.AlignmentFlag.AlignVCenter | Qt.AlignmentFlag.AlignLeft, shown)

    def _arrow(self, painter: QPainter, at: QPointF) -> None:
        size = 4.0
        points = [QPointF(-size, -size / 2), QPointF(size, -size / 2), QPointF(0, size * 0.75)]
        if self._style.folded:
            points = [QPointF(-size / 2, -size), QPointF(-size / 2, size), QPointF(size * 0.75, 0)]
        painter.save()
        painter.setRenderHint(QPainter.RenderHint.Antialiasing)
        painter.setBrush(self._style.theme.ink)
        painter.setPen(Qt.PenStyle.NoPen)
        painter.drawPolygon(QPolygonF([at + point for point in points]))
        painter.restore()

    def _figure(self, painter: QPainter, rect: QRectF, row: LedgerRow, index: Index) -> None:
        column = index.column()
        text = self._style.ledger.text(index.row(), column)
        if not text:
            return
        wide, high, ascent = _measured(text.partition(".")[0], painter.font())
        left = rect.right() - GAP - self._style.fraction_width(column) - wide
        base = rect.top() + (rect.height() - high) / 2 + ascent
        # At its place: Qt lays a text out anew in a box, and the sums are written in every frame of a drag.
        painter.drawText(QPointF(left, base), text)
        if column == SHARE and row.role == Role.ENTRY:
            chip = QRectF(rect.left() + GAP, rect.center().y() - CHIP / 2, CHIP, CHIP)
            share_chip(painter, chip, row.figures[SHARE], row.past, self._style.theme)


class LedgerHeader(QHeaderView):
    """Headings in line with their columns, the unit below, without the frames of a button."""

    def __init__(self, style: RowStyle, parent: QWidget) -> None:
        super().__init__(Qt.Orientation.Horizontal, parent)
        self._style = style
        self.setHighlightSections(False)
        self.setSectionsClickable(False)

    def sizeHint(self) -> QSize:
        return QSize(0, 2 * self.fontMetrics().lineSpacing() + 6)

    def paintSection(self, painter: QPainter, rect: QRect, logicalIndex: int) -> None:
        theme = self._style.theme
        painter.fillRect(rect, self.palette().base())
        painter.setPen(theme.construction)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        painter.setPen(theme.quiet)
        side = Qt.AlignmentFlag.AlignLeft if logicalIndex <= PART else Qt.AlignmentFlag.AlignRight
        left = GAP + (INDENT if logicalIndex == ELEMENT else 0)
        text = str(self._style.ledger.headerData(logicalIndex, Qt.Orientation.Horizontal))
        painter.drawText(rect.adjusted(left, 0, -GAP, -3), side | Qt.AlignmentFlag.AlignBottom, text)

    def paintEvent(self, event: QPaintEvent) -> None:
        super().paintEvent(event)
        painter = QPainter(self.viewport())
        beyond = self.viewport().rect().adjusted(self.length(), 0, 0, 0)
        painter.fillRect(beyond, self.palette().base())
        painter.setPen(self._style.theme.construction)
        painter.drawLine(beyond.bottomLeft(), beyond.bottomRight())
        painter.end()
