"""The pressure profile as a widget."""

from __future__ import annotations

from typing import TYPE_CHECKING

from PySide6.QtGui import QShowEvent
from PySide6.QtWidgets import QVBoxLayout, QWidget

from sketch.model.document import Document
from sketch.model.doubt import doubt
from sketch.model.inspector import gauger
from sketch.model.pace import pace
from sketch.plots.profile import profile

if TYPE_CHECKING:
    from sketch.plots.profile_plot import ProfilePlot


class PressureProfile(QWidget):
    """Holds the plot, which is made when it is first seen: its library is slow to load."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._stale = True
        self.plot: ProfilePlot | None = None
        self._column = QVBoxLayout(self)
        self._column.setContentsMargins(0, 0, 0, 0)
        self.setAccessibleName("Pressure profile")
        self.setAccessibleDescription(
            "Absolute pressure along the line; the ledger lists the same figures as a table"
        )
        self._gauger = gauger(document)
        self._gauger.changed.connect(self._mark_stale)
        self._doubt = doubt(document)
        self._doubt.changed.connect(self._mark_stale)
        pace(document).changed.connect(self._mark_stale)

    def refresh(self) -> None:
        """Take the profile from the document, now or when the plot is next seen."""
        document = self._document
        if document.solution is None or document.pump not in document.solution.pumps:
            return
        if self.plot is None:
            from sketch.plots.profile_plot import ProfilePlot

            self.plot = ProfilePlot(document, self)
            self._column.addWidget(self.plot)
        self._stale = False
        self.plot.show_profile(
            profile(
                document.solution,
                document.pump,
                document.system,
                document.ledgers_of_other_cases,
                self._gauger.marks,
                self._doubt.band,
                self._doubt.pressures,
                self._doubt.trouble,
                document.outcome.case_words,
            )
        )

    def _mark_stale(self) -> None:
        self._stale = True
        if self.isVisible():
            self.refresh()

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        if self._stale:
            self.refresh()
