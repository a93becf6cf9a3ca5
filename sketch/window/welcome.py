"""What the window shows before a drawing is open: how to begin, and the examples with their stories."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QSize, Qt
from PySide6.QtGui import QFont, QPainter
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QStyle,
    QStyledItemDelegate,
    QStyleOptionViewItem,
    QVBoxLayout,
    QWidget,
)

from sketch.look.appearance import blend, theme_of
from sketch.look.label import Label
from sketch.model.disk import contents, shown

PATH = Qt.ItemDataRole.UserRole
STORY = PATH + 1
PAD = 5
Index = QModelIndex | QPersistentModelIndex
WIDEST = 760
LARGEST_HEAD = 65536  # an example that is longer than this is none of ours

PURPOSE = (
    "The atmosphere is all the pressure there is to bring fluid to a pump. "
    "See where it is spent on the way, and what is left at the port."
)
CAUTION = (
    "The figures are estimates from the drawing. The pump maker's data, the local codes and a licensed "
    "engineer have the last word before anything is built or run."
)


class Example(NamedTuple):
    """An example drawing with the first sentence of its story."""

    path: Path
    title: str
    story: str


def examples(folder: Path | None) -> list[Example]:
    """The drawings of a folder, those that can be read."""
    listed = []
    for path in sorted(folder.glob("*.toml")) if folder else []:
        try:
            head = tomllib.loads(contents(path, LARGEST_HEAD).decode("utf-8"))
        except (OSError, ValueError):
            continue
        listed.append(
            Example(path, str(head.get("title", path.stem)), first_sentence(str(head.get("notes", ""))))
        )
    return listed


def first_sentence(text: str) -> str:
    """A text up to its first full stop, on one line."""
    joined = " ".join(text.split())
    return re.split(r"(?<=[.!?])\s", joined, maxsplit=1)[0]


class EntryDelegate(QStyledItemDelegate):
    """A drawing's title with its story below, or a heading."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        lines = 1 if index.data(PATH) is None else 2
        return QSize(0, lines * option.fontMetrics.lineSpacing() + 2 * PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        theme = theme_of(option.palette)
        pointed = QStyle.StateFlag.State_MouseOver | QStyle.StateFlag.State_HasFocus
        heading = index.data(PATH) is None
        if not heading and option.state & pointed:
            painter.fillRect(option.rect, blend(theme.halo, theme.paper, 0.16))
        box = option.rect.adjusted(PAD, PAD, -PAD, -PAD)
        painter.setFont(option.font)
        if heading:
            painter.setPen(theme.quiet)
            painter.drawText(box, Qt.AlignmentFlag.AlignBottom, str(index.data()))
            return
        bold = QFont(option.font)
        bold.setBold(True)
        painter.setFont(bold)
        painter.setPen(theme.ink)
        painter.drawText(box, Qt.AlignmentFlag.AlignTop, str(index.data()))
        painter.setFont(option.font)
        painter.setPen(theme.quiet)
        story = option.fontMetrics.elidedText(
            str(index.data(STORY)), Qt.TextElideMode.ElideRight, box.width()
        )
        painter.drawText(box, Qt.AlignmentFlag.AlignBottom, story)


class Welcome(QWidget):
    """`open_path` opens a drawing, `ask` lets the user look for one."""

    def __init__(
        self,
        listed: list[Example],
        recent: list[Path],
        open_path: Callable[[Path], object],
        ask: Callable[[], object],
    ) -> None:
        super().__init__()
        self._open = open_path
        self.list = QListWidget()
        self.list.setAccessibleName("Drawings to open")
        self.list.setItemDelegate(EntryDelegate(self.list))
        self.list.setMouseTracking(True)
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        self.list.itemClicked.connect(self._chosen)
        self.list.itemActivated.connect(self._chosen)
        self._fill(listed, recent)
        button = QPushButton("Open a drawing…")
        button.clicked.connect(lambda: ask())
        self._arrange(button)

    def _arrange(self, button: QPushButton) -> None:
        inner = QVBoxLayout()
        inner.setSpacing(12)
        inner.addSpacing(24)
        inner.addWidget(_label("Where does the inlet budget go?", large=True))
        inner.addWidget(_label(PURPOSE))
        row = QHBoxLayout()
        row.addWidget(button)
        row.addWidget(_label("or drop one on the window.", quiet=True), 1)
        inner.addLayout(row)
        inner.addWidget(self.list, 1)
        inner.addWidget(_label(CAUTION, quiet=True))
        inner.addSpacing(12)
        frame = QWidget()
        frame.setLayout(inner)
        frame.setMaximumWidth(WIDEST)
        outer = QHBoxLayout(self)
        outer.addStretch(1)
        outer.addWidget(frame, 100)
        outer.addStretch(1)

    def _fill(self, listed: list[Example], recent: list[Path]) -> None:
        if listed:
            self._heading("Examples")
        for example in listed:
            self._entry(example.path, example.title, example.story)
        strange = [path for path in recent if path not in {example.path.resolve() for example in listed}]
        if strange:
            self._heading("Opened lately")
        for path in strange[:5]:
            self._entry(path, shown(Path(path.name)), shown(path.parent))

    def _heading(self, text: str) -> None:
        item = QListWidgetItem(text)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        self.list.addItem(item)

    def _entry(self, path: Path, title: str, story: str) -> None:
        item = QListWidgetItem(title, self.list)
        item.setData(PATH, path)
        item.setData(STORY, story)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{title}. {story}")

    def _chosen(self, item: QListWidgetItem) -> None:
        path = item.data(PATH)
        if path is not None:
            self._open(path)


def _label(text: str, *, large: bool = False, quiet: bool = False) -> QLabel:
    label = Label(text)
    label.setWordWrap(True)
    if large:
        font = QFont(label.font())
        font.setPointSizeF(font.pointSizeF() * 1.8)
        label.setFont(font)
    if quiet:
        label.setForegroundRole(label.palette().ColorRole.PlaceholderText)
    return label
