"""The lines of the part card: every key of a file."""

from __future__ import annotations

import pytest

from sketch.views.card_lines import LINES
from solver.layout import file as layout_file
from solver.layout import raw as layout_raw
from solver.layout.keys import PARTS
from solver.layout.parts import Layout
from tests.sketch.views.drafts import FOLDER, refused

NOT_TYPED = {
    "at", "via", "from", "to", "reservoir",  # drawn
    "outline", "return_at", "baffle",  # drawn
    "notes",  # a page of its own
}  # fmt: skip


@pytest.fixture
def layout() -> Layout:
    return layout_file.read(FOLDER / "carriage-at-altitude.toml").base


def test_every_key_of_a_file_has_its_line() -> None:
    for group, table in PARTS.items():
        first = {line.path[0] for line in LINES[group]}
        assert {key.name for key in table.keys} - NOT_TYPED <= first


def test_what_belongs_to_no_line_is_said_too(layout: Layout) -> None:
    told = refused(layout, "riser", {"size": ""})
    assert not told.by_line
    assert "size" in told.rest[0]


def test_part_tables_are_those_of_the_file(layout: Layout) -> None:
    raw = layout_raw.to_raw(layout)
    assert layout_raw.part_raw(layout, "riser") == ("runs", raw["runs"]["riser"])
    with pytest.raises(KeyError):
        layout_raw.part_raw(layout, "nobody")
