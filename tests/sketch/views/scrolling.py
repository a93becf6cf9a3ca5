"""Views scrolled to their end, and whether they show their beginning."""

from __future__ import annotations

from PySide6.QtWidgets import QAbstractScrollArea


def scrolled(*areas: QAbstractScrollArea) -> None:
    """Scroll each to its end."""
    for area in areas:
        bar = area.verticalScrollBar()
        assert bar.maximum() > 0, area.accessibleName()
        bar.setValue(bar.maximum())


def at_top(*areas: QAbstractScrollArea) -> bool:
    """Whether each shows its beginning."""
    return all(area.verticalScrollBar().value() == 0 for area in areas)
