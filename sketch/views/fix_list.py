"""The fixes as a list: ranked bars, what each buys, and a button that keeps it as an alternative."""

from __future__ import annotations

from PySide6.QtCore import (
    QAbstractListModel,
    QEvent,
    QModelIndex,
    QRect,
    QRectF,
    QSize,
    Qt,
    Signal,
)
from PySide6.QtGui import (
    QColor,
    QFontMetrics,
    QKeyEvent,
    QMouseEvent,
    QPainter,
    QPen,
)
from PySide6.QtWidgets import QStyledItemDelegate, QStyleOptionViewItem, QWidget

from sketch.look.appearance import theme_of
from sketch.look.colours import Theme, blend
from sketch.look.words import typographic
from sketch.views import fix_rows
from sketch.views.fix_rows import FixRow
from sketch.views.wrapped_list import PAD, Index, WrappedList
from solver.quantities.wording import capitalised
from solver.report import changes

BAR, THICK = 168, 12  # width of the bars' column, and how thick one is
WIDEST = 960  # of a line of text
KEEP, KEPT = "Keep as alternative", "Kept"


class FixesModel(QAbstractListModel):
    """The fixes of the pump that is shown, one a row."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: tuple[FixRow, ...] = ()

    def show(self, shown: tuple[FixRow, ...]) -> None:
        """Show these rows."""
        self.beginResetModel()
        self.rows = shown
        self.endResetModel()

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.rows)

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return row.title
        return row.spoken if role == Qt.ItemDataRole.AccessibleTextRole else None


class FixDelegate(QStyledItemDelegate):
    """Paints one fix: its bar from the margin now to that then, its words, the button that keeps it."""

    def __init__(self, view: FixList) -> None:
        super().__init__(view)
        self._view = view

    def button(self, rect: QRect) -> QRect:
        """Where the button of a row stands that takes up `rect`."""
        metrics = QFontMetrics(self._view.font())
        width, height = metrics.horizontalAdvance(KEEP) + 3 * PAD, metrics.height() + PAD
        return QRect(rect.right() - width - PAD, rect.top() + PAD, width, height)

    def _texts(self, row: FixRow, width: int) -> list[tuple[str, QRect, bool, bool]]:
        """(text, box, bold, quiet) of a row of that width."""
        left = BAR + 3 * PAD
        room = max(min(self.button(QRect(0, 0, width, 0)).left() - left - PAD, WIDEST), 120)
        texts = [(row.title, True, False), (capitalised(row.buys) + ".", False, False)]
        texts += [(each, False, True) for each in row.details]
        placed, top = [], PAD
        for text, bold, quiet in texts:
            shown = typographic(text)
            height = self._view.height_of(shown, room, bold=bold)
            placed.append((shown, QRect(left, top, room, height), bold, quiet))
            top += height + 2
        return placed

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        width = self._view.viewport().width()
        texts = self._texts(self._view.fixes.rows[index.row()], width)
        return QSize(width, texts[-1][1].bottom() + PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        view, rect = self._view, QRect(option.rect)
        row, theme = view.fixes.rows[index.row()], theme_of(view.palette())
        if index.row() == view.pointed_row:
            painter.fillRect(rect, blend(theme.halo, theme.paper, 0.16))
        painter.setPen(theme.grid)
        painter.drawLine(rect.bottomLeft(), rect.bottomRight())
        self._paint_bar(painter, rect, row, theme)
        for text, box, bold, quiet in self._texts(row, rect.width()):
            harm = theme.caution if text.startswith(changes.WORSE) else theme.quiet
            ink = theme.quiet if view.stale else harm if quiet else theme.ink
            view.write(painter, box.translated(rect.topLeft()), text, ink, bold=bold)
        self._paint_button(painter, self.button(rect), row, theme)

    def _paint_bar(self, painter: QPainter, rect: QRect, row: FixRow, theme: Theme) -> None:
        """What is bought, from the margin now; what still lacks stays empty, the limit stands as a line."""
        scale, top = self._view.scale, rect.top() + PAD + 3

        def x(margin: float) -> float:
            return rect.left() + PAD + scale.share(margin) * BAR

        painter.fillRect(QRectF(rect.left() + PAD, top, BAR, THICK), theme.grid)
        colour = theme.quiet if self._view.stale else (theme.good if row.fix.cures else theme.caution)
        painter.fillRect(QRectF(x(row.before), top, x(row.after) - x(row.before), THICK), colour)
        painter.setPen(QPen(theme.limit, 2))
        painter.drawLine(int(x(0.0)), top - 3, int(x(0.0)), top + THICK + 3)

    def _paint_button(self, painter: QPainter, box: QRect, row: FixRow, theme: Theme) -> None:
        kept = row.fix.text in self._view.kept
        ink: QColor = theme.quiet if kept or self._view.stale else theme.accent
        painter.setFont(self._view.font())
        painter.setPen(ink)
        if not kept:
            painter.drawRoundedRect(QRectF(box).adjusted(0.5, 0.5, -0.5, -0.5), 4, 4)
        painter.drawText(box, Qt.AlignmentFlag.AlignCenter, KEPT if kept else KEEP)


class FixList(WrappedList):
    """Shows rows of fixes; says which is pointed at, by mouse or by key, and which is to be kept."""

    pointed = Signal(object)  # the row, or None
    chosen = Signal(object)  # the row that is to be kept

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__("Fixes", parent)
        self.pointed_row = -1
        self.stale = True  # what is listed belongs to a drawing that is no longer the one shown
        self.kept: frozenset[str] = frozenset()  # the texts of fixes that are alternatives already
        self.scale = fix_rows.GainScale(0.0, 1.0)
        self.fixes = FixesModel(self)
        self.setModel(self.fixes)
        self._delegate = FixDelegate(self)
        self.setItemDelegate(self._delegate)
        self.setMouseTracking(True)
        self.entered.connect(self._entered)

    def show_rows(self, shown: tuple[FixRow, ...], kept: frozenset[str]) -> None:
        """Show these rows, which belong to the drawing as it stands."""
        self.stale, self.kept = False, kept
        if shown:
            self.scale = fix_rows.scale(shown)
        if shown != self.fixes.rows:
            self.point_at(-1)
            self.fixes.show(shown)
        self.viewport().update()

    def grey(self) -> None:
        """Show that the rows are out of date."""
        self.point_at(-1)
        self.stale = True
        self.viewport().update()

    def button(self, row: int) -> QRect:
        """Where the button of a row stands in the viewport."""
        return self._delegate.button(self.visualRect(self.fixes.index(row)))

    def point_at(self, row: int) -> None:
        """Point at a row; -1 for none."""
        at = row if 0 <= row < len(self.fixes.rows) and not self.stale else -1
        if at != self.pointed_row:
            self.pointed_row = at
            self.pointed.emit(self.fixes.rows[at] if at >= 0 else None)
            self.viewport().update()

    def _entered(self, index: QModelIndex) -> None:
        self.point_at(index.row())

    def can_keep(self, row: int) -> bool:
        """Whether a row belongs to the drawing as it stands, and is no alternative yet."""
        return not self.stale and self.fixes.rows[row].fix.text not in self.kept

    def keep(self, row: int) -> None:
        """Ask for a row to be kept as an alternative, where it can be."""
        if self.can_keep(row):
            self.chosen.emit(self.fixes.rows[row])

    def leaveEvent(self, event: QEvent) -> None:
        super().leaveEvent(event)
        self.point_at(-1)

    def mouseReleaseEvent(self, event: QMouseEvent) -> None:
        super().mouseReleaseEvent(event)
        at = event.position().toPoint()
        index = self.indexAt(at)
        left = event.button() is Qt.MouseButton.LeftButton and index.isValid()
        if left and self.button(index.row()).contains(at):
            self.keep(index.row())

    def keyPressEvent(self, event: QKeyEvent) -> None:
        current = self.currentIndex()
        if event.key() in (Qt.Key.Key_Return, Qt.Key.Key_Enter) and current.isValid():
            self.keep(current.row())
            return
        super().keyPressEvent(event)
        if self.currentIndex().isValid():
            self.point_at(self.currentIndex().row())
