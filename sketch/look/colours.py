"""How a share of the inlet budget is coloured, on light and on dark, and the palettes around it."""

from __future__ import annotations

from bisect import bisect_right
from dataclasses import dataclass
from functools import lru_cache

from PySide6.QtGui import QColor, QPalette

CREDIT = 0
BOUNDS = (0.0, 0.02, 0.05, 0.10, 0.20, 0.40)
"""Lower bounds of classes 1 to 6; class 0 is a credit."""

CLASS_NAMES = ("given back", "0–2 %", "2–5 %", "5–10 %", "10–20 %", "20–40 %", "over 40 %")

# Seven stops of "inferno" (N. Smith and S. van der Walt, CC0), equally spaced in CIE lightness: L* 96 to 16
# on light paper, 26 to 96 on dark, so that the costly element is always the one furthest from the paper.
_ON_LIGHT = ("#f6fa96", "#f9c72f", "#f98e09", "#e45a31", "#b43359", "#781c6d", "#3d0965")
_ON_DARK = ("#69166e", "#9f2a63", "#cf4446", "#ef6c23", "#fb9d07", "#f8cf3a", "#f6fa96")


@dataclass(frozen=True, slots=True)
class Theme:
    """Every colour of the drawing, all opaque: translucent paint is ten times slower."""

    name: str
    paper: QColor
    ink: QColor
    quiet: QColor  # text that may recede
    construction: QColor  # dimension lines, tank walls
    grid: QColor
    fluid: QColor
    level: QColor
    casing: QColor
    pipe: QColor  # a pipe that has no share to show
    box: QColor  # behind a label
    halo: QColor  # what is pointed at
    accent: QColor  # what is selected
    limit: QColor  # the floor and the highest port
    stop: QColor
    caution: QColor
    good: QColor
    classes: tuple[QColor, ...]


def _theme(name: str, classes: tuple[str, ...], **colours: str) -> Theme:
    return Theme(
        name=name,
        classes=tuple(QColor(value) for value in classes),
        **{key: QColor(value) for key, value in colours.items()},
    )


LIGHT = _theme(
    "light",
    _ON_LIGHT,
    paper="#fbfbf9",
    ink="#1d2125",
    quiet="#5f666c",
    construction="#868d93",
    grid="#ebece9",
    fluid="#e4edf1",
    level="#3d7590",
    casing="#33383d",
    pipe="#cfd3d5",
    box="#ffffff",
    halo="#0a84c6",
    accent="#0b5fa5",
    limit="#a3222c",
    stop="#a3222c",
    caution="#8a5a00",
    good="#1f6b3a",
)

DARK = _theme(
    "dark",
    _ON_DARK,
    paper="#1b1e21",
    ink="#eceeef",
    quiet="#a3aab0",
    construction="#7b838a",
    grid="#282c30",
    fluid="#243640",
    level="#7fb6d0",
    casing="#c3c8cc",
    pipe="#4c5257",
    box="#111315",
    halo="#57c1ff",
    accent="#7fb4ea",
    limit="#ff8f88",
    stop="#ff8f88",
    caution="#f0c060",
    good="#7fd29a",
)


def share_class(share: float | None) -> int:
    """The class of a share of the budget, 0 (credit) to 6 (over 40 %). No share has none: −1."""
    if share is None:
        return -1
    return bisect_right(BOUNDS, share)


def share_colour(share: float | None, theme: Theme) -> QColor:
    """The colour of a share of the budget (1.0 is all of it); the pipe's own colour without one."""
    at = share_class(share)
    return theme.pipe if at < 0 else theme.classes[at]


def luminance(colour: QColor) -> float:
    """Relative luminance, 0 to 1, as WCAG 2.2 defines it."""

    def linear(value: float) -> float:
        return value / 12.92 if value <= 0.04045 else ((value + 0.055) / 1.055) ** 2.4

    red, green, blue = linear(colour.redF()), linear(colour.greenF()), linear(colour.blueF())
    return 0.2126 * red + 0.7152 * green + 0.0722 * blue


