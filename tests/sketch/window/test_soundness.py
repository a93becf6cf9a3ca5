"""The gate: what could not be opened again is said at the end of the gesture, and never written."""

from __future__ import annotations

import shutil
from collections.abc import Callable
from dataclasses import replace
from pathlib import Path

import pytest
from PySide6.QtCore import Qt
from PySide6.QtWidgets import QApplication, QPushButton
from pytestqt.qtbot import QtBot

from sketch.look.appearance import ThemeChoice
from sketch.model import gate
from sketch.model.disk import SaveError
from sketch.model.document import Document
from sketch.model.gate import failures
from sketch.views import case_making
from sketch.views.case_card import IN_CASE
from sketch.window.main_window import Window, make_window
from solver.layout import file
from solver.layout.file import Drawing
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.sketch.canvas.mouse import ALT, drag
from tests.sketch.card import cards
from tests.sketch.strip import strips
from tests.sketch.window.windows import Opener
from tests.thorough import one_in

ONE_WINDOW = True

LAYOUTS = Path(__file__).parents[3] / "layouts"
BROKE = Path(__file__).parents[2] / "hostile" / "broke"


@pytest.fixture
def window(opener: Opener, copy: Path) -> Window:
    return opener(copy)


def narrower(layout: Layout) -> Layout:
    """The tank's right wall 0.3 m to the left, past the wall nozzle of an alternative."""
    tank = layout.reservoirs["tank"]
    right = max(x.si for x, _ in tank.outline)
    moved = quantity(f"{right - 0.3:.4f} m", Kind.LENGTH)
    outline = tuple((moved, y) if x.si == right else (x, y) for x, y in tank.outline)
    return replace(layout, reservoirs={**layout.reservoirs, "tank": replace(tank, outline=outline)})


def button(window: Window, text: str) -> QPushButton:
    return next(each for each in window.notice.findChildren(QPushButton) if each.text() == text)


def test_an_alternative_that_holds_no_more_is_said_at_once_and_undone(window: Window, qtbot: QtBot) -> None:
    document = window.document
    document.apply("Narrower", narrower(document.layout))
    qtbot.waitUntil(lambda: "Pump beside the tank" in window.notice.text, timeout=10000)
    assert any("intakes.nozzle.at" in " ".join(row) for row in window.notice.rows())
    qtbot.mouseClick(button(window, "Undo"), Qt.MouseButton.LeftButton)
    qtbot.waitUntil(lambda: window.notice.isHidden(), timeout=10000)
    assert document.clean
    assert not failures(document.drawing)


@pytest.mark.thorough
def test_what_is_saved_with_it_opens_marked_with_why_and_can_be_removed(
    window: Window, qtbot: QtBot, qapp: QApplication
) -> None:
    document = window.document
    document.apply("Narrower", narrower(document.layout))
    assert window.files.save()
    path = document.path
    assert path is not None
    document.file.close()
    again = make_window(qapp, None, ThemeChoice.LIGHT)
    qtbot.addWidget(again, before_close_func=lambda each: each.document.undo_stack.setClean())
    assert again.files.read(path)
    assert "Pump beside the tank" in again.notice.text
    assert any("outside the outline" in " ".join(row) for row in again.notice.rows())
    assert again.document.layout.reservoirs == document.drawing.base.reservoirs
    assert "Pump beside the tank" not in again.document.alternatives
    qtbot.mouseClick(button(again, "Remove it"), Qt.MouseButton.LeftButton)
    assert again.files.save()
    assert "Pump beside the tank" not in path.read_text("utf-8")
    again.document.undo_stack.undo()
    assert "Pump beside the tank" in again.document.drawing.broken


def test_the_file_that_was_once_refused_opens(qtbot: QtBot, window: Window) -> None:
    assert window.files.read(BROKE / "saved-by-window-now-refused.toml")
    assert "Pump beside the tank" in window.notice.text


