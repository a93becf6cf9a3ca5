"""What the window shows before a drawing is open: how to begin, and the examples with their stories."""

from __future__ import annotations

import re
import tomllib
from collections.abc import Callable
from pathlib import Path
from typing import NamedTuple

from PySide6.QtCore import QModelIndex, QPersistentModelIndex, QPoint, QRect, QSize, Qt, QTimer
from PySide6.QtGui import QFont, QPainter, QPixmap, QShowEvent
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

from sketch.drawing.thumbnail import paint_thumbnail
from sketch.look.appearance import theme_of
from sketch.look.colours import Theme, blend
from sketch.look.label import Label
from sketch.look.more_below import MoreBelow
from sketch.model.disk import contents, drawing, path_text
from solver.layout.file import LayoutErrors
from solver.layout.parts import Layout
from solver.ledger.solve import Solution, solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError

PATH = Qt.ItemDataRole.UserRole
STORY = PATH + 1
STAMP = STORY + 1  # the drawing as a small picture, once it is made
PAD = 5
PICTURE = QSize(112, 66)
Index = QModelIndex | QPersistentModelIndex
WIDEST = 820
WRAPPED = Qt.TextFlag.TextWordWrap | Qt.AlignmentFlag.AlignTop | Qt.AlignmentFlag.AlignLeft
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


class ExamplePicture:
    """An example as a small picture in the colours of its shares."""

    def __init__(self) -> None:
        self._layout: Layout | None = None
        self._solution: Solution | None = None
        self._picture: QPixmap | None = None
        self._made_for: tuple[Theme, float] | None = None

    @property
    def ready(self) -> bool:
        """Whether there is something to paint."""
        return self._layout is not None

    def read(self, path: Path) -> None:
        """Read the drawing and solve it; one that cannot be is drawn plain, or not at all."""
        try:
            self._layout = drawing(path).base
            self._solution = solve(self._layout)
        except (LayoutErrors, NetworkError, FluidError, OSError):
            return

    def paint(self, painter: QPainter, at: QPoint, theme: Theme) -> None:
        """Paint it with its corner at a place; its paper alone until it is read."""
        ratio = painter.device().devicePixelRatio()
        if self._layout is None:
            painter.fillRect(QRect(at, PICTURE), theme.paper)
            return
        if self._picture is None or self._made_for != (theme, ratio):
            self._made_for = theme, ratio
            self._picture = QPixmap(PICTURE * ratio)
            self._picture.setDevicePixelRatio(ratio)
            self._picture.fill(theme.paper)
            inner = QPainter(self._picture)
            inner.setRenderHint(QPainter.RenderHint.Antialiasing)
            size = float(PICTURE.width()), float(PICTURE.height())
            paint_thumbnail(inner, self._layout, self._solution, size, theme)
            inner.end()
        painter.drawPixmap(at, self._picture)


class EntryDelegate(QStyledItemDelegate):
    """A drawing's title with its story below, or a heading."""

    def sizeHint(self, option: QStyleOptionViewItem, index: Index) -> QSize:
        lines = 1 if index.data(PATH) is None else 2
        high = lines * option.fontMetrics.lineSpacing()
        return QSize(0, max(high, PICTURE.height() if index.data(STAMP) is not None else 0) + 2 * PAD)

    def paint(self, painter: QPainter, option: QStyleOptionViewItem, index: Index) -> None:
        theme = theme_of(option.palette)
        pointed = QStyle.StateFlag.State_MouseOver | QStyle.StateFlag.State_HasFocus
        heading = index.data(PATH) is None
        if not heading and option.state & pointed:
            painter.fillRect(option.rect, blend(theme.halo, theme.paper, 0.16))
        box = option.rect.adjusted(PAD, PAD, -PAD, -PAD)
        stamp = index.data(STAMP)
        if stamp is not None:
            stamp.paint(painter, box.topLeft(), theme)
            box = box.adjusted(PICTURE.width() + 3 * PAD, PAD, 0, -PAD)
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
        if stamp is not None:
            box.setTop(box.top() + option.fontMetrics.lineSpacing())
            painter.drawText(box, WRAPPED, str(index.data(STORY)))
            return
        story = option.fontMetrics.elidedText(
            str(index.data(STORY)), Qt.TextElideMode.ElideRight, box.width()
        )
        painter.drawText(box, Qt.AlignmentFlag.AlignBottom, story)


