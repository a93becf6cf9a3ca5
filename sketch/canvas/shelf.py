"""The shelf: parts to pick from, each with its symbol; what is picked follows the pointer to the sheet."""

from __future__ import annotations

import math
from collections.abc import Sequence

from PySide6.QtCore import QEvent, QRectF, QSize, Qt, Signal
from PySide6.QtGui import QFocusEvent, QIcon, QPainter, QPixmap
from PySide6.QtWidgets import QAbstractItemView, QFrame, QListWidget, QListWidgetItem

from sketch.canvas import own_shelf
from sketch.drawing.glyphs import Glyph, Mark, SymbolKind
from sketch.drawing.pencil import Pencil
from sketch.drawing.symbols import arrow, pump_triangle, symbol
from sketch.editing.building import HOSE, LINE, PUMP, TANK, TEE
from sketch.editing.readings import ON_SHELF
from sketch.editing.remarks import DIMENSION, TEXT
from sketch.editing.tanks import BAFFLE, DRAW_DOWN, IN_TANK, RETURN
from sketch.look.appearance import theme_of
from sketch.look.colours import DARK, LIGHT, Theme
from sketch.look.more_below import MoreBelow
from sketch.look.words import tooltip
from solver.layout.kinds import REDUCER_KINDS, FittingKind, IntakeKind
from solver.layout.own_parts import OwnPart

WIDTH = 164
ICON, DRAWN = 19, 22
"""Logical pixels of an icon, and of the square that its symbol is drawn in."""
WHAT, KIND = Qt.ItemDataRole.UserRole, Qt.ItemDataRole.UserRole + 1

CONNECTOR = (
    "A short hose or bellows between two ends of pipe; its length on the part card. "
    "A hose that is the line itself: take Hose"
)

PARTS = (
    ("Tank", TANK, ""),
    ("Strainer", IntakeKind.STRAINER, "Its screen is 100 mesh until you say otherwise on the part card"),
    ("Wall nozzle", IntakeKind.WALL_NOZZLE, "On the wall of a tank"),
    ("Bell-mouth", IntakeKind.BELL_MOUTH, ""),
    ("Foot valve", IntakeKind.FOOT_VALVE, ""),
    ("Pump", PUMP, "Its figures are round ones until you type the maker's on the part card"),
    (
        "Line",
        LINE,
        "Click a part or line, then corners, then the part or line it ends on. "
        "A hose is a line with a hose as its size on the part card",
    ),
    ("Hose", HOSE, "A line in the size of the hose whose bore is nearest; drawn as a line is"),
    ("Tee", TEE, "Then draw a line to its free end"),
    ("Gate valve", FittingKind.GATE_VALVE, ""),
    ("Ball valve", FittingKind.BALL_VALVE, ""),
    ("Butterfly valve", FittingKind.BUTTERFLY_VALVE, ""),
    ("Swing check", FittingKind.SWING_CHECK, ""),
    ("Filter", FittingKind.FILTER, "Its screen is 100 mesh until you say otherwise on the part card"),
    ("Flexible connector", FittingKind.FLEXIBLE_CONNECTOR, CONNECTOR),
    ("Concentric reducer", FittingKind.CONCENTRIC_REDUCER, "The line before it becomes one size larger"),
    ("Eccentric reducer", FittingKind.ECCENTRIC_REDUCER, "The line before it becomes one size larger"),
    ("Known K", FittingKind.KNOWN_K, "Anything whose loss coefficient is known"),
    ("Baffle", BAFFLE, "In a tank, from its floor up to where you click"),
    ("Return line's end", RETURN, "In a tank: where the fluid comes back"),
    ("Draw-down", DRAW_DOWN, "Click the level that cylinders draw the tank down to"),
    (
        "Gauge",
        ON_SHELF,
        "Note what a gauge reads, on a line or at a pump; its figures are typed under Readings",
    ),
    ("Text", TEXT, "Text of your own; drag to move it, double-click to edit it"),
    ("Dimension", DIMENSION, "Between two parts or places; it follows the parts; drag its line to move it"),
)
"""What stands on the shelf: its name, what it is, and what is worth knowing before it is put down."""


