"""The picture of the elevation: kept from frame to frame, and always what a full repaint would give."""

from __future__ import annotations

import random
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRect, QSettings, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas import highest
from sketch.drawing.painting import paint_elevation
from sketch.look.appearance import ThemeChoice
from sketch.model.pins import pins
from sketch.window.main_window import Window, make_window

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


def at_once(window: Window) -> QImage:
    """The drawing that the window shows, painted from nothing."""
    canvas, document = window.workspace.elevation, window.document
    size = (canvas.width(), canvas.height())
    image = QImage(*size, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    paint_elevation(
        painter, document.layout, document.solution, canvas.view, size, canvas.theme, document.system,
        pump=document.pump, pointed=document.pointed_key, selected=document.selection,
        highest_port=canvas.highest_port, trouble=[part for part, _ in document.refusal],
        marks=pins(document).shown,
    )  # fmt: skip
    painter.end()
    return image


def opened(path: Path, choice: ThemeChoice, qtbot: QtBot, qapp: QApplication, folder: Path) -> Window:
    settings = QSettings(str(folder / "window.ini"), QSettings.Format.IniFormat)
    window = make_window(qapp, settings, choice, keeps=False)
    qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
    assert window.files.read(path)
    window.resize(1200, 800)
    with qtbot.waitExposed(window):
        window.show()
    return window


def test_only_what_changes_is_painted_again(qtbot: QtBot, qapp: QApplication, tmp_path: Path) -> None:
    window = opened(LAYOUTS[1], ThemeChoice.LIGHT, qtbot, qapp, tmp_path)
    canvas, document = window.workspace.elevation, window.document
    canvas.repaint()
    canvas.repaint()
    assert canvas.picture.repainted == 0.0
    document.select(next(iter(document.layout.intakes)))
    canvas.repaint()
    assert 0.0 < canvas.picture.repainted < 0.2
    assert canvas.picture.image() == at_once(window)
    document.point(document.ledger.entries[-1].key if document.ledger else "")
    canvas.repaint()
    assert 0.0 < canvas.picture.repainted < 0.4
    assert canvas.picture.image() == at_once(window)
    canvas.zoom(1.1)
    canvas.repaint()
    assert canvas.picture.repainted == 1.0
    assert canvas.picture.image() == at_once(window)


def on_screen(window: Window) -> QImage:
    """The sheet as frame by frame has left it on the screen."""
    canvas = window.workspace.elevation
    place = QRect(canvas.mapTo(window, QPoint()), canvas.size())
    return window.screen().grabWindow(window.winId()).toImage().copy(place)


class Paints(QObject):
    """Keeps what of a widget is painted, time by time."""

    def __init__(self) -> None:
        super().__init__()
        self.areas: list[QRect] = []

    def eventFilter(self, thing: QObject, event: QEvent) -> bool:
        if isinstance(event, QPaintEvent):
            self.areas.append(event.rect())
        return False


def test_a_small_part_of_the_sheet_is_painted_in_a_drag_and_nothing_stays_behind(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
    window = opened(path, ThemeChoice.LIGHT, qtbot, qapp, tmp_path)
    monkeypatch.setattr(highest, "OLDEST", 3600.0)  # its line would move between two frames
    canvas, layout = window.workspace.elevation, window.document.layout
    paints = Paints()
    canvas.installEventFilter(paints)
    pump, tank = (next(iter(group.values())) for group in (layout.pumps, layout.reservoirs))
    bends = [run.via[0] for run in layout.runs.values() if run.via]
    for x, y in (pump.at, (tank.outline[0][0], tank.minimum_level), bends[0]):
        start = QPointF(*canvas.view.device(x.si, y.si)).toPoint()
        QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
        QApplication.processEvents()
        paints.areas.clear()
        for step in range(1, 7):
            QTest.mouseMove(canvas, start + QPoint(step // 3, -3 * step))
            QApplication.processEvents()
            assert on_screen(window) == canvas.grab().toImage()
            paints.areas.pop()  # of what was grabbed
        shares = [area.width() * area.height() / canvas.width() / canvas.height() for area in paints.areas]
        assert x is not pump.at[0] or sorted(shares)[len(shares) // 2] < 0.5
        QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
        QApplication.processEvents()
        assert on_screen(window) == canvas.grab().toImage()


@pytest.mark.thorough
@pytest.mark.parametrize("choice", [ThemeChoice.LIGHT, ThemeChoice.DARK])
@pytest.mark.parametrize("path", LAYOUTS, ids=[path.stem for path in LAYOUTS])
def test_every_frame_of_a_random_drag_equals_a_full_repaint(
    path: Path,
    choice: ThemeChoice,
    qtbot: QtBot,
    qapp: QApplication,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    window = opened(path, choice, qtbot, qapp, tmp_path)
    monkeypatch.setattr(highest, "OLDEST", 3600.0)  # its line would move between two frames
    canvas, choose = window.workspace.elevation, random.Random(path.stem)
    for _ in range(6):
        if choose.random() < 0.7:
            at = QPointF(*choose.choice(canvas.targets.glyphs).middle).toPoint()
        else:
            at = QPoint(choose.randrange(60, canvas.width()), choose.randrange(20, canvas.height() - 30))
        QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
        for _ in range(10):
            at += QPoint(choose.randrange(-9, 10), choose.randrange(-9, 10))
            QTest.mouseMove(canvas, at)
            QApplication.processEvents()
            if canvas.hand.dragging:  # readings may be compared meanwhile, and shown with the next events
                qtbot.waitUntil(lambda: on_screen(window) == canvas.grab().toImage())
            canvas.repaint()
            assert canvas.picture.image() == at_once(window)
        QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
