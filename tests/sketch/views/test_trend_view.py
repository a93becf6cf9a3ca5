"""The trend of a strainer: worked out once it is seen, painted with its date, nothing of another drawing."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.drawing.labels import Box
from sketch.drawing.pencil import Pencil
from sketch.editing import edits
from sketch.look.appearance import theme_of
from sketch.look.words import typographic
from sketch.model.document import Document
from sketch.model.inspector import diagnostician, forecaster
from sketch.views import trend_scale
from sketch.views.trend_view import NONE_YET, WORKING_OUT, TrendView
from solver.field.diagnosis import against_trend
from tests.drawings import SHIPPED
from tests.sketch.pixels import places_near
from tests.sketch.views.gauged import over_months


@pytest.fixture
def document(tmp_path: Path) -> Document:
    document = Document(keeps=False)
    document.open(over_months(tmp_path))
    return document


def words_cover_no_reading(view: TrendView, monkeypatch: pytest.MonkeyPatch) -> None:
    """At any size; some are left out where it is small."""
    trend, written = view.plot.trend, list[tuple[str, Box]]()

    def text(pencil: Pencil, x: float, y: float, text: str, *given: object, **named: object) -> None:
        if given[0] == theme_of(view.palette()).limit:
            written.append((text, Box(x, y - 5.0, pencil.width(text), 10.0)))

    assert trend is not None
    monkeypatch.setattr(Pencil, "text", text)
    count = []
    for wide, high in ((700, 260), (400, 140), (260, 120), (200, 90)):
        written.clear()
        view.plot.resize(wide, high)
        view.plot.grab()
        count.append(len(written))
        area, scale = view.plot._area(), trend_scale.scale_of(trend)
        for point in trend.points:
            x = area.x + scale.across(point.when) * area.width
            top, foot = (area.bottom - share * area.height for share in (point.high, point.low))
            band = Box(x - 1.0, top, 2.0, foot - top)
            assert not [text for text, box in written if box.overlaps(band)], (wide, high)
        boxes = [box for _, box in written]
        assert not any(one.overlaps(other) for at, one in enumerate(boxes) for other in boxes[:at])
    assert count[0] == 2, "a large plot has both"


def test_the_open_share_over_the_months_with_the_earliest_date(
    qtbot: QtBot, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    view = TrendView(document)
    qtbot.addWidget(view)
    view.resize(600, 260)
    with qtbot.waitExposed(view):
        view.show()
    assert view.words.text() == WORKING_OUT
    assert view.plot.isHidden()
    qtbot.waitUntil(lambda: forecaster(document).at_hand, timeout=20_000)
    assert " at the earliest, on 2026-" in view.words.text()
    assert view.plot.trend is not None
    assert len(view.plot.trend.points) == 5
    accent = theme_of(view.palette()).accent
    image = view.plot.grab().toImage()
    assert places_near(image, accent, 0), "points are drawn"
    edge = image.copy(image.width() - 4, 0, 4, image.height())
    assert not places_near(edge, theme_of(view.palette()).quiet, 40), "the last date stands clear of the edge"
    words_cover_no_reading(view, monkeypatch)
    view.resize(260, 130)
    QApplication.processEvents()
    inner = view.widget()
    assert view.words.height() >= view.words.heightForWidth(view.words.width()), "no line is cut"
    assert view.plot.height() >= view.plot.minimumHeight()
    assert view.verticalScrollBar().maximum() == inner.height() - view.viewport().height() > 0
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert view.plot.isHidden()
    document.open(SHIPPED[0])
    qtbot.waitUntil(lambda: forecaster(document).at_hand, timeout=20_000)
    assert view.words.text() == NONE_YET


@pytest.mark.thorough
def test_that_another_cause_is_likelier_stands_beside_the_trend(qtbot: QtBot, tmp_path: Path) -> None:
    path = over_months(tmp_path)
    path.write_text(path.read_text("utf-8") + 'filler_cap = "changed"\n', "utf-8")
    document = Document(keeps=False)
    document.open(path)
    view = TrendView(document)
    qtbot.addWidget(view)
    view.resize(240, 260)
    with qtbot.waitExposed(view):
        view.show()
    qtbot.waitUntil(lambda: forecaster(document).at_hand, timeout=20_000)
    diagnosing = diagnostician(document)
    qtbot.waitUntil(lambda: diagnosing.at_hand, timeout=20_000)
    assert diagnosing.diagnosis is not None
    assert view.plot.trend is not None
    against = against_trend(diagnosing.diagnosis, view.plot.trend.screen)
    assert "is not the likeliest cause" in against
    assert typographic(against) in view.words.text()
