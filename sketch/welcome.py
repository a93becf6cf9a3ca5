"""What the window shows before a drawing is open: how to begin, and the examples with their stories."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import Qt
from PySide6.QtGui import QFont
from PySide6.QtWidgets import (
    QHBoxLayout,
    QLabel,
    QListWidget,
    QListWidgetItem,
    QPushButton,
    QVBoxLayout,
    QWidget,
)

PATH = Qt.ItemDataRole.UserRole
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
    found = []
    for path in sorted(folder.glob("*.toml")) if folder else []:
        try:
            head = tomllib.loads(path.read_text("utf-8")[:LARGEST_HEAD])
        except (OSError, ValueError):
            continue
        found.append(
            Example(path, str(head.get("title", path.stem)), first_sentence(str(head.get("notes", ""))))
        )
    return found


def first_sentence(text: str) -> str:
    """A text up to its first full stop, on one line."""
    joined = " ".join(text.split())
    return re.split(r"(?<=[.!?])\s", joined, maxsplit=1)[0]


class Welcome(QWidget):
    """`open_path` opens a drawing, `ask` lets the user look for one."""

    def __init__(
        self,
        found: list[Example],
        recent: list[Path],
        open_path: Callable[[Path], object],
        ask: Callable[[], object],
    ) -> None:
        super().__init__()
        self._open = open_path
        self.list = QListWidget()
        self.list.setAccessibleName("Drawings to open")
        self.list.setWordWrap(True)
        self.list.setSpacing(2)
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        self.list.itemClicked.connect(self._chosen)
        self.list.itemActivated.connect(self._chosen)
        self._fill(found, recent)
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
        row.addWidget(_label("or drop one on the window.", quiet=True))
        row.addStretch(1)
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

    def _fill(self, found: list[Example], recent: list[Path]) -> None:
        if recent:
            self._heading("Opened lately")
        for path in recent[:4]:
            self._entry(path, path.name, str(path.parent))
        if found:
            self._heading("Examples")
        for example in found:
            self._entry(example.path, example.title, example.story)

    def _heading(self, text: str) -> None:
        item = QListWidgetItem(text)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        self.list.addItem(item)

    def _entry(self, path: Path, title: str, story: str) -> None:
        item = QListWidgetItem(self.list)
        item.setData(PATH, path)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{title}. {story}")
        label = _label(f"<b>{_escaped(title)}</b><br>{_escaped(story)}")
        label.setContentsMargins(8, 6, 8, 6)
        label.setAttribute(Qt.WidgetAttribute.WA_TransparentForMouseEvents)
        item.setSizeHint(label.sizeHint().expandedTo(label.minimumSizeHint()))
        self.list.setItemWidget(item, label)

    def _chosen(self, item: QListWidgetItem) -> None:
        path = item.data(PATH)
        if path is not None:
            self._open(path)


def _escaped(text: str) -> str:
    return text.replace("&", "&amp;").replace("<", "&lt;")


def _label(text: str, *, large: bool = False, quiet: bool = False) -> QLabel:
    label = QLabel(text)
    label.setWordWrap(True)
    if large:
        font = QFont(label.font())
        font.setPointSizeF(font.pointSizeF() * 1.8)
        label.setFont(font)
    if quiet:
        label.setForegroundRole(label.palette().ColorRole.PlaceholderText)
    return label
