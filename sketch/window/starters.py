"""Drawings to begin with, as pictures to click on, and the units that they are made in."""

from __future__ import annotations

from collections.abc import Callable
from functools import partial

from PySide6.QtCore import QEvent, QObject, QSize, Qt
from PySide6.QtGui import QIcon, QPainter, QPalette, QPixmap
from PySide6.QtWidgets import QHBoxLayout, QRadioButton, QSizePolicy, QToolButton, QVBoxLayout, QWidget

from sketch.drawing.thumbnail import paint_thumbnail
from sketch.editing.beginning import STARTERS, Starter
from sketch.look.appearance import theme_of
from sketch.look.colours import Theme
from sketch.look.label import Label
from solver.layout.parts import Layout
from solver.quantities.units import System

PICTURE = QSize(132, 84)
MARGIN = 9.0  # of paper round the drawing, in logical pixels
UNITS = {System.US: "US customary: ft, inHg, gal/min", System.SI: "SI: m, kPa, L/min"}
ASK = "Which units do you work in?"
CHOSEN = "Units of new drawings"
FIRST_UNITS = "Choose your units first; the choice is kept"


class Starters(QWidget):
    """A row of pictures; a click begins that drawing. They wait until somebody has said in which units.

    `choose` is called with a unit system once it is chosen, `begin` with a drawing.
    """

    def __init__(
        self,
        units: System | None,
        choose: Callable[[System], object],
        begin: Callable[[Layout], object],
    ) -> None:
        super().__init__()
        self._units, self._choose, self._begin = units, choose, begin
        self._question = Label(ASK)
        self.units = {system: QRadioButton(text) for system, text in UNITS.items()}
        self.buttons = {starter.name: self._button(starter) for starter in STARTERS}
        self._arrange()
        for system, button in self.units.items():
            button.setChecked(system is units)
            button.clicked.connect(partial(self._chosen, system))
        self._dress()

    def _button(self, starter: Starter) -> QToolButton:
        button = QToolButton()
        button.setText(starter.name)
        button.setIconSize(PICTURE)
        button.setToolButtonStyle(Qt.ToolButtonStyle.ToolButtonTextUnderIcon)
        button.setAutoRaise(True)
        button.setSizePolicy(QSizePolicy.Policy.Expanding, QSizePolicy.Policy.Fixed)
        button.setAccessibleDescription(starter.story)
        button.clicked.connect(partial(self._begun, starter))
        button.installEventFilter(self)
        return button

    def _arrange(self) -> None:
        asked = QHBoxLayout()
        asked.addWidget(self._question)
        for button in self.units.values():
            asked.addWidget(button)
        asked.addStretch(1)
        row = QHBoxLayout()
        row.setSpacing(4)
        for picture in self.buttons.values():
            row.addWidget(picture)
        column = QVBoxLayout(self)
        column.setContentsMargins(0, 0, 0, 0)
        column.addLayout(asked)
        column.addLayout(row)

    def _chosen(self, system: System) -> None:
        self._units = system
        self._choose(system)
        self._dress()

    def eventFilter(self, watched: QObject, event: QEvent) -> bool:
        """Say what a picture waits for that is clicked before the units are chosen."""
        if self._units is None and event.type() == QEvent.Type.MouseButtonPress:
            palette = QPalette(self.palette())
            palette.setColor(QPalette.ColorRole.WindowText, theme_of(palette).caution)
            self._question.setPalette(palette)
            self._question.setText(f"{FIRST_UNITS}:")
            next(iter(self.units.values())).setFocus()
        return super().eventFilter(watched, event)

    def _begun(self, starter: Starter) -> None:
        if self._units is not None:
            self._begin(starter.make(self._units))

    def _dress(self) -> None:
        """Paint the pictures again, and say what is asked for."""
        system, theme = self._units, theme_of(self.palette())
        self._question.setPalette(QPalette())
        self._question.setText(ASK if system is None else CHOSEN)
        names = QPalette()  # read before they can be chosen: only the pictures are grey till then
        names.setColor(QPalette.ColorGroup.Disabled, QPalette.ColorRole.ButtonText, theme.quiet)
        for starter in STARTERS:
            button = self.buttons[starter.name]
            layout = starter.make(system or System.SI)
            button.setIcon(QIcon(_picture(layout, theme, self.devicePixelRatioF())))
            button.setPalette(names)
            button.setEnabled(system is not None)
            button.setToolTip(starter.story if system is not None else FIRST_UNITS)

    def changeEvent(self, event: QEvent) -> None:
        if event.type() == QEvent.Type.PaletteChange:
            self._dress()
        super().changeEvent(event)


def _picture(layout: Layout, theme: Theme, ratio: float) -> QPixmap:
    """A drawing in small on framed paper, sharp at the ratio of the screen."""
    picture = QPixmap(PICTURE * ratio)
    picture.setDevicePixelRatio(ratio)
    picture.fill(theme.paper)
    painter = QPainter(picture)
    painter.setPen(theme.construction)
    painter.drawRect(0, 0, PICTURE.width() - 1, PICTURE.height() - 1)
    painter.setRenderHint(QPainter.RenderHint.Antialiasing)
    painter.translate(MARGIN, MARGIN)
    if layout.reservoirs:
        size = PICTURE.width() - 2 * MARGIN, PICTURE.height() - 2 * MARGIN
        paint_thumbnail(painter, layout, None, size, theme)
    painter.end()
    return picture
