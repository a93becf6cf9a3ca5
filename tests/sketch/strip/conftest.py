"""What the tests of this folder work in."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.strip.whatif import WhatIfStrip


@pytest.fixture
def document(qtbot: QtBot, riser: Path) -> Document:
    made = Document()
    made.open(riser)
    return made


@pytest.fixture
def strip(qtbot: QtBot, document: Document) -> WhatIfStrip:
    made = WhatIfStrip(document)
    qtbot.addWidget(made)
    made.resize(1060, made.sizeHint().height())
    made.show()
    qtbot.waitExposed(made)
    return made
