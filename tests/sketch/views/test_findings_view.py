import dataclasses
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtTest import QSignalSpy
from PySide6.QtWidgets import QApplication
from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.views import findings_view
from sketch.views.findings_view import WORKING_OUT, FindingsView, sentence, shown_findings
from solver.findings.checks import Finding
from solver.findings.judgement import judge
from solver.fixes.remedies import with_remedies
from solver.quantities.units import System
from tests.sketch.shown import shown
from tests.sketch.views.scrolling import at_top, scrolled

LAYOUTS = Path(__file__).parents[3] / "layouts"


@pytest.fixture
def document() -> Document:
    document = Document()
    document.open(LAYOUTS / "carriage-at-altitude.toml")
    return document


@pytest.fixture
def view(qtbot: QtBot, document: Document) -> FindingsView:
    return shown(qtbot, FindingsView(document), 900, 500)


def test_the_most_serious_comes_first(view: FindingsView) -> None:
    order = ["stop", "caution", "note"]
    ranks = [order.index(finding.severity) for finding in view.findings.findings]
    assert ranks == sorted(ranks)
    assert view.findings.findings[0].severity == "stop"


def test_a_click_selects_the_part_it_speaks_of(qtbot: QtBot, view: FindingsView, document: Document) -> None:
    at = next(row for row, finding in enumerate(view.findings.findings) if finding.part)
    spot = view.visualRect(view.findings.index(at)).center()
    qtbot.mouseClick(view.viewport(), Qt.MouseButton.LeftButton, pos=spot)
    assert document.selected_part == view.findings.findings[at].part


def test_pointing_at_a_finding_points_at_its_entry(
    qtbot: QtBot, view: FindingsView, document: Document
) -> None:
    rows = [row for row, finding in enumerate(view.findings.findings) if finding.key]
    for at in rows:
        qtbot.mouseMove(view.viewport(), view.visualRect(view.findings.index(at)).center())
        assert document.pointed_key == view.findings.findings[at].key