def test_a_drawing_that_would_not_open_never_takes_the_place_of_one_that_does(
    window: Window, qtbot: QtBot
) -> None:
    """By whatever way the base came to hold no more: here its intake stands outside its tank."""
    document = window.document
    intake = document.layout.intakes["strainer"]
    out = replace(intake, at=(quantity("99 ft", Kind.LENGTH), intake.at[1]))
    document.apply("Out", replace(document.layout, intakes={**document.layout.intakes, "strainer": out}))
    qtbot.waitUntil(lambda: "cannot be saved" in window.notice.text, timeout=10000)
    rows = window.notice.rows()
    assert len(rows) == len(set(rows)), "an alternative has the errors of its drawing, which are listed once"
    path = document.path
    assert path is not None
    before = path.read_bytes()
    with pytest.raises(SaveError, match=r"could not be opened again.*intakes\.strainer\.at"):
        document.save()
    assert path.read_bytes() == before
    assert not document.clean


@pytest.mark.parametrize("path", one_in(9, sorted(LAYOUTS.glob("*.toml"))), ids=lambda path: path.stem)
def test_every_example_holds_and_what_a_gesture_leaves_of_it_opens(path: Path, tmp_path: Path) -> None:
    """The first tank of each with its right wall drawn in: whatever breaks is told, and the text reads."""
    document = Document(keeps=False)
    document.open(path)
    assert not failures(document.drawing)
    layout = document.layout
    (name, tank), *_ = layout.reservoirs.items()
    right = max(x.si for x, _ in tank.outline)
    moved = quantity(f"{right - 0.3:.4f} m", Kind.LENGTH)
    outline = tuple((moved, y) if x.si == right else (x, y) for x, y in tank.outline)
    document.apply(
        "In", replace(layout, reservoirs={**layout.reservoirs, name: replace(tank, outline=outline)})
    )
    failing = failures(document.drawing)
    target = tmp_path / path.name
    if "" in failing:
        with pytest.raises(SaveError):
            document.save(target)
        return
    document.save(target)
    assert set(file.read(target).broken) == set(failing)


@pytest.mark.thorough
def test_a_corner_dragged_by_the_mouse_goes_through_the_gate(window: Window, qtbot: QtBot) -> None:
    canvas, document = window.workspace.elevation, window.document
    outline = document.layout.reservoirs["tank"].outline
    right = max(x.si for x, _ in outline)
    top = max(y.si for x, y in outline if x.si == right)
    drag(canvas, (right, top), (right - 0.15, top), (right - 0.3, top), modifiers=ALT)
    assert max(x.si for x, _ in document.layout.reservoirs["tank"].outline) == pytest.approx(
        right - 0.3, abs=0.02
    )
    qtbot.waitUntil(lambda: "Pump beside the tank" in window.notice.text, timeout=10000)
    assert any("intakes.nozzle.at" in " ".join(row) for row in window.notice.rows())
    qtbot.mouseClick(button(window, "Undo"), Qt.MouseButton.LeftButton)
    assert document.clean


CASES = """
[cases."full tank"]
levels.tank = "2 ft 7 in"

[cases.typo]
levl = "normal"
"""


def with_cases(path: Path) -> Path:
    text = path.read_text("utf-8").replace("format = 1", "format = 2")
    path.write_text(text + CASES, "utf-8")
    return path


