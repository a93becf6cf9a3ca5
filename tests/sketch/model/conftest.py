"""What the tests of this folder work in."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import Document


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    made = Document()
    made.open(riser)
    return made
