"""What could be changed, as ranked bars; pointing at one shows it in the elevation, a click keeps it."""

from __future__ import annotations

from PySide6.QtGui import QHideEvent, QShowEvent
from PySide6.QtWidgets import QHBoxLayout, QPushButton, QVBoxLayout, QWidget

from sketch.look.label import Label
from sketch.look.words import typographic
from sketch.model import alternatives
from sketch.model.advisor import advisor
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.views import fix_rows
from sketch.views.fix_list import FixList
from sketch.views.fix_rows import FixRow
from sketch.views.from_top import FromTop
from solver.report import changes

WORKING_OUT = "Solving the changes of this drawing in every case…"
NO_PUMP = "This pump runs in no case, so nothing can be changed for it."
PAD = 8


class FixesView(QWidget):
    """Works out the fixes only while it is seen, off the hand's thread; old ones are greyed at once."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._advisor = advisor(document)
        self._gauger = gauger(document)
        self._from_top = FromTop(document, self)
        self.heading = Label(WORKING_OUT)
        self.heading.setWordWrap(True)
        self.heading.setContentsMargins(PAD, PAD // 2, PAD, PAD // 2)
        self.worse = QPushButton()
        self.worse.setAutoDefault(False)
        self.worse.setToolTip(
            "These are the fixes of the pump that is shown; the verdict is as good as its worst pump"
        )
        self.list = FixList()
        self.setFocusProxy(self.list)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.setSpacing(0)
        column.addWidget(self.heading)
        beneath = QHBoxLayout()
        beneath.setContentsMargins(PAD, 0, PAD, 0)
        beneath.addWidget(self.worse)
        beneath.addStretch(1)
        column.addLayout(beneath)
        column.addWidget(self.list, 1)
        self.setAutoFillBackground(True)
        self.setBackgroundRole(self.list.viewport().backgroundRole())
        self.worse.clicked.connect(self._show_worse)
        self.list.pointed.connect(self._point)
        self.list.chosen.connect(self.keep)
        document.changed.connect(self._changed)
        document.opened.connect(self._forget)
        self._advisor.changed.connect(self._answered)
        self._gauger.changed.connect(self._answered)

    def keep(self, row: FixRow) -> None:
        """Keep a fix as an alternative, named and noted by what it does."""
        fix = row.fix
        label = f"Keep the alternative {fix.text}"
        self._document.change_alternatives(
            label, lambda state: alternatives.kept(state, fix.text, fix.layout, changes.note(fix))
        )

    def _point(self, row: FixRow | None) -> None:
        self._advisor.point(row.fix.layout if row is not None else None)

    def _answered(self) -> None:
        if self.isVisible():
            self._show_answer()

    def _show_worse(self) -> None:
        """Go to the pump that stands worse than the one in view."""
        worse = fix_rows.worse_pump(self._document.outcome.judgement, self._document.pump)
        if worse is not None:
            self._document.select(worse.pump)

    def _name_worse(self) -> None:
        document = self._document
        judgement = document.outcome.judgement
        worse = fix_rows.worse_pump(judgement, document.pump)
        self.worse.setVisible(worse is not None)
        if worse is not None and judgement is not None:
            self.worse.setText(typographic(fix_rows.worse_text(worse, judgement, document.system)))

    def _show_answer(self) -> None:
        """List the fixes of the pump that is shown, or say why there are none."""
        self._name_worse()
        if self._from_top.is_due():
            self.list.scrollToTop()
        by_pump, system = self._advisor.advice_by_pump, self._document.system
        if by_pump is None:
            trouble = self._advisor.trouble
            self._show_heading(f"Not worked out: {trouble}." if trouble else WORKING_OUT)
            self.list.grey()
            return
        advice = by_pump.get(self._document.pump)
        rows = fix_rows.rows(advice, system) if advice is not None else ()
        drawing = self._document.drawing
        kept = (row.fix.text for row in rows if alternatives.is_kept(drawing, row.fix.text, row.fix.layout))
        self.list.show_rows(rows, frozenset(kept))
        self._show_heading(
            fix_rows.heading(advice, system, self._gauger.as_read) if advice is not None else NO_PUMP
        )

    def _show_heading(self, text: str) -> None:
        self.heading.setText(typographic(text))
        self.list.setAccessibleDescription(text)

    def _forget(self) -> None:
        """Another drawing is here: nothing of the last one stays on the screen."""
        self.list.show_rows((), frozenset())
        self._show_heading(WORKING_OUT)

    def _changed(self) -> None:
        if self.isVisible():
            self._advisor.ask()
            self._show_answer()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._advisor.ask()
        self._show_answer()

    def hideEvent(self, event: QHideEvent) -> None:
        super().hideEvent(event)
        self.list.point_at(-1)
