"""What a percentage says."""

from __future__ import annotations

import pytest
from PySide6.QtGui import QImage, QPainter

from sketch.drawing.labels import Anchor, Box, LabelKind, Placer, Wish
from sketch.drawing.painting import fit
from sketch.drawing.paper_places import PaperPlacer
from sketch.drawing.pencil import Pencil
from sketch.drawing.tags import Tag, _reservoir_tag, percent, write
from sketch.look.colours import LIGHT
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
