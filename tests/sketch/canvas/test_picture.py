"""The picture of the elevation: kept from frame to frame, and always what a full repaint would give."""

from __future__ import annotations

import gc
import random
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRect, QSettings, Qt
from PySide6.QtGui import QImage, QPainter, QPaintEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas import highest
from sketch.drawing.glyphs import pump_circle
from sketch.drawing.labels import Label
from sketch.drawing.painting import Drawn, paint_elevation
from sketch.look.appearance import ThemeChoice
from sketch.model import pace as pace_module
from sketch.model.pace import pace
from sketch.model.pins import pins
from sketch.window.main_window import Window, make_window
from solver.ledger.solve import PumpLedger

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


def at_once(window: Window) -> QImage:
    """The drawing that the window shows, painted from nothing."""
    return _at_once(window)[0]


def placed_anew(window: Window) -> tuple[Label, ...]:
    """Its labels, placed from nothing."""
    return _at_once(window)[1].labels


def _at_once(window: Window) -> tuple[QImage, Drawn]:
    canvas, document = window.workspace.elevation, window.document
    size = (canvas.width(), canvas.height())
    image = QImage(*size, QImage.Format.Format_RGB32)
    painter = QPainter(image)
    drawn = paint_elevation(
        painter, document.layout, document.solution, canvas.view, size, canvas.theme, document.system,
        pump=document.pump, pointed=document.pointed_key, selected=document.selection,
        highest_port=canvas.highest_port, trouble=[part for part, _ in document.refusal],
        marks=pins(document).shown,
    )  # fmt: skip
    painter.end()
    return image, drawn


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
    monkeypatch.setattr(pace_module, "LATEST", 3600.0)  # and so would labels
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


def test_in_a_drag_labels_have_places_looked_for_at_its_pace_and_go_along_between(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opened(
        Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml",
        ThemeChoice.LIGHT, qtbot, qapp, tmp_path,
    )  # fmt: skip
    monkeypatch.setattr(highest, "OLDEST", 3600.0)  # its line would move between two frames
    monkeypatch.setattr(pace_module, "LATEST", 0.5)  # a frame may take long here
    canvas, document = window.workspace.elevation, window.document
    passed, (name, pump) = pace(document), next(iter(document.layout.pumps.items()))

    def apart() -> tuple[float, float]:
        """From the pump's symbol to its name."""
        x, y, _ = pump_circle(document.layout, name, canvas.view)
        box = next(label.box for label in canvas.picture.labels if label.key == name)
        return box.x - x, box.y - y

    start = QPointF(*canvas.view.device(*(value.si for value in pump.at))).toPoint()
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    held, last, count = 0, apart(), -1
    for step in range(4, 24):
        before = canvas.picture.labels
        QTest.mouseMove(canvas, start + QPoint(step, -3 * step))
        QApplication.processEvents()
        canvas.repaint()  # where the time to pass a change on has come with the last events
        if passed.passed_on != count:
            count, last = passed.passed_on, apart()
            assert canvas.picture.labels == placed_anew(window)
        elif canvas.picture.labels != before:
            held += 1
            assert apart() == pytest.approx(last, abs=1e-6)
    assert held > 4
    assert canvas.hand.dragging
    qtbot.waitUntil(lambda: canvas.picture.labels == placed_anew(window))  # the hand holds still
    assert on_screen(window) == canvas.grab().toImage()
    QTest.mouseMove(canvas, start + QPoint(30, -90))
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start)
    canvas.repaint()
    assert canvas.picture.image() == at_once(window)


def test_frames_of_a_drag_leave_no_ledger_behind(
    qtbot: QtBot, qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(highest, "OLDEST", 0.0)
    monkeypatch.setattr(highest, "SHARE", 1.0)  # it is asked for with every frame
    path = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
    window = opened(path, ThemeChoice.LIGHT, qtbot, qapp, tmp_path)
    canvas, layout = window.workspace.elevation, window.document.layout
    start = QPointF(*canvas.view.device(*(value.si for value in next(iter(layout.pumps.values())).at)))
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start.toPoint())
    for step in range(1, 31):
        QTest.mouseMove(canvas, start.toPoint() + QPoint(step, -2 * step))
        QApplication.processEvents()
        if step == 10:
            before = ledgers_alive()
    assert ledgers_alive() < before + 4, "cycles hold them until cycles are looked for"
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, start.toPoint())


def ledgers_alive() -> int:
    """How many ledgers nobody has let go of."""
    return sum(isinstance(each, PumpLedger) for each in gc.get_objects())


@pytest.mark.thorough
@pytest.mark.parametrize("frames", [1, pace_module.FRAMES], ids=["each placed", "at the pace"])
@pytest.mark.parametrize("choice", [ThemeChoice.LIGHT, ThemeChoice.DARK])
@pytest.mark.parametrize("path", LAYOUTS, ids=[path.stem for path in LAYOUTS])
def test_every_frame_of_a_random_drag_equals_a_full_repaint(
    path: Path,
    choice: ThemeChoice,
    frames: int,
    qtbot: QtBot,
    qapp: QApplication,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    monkeypatch.setattr(pace_module, "FRAMES", frames)  # of which one has places of labels looked for
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
            assert frames > 1 or canvas.picture.image() == at_once(window)
        QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier, at)
        canvas.repaint()
        assert canvas.picture.image() == at_once(window)