class Welcome(QWidget):
    """`open_path` opens a drawing, `ask` lets the user look for one, `starters` begin one."""

    def __init__(
        self,
        listed: list[Example],
        recent: list[Path],
        open_path: Callable[[Path], object],
        ask: Callable[[], object],
        starters: QWidget,
    ) -> None:
        super().__init__()
        self._open = open_path
        self.list = QListWidget()
        self.list.setAccessibleName("Drawings to open")
        self.list.setItemDelegate(EntryDelegate(self.list))
        self.list.setMouseTracking(True)
        self.list.setFrameShape(QListWidget.Shape.NoFrame)
        MoreBelow(self.list)
        self.list.itemClicked.connect(self._chosen)
        self.list.itemActivated.connect(self._chosen)
        self._to_read: list[tuple[ExamplePicture, Path]] = []
        self._fill(listed, recent)
        rows = sum(self.list.sizeHintForRow(row) for row in range(self.list.count()))
        self.list.setMaximumHeight(rows + 2 * self.list.frameWidth())
        self._next = QTimer(self, interval=0)  # one at a time: the page is there at once
        self._next.timeout.connect(self._read_next)
        button = QPushButton("Open a drawing…")
        button.clicked.connect(lambda: ask())
        self.starters = starters
        self._arrange(button)

    def _arrange(self, button: QPushButton) -> None:
        inner = QVBoxLayout()
        inner.setSpacing(12)
        inner.addSpacing(24)
        inner.addWidget(_label("Where does the inlet budget go?", large=True))
        inner.addWidget(_label(PURPOSE))
        inner.addWidget(self.starters)
        row = QHBoxLayout()
        row.addWidget(button)
        row.addWidget(_label("or drop one on the window.", quiet=True), 1)
        inner.addLayout(row)
        inner.addWidget(self.list, 100)
        inner.addWidget(_label(CAUTION, quiet=True))
        inner.addSpacing(12)
        inner.addStretch(1)  # of a tall window's height, for the list takes no more than it fills
        frame = QWidget()
        frame.setLayout(inner)
        frame.setMaximumWidth(WIDEST)
        outer = QHBoxLayout(self)
        outer.addStretch(1)
        outer.addWidget(frame, 100)
        outer.addStretch(1)

    def _fill(self, listed: list[Example], recent: list[Path]) -> None:
        """What was opened lately, then the examples."""
        strange = [path for path in recent if path not in {example.path.resolve() for example in listed}]
        if strange:
            self._heading("Opened recently")
        for path in strange[:5]:
            self._entry(path, path_text(Path(path.name)), path_text(path.parent))
        if listed:
            self._heading("Examples")
        for example in listed:
            stamp = ExamplePicture()
            self._entry(example.path, example.title, example.story).setData(STAMP, stamp)
            self._to_read.append((stamp, example.path))

    def _heading(self, text: str) -> None:
        item = QListWidgetItem(text)
        item.setFlags(Qt.ItemFlag.NoItemFlags)
        self.list.addItem(item)

    def _entry(self, path: Path, title: str, story: str) -> QListWidgetItem:
        item = QListWidgetItem(title, self.list)
        item.setData(PATH, path)
        item.setData(STORY, story)
        item.setData(Qt.ItemDataRole.AccessibleTextRole, f"{title}. {story}")
        return item

    def showEvent(self, event: QShowEvent) -> None:
        super().showEvent(event)
        self._next.start()

    def _read_next(self) -> None:
        if not self._to_read or not self.isVisible():
            self._next.stop()
            return
        stamp, path = self._to_read.pop(0)
        stamp.read(path)
        self.list.viewport().update()

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
