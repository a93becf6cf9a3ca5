"""Lists with a word beside each entry: sizes by standard with their bores, meshes with their usual wire."""

from __future__ import annotations

from collections.abc import Callable
from functools import cache, lru_cache
from itertools import pairwise

from PySide6.QtCore import QModelIndex, QObject, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QPainter, QPalette
from PySide6.QtWidgets import QComboBox, QStyle, QStyledItemDelegate, QStyleOptionViewItem

from sketch.look.appearance import theme_of
from solver.properties import cloth, sizes
from solver.quantities import units
from solver.quantities.units import Kind, System

PAD, GAP = 8, 24
WIDE = 330  # of the list, in logical pixels: a name, its bore and its standard
STANDARDS = {"NPS": "ASME B36.10M", "DN": "ASME B36.10M", "hose": "SAE J517", "tube": "tube"}
"""By the first word of a family of sizes."""

WordOfName = Callable[[str, System], str]
"""What stands beside an entry, in a system of units; "" for nothing."""

Index = QModelIndex | QPersistentModelIndex


@lru_cache(maxsize=1024)
def bore_text(size: str, system: System) -> str:
    """The bore of a size with the standard that it stands in; "" for what is no size."""
    if size not in _families():
        return ""
    standard = STANDARDS.get(_families()[size].split()[0], "")
    return f"{units.show(sizes.bore(size), Kind.BORE, system)}  {standard}".rstrip()


@cache
def _families() -> dict[str, str]:
    return {name: sizes.family(name) for name in sizes.names()}


def named_sizes(sentence: str) -> tuple[str, ...]:
    """The sizes that a sentence has in quotes."""
    return tuple(name for name in sentence.split('"')[1::2] if name in _families())


def mesh_text(mesh: str, system: System) -> str:
    """The wire that cloth of a mesh usually has."""
    usual = cloth.usual_wire(units.quantity(mesh, Kind.WIRES).si)
    return "" if usual is None else f"usual wire {usual[0]}, unverified"


def wire_text(wire: str, system: System) -> str:
    """Where a wire that is offered comes from."""
    return "usual for this mesh, unverified"


class NameAndWordDelegate(QStyledItemDelegate):
    """A name with a word about it at the right, quiet."""

    def __init__(self, word_of: WordOfName, system: System, parent: QObject) -> None:
        super().__init__(parent)
        self._word_of, self._system = word_of, system

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        hint = super().sizeHint(option, index)
        more = option.fontMetrics.horizontalAdvance(self._word_of(str(index.data()), self._system))
        return QSize(hint.width() + (more + GAP if more else 0), hint.height())

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        super().paint(painter, option, index)
        if text := self._word_of(str(index.data()), self._system):
            chosen = option.state & QStyle.StateFlag.State_Selected
            quiet = theme_of(option.palette).quiet
            painter.setPen(option.palette.color(QPalette.ColorRole.HighlightedText) if chosen else quiet)
            box = option.rect.adjusted(PAD, 0, -PAD, 0)
            painter.drawText(box, Qt.AlignmentFlag.AlignRight | Qt.AlignmentFlag.AlignVCenter, text)


def part_families(picker: QComboBox) -> None:
    """Put a line between one family of sizes and the next in the list of a picker."""
    families = [_families().get(picker.itemText(at), "") for at in range(picker.count())]
    for at in reversed([at + 1 for at, (one, next_) in enumerate(pairwise(families)) if one != next_]):
        picker.insertSeparator(at)


def show_words(picker: QComboBox, word_of: WordOfName, system: System) -> None:
    """Put a word beside all that a picker offers, there and in what it offers while one is typed."""
    delegate = NameAndWordDelegate(word_of, system, picker)
    picker.setItemDelegate(delegate)
    picker.view().setMinimumWidth(WIDE)
    completer = picker.completer()
    popup = completer.popup() if completer is not None else None
    if popup is not None:
        popup.setItemDelegate(delegate)
        popup.setMinimumWidth(WIDE)
