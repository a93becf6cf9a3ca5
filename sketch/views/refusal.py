"""What a view shows while the drawing cannot be calculated: the reasons, never the old numbers."""

from __future__ import annotations

from PySide6.QtCore import QRectF, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPalette, QPixmap
from PySide6.QtWidgets import (
    QListWidget,
    QListWidgetItem,
    QStackedWidget,
    QVBoxLayout,
    QWidget,
)

from sketch.editing import beginning
from sketch.look.appearance import theme_of
from sketch.look.label import Label
from sketch.look.marks import severity_mark
from sketch.look.more_below import MoreBelow
from sketch.look.words import unbroken, without_no_break
from sketch.model.document import Document
from solver.findings.kinds import Grade, Severity

INCOMPLETE = "Nothing is calculated while the drawing is incomplete."
REFUSED = "Nothing is calculated until this is put right:"
CASE_REFUSED = 'The case "{}" is not judged. The others are: see Cases.'
AT_REST = "There is no ledger of a pump at rest."
EMPTY = "No drawing is open."
PART = Qt.ItemDataRole.UserRole
MARK = 16  # logical pixels


def mark_icon(severity: Severity | Grade | str, palette: QPalette, ratio: float, size: int = MARK) -> QIcon:
    """A finding's mark as an icon, sharp at the screen's scale."""
    pixmap = QPixmap(QSize(round(size * ratio), round(size * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    severity_mark(painter, QRectF(1, 1, size - 2, size - 2), severity, theme_of(palette))
    painter.end()
    return QIcon(pixmap)


class RefusalList(QWidget):
    """Each reason with its part; a click selects the part."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._heading = Label(REFUSED)
        self._heading.setWordWrap(True)
        self._reasons = QListWidget()
        self._reasons.setAccessibleName("Why nothing is calculated")
        self._reasons.setFrameShape(QListWidget.Shape.NoFrame)
        self._reasons.setWordWrap(True)
        self._reasons.setIconSize(QSize(MARK, MARK))  # Qt's own is half as large again at 200 %
        MoreBelow(self._reasons)
        self._reasons.itemClicked.connect(self._select)
        self._reasons.itemActivated.connect(self._select)
        column = QVBoxLayout(self)
        column.setContentsMargins(12, 12, 12, 8)
        column.setSpacing(8)
        column.addWidget(self._heading)
        column.addWidget(self._reasons)

    def reload(self) -> None:
        """Take the reasons from the document."""
        document = self._document
        several = document.outcome.judgement is not None
        judged = AT_REST if document.solution is not None else CASE_REFUSED.format(document.case)
        step = beginning.next_step(document.layout)
        refused = judged if several else f"{INCOMPLETE} {step}" if step else REFUSED
        self._heading.setText(refused if document.refusal else EMPTY)
        icon = mark_icon(Severity.STOP, self.palette(), self.devicePixelRatioF())
        self._reasons.clear()
        for part, text in self._document.refusal:
            item = QListWidgetItem(icon, unbroken(f"{part}: {text}" if part else text))
            item.setData(PART, part)
            self._reasons.addItem(item)

    def texts(self) -> list[str]:
        """What is listed."""
        return [without_no_break(self._reasons.item(row).text()) for row in range(self._reasons.count())]

    def _select(self, item: QListWidgetItem) -> None:
        self._document.select(item.data(PART))


class Guarded(QStackedWidget):
    """A view of the solution, replaced by the reasons while there is none.

    One of `every_case` gives way only where no case can be judged.
    """

    def __init__(
        self, document: Document, view: QWidget, parent: QWidget | None = None, *, every_case: bool = False
    ) -> None:
        super().__init__(parent)
        self._every_case = every_case
        self.view = view
        self.refusal = RefusalList(document, self)
        self._document = document
        self.addWidget(view)
        self.addWidget(self.refusal)
        document.changed.connect(self._choose)
        self._choose()

    @property
    def refused(self) -> bool:
        """Whether the reasons are shown."""
        return self.currentWidget() is self.refusal

    def _choose(self) -> None:
        document = self._document
        shown = document.outcome.judgement if self._every_case else document.ledger
        if shown is None:
            self.refusal.reload()
            self.setCurrentWidget(self.refusal)
        else:
            self.setCurrentWidget(self.view)
