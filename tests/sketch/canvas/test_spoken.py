"""What a screen reader is given, asked through Qt's own interface, while real keys and clicks work."""

from __future__ import annotations

from dataclasses import replace

import pytest
from PySide6.QtCore import QEvent, Qt
from PySide6.QtGui import QAccessible, QAccessibleAnnouncementEvent
from PySide6.QtTest import QTest
from pytestqt.qtbot import QtBot

from sketch.canvas import spoken
from sketch.canvas.elevation import Elevation
from sketch.drawing.tags import percent
from solver.quantities import units
from solver.quantities.units import Kind
from tests.sketch.canvas.mouse import LEFT, NONE, document_of, drag, send, spot


def read_out(canvas: Elevation) -> str:
    interface = QAccessible.queryAccessibleInterface(canvas)
    assert interface.text(QAccessible.Text.Name) == "Elevation"
    return interface.text(QAccessible.Text.Description)


@pytest.fixture
def events(monkeypatch: pytest.MonkeyPatch) -> list[tuple[str, QAccessible.AnnouncementPoliteness]]:
    """What is handed to the desktop's accessibility, in turn."""
    handed: list[tuple[str, QAccessible.AnnouncementPoliteness]] = []

    class Desktop:
        AnnouncementPoliteness = QAccessible.AnnouncementPoliteness

        @staticmethod
        def updateAccessibility(event: QAccessibleAnnouncementEvent) -> None:
            handed.append((event.message(), event.politeness()))

    monkeypatch.setattr(spoken, "QAccessible", Desktop)
    return handed


def test_what_is_dragged_is_described_when_it_is_let_go(canvas: Elevation) -> None:
    QTest.mouseClick(canvas, LEFT, NONE, spot(canvas, 0.6, 1.0))
    selected, margin = read_out(canvas), document_of(canvas).ledger.margin
    drag(canvas, (0.6, 1.0), (0.6, 1.2), (0.6, 1.3), release=False)
    assert document_of(canvas).ledger.margin < margin
    assert read_out(canvas) == selected
    send(canvas, QEvent.Type.MouseButtonRelease, spot(canvas, 0.6, 1.3))
    assert read_out(canvas) != selected


def test_what_is_selected_is_described_with_its_share_and_figures(canvas: Elevation) -> None:
    document = document_of(canvas)
    assert "Selected" not in read_out(canvas)
    QTest.mouseClick(canvas, LEFT, NONE, spot(canvas, 0.6, 0.75))
    (entry,) = (each for each in document.ledger.entries if each.part == "riser")
    text = read_out(canvas)
    assert f"Selected: riser, line from strainer to carriage, {document.layout.runs['riser'].size};" in text
    assert f" {percent(entry.share)} of the budget, lift " in text
    assert f"loss {units.show(entry.loss, Kind.VACUUM, document.system)}." in text
    document.select_all(("strainer", "riser"))
    assert "Selected: 2 parts, 1 intake, 1 line; " in read_out(canvas)
    document.select("tank")
    assert "tank, reservoir, minimum level " in read_out(canvas)
    assert "not on the way to carriage" in read_out(canvas)
    QTest.keyClick(canvas, Qt.Key.Key_Escape)
    assert "Selected" not in read_out(canvas)


def test_a_part_without_a_ledger_gets_no_figure(canvas: Elevation) -> None:
    document = document_of(canvas)
    cold = units.quantity("-60 degC", Kind.TEMPERATURE)
    document.select("riser")
    fluid = replace(document.layout.fluid, temperature=cold)
    document.apply("Freeze", replace(document.layout, fluid=fluid))
    assert document.solution is None
    assert "Not calculated: " in read_out(canvas)
    assert read_out(canvas).endswith("; not calculated.")


@pytest.mark.thorough
def test_changes_are_spoken_once_at_rest_and_a_new_verdict_over_all_else(
    canvas: Elevation, qtbot: QtBot, events: list[tuple[str, QAccessible.AnnouncementPoliteness]]
) -> None:
    document, polite = document_of(canvas), QAccessible.AnnouncementPoliteness.Polite
    QTest.mouseClick(canvas, LEFT, NONE, spot(canvas, 0.6, 1.0))
    assert events == [(spoken.selected_text(document), polite)]
    with qtbot.waitSignal(canvas.speaker.announced):
        QTest.keyClick(canvas, Qt.Key.Key_Up)
        QTest.keyClick(canvas, Qt.Key.Key_Up)
    assert len(events) == 2, "two steps in a row are spoken once"
    moved = document.undo_stack.undoText()
    assert moved.startswith("Move carriage to height 1.02 m")
    assert events[1][0].startswith(f"{moved}. Margin ")
    within = document.outlook.word
    while document.outlook.word == within:
        QTest.keyClick(canvas, Qt.Key.Key_Up, Qt.KeyboardModifier.ShiftModifier)
    qtbot.waitUntil(lambda: events[-1][1] is QAccessible.AnnouncementPoliteness.Assertive)
    text = events[-1][0]
    moved = document.undo_stack.undoText()
    assert text == f"{moved}. {document.outlook.word}. {document.outlook.headline}."
    with qtbot.waitSignal(canvas.speaker.announced):
        document.undo_stack.undo()
    assert events[-1][0].startswith(f"Undone: {moved}. ")
