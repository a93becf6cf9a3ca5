"""The air column as painted, and the widget that points with the rest of the window."""

from __future__ import annotations

from itertools import pairwise

import pytest
from PySide6.QtCore import QObject, QPoint, QRectF, Signal
from PySide6.QtGui import QColor, QImage, QPainter
from pytestqt.qtbot import QtBot

from sketch.air_column.column import AirColumn, ColumnDrawn, paint_column, slice_at
from sketch.drawing.labels import Box
from sketch.look.colours import DARK, LIGHT, Theme
from solver.findings.checks import Finding
from solver.findings.kinds import Severity
from solver.findings.outlook import Outlook, outlook
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System
from tests.sketch import samples

WIDTH, HEIGHT = 320, 600

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")

CASES = {
    "within": samples.ledger(samples.SHARES),
    "over": samples.ledger({key: share * 1.7 for key, share in samples.SHARES.items()}),
    "far over": samples.ledger({key: share * 4 for key, share in samples.SHARES.items()}),
    "flooded": samples.ledger({"tank/flooded head": -0.4, **samples.SHARES}, surface=99_000.0),
    "no budget": samples.ledger(samples.SHARES, budget=-6_000.0),
    "high up": samples.ledger(samples.SHARES, budget=4_000.0, atmosphere=70_000.0),
    "breather": samples.ledger(samples.SHARES, surface=92_000.0),
}


