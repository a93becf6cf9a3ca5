"""The list of the card from which another part, or a text or dimension, is chosen to be shown."""

from __future__ import annotations

from PySide6.QtWidgets import QComboBox

from sketch.card import card_remark
from sketch.card.card_lines import WHOLE
from sketch.card.card_subject import THE_WHOLE, CardSubject
from sketch.editing.remarks import REMARKS, Remark, count
from sketch.look.choice import Choice
from solver.layout import keys
from solver.layout.parts import Layout


class PartPicker(Choice):
    """The drawing as a whole first, then its parts, then its texts and dimensions."""

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Part whose figures are shown")
        self.setSizeAdjustPolicy(QComboBox.SizeAdjustPolicy.AdjustToContents)
        self.setMinimumContentsLength(16)

    def show_subject(self, layout: Layout, subject: CardSubject) -> None:
        """Offer all of a drawing, with what the card is about chosen; of several parts, how many they are."""
        parts = [name for group in keys.PARTS for name in getattr(layout, group)]
        own = [Remark(what, at) for what in REMARKS for at in range(count(layout, what))]
        names = [THE_WHOLE, *parts, *(card_remark.name(layout, each) for each in own)]
        if names != [self.itemText(at) for at in range(self.count())]:
            self.clear()
            self.addItems(names)
            for at, each in enumerate(own, start=1 + len(parts)):
                self.setItemData(at, tuple(each))
        remark, several = subject.remark, subject.is_several
        self.setPlaceholderText(f"{len(subject.names)} parts" if several else "")
        at = 1 + len(parts) + own.index(remark) if remark is not None else 0
        self.setCurrentIndex(-1 if several else names.index(subject.name) if subject.name else at)

    def picked(self, at: int) -> tuple[str, Remark | None]:
        """The part of an entry, or its text or dimension; neither of the drawing as a whole."""
        remark = self.itemData(at)
        part = WHOLE if at == 0 or remark is not None else self.itemText(at)
        return part, None if remark is None else Remark(*remark)