def contrast(one: QColor, other: QColor) -> float:
    """Contrast ratio of two colours, 1 to 21, as WCAG 2.2 defines it."""
    high, low = sorted((luminance(one), luminance(other)), reverse=True)
    return (high + 0.05) / (low + 0.05)


_BLACK = QColor("#000000")
_WHITE = QColor("#ffffff")


def text_on(fill: QColor) -> QColor:
    """Black or white, whichever reads better on `fill`."""
    return _text_on(fill.rgba())


@lru_cache(maxsize=128)
def _text_on(rgba: int) -> QColor:
    fill = QColor.fromRgba(rgba)
    return _BLACK if contrast(_BLACK, fill) >= contrast(_WHITE, fill) else _WHITE


def palette(theme: Theme) -> QPalette:
    """The desktop palette that goes with the theme, for the Fusion style."""
    light = theme is LIGHT or luminance(theme.paper) > 0.5
    window, button, base = ("#f1f1ee", "#f7f7f5", "#ffffff") if light else ("#24282c", "#2e3338", "#1b1e21")
    colours = QPalette()
    role = QPalette.ColorRole
    for which, value in (
        (role.Window, QColor(window)),
        (role.Base, QColor(base)),
        (role.AlternateBase, QColor("#f6f7f5" if light else "#212529")),
        (role.Button, QColor(button)),
        (role.Text, theme.ink),
        (role.WindowText, theme.ink),
        (role.ButtonText, theme.ink),
        (role.BrightText, theme.stop),
        (role.PlaceholderText, theme.quiet),
        (role.Highlight, theme.accent),
        (role.HighlightedText, text_on(theme.accent)),
        (role.Link, theme.accent),
        (role.LinkVisited, theme.accent),
        (role.ToolTipBase, theme.box),
        (role.ToolTipText, theme.ink),
        (role.Light, QColor("#ffffff" if light else "#3a4046")),
        (role.Midlight, QColor("#eeeeeb" if light else "#33383d")),
        (role.Mid, QColor("#c4c8ca" if light else "#4a5157")),
        (role.Dark, QColor("#9aa0a4" if light else "#15181a")),
        (role.Shadow, QColor("#6d7479" if light else "#0c0e0f")),
    ):
        colours.setColor(which, value)
    faded = QColor("#777e84" if light else "#838a91")  # to be read: it says what cannot be had, and why
    for which in (role.Text, role.WindowText, role.ButtonText, role.HighlightedText):
        colours.setColor(QPalette.ColorGroup.Disabled, which, faded)
    colours.setColor(QPalette.ColorGroup.Disabled, role.Highlight, QColor("#d5d8d9" if light else "#343a3f"))
    return colours


def framed_palette(theme: Theme) -> QPalette:
    """The palette for what Fusion frames in a shade of the window's colour, on dark none to be seen."""
    colours = palette(theme)
    colours.setColor(QPalette.ColorRole.Window, theme.quiet)
    return colours


def menu_palette(theme: Theme) -> QPalette:
    """The palette for menus: on dark, where their frame cannot be seen, lighter than what they cover.

    Qt dresses the lists of boxes to choose from so too, but for their ground, which is the window's.
    """
    colours = palette(theme)
    if theme is not LIGHT and luminance(theme.paper) < 0.5:
        colours.setColor(QPalette.ColorRole.Base, QColor("#33393f"))
        for which in (QPalette.ColorRole.Text, QPalette.ColorRole.WindowText, QPalette.ColorRole.ButtonText):
            colours.setColor(QPalette.ColorGroup.Disabled, which, QColor("#878f96"))
    return colours


def blend(colour: QColor, ground: QColor, part: float) -> QColor:
    """`part` of a colour over an opaque ground, as an opaque colour: translucent paint is slow."""
    mixed = (
        round(over * part + under * (1 - part))
        for over, under in zip(colour.getRgb()[:3], ground.getRgb()[:3], strict=True)  # type: ignore[index]
    )
    return QColor(*mixed)
