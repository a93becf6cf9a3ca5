"""The classes of the shares: their bounds, their contrast, and that no one's eyes mix two of them up."""

from __future__ import annotations

from itertools import pairwise

import numpy as np
import pytest
from PySide6.QtGui import QColor, QPalette

from sketch.look import colours
from sketch.look.colours import DARK, LIGHT, Theme, contrast, luminance, share_class, share_colour, text_on

THEMES = pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)


@pytest.mark.parametrize(
    ("share", "expected"),
    [
        (-0.3, 0),
        (-1e-9, 0),
        (0.0, 1),
        (0.0199, 1),
        (0.02, 2),
        (0.0499, 2),
        (0.05, 3),
        (0.0999, 3),
        (0.10, 4),
        (0.1999, 4),
        (0.20, 5),
        (0.3999, 5),
        (0.40, 6),
        (3.0, 6),
        (None, -1),
    ],
)
def test_class_bounds(share: float | None, expected: int) -> None:
    assert share_class(share) == expected


@THEMES
def test_a_pipe_without_a_share_has_the_pipe_s_own_colour(theme: Theme) -> None:
    assert share_colour(None, theme) == theme.pipe


@THEMES
def test_there_is_a_colour_and_a_name_for_every_class(theme: Theme) -> None:
    assert len(theme.classes) == len(colours.CLASS_NAMES) == len(colours.BOUNDS) + 1


def test_the_costly_class_stands_out_most_on_either_paper() -> None:
    for theme in (LIGHT, DARK):
        against_paper = [contrast(colour, theme.paper) for colour in theme.classes]
        assert against_paper == sorted(against_paper)


@THEMES
def test_every_class_is_told_from_the_paper_by_itself_or_by_its_casing(theme: Theme) -> None:
    assert contrast(theme.casing, theme.paper) >= 3.0
    for colour in theme.classes:
        assert max(contrast(colour, theme.paper), contrast(theme.casing, theme.paper)) >= 3.0


@THEMES
def test_text_reads_on_every_class_and_on_the_paper(theme: Theme) -> None:
    for colour in theme.classes:
        assert contrast(text_on(colour), colour) >= 4.5
    for ink in (theme.ink, theme.quiet, theme.level, theme.limit, theme.stop, theme.caution, theme.good):
        assert contrast(ink, theme.paper) >= 4.5
    for line in (theme.construction, theme.halo, theme.accent):
        assert contrast(line, theme.paper) >= 3.0


def _linear(colour: QColor) -> np.ndarray:
    values = np.array(colour.getRgbF()[:3])
    return np.where(values <= 0.04045, values / 12.92, ((values + 0.055) / 1.055) ** 2.4)


def _lab(linear: np.ndarray) -> np.ndarray:
    """CIE L*a*b* of linear sRGB, white point D65 (IEC 61966-2-1, CIE 15)."""
    to_xyz = np.array(
        [
            [0.4124564, 0.3575761, 0.1804375],
            [0.2126729, 0.7151522, 0.0721750],
            [0.0193339, 0.1191920, 0.9503041],
        ]
    )
    x, y, z = (to_xyz @ np.clip(linear, 0, 1)) / np.array([0.95047, 1.0, 1.08883])
    fx, fy, fz = (
        np.cbrt(t) if t > 216 / 24389 else (24389 / 27 * t + 16) / 116 for t in (float(x), float(y), float(z))
    )
    return np.array([116 * fy - 16, 500 * (fx - fy), 200 * (fy - fz)])


# Machado, Oliveira and Fernandes (2009), severity 1.0; the matrices act on linear sRGB. From memory.
VISION = {
    "normal": np.eye(3),
    "protan": np.array(
        [[0.152286, 1.052583, -0.204868], [0.114503, 0.786281, 0.099216], [-0.003882, -0.048116, 1.051998]]
    ),
    "deutan": np.array(
        [[0.367322, 0.860646, -0.227968], [0.280085, 0.672501, 0.047413], [-0.011820, 0.042940, 0.968881]]
    ),
    "tritan": np.array(
        [[1.255528, -0.076749, -0.178779], [-0.078411, 0.930809, 0.147602], [0.004733, 0.691367, 0.303900]]
    ),
}


@THEMES
@pytest.mark.parametrize("vision", VISION)
def test_neighbouring_classes_stay_apart_for_all_eyes(theme: Theme, vision: str) -> None:
    seen = [_lab(VISION[vision] @ _linear(colour)) for colour in theme.classes]
    for one, other in pairwise(seen):
        assert np.linalg.norm(one - other) >= 9.0


@THEMES
def test_lightness_falls_or_rises_in_even_steps_so_that_grey_print_keeps_the_order(theme: Theme) -> None:
    lightness = [_lab(_linear(colour))[0] for colour in theme.classes]
    steps = np.diff(lightness)
    assert (np.sign(steps) == np.sign(steps[0])).all()
    assert np.abs(steps).min() >= 9.0
    assert np.abs(steps).max() <= 1.35 * np.abs(steps).min()


@THEMES
def test_no_colour_of_a_theme_is_translucent(theme: Theme) -> None:
    colours_of_theme = [
        value for name in Theme.__slots__ if isinstance(value := getattr(theme, name), QColor)
    ]
    assert colours_of_theme
    assert all(colour.alpha() == 255 for colour in (*colours_of_theme, *theme.classes))


@THEMES
def test_the_palette_reads(theme: Theme) -> None:
    qt_palette = colours.palette(theme)
    role = QPalette.ColorRole
    for text, ground in (
        (role.Text, role.Base),
        (role.WindowText, role.Window),
        (role.ButtonText, role.Button),
    ):
        assert contrast(qt_palette.color(text), qt_palette.color(ground)) >= 7.0
    assert contrast(qt_palette.color(role.HighlightedText), qt_palette.color(role.Highlight)) >= 4.5
    for ground in (role.Window, role.Base, role.Button):
        off = contrast(qt_palette.color(QPalette.ColorGroup.Disabled, role.Text), qt_palette.color(ground))
        assert 3.5 <= off < contrast(theme.quiet, qt_palette.color(ground)), "what is off is read too"
    assert (luminance(qt_palette.color(role.Window)) > 0.5) == (theme is LIGHT)


def test_contrast_of_black_and_white_is_21() -> None:
    assert contrast(QColor("black"), QColor("white")) == pytest.approx(21.0)  # WCAG 2.2