def paint(
    solution: Solution | None, pointed: str = "", theme: Theme = LIGHT, height: int = HEIGHT, **how: object
) -> tuple[ColumnDrawn, QImage]:
    image = QImage(WIDTH, height, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    area = QRectF(0, 0, WIDTH, height)
    drawn = paint_column(painter, area, solution, "press", theme, System.US, pointed, **how)  # type: ignore[arg-type]
    painter.end()
    return drawn, image


def case(name: str) -> Solution:
    return samples.solution(made_ledger=CASES[name])


def near(one: QColor, other: QColor) -> bool:
    return all(abs(a - b) <= 2 for a, b in zip(one.getRgb()[:3], other.getRgb()[:3], strict=True))


def middle(box: Box) -> tuple[int, int]:
    return round(box.x + box.width * 0.7), round(box.y + box.height / 2)


@pytest.mark.parametrize("name", CASES)
@pytest.mark.parametrize("height", [300, 600, 1100])
def test_no_label_covers_another_and_none_leaves_the_panel(name: str, height: int) -> None:
    drawn, _ = paint(case(name), height=height)
    boxes = [label.box for label in drawn.labels]
    assert boxes
    assert all(one.bottom <= other.y + 1e-6 for one, other in pairwise(boxes))
    assert boxes[-1].bottom <= height
    assert all(box.right <= WIDTH for box in boxes)


def test_slices_lie_end_to_end_in_walking_order() -> None:
    drawn, _ = paint(case("within"))
    assert [key for key, _ in drawn.slices] == list(samples.SHARES)
    assert all(above.bottom == pytest.approx(below.y) for (_, above), (_, below) in pairwise(drawn.slices))


@pytest.mark.parametrize("theme", [LIGHT, DARK], ids=lambda theme: theme.name)
def test_a_slice_has_the_colour_its_element_has_in_the_drawing(theme: Theme) -> None:
    drawn, image = paint(case("within"), theme=theme)
    box = dict(drawn.slices)["riser/straight 1"]
    assert near(image.pixelColor(*middle(box)), theme.classes[6])


def test_the_slice_past_the_floor_is_cross_hatched() -> None:
    def plain(name: str, key: str, colour: QColor) -> float:
        drawn, image = paint(case(name))
        box = dict(drawn.slices)[key]
        points = [
            (x, y)
            for x in range(round(box.x) + 3, round(box.right) - 3)
            for y in range(round(box.y) + 2, round(box.bottom) - 2)
        ]
        return sum(near(image.pixelColor(x, y), colour) for x, y in points) / len(points)

    assert plain("within", "lead/straight 1", LIGHT.classes[3]) > 0.95
    assert plain("over", "lead/straight 1", LIGHT.classes[3]) < 0.75


def test_what_is_pointed_at_is_outlined_and_named_in_bold() -> None:
    drawn, image = paint(case("within"), "riser/straight 1")
    box = dict(drawn.slices)["riser/straight 1"]
    assert near(image.pixelColor(round(box.x) - 3, round(box.y + box.height / 2)), LIGHT.halo)


@pytest.mark.parametrize("severity", [Severity.STOP, Severity.CAUTION])
def test_the_headline_is_never_better_than_the_worst_finding(severity: Severity) -> None:
    found = Finding("x", severity, "a", "", 1.0, 2.0, Kind.LENGTH, "text", "why", "advice", "source")
    colours = {Severity.STOP: LIGHT.stop, Severity.CAUTION: LIGHT.caution}
    for findings, colour in (((), LIGHT.good), ((found,), colours[severity])):
        _, image = paint(case("within"), findings=findings)
        assert near(image.pixelColor(17, 25), colour)


def test_refused_it_is_grey_and_says_why() -> None:
    drawn, image = paint(None, refusal=(("riser", "ends in the air at 2.0 m, 1.4 m"),))
    assert drawn == ColumnDrawn((), ())
    coloured = [
        image.pixelColor(x, y) for x in range(0, WIDTH, 3) for y in range(0, HEIGHT, 3)
        if image.pixelColor(x, y).hslSaturationF() > 0.35 and image.pixelColor(x, y).lightness() < 240
    ]  # fmt: skip
    assert not coloured
    blank, without = paint(None)
    assert blank == drawn
    assert image != without


def test_a_slice_and_its_label_are_both_found_by_the_hand() -> None:
    drawn, _ = paint(case("within"))
    for key, box in drawn.slices:
        if box.height > 4:
            assert slice_at(drawn, *middle(box)) == key
    for label in drawn.labels:
        x, y = label.box.x + 10, label.box.y + label.box.height / 2
        assert slice_at(drawn, x, y) == label.key
    assert slice_at(drawn, 5, 5) == ""


def test_a_credit_is_pointed_at_in_its_lane_and_what_it_pays_for_beside_it() -> None:
    drawn, _ = paint(case("flooded"))
    boxes = dict(drawn.slices)
    credit, spent = boxes["tank/flooded head"], boxes["riser/straight 1"]
    y = max(credit.y, spent.y) + 3
    assert y < min(credit.bottom, spent.bottom)
    assert slice_at(drawn, credit.x + credit.width / 2, y) == "tank/flooded head"
    assert slice_at(drawn, credit.right + 20, y) == "riser/straight 1"


def test_thin_slices_keep_their_colour() -> None:
    """Edges drawn round each of them would leave nothing else to see."""
    share = 0.4 / 60
    thin = samples.ledger({f"riser/straight {k}": share for k in range(60)})
    drawn, image = paint(samples.solution(made_ledger=thin))
    first, last = drawn.slices[0][1], drawn.slices[-1][1]
    x = round(first.x + first.width / 2)
    column = [image.pixelColor(x, y) for y in range(round(first.y) + 2, round(last.bottom) - 2)]
    assert len(column) > 100
    assert sum(near(colour, LIGHT.classes[1]) for colour in column) > 0.9 * len(column)


class Drawn(QObject):
    """The part of the open document that the column reads."""

    changed = Signal()
    pointed = Signal(str)
    selected = Signal(str)
    opened = Signal()
    failed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self.solution: Solution | None = case("within")
        self.refusal: tuple[tuple[str, str], ...] = ()
        self.pump, self.system, self.pointed_key, self.selected_part = "press", System.US, "", ""

    findings = ()

    @property
    def outlook(self) -> Outlook | None:
        return outlook(self.solution, (), "press", System.US) if self.solution else None

    def point(self, key: str) -> None:
        self.pointed_key = key
        self.pointed.emit(key)

    def select(self, part: str) -> None:
        self.selected_part = part


@pytest.fixture
def column(qtbot: QtBot) -> AirColumn:
    document = Drawn()
    widget = AirColumn(document)  # type: ignore[arg-type]
    document.setParent(widget)
    qtbot.addWidget(widget)
    widget.resize(WIDTH, HEIGHT)
    widget.show()
    widget.grab()
    return widget


def test_moving_over_a_slice_points_at_it_and_leaving_lets_go(column: AirColumn, qtbot: QtBot) -> None:
    document = column._document
    box = dict(column.drawn.slices)["riser/straight 1"]
    qtbot.mouseMove(column, QPoint(*middle(box)))
    assert document.pointed_key == "riser/straight 1"
    qtbot.mouseMove(column, QPoint(3, 3))
    assert document.pointed_key == ""


def test_clicking_a_slice_selects_its_part(column: AirColumn, qtbot: QtBot) -> None:
    from PySide6.QtCore import Qt

    box = dict(column.drawn.slices)["riser/straight 1"]
    qtbot.mouseClick(column, Qt.MouseButton.LeftButton, pos=QPoint(*middle(box)))
    assert column._document.selected_part == "riser"


def test_pointing_elsewhere_lights_the_slice(column: AirColumn) -> None:
    before = column.grab().toImage()
    column._document.point("riser/straight 1")
    assert column.grab().toImage() != before


def test_the_column_is_told_in_words(column: AirColumn) -> None:
    assert "46 % riser, straight 1" in column.accessibleDescription()
    column._document.solution = None
    column._document.changed.emit()
    column.grab()
    assert column.accessibleDescription() == "no result"
