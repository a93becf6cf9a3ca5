"""Light or dark: as the desktop has it, or as the user wants it."""

from __future__ import annotations

from enum import StrEnum
from functools import lru_cache

from PySide6.QtCore import QObject, Qt, Signal
from PySide6.QtGui import QColor, QPalette
from PySide6.QtWidgets import QApplication, QWidget

from sketch.look import colours
from sketch.look.colours import DARK, LIGHT, Theme

FRAMED = ("QCheckBox", "QRadioButton")
"""What Fusion frames in a shade of the window's colour, by Qt's names: boxes and buttons that are checked."""

FIELDS = ("QLineEdit", "QPlainTextEdit", "QComboBox")
"""What has such a frame too, which on light is seen as it is."""


class ThemeChoice(StrEnum):
    """What the user may ask for."""

    DESKTOP = "desktop"
    LIGHT = "light"
    DARK = "dark"


def theme_of(palette: QPalette) -> Theme:
    """The drawing's colours that go with a palette."""
    return _theme_on(palette.color(QPalette.ColorRole.Base).rgba())


@lru_cache(maxsize=16)
def _theme_on(ground: int) -> Theme:
    return DARK if colours.luminance(QColor.fromRgba(ground)) < 0.3 else LIGHT


def read_style_sheets_again(top: QWidget) -> None:
    """Have everything below a widget that has a style sheet wear the colours in use now.

    It keeps the palette that its sheet was read with, whatever the application wears by now.
    """
    for widget in top.findChildren(QWidget):
        sheet = widget.styleSheet()
        if sheet:
            widget.setStyleSheet("")
            widget.setStyleSheet(sheet)


class Appearance(QObject):
    """Dresses the application and follows the desktop while nothing else is asked for."""

    changed = Signal()

    def __init__(self, application: QApplication, choice: ThemeChoice = ThemeChoice.DESKTOP) -> None:
        super().__init__(application)
        self._application = application
        if application.style().name() != "fusion":  # setting it again polishes every widget there is
            application.setStyle("Fusion")
        self._desktop = theme_of(application.palette())
        self._choice = choice
        self._dress()
        application.styleHints().colorSchemeChanged.connect(self._desktop_changed)

    @property
    def choice(self) -> ThemeChoice:
        """What was asked for."""
        return self._choice

    @property
    def theme(self) -> Theme:
        """The colours in use now."""
        if self._choice is ThemeChoice.DESKTOP:
            return self._desktop_theme()
        return DARK if self._choice is ThemeChoice.DARK else LIGHT

    def choose(self, choice: ThemeChoice) -> None:
        """Wear `choice` from now on."""
        self._choice = choice
        self._dress()

    def _desktop_theme(self) -> Theme:
        # Bare X11 desktops report no scheme at all: there the palette found at the start decides.
        scheme = self._application.styleHints().colorScheme()
        if scheme is Qt.ColorScheme.Unknown:
            return self._desktop
        return DARK if scheme is Qt.ColorScheme.Dark else LIGHT

    def _desktop_changed(self) -> None:
        if self._choice is ThemeChoice.DESKTOP:
            self._dress()

    def _dress(self) -> None:
        plain, framed = colours.palette(self.theme), colours.framed_palette(self.theme)
        self._application.setPalette(plain)
        for kinds, worn in ((FRAMED, framed), (FIELDS, framed if self.theme is DARK else plain)):
            for kind in kinds:
                self._application.setPalette(worn, kind)  # type: ignore[arg-type]  # takes bytes, says the stub
        self._application.setPalette(colours.menu_palette(self.theme), "QMenu")  # type: ignore[arg-type]
        self.changed.emit()
