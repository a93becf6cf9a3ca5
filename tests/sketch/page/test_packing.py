"""The pages behind the first one are as few as they can be, and nothing runs over their foot."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.drawing.pencil import Ruler
from sketch.page import packing
from sketch.page.blocks import Paragraph

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize(
    ("lines", "count", "size", "columns"),
    [
        (40, 1, 1.0, 1),
        (41, 1, 0.96, 1),
        (43, 1, 0.93, 1),
        (44, 1, 0.9, 1),
        (46, 1, 1.0, 2),
        (41, 2, 1.0, 2),
        (84, 2, 0.96, 2),
    ],
)
def test_type_is_smaller_only_where_that_saves_a_page(
    lines: int, count: int, size: float, columns: int
) -> None:
    line, dot, width = Paragraph("One line of text."), 10.0, 6000.0
    height = 40.5 * line.height(Ruler(dot), width)
    set_in = packing.sized([line] * lines, dot, width, height, count, flows=False)
    assert (set_in[0], len(set_in[1])) == (size, columns)


def test_nothing_is_packed_past_the_foot_to_save_a_page(monkeypatch: pytest.MonkeyPatch) -> None:
    """What does not part in columns is painted over the edge where it stands alone on a page."""
    line, ruler, width = Paragraph("One line of text."), Ruler(10.0), 6000.0
    high = line.height(ruler, width)

    def flowed(blocks: list[Paragraph], *_: object) -> list[object]:
        closer = len(_) == 3 and _[2] != 1.0
        return [replace(line, text="One line. " * 4000)] if closer else list(blocks)

    monkeypatch.setattr(packing, "flowed", flowed)
    size, columns = packing.sized([line] * 60, 10.0, width, 40.5 * high, 1, flows=True)
    assert [len(column) for column in columns] == [40, 20]
    assert size == 1.0
