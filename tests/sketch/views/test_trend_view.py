"""The trend of a strainer: worked out once it is seen, painted with its date, nothing of another drawing."""

from __future__ import annotations

from pathlib import Path

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.look.appearance import theme_of
from sketch.model.document import Document
from sketch.model.inspector import forecaster
from sketch.views.trend_view import NONE_YET, WORKING_OUT, TrendView
from tests.drawings import SHIPPED
from tests.sketch.pixels import places_near
from tests.sketch.views.gauged import over_months


@pytest.fixture
def document(tmp_path: Path) -> Document:
    document = Document(keeps=False)
    document.open(over_months(tmp_path))
    return document


def test_the_open_share_over_the_months_with_the_earliest_date(qtbot: QtBot, document: Document) -> None:
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
    document.apply("Warm", edits.set_temperature(document.layout, 320.0))
    assert view.plot.isHidden()
    document.open(SHIPPED[0])
    qtbot.waitUntil(lambda: forecaster(document).at_hand, timeout=20_000)
    assert view.words.text() == NONE_YET
