"""What the tests of this folder work in. Qt is imported in the fixtures: without it the folder is skipped."""

from __future__ import annotations

from pathlib import Path
from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from pytestqt.qtbot import QtBot

    from sketch.model.document import Document


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    from sketch.model.document import Document

    document = Document()
    document.open(riser)
    return document
