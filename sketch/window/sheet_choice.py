"""What a sheet is to hold: the question before it is written."""

from __future__ import annotations

from collections.abc import Mapping

from PySide6.QtWidgets import QCheckBox, QDialog, QDialogButtonBox, QFormLayout, QVBoxLayout, QWidget

from sketch.look.buttons import without_icons
from sketch.look.choice import Choice
from sketch.look.label import Label
from sketch.model.document import Document
from sketch.page.paper import MILLIMETRES, usual
from sketch.page.sheet_parts import OPTIONAL, SHEET_PARTS, SheetWish
from sketch.window.sheet_writing import compared_with
from sketch.window.small_screen import ScrolledWhereSmall
from solver.quantities.wording import uncapitalised

NOTHING, EVERY = "nothing", "every alternative"
COMPARE_TIP = (
    "Before and after on one page, and what each change bought. With nothing: the drawing or the alternative "
    "that is shown, alone"
)


class SheetChoice(QDialog):
    """Asks for a `SheetWish`, beginning with the last one."""

    def __init__(self, document: Document, last: SheetWish, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.setWindowTitle("Write sheet")
        self._others = tuple(document.alternatives)
        self.paper = Choice()
        self.paper.addItems(list(MILLIMETRES))
        self.paper.setCurrentText(last.paper or usual(document.layout.units))
        self.compare = Choice()
        self.compare.addItems([NOTHING, *self._others, *([EVERY] if len(self._others) > 1 else [])])
        self.compare.setCurrentText(self._named(_begun_with(document, last)))
        self.compare.setEnabled(bool(self._others))
        self.compare.setToolTip(COMPARE_TIP)
        self.upright = QCheckBox("upright")
        self.upright.setChecked(last.upright)
        self.first_alone = QCheckBox("the first page alone")
        self.first_alone.setChecked(last.pages == 1)
        self.parts = _boxes(last.parts)
        self._other = last.other
        self.other = QCheckBox("" if last.other is None else escaped(last.other.name))
        self.other.setChecked(last.other is not None)
        buttons = QDialogButtonBox(
            QDialogButtonBox.StandardButton.Ok | QDialogButtonBox.StandardButton.Cancel
        )
        buttons.accepted.connect(self.accept)
        buttons.rejected.connect(self.reject)
        whole = QWidget()
        form = QFormLayout(whole)
        form.setContentsMargins(0, 0, 0, 0)
        form.addRow(Label("Paper"), self.paper)
        form.addRow(Label(""), self.upright)
        form.addRow(Label("Compare with"), self.compare)
        if last.other is not None:
            form.addRow(Label("Other drawing"), self.other)
        form.addRow(Label("Pages"), self.first_alone)
        for number, box in enumerate(self.parts.values()):
            form.addRow(Label("With" if number == 0 else ""), box)
        column = QVBoxLayout(self)
        column.addWidget(ScrolledWhereSmall(whole))
        column.addWidget(buttons)
        without_icons(self)

    def wish(self) -> SheetWish:
        """What was chosen."""
        chosen = self.compare.currentText()
        compared = {NOTHING: (), EVERY: self._others}.get(chosen, (chosen,))
        return SheetWish(
            paper=self.paper.currentText(),
            upright=self.upright.isChecked(),
            compare=compared,
            other=self._other if self.other.isChecked() else None,
            parts=frozenset(name for name, box in self.parts.items() if box.isChecked()),
            pages=1 if self.first_alone.isChecked() else 0,
        )

    def _named(self, compare: tuple[str, ...]) -> str:
        known = [name for name in compare if name in self._others]
        if not known:
            return NOTHING
        return known[0] if len(known) == 1 else EVERY


def _begun_with(document: Document, last: SheetWish) -> tuple[str, ...]:
    """What is set beside the drawing unless another is chosen: an alternative that is shown, before all."""
    unasked = last.compare is None and last.other is None and bool(document.alternative)
    return (document.alternative,) if unasked else compared_with(document, last)


def escaped(text: str) -> str:
    """A text in which no letter is taken for the key of a box."""
    return text.replace("&", "&&")


def _boxes(wanted: frozenset[str]) -> Mapping[str, QCheckBox]:
    """A box for each optional part, ticked where it is wanted."""
    boxes = {}
    for name in OPTIONAL:
        part = SHEET_PARTS[name]
        boxes[name] = QCheckBox(f"{uncapitalised(part.title)}: {part.tip}")
        boxes[name].setChecked(name in wanted)
    return boxes
