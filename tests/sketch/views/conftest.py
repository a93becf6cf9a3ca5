"""What tests of views begin with, unless a module has its own. Qt is imported in the fixture."""

from __future__ import annotations

from typing import TYPE_CHECKING

import pytest

if TYPE_CHECKING:
    from sketch.model.document import Document


@pytest.fixture
def document() -> Document:
    """The carriage at altitude, opened."""
    from tests.sketch.shown import opened

    return opened()
