"""The air column as painted, and the widget that points with the rest of the window."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QObject, QPoint, Signal
from pytestqt.qtbot import QtBot

from sketch.air_column.column import AirColumn, slice_at
from sketch.drawing.memory import Memory
from sketch.look.colours import LIGHT
from solver.findings.checks import Finding
from solver.findings.judgement import alone
from solver.findings.kinds import Severity
from solver.findings.outlook import Outlook, outlook
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Case, Layout
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System
from tests.sketch.air_column.columns import HEIGHT, WIDTH, case, middle, near, paint

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


@pytest.mark.parametrize("severity", [Severity.STOP, Severity.CAUTION])
def test_the_headline_is_never_better_than_the_worst_finding(severity: Severity) -> None:
    finding = Finding("x", severity, "a", "", 1.0, 2.0, Kind.LENGTH, "text", "why", "advice", "source")
    colours = {Severity.STOP: LIGHT.stop, Severity.CAUTION: LIGHT.caution}
    water = replace(case("within"), fluid=replace(case("within").fluid, viscosity=1e-6))  # no cold start
    for findings, colour in (((), LIGHT.good), ((finding,), colours[severity])):
        _, image = paint(water, findings=findings)
        assert near(image.pixelColor(17, 25), colour)


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


class Drawn(QObject):
    """The part of the open document that the column reads."""

    changed = Signal()
    pointed = Signal(str)
    selected = Signal(str)
    opened = Signal()
    failed = Signal(str)

    def __init__(self) -> None:
        super().__init__()
        self._drawn = case("within")
        self.solution: Solution | None = self._drawn
        self.refusal: tuple[tuple[str, str], ...] = ()
        self.pump, self.system, self.pointed_key, self.selected_part = "press", System.US, "", ""
        self.layout: Layout = self._drawn.layout
        self.ledger = self._drawn.pumps["press"]
        self.case = AS_DRAWN
        self.headline: Outlook | None = None  # in the place of the drawing's own

    findings = ()
    ledgers_of_other_cases = ()

    @property
    def outlook(self) -> Outlook | None:
        return self.headline or outlook(alone(self.solution, ()), System.US) if self.solution else None

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


def test_the_case_of_the_column_is_named_where_there_are_several(column: AirColumn) -> None:
    assert "shown:" not in column.accessibleDescription()
    before = column.grab().toImage()
    column._document.case = "a"
    column._document.layout = replace(column._document.layout, cases={"a": Case({}, {}, ())})
    column._document.changed.emit()
    assert column.grab().toImage() != before
    assert "shown: a" in column.accessibleDescription()


def test_the_scale_stays_while_one_change_follows_another(column: AirColumn, qtbot: QtBot) -> None:
    """A headline that needs another line would move every slice under the hand."""
    document = column._document
    top, room = dict(column.drawn.slices)["riser/straight 1"].y, column.drawn.headline
    document.changed.emit()
    document.changed.emit()
    long = Outlook(Severity.CAUTION, "Thin", "In the cold morning 12 kPa left, " * 4, "")
    document.headline = long
    document.changed.emit()
    column.repaint()
    assert column.drawn.headline == room
    assert dict(column.drawn.slices)["riser/straight 1"].y == top
    qtbot.waitUntil(lambda: column.grab() is not None and column.drawn.headline > room, timeout=2000)
    assert dict(column.drawn.slices)["riser/straight 1"].y > top
    assert "cold morning" in column.accessibleDescription()


def test_frames_by_the_memory_of_the_last_equal_those_from_nothing(column: AirColumn) -> None:
    document = column._document
    for name in ("within", "over", "flooded", "within"):
        document.solution = case(name)
        document.changed.emit()
        column.repaint()
        kept = column.grab().toImage()
        column._memory = Memory()
        assert column.grab().toImage() == kept
