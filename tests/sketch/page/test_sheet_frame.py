"""The title block names the drawing, and its widest field alone gives way."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.sheet_frame import placed
from tests.sketch.sheets import pages, written

pytestmark = pytest.mark.usefixtures("qapp")


def test_only_the_widest_field_of_the_title_block_gives_way() -> None:
    row = [("Fluid", "a name " * 30), ("File", "press.toml")]
    fields, wide = placed(Ruler(), row, 400.0)
    assert wide <= 400.0
    assert fields[0][1][1].endswith("…")
    assert fields[1][1] == row[1]
    assert [field for _, field in placed(Ruler(), row, 4000.0)[0]] == row


def test_the_title_block_says_where_and_from_which_file() -> None:
    first, *rest = pages(written("carriage-at-altitude", compared=True))
    for expected in ("5413 ft, 24.3 inHg abs", "carriage-at-altitude.toml", "Log carriage pump"):
        assert expected in first
    assert all("Log carriage pump" in page and "2026-03-31" in page for page in rest)
