"""The ledger's rows as a table model, in the display units."""

from __future__ import annotations

from collections.abc import Sequence

from PySide6.QtCore import QAbstractTableModel, QModelIndex, QPersistentModelIndex, Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import QWidget

from sketch.look.colours import share_class
from sketch.look.glossary import word_meanings
from sketch.look.words import tooltip
from sketch.views import ledger_rows
from sketch.views.ledger_rows import COLUMNS, ELEMENT, PART, SHARE, LedgerRow, LedgerRows, Role
from solver.quantities.units import System

Index = QModelIndex | QPersistentModelIndex


class LedgerModel(QAbstractTableModel):
    """One pump's rows in the display units."""

    def __init__(self, parent: QWidget | None = None) -> None:
        super().__init__(parent)
        self.rows: Sequence[LedgerRow] = ()
        self._before: Sequence[LedgerRow] = ()  # what was shown before the last change of figures
        self._texts: dict[tuple[int, int], str] = {}  # of cells asked for, as shown now
        self._texts_before: dict[tuple[int, int], str] = {}
        self._system = System.US
        self._bold = QFont()
        self._bold.setBold(True)

    def show(self, rows: LedgerRows, system: System) -> bool:
        """Show these rows. True when they are others than before, not the same ones with new figures."""
        if rows is self.rows and system is self._system:
            return False
        same = isinstance(self.rows, LedgerRows) and rows.alike(self.rows)
        if same and system is self._system:
            self._before, self.rows = self.rows, rows
            self._texts_before, self._texts = self._texts, {}
            self.dataChanged.emit(self.cell(0, 0), self.cell(len(rows) - 1, len(COLUMNS) - 1))
            return False
        self.beginResetModel()
        self.rows = rows
        self._before = rows
        self._system = system
        self._texts, self._texts_before = {}, {}
        self.endResetModel()
        return True

    def cell(self, row: int, column: int) -> QModelIndex:
        """The index of a cell that there is: `index` would ask for the counts of rows and columns first."""
        return self.createIndex(row, column)

    def changed(self, row: int) -> list[int]:
        """The columns of a row that look other than before the last change of figures."""
        old, new = self._before[row], self.rows[row]
        if (old.name, old.part, old.over) != (new.name, new.part, new.over):
            return list(range(len(COLUMNS)))
        differ = [
            column
            for column, (one, other) in enumerate(zip(old.figures, new.figures, strict=True))
            # What a pressure is rounded to, so that all add up as shown, may change without the pressure.
            if (one != other or COLUMNS[column].kind in ledger_rows.PRESSURES)
            and self._text_before(row, column) != self.text(row, column)
        ]
        if new.role == Role.ENTRY and SHARE not in differ and self._hatched_otherwise(old, new):
            differ.append(SHARE)
        return differ

    @staticmethod
    def _hatched_otherwise(old: LedgerRow, new: LedgerRow) -> bool:
        one, other = old.figures[SHARE], new.figures[SHARE]
        return old.past != new.past or share_class(one) != share_class(other)

    @property
    def first_sum(self) -> int:
        """The row with which the sums begin; −1 where there are none."""
        return self.rows.first_sum if isinstance(self.rows, LedgerRows) else -1

    def row_of(self, key: str) -> int:
        """The row of an entry; −1 for none."""
        return self.rows.place_of(key) if key and isinstance(self.rows, LedgerRows) else -1

    def text(self, row: int, column: int) -> str:
        """What a cell shows. Kept: a frame of a drag asks what has changed, then paints it."""
        text = self._texts.get((row, column))
        if text is None:
            text = self._texts[row, column] = ledger_rows.text(self.rows[row], column, self._system)
        return text

    def _text_before(self, row: int, column: int) -> str:
        """What it showed before the last change of figures."""
        text = self._texts_before.get((row, column))
        return text if text is not None else ledger_rows.text(self._before[row], column, self._system)

    def rowCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(self.rows)

    def columnCount(self, parent: Index = QModelIndex()) -> int:  # noqa: B008 - Qt's own default
        return 0 if parent.isValid() else len(COLUMNS)

    def headerData(
        self, section: int, orientation: Qt.Orientation, role: int = Qt.ItemDataRole.DisplayRole
    ) -> object:
        if orientation is not Qt.Orientation.Horizontal:
            return None
        if role == Qt.ItemDataRole.DisplayRole:
            return ledger_rows.heading(section, self._system)
        if role == Qt.ItemDataRole.ToolTipRole:
            return COLUMNS[section].tip
        if role == Qt.ItemDataRole.TextAlignmentRole:
            side = Qt.AlignmentFlag.AlignLeft if section <= PART else Qt.AlignmentFlag.AlignRight
            return side | Qt.AlignmentFlag.AlignBottom
        return None

    def data(self, index: Index, role: int = Qt.ItemDataRole.DisplayRole) -> object:
        row = self.rows[index.row()]
        if role == Qt.ItemDataRole.DisplayRole:
            return self.text(index.row(), index.column())
        if role == Qt.ItemDataRole.ToolTipRole:
            texts = (row.tip(self._system), word_meanings(row.name))
            return tooltip("\n".join(text for text in texts if text)) or None
        if role == Qt.ItemDataRole.FontRole and row.role in (Role.SUM, Role.FOLD):
            return self._bold
        if role == Qt.ItemDataRole.AccessibleTextRole and index.column() == ELEMENT:
            return ledger_rows.sentence(row, self._system)
        return None