@pytest.mark.thorough
def test_a_case_that_does_not_hold_is_marked_with_its_line_and_is_mended(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    document = window.document
    assert document.path is not None
    path = with_cases(Path(shutil.copy(document.path, tmp_path / "cases.toml")))
    assert window.files.read(path)
    line = 1 + path.read_text("utf-8").split("\n").index('levl = "normal"')
    assert [row[:2] for row in window.notice.rows()] == [(str(line), "cases.typo.levl")]
    assert "typo" in window.notice.text
    window.workspace.show_tab("cases")
    document.set_case("typo")
    card = window.workspace.views["cases"].card
    assert "Not judged" in card.trouble.text()
    card.figures.setCurrentCell(0, IN_CASE)
    qtbot.keyClick(card.figures, Qt.Key.Key_Delete)
    qtbot.waitUntil(lambda: window.notice.isHidden(), timeout=10000)
    assert document.outcome.judgement is not None
    assert document.outcome.judgement.cases["typo"].judged
    document.undo_stack.undo()
    qtbot.waitUntil(lambda: "typo" in window.notice.text, timeout=10000)
    assert window.files.read(path)
    qtbot.mouseClick(button(window, "Remove the case"), Qt.MouseButton.LeftButton)
    assert list(document.layout.cases) == ["full tank"]


def test_a_case_that_holds_no_more_is_said_at_the_end_of_the_gesture(
    window: Window, qtbot: QtBot, tmp_path: Path
) -> None:
    """The tank's rim is lowered past the level that a case has."""
    document = window.document
    assert document.path is not None
    path = with_cases(Path(shutil.copy(document.path, tmp_path / "cases.toml")))
    text = path.read_text("utf-8").split("[cases.typo]")[0]
    path.write_text(text, "utf-8")
    assert window.files.read(path)
    assert window.notice.text == ""
    tank = document.layout.reservoirs["tank"]
    rim = max(y.si for _, y in tank.outline)
    lowered = quantity(f"{rim - 0.12:.3f} m", Kind.LENGTH)
    outline = tuple((x, lowered if y.si == rim else y) for x, y in tank.outline)
    layout = replace(document.layout, reservoirs={"tank": replace(tank, outline=outline)})
    document.apply("Lower the rim", layout)
    qtbot.waitUntil(lambda: "full tank" in window.notice.text, timeout=10000)
    assert any("levels.tank" in row[1] for row in window.notice.rows())
    qtbot.mouseClick(button(window, "Undo"), Qt.MouseButton.LeftButton)
    assert document.clean


@pytest.mark.thorough
def test_every_way_in_which_a_drawing_changes_goes_through_the_gate(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    """By keys, strip, card, alternatives, cases, recovery, undo and redo: all of it is looked at."""
    document, workspace = window.document, window.workspace
    looked: list[Drawing] = []
    monkeypatch.setattr(gate, "failures", lambda drawing: looked.append(drawing) or {})
    kept = Path(shutil.copy(LAYOUTS / "winter-press.toml", tmp_path / "kept.toml"))
    workspace.show_tab("card")

    def by_keys() -> None:
        document.select("carriage")
        qtbot.keyClick(workspace.elevation, Qt.Key.Key_Up)

    def by_strip() -> None:
        strips.type_in(qtbot, workspace.whatif.turners["Site elevation"], "5000")

    def by_card() -> None:
        cards.show(qtbot, workspace.views["card"], document, "carriage")
        cards.type_in(qtbot, workspace.views["card"], "speed", "1200 rpm")

    ways: list[Callable[[], object]] = [
        by_keys,
        by_strip,
        by_card,
        lambda: document.add_alternative("Another"),
        lambda: case_making.add(document, "warm", {"fluid": {"temperature": "50 degC"}}),
        lambda: document.recover(kept),
        document.undo_stack.undo,
        document.undo_stack.redo,
    ]
    for way in ways:
        before = document.drawing
        looked.clear()
        way()
        assert document.drawing != before, way
        qtbot.waitUntil(lambda: bool(looked), timeout=10000)
        assert looked[-1] == document.drawing, way


def test_a_reading_that_cannot_be_compared_is_said_on_opening(window: Window, tmp_path: Path) -> None:
    text = (LAYOUTS / "strainer-over-a-year.toml").read_text(encoding="utf-8")
    path = tmp_path / "typed.toml"
    path.write_text(text.replace('pump = "feed"', 'pump = "fed"', 1), encoding="utf-8")
    assert window.files.read(path)
    assert "A reading cannot be compared as typed" in window.notice.text
    assert any("readings[0].pump" in " ".join(row) for row in window.notice.rows())
