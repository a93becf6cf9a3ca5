"""Drafts of a part's table."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketch.card.card_draft import Refused, Typed, changed
from solver.layout.parts import Layout
from solver.quantities.units import System

FOLDER = Path(__file__).parents[3] / "layouts"


def refused(layout: Layout, name: str, draft: dict[str, Typed]) -> Refused:
    with pytest.raises(Refused) as caught:
        changed(layout, name, draft, System.US)
    return caught.value
