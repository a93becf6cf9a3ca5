"""The text or dimension of one's own that was held last, which is no part and so not of the selection."""

from __future__ import annotations

from PySide6.QtCore import QObject, Signal

from sketch.editing.remarks import Remark, count
from sketch.model.document import Document


class ChosenRemark(QObject):
    """None once a part is selected, and once texts or dimensions come or go: another may have its number."""

    changed = Signal()

    def __init__(self, document: Document) -> None:
        super().__init__(document)
        self._document = document
        self._count = 0  # of its sort when it was chosen
        self.remark: Remark | None = None
        document.changed.connect(self._follow)
        document.selected.connect(self._follow)
        document.opened.connect(lambda: self.choose(None))

    def choose(self, remark: Remark | None) -> None:
        """Have one chosen; None for none."""
        if remark != self.remark:
            self.remark = remark
            self._count = 0 if remark is None else count(self._document.layout, remark.what)
            self.changed.emit()

    def _follow(self) -> None:
        remark, document = self.remark, self._document
        if remark is None:
            return
        if document.selection or count(document.layout, remark.what) != self._count:
            self.choose(None)


def chosen_remark(document: Document) -> ChosenRemark:
    """The one of a document: for its sheet and its card."""
    return document.findChild(ChosenRemark) or ChosenRemark(document)
