"""A widget as it looks now, as a picture for a file."""

from __future__ import annotations

from PySide6.QtCore import QBuffer, QIODevice
from PySide6.QtWidgets import QWidget


def png_of(widget: QWidget) -> bytes:
    """What a widget shows, as a PNG file. Raises ValueError where none can be made of it."""
    buffer = QBuffer()
    buffer.open(QIODevice.OpenModeFlag.WriteOnly)
    if not widget.grab().save(buffer, "PNG"):
        raise ValueError("no picture can be made of it")
    return bytes(buffer.data().data())
