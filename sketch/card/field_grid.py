"""The names and fields of the part card in columns, with what is wrong under each."""

from __future__ import annotations

from PySide6.QtCore import Qt
from PySide6.QtWidgets import QGridLayout, QLabel, QWidget

from sketch.card.card_fields import CardField
from sketch.look.label import Label

PAD = 8
MOST_COLUMNS, MOST_ROWS = 6, 40
"""That a card ever has, of whose stretch nothing may be left."""


class FieldGrid(QGridLayout):
    """Lays fields out in columns that are filled from the top, each beside its name."""

    def __init__(self, parent: QWidget) -> None:
        super().__init__(parent)
        self._sheet = parent
        self._fields: tuple[CardField, ...] = ()
        self.labels: list[QLabel] = []
        self._rows = self._columns = 1  # in which the fields stand
        self.setContentsMargins(PAD, PAD // 4, PAD, PAD // 2)
        self.setHorizontalSpacing(PAD)
        self.setVerticalSpacing(PAD // 4)

    def widgets(self) -> list[QWidget]:
        """Every name, field and sentence of trouble."""
        return [*self.labels, *(field.trouble for field in self._fields), *self._fields]

    def set_fields(self, fields: tuple[CardField, ...]) -> None:
        """Take other fields, and show them and their names once they are laid out."""
        self._fields, self.labels = fields, []
        for field in fields:
            label = Label(field.line.label, self._sheet)
            label.setBuddy(field.edit)
            self.labels.append(label)
            label.show()
            field.show()

    def lay_out(self, columns: int) -> None:
        """Set the fields in so many columns."""
        rows = -(-len(self._fields) // columns)
        self._columns, self._rows = columns, rows
        while self.count():
            self.takeAt(0)
        for at in range(2 * MOST_COLUMNS):
            self.setColumnStretch(at, 0)
        for at in range(2 * MOST_ROWS):
            self.setRowStretch(at, 0)
        top = Qt.AlignmentFlag.AlignTop
        for at, (label, field) in enumerate(zip(self.labels, self._fields, strict=True)):
            row, column = 2 * (at % rows), 2 * (at // rows)
            label.setFixedHeight(field.edit.sizeHint().height())
            self.addWidget(label, row, column, Qt.AlignmentFlag.AlignRight | top)
            self.addWidget(field, row, column + 1, top)
        self.setRowStretch(2 * rows, 1)
        self.share_width()
        self.place_troubles()

    def place_troubles(self) -> None:
        """Put what is wrong under its field, over two columns where no other field beside has trouble."""
        fields, rows, columns = self._fields, self._rows, self._columns
        wrong = [at for at, field in enumerate(fields) if not field.trouble.isHidden()]
        for at in wrong:
            alone = sum(other % rows == at % rows for other in wrong) == 1 and columns > 1
            self.removeWidget(fields[at].trouble)
            begin = min(at // rows, columns - 2) if alone else at // rows
            self.addWidget(
                fields[at].trouble, 2 * (at % rows) + 1, 2 * begin, 1, 4 if alone else 2,
                Qt.AlignmentFlag.AlignTop,
            )  # fmt: skip

    def share_width(self) -> None:
        """Give every column of fields room by what they hold: a long name beside short figures is not cut.

        A column only gets wider until the fields are others: in a drag nothing is laid out anew to and fro.
        """
        for at in range(0, len(self._fields), self._rows):
            wanted = max(field.wanted_width for field in self._fields[at : at + self._rows])
            column = 2 * (at // self._rows) + 1
            if wanted > self.columnStretch(column):
                self.setColumnStretch(column, wanted)
