"""The working view of the carriage line, seen."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager

from PySide6.QtGui import QPalette
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.views.working_view import WorkingView

RISER, BEND = "riser/straight 1", "riser/bend 1"


@contextmanager
def shown(qtbot: QtBot, document: Document) -> Iterator[WorkingView]:
    """The view, as it came up again afterwards."""
    view = WorkingView(document)
    qtbot.addWidget(view)
    view.resize(1000, 400)
    with qtbot.waitExposed(view):
        view.show()
    yield view
    view.setPalette(QPalette())