def test_however_many_findings_none_is_set_in_lines_twice(
    view: FindingsView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Hundreds of findings threw one another's lines out, and were broken anew at every look."""
    monkeypatch.setattr(findings_view, "MOST_SET", 1)
    view.wrap_anew()
    view.refresh()
    broken: list[str] = []
    by_hand = view.height_of
    monkeypatch.setattr(
        view, "height_of", lambda text, *given, **more: broken.append(text) or by_hand(text, *given, **more)
    )
    assert len(view.findings.findings) > 1
    view.refresh()
    assert not broken
    view.wrap_anew()
    view.refresh()
    assert broken


def test_the_sentences_follow_the_units(view: FindingsView, document: Document) -> None:
    assert "inHg" in view.findings.findings[0].text
    document.set_system(System.SI)
    assert "kPa" in view.findings.findings[0].text
    assert shown_findings(document) == view.findings.findings


def test_every_row_is_tall_enough_for_its_text(view: FindingsView) -> None:
    delegate = view.itemDelegate()
    assert isinstance(delegate, findings_view.FindingDelegate)
    for width in (420, 900, 1600):
        view.resize(width, 500)
        for at, finding in enumerate(view.findings.findings):
            blocks, height = delegate.blocks(finding, view.viewport().width())
            assert max(block.box.bottom() for block in blocks) < height
            assert max(block.box.right() for block in blocks) < view.viewport().width()
            assert view.sizeHintForIndex(view.findings.index(at)).height() >= height


def test_a_finding_can_be_copied(qtbot: QtBot, view: FindingsView) -> None:
    view.setCurrentIndex(view.findings.index(0))
    qtbot.keyClick(view, Qt.Key.Key_C, Qt.KeyboardModifier.ControlModifier)
    assert QApplication.clipboard().text() == sentence(view.findings.findings[0], view.findings.cases)
    assert sentence(view.findings.findings[0], view.findings.cases).startswith("Stop: ")


def test_nothing_to_report_is_said(qtbot: QtBot, document: Document) -> None:
    view = FindingsView(document)
    qtbot.addWidget(view)
    view.resize(700, 200)
    full = view.grab().toImage()
    view.findings.show((), 1)
    view._document = Document()  # a drawing that is not there has no findings
    view.refresh()
    assert findings_view.EMPTY in view.accessibleDescription()
    empty = view.grab().toImage()
    assert empty != full
    blank = empty.pixelColor(690, 190)
    assert any(empty.pixelColor(x, 25) != blank for x in range(10, 200))


def texts(findings: tuple[Finding, ...]) -> list[str]:
    return [finding.text for finding in findings]


@pytest.mark.thorough
def test_what_to_try_is_worked_out_from_the_drawing_while_the_list_is_seen(
    qtbot: QtBot, view: FindingsView, document: Document
) -> None:
    qtbot.waitUntil(lambda: "buys" in view.findings.findings[0].advice, timeout=10_000)
    solved = with_remedies(judge(document.layout)).findings
    assert view.findings.findings == solved
    document.apply("Raise", edits.set_port_height(document.layout, "carriage", 1.2))
    assert view.findings.findings[0].advice == WORKING_OUT, "nothing of another drawing stays"
    qtbot.waitUntil(lambda: "buys" in view.findings.findings[0].advice, timeout=10_000)
    assert view.findings.findings == with_remedies(judge(document.layout)).findings


def test_new_figures_change_their_rows_and_the_list_stays(view: FindingsView, document: Document) -> None:
    resets, changes = QSignalSpy(view.findings.modelReset), QSignalSpy(view.findings.dataChanged)
    layout = document.layout
    for step in range(1, 6):
        document.apply("Raise", edits.set_port_height(layout, "carriage", 1.2 + step / 100))
    assert resets.count() == 0
    assert changes.count() >= 3
    assert texts(view.findings.findings) == texts(document.findings)
    document.show_alternative("Pump beside the tank")
    assert resets.count() == 1


def test_sentence_that_takes_another_line_gets_the_room(
    qtbot: QtBot, view: FindingsView, document: Document, monkeypatch: pytest.MonkeyPatch
) -> None:
    view.resize(420, 500)
    QApplication.processEvents()
    first = view.findings.findings[0]
    before = view.visualRect(view.findings.index(0)).height()
    longer = dataclasses.replace(first, text=first.text + ", and much more than is said in a line")
    qtbot.wait(10)
    every = (longer, *document.findings[1:])
    monkeypatch.setattr(Document, "findings", property(lambda _: every))
    document.changed.emit()
    qtbot.waitUntil(lambda: view.visualRect(view.findings.index(0)).height() > before)


def test_hidden_list_reads_nothing_until_it_is_seen(view: FindingsView, document: Document) -> None:
    view.hide()
    held = view.findings.findings
    document.set_level("normal")
    assert view.findings.findings is held
    view.show()
    assert texts(view.findings.findings) == texts(document.findings)


def test_a_finding_names_the_cases_it_holds_in(document: Document) -> None:
    finding = dataclasses.replace(document.findings[0], cases=("as drawn", "cold morning"), figures_of="")
    assert 'Cases: as drawn, "cold morning"' in sentence(finding, 3)


def test_another_drawing_begins_at_its_worst_finding(
    qtbot: QtBot, view: FindingsView, document: Document
) -> None:
    view.resize(600, 120)
    qtbot.waitUntil(lambda: view.verticalScrollBar().maximum() > 0)
    scrolled(view)
    document.set_system(System.SI)
    assert not at_top(view), "the same drawing stays where it is"
    document.open(document.path)
    assert at_top(view)
    qtbot.wait(20)  # its rows are laid out
    scrolled(view)
    document.show_alternative(document.alternatives[0])
    qtbot.wait(20)
    assert at_top(view)
