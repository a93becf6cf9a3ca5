"""What a sheet is to hold: the question before it is written."""

from __future__ import annotations

from dataclasses import dataclass

from PySide6.QtWidgets import QCheckBox, QComboBox, QDialog, QDialogButtonBox, QFormLayout, QWidget

from sketch.look.label import Label
from sketch.model.document import Document
from sketch.page.paper import usual

PAPERS = ("A4", "Letter")
NOTHING, EVERY = "nothing", "every alternative"


@dataclass(frozen=True, slots=True)
class SheetWish:
    """Paper, the alternatives to set beside the drawing, and whether the calculation follows."""

    paper: str = ""  # the usual one of the drawing's units
    compare: tuple[str, ...] = ()
    working: bool = False


class SheetChoice(QDialog):
    """Asks for a `SheetWish`, beginning with the last one."""

    def __init__(self, document: Document, last: SheetWish, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Write sheet")
        self._others = tuple(document.alternatives)
        self.paper = QComboBox()
        self.paper.addItems(PAPERS)
        self.paper.setCurrentText(last.paper or usual(document.layout.units))
        self.compare = QComboBox()
        self.compare.addItems([NOTHING, *self._others, *([EVERY] if len(self._others) > 1 else [])])
        self.compare.setCurrentText(self._named(last.compare))
        self.compare.setEnabled(bool(self._others))
        self.compare.setToolTip("Before and after on one page, and what each change bought")
        self.working = QCheckBox("every step of the calculation, with its numbers and sources")
        self.working.setChecked(last.working)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        form = QFormLayout(self)
        form.addRow(Label("Paper"), self.paper)
        form.addRow(Label("Compare with"), self.compare)
        form.addRow(Label("Working"), self.working)
        form.addRow(buttons)

    def wish(self) -> SheetWish:
        """What was chosen."""
        chosen = self.compare.currentText()
        compared = {NOTHING: (), EVERY: self._others}.get(chosen, (chosen,))
        return SheetWish(self.paper.currentText(), compared, self.working.isChecked())

    def _named(self, compare: tuple[str, ...]) -> str:
        known = [name for name in compare if name in self._others]
        if not known:
            return NOTHING
        return known[0] if len(known) == 1 else EVERY
