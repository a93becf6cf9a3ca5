"""The title block names the drawing, and its widest field alone gives way."""

from __future__ import annotations

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page.sheet_frame import placed
from solver.quantities.units import System
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
    for page in compared("carriage-at-altitude", "A4", System.US):
        for expected in ("5413 ft, 24.3 inHg abs", "carriage-at-altitude.toml", "Log carriage pump"):
            assert expected in page


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))