class Shelf(QListWidget):
    """A column of parts; one at a time is picked."""

    picked = Signal(str)  # a kind of part; "" when it is put back

    def __init__(self) -> None:
        super().__init__()
        self.setAccessibleName("Shelf")
        self.setAccessibleDescription("Parts to put into the drawing")
        self.setFrameShape(QFrame.Shape.NoFrame)
        self.setFixedWidth(WIDTH)
        self.setIconSize(QSize(ICON, ICON))
        self.setSelectionMode(QAbstractItemView.SelectionMode.SingleSelection)
        self.setHorizontalScrollBarPolicy(Qt.ScrollBarPolicy.ScrollBarAlwaysOff)
        for name, what, tip in PARTS:
            item = QListWidgetItem(name)
            item.setData(WHAT, what)
            item.setToolTip(tip)
            self.addItem(item)
        self._picked = ""  # what is marked while the keyboard is elsewhere
        self._dress()
        MoreBelow(self)
        self.itemClicked.connect(self._pick)
        self.itemActivated.connect(self._pick)

    def set_own(self, parts: Sequence[OwnPart]) -> None:
        """Have parts of one's own stand below all others."""
        while self.count() > len(PARTS):
            self.takeItem(len(PARTS))
        if parts:
            heading = QListWidgetItem("Own parts")
            heading.setFlags(Qt.ItemFlag.NoItemFlags)
            heading.setSizeHint(QSize(0, 2 * self.fontMetrics().height()))
            heading.setTextAlignment(Qt.AlignmentFlag.AlignLeft | Qt.AlignmentFlag.AlignBottom)
            self.addItem(heading)
        for part in parts:
            item = QListWidgetItem(part.name)
            item.setData(WHAT, own_shelf.key_of(part))
            item.setData(KIND, own_shelf.kind_of(part))
            item.setToolTip(tooltip(" – ".join(filter(None, (part.source, part.note)))))
            self.addItem(item)
        self._dress()

    def show_picked(self, what: str) -> None:
        """Mark what is picked; nothing for ""."""
        self._picked = what
        rows = (at for at in range(self.count()) if self.item(at).data(WHAT) == what)
        at = next(rows, -1)
        if at < 0:
            self.clearSelection()
            self.setCurrentRow(-1)
        else:
            self.setCurrentRow(at)

    def _pick(self, item: QListWidgetItem) -> None:
        self.picked.emit(item.data(WHAT))

    def focusOutEvent(self, event: QFocusEvent) -> None:
        super().focusOutEvent(event)
        self.show_picked(self._picked)  # the arrow keys have marked what nobody has in hand

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.PaletteChange:
            self._dress()
        super().changeEvent(event)

    def _dress(self) -> None:
        theme = theme_of(self.palette())
        for at in range(self.count()):
            item = self.item(at)
            what = item.data(KIND) or item.data(WHAT)
            if what:
                item.setIcon(icon(what, theme, self.devicePixelRatioF()))


def icon(what: str, theme: Theme, ratio: float) -> QIcon:
    """A part's symbol as it is drawn on the sheet, sharp at its scale, and to be seen where it is picked."""
    plain = QIcon(_pixmap(what, theme, ratio))
    plain.addPixmap(_pixmap(what, LIGHT if theme is DARK else DARK, ratio), QIcon.Mode.Selected)
    return plain


def _pixmap(what: str, theme: Theme, ratio: float) -> QPixmap:
    pixmap = QPixmap(QSize(round(ICON * ratio), round(ICON * ratio)))
    pixmap.setDevicePixelRatio(ratio)
    pixmap.fill(Qt.GlobalColor.transparent)
    painter = QPainter(pixmap)
    painter.scale(ICON / DRAWN, ICON / DRAWN)
    _paint(Pencil(painter), QRectF(0, 0, DRAWN, DRAWN), what, theme)
    painter.end()
    return pixmap


