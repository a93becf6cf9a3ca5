"""The pixels of a picture, all at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray
from PySide6.QtGui import QColor, QImage


def pixels(image: QImage) -> NDArray[np.uint8]:
    """Red, green and blue of every pixel, by row and column: (high, wide, 3)."""
    plain = image.convertToFormat(QImage.Format.Format_RGB888)
    rows = np.frombuffer(plain.constBits(), np.uint8).reshape(plain.height(), plain.bytesPerLine())
    return rows[:, : 3 * plain.width()].reshape(plain.height(), plain.width(), 3).copy()


def places_near(image: QImage, colour: QColor, by: int = 2) -> set[tuple[int, int]]:
    """Where a picture has a colour, or one so near: x and y of the pixels."""
    apart = np.abs(pixels(image).astype(int) - colour.getRgb()[:3])
    ys, xs = np.nonzero((apart <= by).all(axis=2))
    return set(zip(xs.tolist(), ys.tolist(), strict=True))


def places_apart(image: QImage, colour: QColor) -> set[tuple[int, int]]:
    """Where a picture has any other colour: x and y of the pixels."""
    ys, xs = np.nonzero((pixels(image) != colour.getRgb()[:3]).any(axis=2))
    return set(zip(xs.tolist(), ys.tolist(), strict=True))
