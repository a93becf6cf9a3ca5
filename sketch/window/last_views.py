"""Where somebody left a drawing: zoom and place, tab and alternative, taken up when it is opened again."""

from __future__ import annotations

import json
from contextlib import suppress
from pathlib import Path
from typing import Any

from PySide6.QtCore import QSettings

from sketch.canvas.sight import ZoomAndCentre
from sketch.model.document import Document
from sketch.model.storage import drawing_key
from sketch.views.tabs import TABS
from sketch.window.workspace import Workspace

MOST = 50
"""Drawings that are kept in mind; the one left longest ago goes first."""

NAME = "drawings"


class LastViews:
    """Keeps nothing where there are no settings. A drawing goes by a hash of its path."""

    def __init__(self, settings: QSettings | None, document: Document, workspace: Workspace) -> None:
        self._settings, self._document, self._workspace = settings, document, workspace

    def keep(self) -> None:
        """Keep how the open drawing is shown, where it has a file."""
        path = self._document.path
        if self._settings is None or path is None or not self._document.has_drawing:
            return
        key, kept = drawing_key(path), self._kept()
        kept.pop(key, None)
        place = self._workspace.elevation.sight.place
        kept[key] = {
            "place": list(place) if place is not None else None,
            "tab": self._workspace.tables.current,
            "alternative": self._document.alternative,
        }
        self._settings.setValue(NAME, json.dumps(dict(list(kept.items())[-MOST:])))
        self._settings.sync()

    def restore(self, path: Path) -> None:
        """Show the open drawing, read from a path, as it was left; what of that is gone stays as it is."""
        left = self._kept().get(drawing_key(path)) if self._settings is not None else None
        if not isinstance(left, dict):
            return
        if left.get("alternative") in self._document.alternatives:
            self._document.show_alternative(left["alternative"])
        if left.get("tab") in list(TABS):
            self._workspace.tables.show_page(left["tab"])
        with suppress(TypeError, ValueError):
            scale, x, y = map(float, left.get("place") or ())
            self._workspace.elevation.sight.show(ZoomAndCentre(scale, x, y))
            self._workspace.elevation.update()

    def _kept(self) -> dict[str, Any]:
        text = self._settings.value(NAME, "") if self._settings is not None else ""
        try:
            kept = json.loads(str(text))
        except ValueError:
            return {}
        return kept if isinstance(kept, dict) else {}