def _kind(what: str) -> SymbolKind:
    if what in tuple(FittingKind):
        return FittingKind(what)
    return IntakeKind(what) if what in tuple(IntakeKind) else Mark(what)


def _hose(y: float) -> tuple[tuple[float, float], ...]:
    """A line that hangs in a bow."""
    return tuple((3.0 + at, y + 5.0 * math.cos(math.pi * at / 8)) for at in range(17))


def _paint(pencil: Pencil, box: QRectF, what: str, theme: Theme) -> None:
    x, y = box.center().x(), box.center().y()
    if what in (LINE, HOSE):
        line = _hose(y) if what == HOSE else ((3.0, 19.0), (3.0, y), (19.0, y))
        pencil.polylines([line], theme.casing, 5.0)
        pencil.polylines([line], theme.pipe, 2.5)
    elif what == PUMP:
        pencil.circle(x, y, 8.5, theme.paper, theme.ink, 1.4)
        pencil.polygon(pump_triangle(x, y, 8.5, 1.0, 0.0), theme.ink, None)
    elif what == ON_SHELF:
        pencil.circle(x, y, 8.5, theme.paper, theme.ink, 1.4)
        pencil.lines([((x - 4.5, y + 4.5), (x + 5.0, y - 5.0))], theme.ink, 1.6)
    elif what == TEXT:
        pencil.lines([((5.0, 5.0), (17.0, 5.0)), ((11.0, 5.0), (11.0, 18.0))], theme.ink, 2.0)
    elif what == DIMENSION:
        pencil.lines([((4.0, 5.0), (4.0, 18.0)), ((18.0, 5.0), (18.0, 18.0))], theme.construction, 1.2)
        pencil.lines([((4.0, y), (18.0, y))], theme.ink, 1.2)
        for tip, way in (((4.0, y), (-1.0, 0.0)), ((18.0, y), (1.0, 0.0))):
            pencil.polygon(arrow(tip, way, 5.0), theme.ink, None)
    elif what == TANK or what in IN_TANK:
        _paint_tank(pencil, y, what, theme)
    else:
        legs = ((-1.0, 0.0), (1.0, 0.0), (0.0, -1.0)) if what == TEE else ()
        wide = 9.0 if what in REDUCER_KINDS else 0.0
        drawn = symbol(Glyph("", "", _kind(what), ((x, y),), 5.0, legs=legs, wide=wide), 0.85)
        for polygon in drawn.fills:
            pencil.polygon(polygon, theme.pipe, theme.casing, 1.2)
        for polygon in drawn.solid:
            pencil.polygon(polygon, theme.casing, None)
        pencil.lines((*drawn.lines, *drawn.dashed), theme.casing, 1.2)


def _paint_tank(pencil: Pencil, y: float, what: str, theme: Theme) -> None:
    """A tank with its level at y, and in it what is to be put there."""
    edge = theme.ink if what == TANK else theme.construction
    pencil.polygon(((3.0, y), (19.0, y), (19.0, 19.0), (3.0, 19.0)), theme.fluid, None)
    pencil.polylines([((3.0, 4.0), (3.0, 19.0), (19.0, 19.0), (19.0, 4.0))], edge, 1.4)
    pencil.polylines([((3.0, y), (19.0, y))], theme.level, 1.2)
    if what == BAFFLE:
        pencil.polylines([((11.0, 19.0), (11.0, y - 3.0))], theme.ink, 1.8)
    elif what == RETURN:
        pencil.polylines([((11.0, 3.0), (11.0, y + 2.0))], theme.ink, 1.4)
        pencil.polygon(((8.0, y + 2.0), (14.0, y + 2.0), (11.0, y + 6.0)), theme.ink, None)
    elif what == DRAW_DOWN:
        pencil.polylines([((5.0, y + 4.0), (17.0, y + 4.0))], theme.level, 1.2)
        pencil.polygon(((9.0, y - 3.0), (13.0, y - 3.0), (11.0, y + 2.0)), theme.ink, None)
