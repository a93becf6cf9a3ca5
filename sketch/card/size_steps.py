"""Two buttons that give what is selected the next size up or down."""

from __future__ import annotations

from PySide6.QtWidgets import QHBoxLayout, QPushButton, QWidget

from sketch.editing import selection
from sketch.editing.edits import EditError
from sketch.look.words import tooltip
from sketch.model.document import Document

GAP = 4


class SizeSteps(QWidget):
    """Hidden where nothing selected has a size of the line's; the document's `refused` says what not."""

    def __init__(self, document: Document, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self._document = document
        self._names: tuple[str, ...] = ()
        self.up, self.down = QPushButton("Size up"), QPushButton("Size down")
        row = QHBoxLayout(self)
        row.setContentsMargins(0, 0, 0, 0)
        row.setSpacing(GAP)
        for button, step, which in ((self.up, 1, "larger"), (self.down, -1, "smaller")):
            button.setToolTip(
                tooltip(f"The next {which} size for what is selected, each in its own standard")
            )
            button.setAutoDefault(False)
            button.clicked.connect(lambda _=False, step=step: self._go(step))
            row.addWidget(button)

    def set_parts(self, names: tuple[str, ...]) -> None:
        """Serve these parts."""
        self._names = names
        self.setVisible(any(selection.has_size(self._document.layout, name) for name in names))

    def _go(self, step: int) -> None:
        document, names = self._document, self._names
        what = f"One size {'up' if step > 0 else 'down'} for"
        label = f"{what} {names[0]}" if len(names) == 1 else f"{what} {len(names)} parts"
        try:
            layout = selection.next_sizes(document.layout, names, step)
        except EditError as error:
            document.refused.emit(f"{label}: {error}.")
            return
        if trouble := document.trouble_with(layout):
            document.refused.emit(f"{label}: {trouble}.")
            return
        document.apply(label + selection.sizes_text(layout, names), layout)
