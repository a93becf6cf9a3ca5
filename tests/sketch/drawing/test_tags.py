"""What a percentage says."""

from __future__ import annotations

import math
from collections.abc import Sequence
from itertools import pairwise

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.glyphs import Glyph
from sketch.drawing.labels import XY, Anchor, Box, Label, LabelKind, Wish
from sketch.drawing.painting import Drawn, fit, paint_elevation
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.pencil import Pencil
from sketch.drawing.placer import Placer
from sketch.drawing.recorder import Recorder
from sketch.drawing.tags import Tag, _reservoir_tag, percent, write
from sketch.look.colours import LIGHT
from solver.quantities.units import System
from tests.sketch.sheets import solution


@pytest.mark.parametrize(
    ("share", "text"),
    [
        (0.314, "31 %"),
        (1.62, "162 %"),
        (0.0149, "1 %"),
        (0.0096, "1 %"),
        (0.0094, "0.9 %"),
        (0.0004, "0.0 %"),
        (0.0, "0 %"),
        (-0.12, "−12 %"),
        (-0.004, "−0.4 %"),
        (-0.0001, "0.0 %"),
    ],
)
def test_a_share_in_per_cent(share: float, text: str) -> None:
    assert percent(share) == text


@pytest.mark.usefixtures("qapp")
def test_a_tank_whose_bottom_corners_are_full_has_its_name_elsewhere_in_it() -> None:
    image = QImage(600, 400, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    layout = solution("over-the-bund-wall").layout
    view = fit(layout, 600.0, 400.0)
    (name, tank), *_ = layout.reservoirs.items()
    corners = [view.device(x.si, y.si) for x, y in tank.outline]
    left, right = min(x for x, _ in corners), max(x for x, _ in corners)
    top, low = min(y for _, y in corners), max(y for _, y in corners)
    tag = _reservoir_tag(Pencil(painter), tank, name, view)
    placer = Placer(600.0, 400.0)
    for x in (left, right - tag.wish.width - 8.0):
        placer.block_text(Box(x, low - 40.0, tag.wish.width + 8.0, 80.0))
    place = placer.place(tag.wish)
    painter.end()
    assert place is not None
    assert left < place.box.x
    assert place.box.right < right
    assert top - tag.wish.height - 8.0 < place.box.y < low


def test_on_paper_a_share_without_room_for_its_name_stands_alone() -> None:
    wish = Wish("strainer", 200.0, 16.0, (Anchor(60.0, 60.0),))
    small = Wish("port", 40.0, 16.0, (Anchor(60.0, 60.0),))
    wanted = [
        Tag(wish, LabelKind.SHARE, "57 %", LIGHT.ink, "strainer", 40.0),
        Tag(small, LabelKind.SHARE, "2 %", LIGHT.ink, "", 40.0),
    ]
    image = QImage(120, 120, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    labels = write(Pencil(painter, 1.0), wanted, PaperPlacer(120.0, 120.0), LIGHT, "")
    painter.end()
    assert labels[0].text == "57 %"


def _on_paper(name: str, alternative: str, pump: str, size: XY) -> Drawn:
    solved = solution(name, alternative)
    return paint_elevation(
        Recorder(1.0, Box(0.0, 0.0, *size)), solved.layout, solved,
        fit(solved.layout, *size, true_scale=True), size, LIGHT, System.SI,
        pump=pump, legend=False, on_paper=True,
    )  # fmt: skip


def _past_others(label: Label, glyphs: Sequence[Glyph]) -> float:
    """How much of a label's leader lies over elements of other labels."""
    if label.leader is None:
        return 0.0
    (ax, ay), (bx, by) = label.leader
    others = [glyph for glyph in glyphs if glyph.key != label.key]
    steps = [(ax + (bx - ax) * at / 100, ay + (by - ay) * at / 100) for at in range(101)]
    over = sum(any(_apart(step, glyph) <= glyph.width / 2 for glyph in others) for step in steps)
    return over / len(steps) * math.dist(*label.leader)


def _apart(point: XY, glyph: Glyph) -> float:
    """How far a point is from the centre line of an element."""
    if len(glyph.points) < 2:
        return math.dist(point, glyph.points[0])
    best, (x, y) = math.inf, point
    for (px, py), (qx, qy) in pairwise(glyph.points):
        long = (qx - px) ** 2 + (qy - py) ** 2
        share = ((x - px) * (qx - px) + (y - py) * (qy - py)) / long if long else 0.0
        share = min(max(share, 0.0), 1.0)
        best = min(best, math.dist(point, (px + share * (qx - px), py + share * (qy - py))))
    return best


@pytest.mark.usefixtures("qapp")
@pytest.mark.parametrize(
    ("name", "alternative", "pump", "size"),
    [
        ("baler-flooded", "", "baler", (600.0, 240.0)),
        ("carriage-at-altitude", "Pump beside the tank", "carriage", (580.0, 220.0)),
        ("header-two-pumps", "Three-inch header", "main", (640.0, 240.0)),
    ],
)
def test_no_leader_of_a_share_alone_runs_along_the_line_on_paper(
    name: str, alternative: str, pump: str, size: XY
) -> None:
    """It would be read as that of the element where it ends."""
    drawn = _on_paper(name, alternative, pump, size)
    shares = [label for label in drawn.labels if label.kind == LabelKind.SHARE]
    assert shares
    alone = [label for label in shares if label.text.endswith("%")]
    assert max((_past_others(label, drawn.glyphs) for label in alone), default=0.0) < 60.0


@pytest.mark.usefixtures("qapp")
def test_on_paper_a_line_without_room_for_its_size_has_its_name_alone() -> None:
    """The text beside a drawing speaks of lines by their names."""
    solved = solution("over-the-bund-wall")

    def name_of_crossing(size: XY) -> str:
        image = QImage(int(size[0]), int(size[1]), QImage.Format.Format_RGB32)
        painter, view = QPainter(image), fit(solved.layout, *size)
        system = System.SI
        drawn = paint_elevation(
            painter, solved.layout, solved, view, size, LIGHT, system, pump="transfer", on_paper=True
        )
        painter.end()
        names = (each.text for each in drawn.labels if each.kind is LabelKind.BORE)
        return next((text for text in names if text.startswith("crossing")), "")

    assert name_of_crossing((1600.0, 900.0)) == "crossing  NPS 3 schedule 40"
    assert "crossing" in {name_of_crossing((float(width), width * 0.66)) for width in range(340, 500, 20)}
