"""Columns side by side: one scale, like joined to like, and nothing outside its box."""

from __future__ import annotations

import itertools
from dataclasses import replace
from typing import Any

import pytest
from PySide6.QtGui import QColor, QImage, QPainter

from sketch.air_column.side_by_side import (
    ComparedColumn,
    SideBySide,
    _levels,
    _lines,
    _placed,
    matches,
    paint_side_by_side,
)
from sketch.air_column.slices import slices
from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil, Ruler
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
        drawn.append(ComparedColumn(name, name or "The drawing itself", "margin", place.ledger))
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


@pytest.mark.parametrize("stem", ["header-two-pumps", "over-the-bund-wall"])
def test_names_and_shares_are_whole_and_the_columns_in_the_middle(
    stem: str, monkeypatch: pytest.MonkeyPatch
) -> None:
    written: list[tuple[float, float, str, float]] = []
    sound = Pencil.text

    def text(pencil: Pencil, x: float, y: float, said: str, ink: QColor, **how: Any) -> None:
        written.append((x, y, said, how.get("align", 0.0)))
        sound(pencil, x, y, said, ink, **how)

    monkeypatch.setattr(Pencil, "text", text)
    columns = compared(stem)
    drawn = painted(columns)
    boxes = [box for _, box in drawn.columns]
    assert boxes[0].x - AREA.x == pytest.approx(AREA.right - boxes[-1].right)
    assert {"floor", "atmosphere"} <= {said for _, _, said, _ in written}
    beside = sorted(y for x, y, _, align in written if align == 1.0 and x < boxes[0].x)
    assert len(beside) > 4
    assert all(low - high > 8.0 for high, low in itertools.pairwise(beside))
    assert beside[-1] < AREA.bottom - 6.0, "the last name is cut"
    for (_, box), each in zip(drawn.columns, columns, strict=True):
        pieces = {piece.key: piece for piece in slices(each.ledger)}
        parts = [(where, pieces[key]) for name, key, where in drawn.slices if name == each.name]
        where, piece = max(parts, key=lambda part: part[0].height)
        floor = where.y + (piece.high - each.ledger.floor) / (piece.high - piece.low) * where.height
        shares = [y for x, y, said, _ in written if said.endswith("%") and box.x < x < box.right]
        assert all(abs(y - floor) > 5.0 for y in shares)


def test_a_floor_over_all_there_is_stands_at_its_own_pressure() -> None:
    """The scale of the columns reaches up to it: drawn at their top, it would seem to lack little."""
    first, *_ = compared()
    ledger = replace(first.ledger, floor=first.ledger.surface + 2.0 * first.ledger.spent)
    high = first._replace(ledger=ledger)
    (box,) = [box for _, box in painted([high]).columns]
    (placed,) = _placed(AREA, [high], 1.0, 210.0)
    surface, floor = _levels(placed)
    spent = max(each.bottom for _, each in placed.pieces) - min(each.y for _, each in placed.pieces)
    assert floor == pytest.approx(box.y, abs=0.1)
    assert surface - floor == pytest.approx(2.0 * spent, rel=0.01)


def test_what_a_slice_is_of_its_part_stays_on_one_line() -> None:
    ruler = Ruler()
    wide = ruler.width("pilot leg, straight") + 1.0
    assert _lines(ruler, "pilot leg, straight 1", wide) == ["pilot leg,", "straight 1"]
    assert _lines(ruler, "pilot leg, straight 1", 400.0) == ["pilot leg, straight 1"]


def test_each_name_says_the_share_of_a_slice_too_thin_for_it_and_stands_clear_of_what_is_given(
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    """Beside many thin slices names slip a line: in grey print the share tells which is meant."""
    written: list[tuple[float, str, float]] = []
    sound = Pencil.text

    def text(pencil: Pencil, x: float, y: float, said: str, ink: QColor, **how: Any) -> None:
        written.append((x, said.replace("\N{NO-BREAK SPACE}", " "), how.get("align", 0.0)))
        sound(pencil, x, y, said, ink, **how)

    monkeypatch.setattr(Pencil, "text", text)
    columns = [compared("header-two-pumps")[number] for number in (0, 2)]
    drawn = painted(columns)
    boxes = [box for _, box in drawn.columns]
    left = {said for x, said, align in written if align == 1.0 and x < boxes[0].x}
    right = {said for x, said, align in written if align == 0.0 and x > boxes[1].right}
    assert {"flooded head: −64 %", "split, branch"} <= left
    assert {"header, straight 1: 5 %"} <= right
    assert not any(said.startswith("flooded head") for said in right), "it lies on the other side"
    given = min(box.x for name, key, box in drawn.slices if key.endswith("/flooded head") and not name)
    assert all(x < given for x, said, align in written if align == 1.0 and x < boxes[0].x)
