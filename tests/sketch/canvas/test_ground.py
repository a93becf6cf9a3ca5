"""The reach map behind the elevation: of the very drawing that is shown, or not there."""

from dataclasses import replace
from pathlib import Path

import numpy as np
import pytest
from PySide6.QtCore import QPointF, QRectF, Qt
from PySide6.QtGui import QImage
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.canvas.elevation import Elevation
from sketch.drawing import reach_ground
from sketch.editing import edits
from sketch.model.document import Document
from tests.sketch.shown import opened

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document() -> Document:
    return opened("baler-flooded")


@pytest.fixture
def elevation(qtbot: QtBot, document: Document) -> Elevation:
    elevation = Elevation(document)
    qtbot.addWidget(elevation)
    elevation.resize(960, 560)
    with qtbot.waitExposed(elevation):
        elevation.show()
    return elevation


def worked_out(qtbot: QtBot, elevation: Elevation) -> None:
    elevation.grab()
    qtbot.waitUntil(lambda: elevation.ground.shown(dragged=False) is not None, timeout=5000)
    elevation.grab()
    assert elevation._failsafe._reported == set(), "a sheet that says what failed is no map"


def largest_difference(one: QImage, other: QImage) -> int:
    """Of any colour of any pixel; a part that is painted again may differ in the last digit of an edge."""
    pixels = [np.frombuffer(each.constBits(), np.uint8).astype(int) for each in (one, other)]
    return int(abs(pixels[0] - pixels[1]).max())


def test_it_is_off_until_it_is_asked_for(elevation: Elevation) -> None:
    elevation.grab()
    assert not elevation.ground.on
    assert not elevation.ground._idle.isActive()


@pytest.mark.thorough
def test_switched_on_it_is_painted_behind_the_drawing(
    qtbot: QtBot, elevation: Elevation, monkeypatch: pytest.MonkeyPatch
) -> None:
    places: list[QRectF] = []
    sound = reach_ground._least_covered
    monkeypatch.setattr(
        reach_ground, "_least_covered", lambda *given: places.append(sound(*given)) or places[-1]
    )
    qtbot.waitUntil(lambda: not elevation._idle.isActive(), timeout=5000)
    plain, failures = elevation.grab().toImage(), []
    elevation._document.failed.connect(failures.append)
    elevation.ground.toggle()
    worked_out(qtbot, elevation)
    assert elevation.grab().toImage() != plain
    assert failures == []
    drawn = elevation.picture._drawn
    assert drawn is not None
    boxes = [drawn.scale_bar, *(label.box for label in drawn.labels)]
    assert not any(places[-1].intersects(QRectF(*box)) for box in boxes), "what the colours mean covers it"
    elevation.ground.toggle()
    assert largest_difference(elevation.grab().toImage(), plain) <= 1


@pytest.mark.thorough
def test_it_is_gone_at_once_when_the_drawing_changes(
    qtbot: QtBot, elevation: Elevation, document: Document
) -> None:
    elevation.ground.toggle()
    worked_out(qtbot, elevation)
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert elevation.ground.shown(dragged=False) is None
    worked_out(qtbot, elevation)
    answered = elevation.ground.answered
    assert answered is not None
    assert answered.question.of.layout is document.layout


@pytest.mark.thorough
def test_it_stays_while_the_pump_itself_is_dragged(
    qtbot: QtBot, elevation: Elevation, document: Document
) -> None:
    elevation.ground.toggle()
    worked_out(qtbot, elevation)
    elevation.grab()
    before = elevation.ground.shown(dragged=False)
    port = QPointF(*elevation.view.device(*(each.si for each in document.layout.pumps["baler"].at))).toPoint()
    QTest.mousePress(elevation, Qt.MouseButton.LeftButton, pos=port)
    for step in (6, 20, 40):
        QTest.mouseMove(elevation, port + type(port)(0, -step))
        QApplication.processEvents()
    elevation.grab()
    assert elevation.hand.drags("baler")
    assert elevation.ground._seen is before
    QTest.mouseRelease(elevation, Qt.MouseButton.LeftButton, pos=port + type(port)(0, -40))
    elevation.grab()
    assert elevation.ground._seen is None
    worked_out(qtbot, elevation)


def test_another_drawing_never_shows_the_map_of_the_last(
    qtbot: QtBot, elevation: Elevation, document: Document
) -> None:
    elevation.ground.toggle()
    worked_out(qtbot, elevation)
    document.open(LAYOUTS / "winter-press.toml")
    assert elevation.ground.shown(dragged=False) is None


def test_where_nothing_can_be_judged_it_is_not_asked_for_again_and_again(
    qtbot: QtBot, elevation: Elevation, document: Document
) -> None:
    pump = replace(document.layout.pumps["baler"], at_rest=True)
    document.apply("Rest", replace(document.layout, pumps={"baler": pump}))
    elevation.ground.toggle()
    elevation.grab()
    qtbot.waitUntil(lambda: elevation.ground.answered is not None, timeout=5000)
    elevation.grab()
    assert not elevation.ground._idle.isActive()
    assert elevation.ground._running is None
