"""Columns side by side: one scale, like joined to like, and nothing outside its box."""

from __future__ import annotations

import itertools

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.air_column.side_by_side import ComparedColumn, SideBySide, matches, paint_side_by_side
from sketch.air_column.slices import slices
from sketch.drawing.labels import Box
from sketch.look.colours import DARK, LIGHT, Theme
from solver.findings.judgement import judge
from solver.layout import file
from tests.drawings import SHIPPED

pytestmark = pytest.mark.usefixtures("qapp")

AREA = Box(0.0, 0.0, 1300.0, 230.0)


def compared(stem: str = "carriage-at-altitude") -> list[ComparedColumn]:
    (path,) = (path for path in SHIPPED if path.stem == stem)
    drawing = file.read(path)
    layouts = {"": drawing.base} | {name: each.layout for name, each in drawing.alternatives.items()}
    drawn = []
    for name, layout in layouts.items():
        place = judge(layout).worst()
        assert place is not None
        drawn.append(ComparedColumn(name, name or "As drawn", "margin", place.ledger))
    return drawn


def painted(columns: list[ComparedColumn], theme: Theme = LIGHT, pointed: str = "") -> SideBySide:
    image = QImage(round(AREA.width), round(AREA.height), QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawn = paint_side_by_side(painter, AREA, columns, theme, pointed=pointed)
    painter.end()
    return drawn


def test_like_is_joined_to_like_and_what_is_new_to_nothing() -> None:
    columns = compared()
    drawn = painted(columns)
    expected = []
    for one, other in itertools.pairwise(columns):
        keys = {piece.key for piece in slices(other.ledger) if not piece.credit}
        expected += [piece.key for piece in slices(one.ledger) if piece.key in keys]
    assert list(drawn.joined) == expected
    assert "carriage/port" in drawn.joined
    assert "strainer/screen" in drawn.joined
    assert drawn.joined.count("strainer/screen") == 1, "the pump beside its tank has no strainer"
    assert all(one.key == other.key for one, other in matches(*(slices(c.ledger) for c in columns[:2])))


@pytest.mark.parametrize("stem", ["carriage-at-altitude", "header-two-pumps", "winter-press"])
def test_a_pascal_is_as_high_in_every_column_and_all_lies_within_the_box(stem: str) -> None:
    columns = compared(stem)
    drawn = painted(columns, DARK, pointed="strainer/screen")
    assert [name for name, _ in drawn.columns] == [each.name for each in columns]
    tall = []
    for each in columns:
        pieces = {piece.key: piece for piece in slices(each.ledger)}
        for name, key, box in drawn.slices:
            if name == each.name:
                assert box.y >= AREA.y
                assert box.bottom <= AREA.bottom + 1e-6
                tall.append((pieces[key].high - pieces[key].low, box.height))
    slopes = {round(height / pascals, 6) for pascals, height in tall if pascals > 50.0}
    assert len(slopes) == 1


def test_nothing_to_compare_is_no_trouble() -> None:
    assert painted([]) == SideBySide((), (), ())
    assert painted(compared()[:1]).joined == ()


def test_what_is_given_stands_beside_its_column_and_hides_behind_nothing() -> None:
    columns = compared("header-two-pumps")
    drawn = painted(columns)
    boxes = dict(drawn.columns)
    given = [(name, box) for name, key, box in drawn.slices if key.endswith("/flooded head")]
    assert given
    assert all(box.right <= boxes[name].x for name, box in given)
    assert not any(key.endswith("/flooded head") for key in drawn.joined)
