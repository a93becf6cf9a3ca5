"""The Causes view: weighed off the hand's thread, the visit chosen, a cause put into the drawing."""

from __future__ import annotations

from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from sketch.model.inspector import diagnostician
from sketch.views.causes_view import NONE_YET, WORKING_OUT, CausesView
from tests.drawings import SHIPPED
from tests.sketch.shown import shown
from tests.sketch.views.gauged import gauged
from tests.sketch.views.scrolling import at_top, scrolled


@pytest.fixture
def document(tmp_path: Path) -> Document:
    document = Document(keeps=False)
    document.open(gauged(tmp_path))
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> CausesView:
    return shown(qtbot, CausesView(document), 1100, 400)


def explained(qtbot: QtBot, document: Document) -> None:
    qtbot.waitUntil(lambda: diagnostician(document).at_hand, timeout=20_000)


def test_the_latest_visit_is_explained_and_stop_is_its_first_word(
    qtbot: QtBot, view: CausesView, document: Document
) -> None:
    assert view.heading.text() == WORKING_OUT
    assert view.rows == ()
    explained(qtbot, document)
    assert view.heading.text().startswith("Stop the pump")
    assert view.rows
    assert view.visit.currentText() == "2026-04-01"
    assert [view.visit.itemText(at) for at in range(view.visit.count())][1:3] == ["2026-03-04", "2026-02-01"]


def test_another_visit_and_what_was_put_in_is_one_undo_step(
    qtbot: QtBot, view: CausesView, document: Document
) -> None:
    explained(qtbot, document)
    view.visit.setFocus()
    qtbot.keyClick(view.visit, Qt.Key.Key_Down)
    assert diagnostician(document).visit == "2026-03-04"
    assert view.heading.text() == WORKING_OUT
    explained(qtbot, document)
    assert not view.heading.text().startswith("Stop")
    before, cases = document.alternatives, set(document.layout.cases)
    at = [at for at, row in enumerate(view.rows) if row.words.may_put_in][1]
    name = view.rows[at].words.name
    item = view.table.item(at, 0)
    view.table.scrollToItem(item)
    qtbot.mouseClick(
        view.table.viewport(), Qt.MouseButton.LeftButton, pos=view.table.visualItemRect(item).center()
    )
    assert "For it" in view.page.toPlainText()
    qtbot.mouseClick(view.put, Qt.MouseButton.LeftButton)
    assert (document.alternatives, set(document.layout.cases)) != (before, cases)
    assert view.below.text().startswith("Kept as the ")
    assert view.below.isVisible()
    document.undo_stack.undo()
    assert (document.alternatives, set(document.layout.cases)) == (before, cases)
    assert not view.below.isVisible(), "it is kept no more"
    explained(qtbot, document)
    assert view.chosen is not None
    assert view.chosen.words.name == name != view.rows[0].words.name


def test_without_a_reading_there_is_nothing_to_explain(
    qtbot: QtBot, view: CausesView, document: Document
) -> None:
    document.open(SHIPPED[0])
    assert view.heading.text() == NONE_YET
    assert "stands here" in view.page.toPlainText(), "it says what will"
    assert view.rows == ()
    assert not view.put.isEnabled()
    (line, *_) = document.alternatives
    document.show_alternative(line)
    assert view.heading.text().startswith(f"No reading was taken on the alternative {line}")


def test_a_hidden_view_works_nothing_out(qtbot: QtBot, view: CausesView, document: Document) -> None:
    explained(qtbot, document)
    view.hide()
    document.select("lead")
    assert not diagnostician(document).busy


def test_another_drawing_begins_at_its_likeliest_cause(
    qtbot: QtBot, view: CausesView, document: Document
) -> None:
    explained(qtbot, document)
    view.resize(700, 150)
    scrolled(view.table, view.page)
    document.open(document.path)
    explained(qtbot, document)
    assert len(view.rows) > 1
    assert at_top(view.table, view.page)
