from collections.abc import Callable
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import QPoint, QPointF, Qt
from PySide6.QtWidgets import QToolButton
from pytestqt.qtbot import QtBot

from sketch.look import asking
from sketch.look.appearance import ThemeChoice
from sketch.look.colours import DARK
from sketch.model import outcome
from sketch.views import case_making
from sketch.views.refusal import Guarded
from sketch.views.tabs import TABS
from sketch.window.main_window import Window
from solver.layout.cases import cases_of
from solver.quantities.units import System
from tests.sketch.canvas.mouse import drag, place
from tests.sketch.window.windows import ALT, BESIDE, CARRIAGE, CONTROL, LAYOUTS, Opener, margin, raise_port

ONE_WINDOW = True

SHIFT = Qt.KeyboardModifier.ShiftModifier


def test_the_window_shows_the_drawing_it_opened(opener: Opener) -> None:
    window = opener()
    assert window.windowTitle().startswith("Log carriage pump at 1650 m")
    assert not window.isWindowModified()
    assert window.workspace.isVisible()
    facts = window._facts.text()
    assert "5413 ft" in facts
    assert "ISO VG 46" in facts
    assert "cSt" in facts


def test_raising_the_pump_costs_margin_and_undo_brings_it_back(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    before, height = margin(window), window.document.layout.pumps["carriage"].at[1].si
    raise_port(window)
    raised = window.document.layout.pumps["carriage"].at[1].si - height
    assert raised > 0
    assert margin(window) < before
    assert window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_Z, CONTROL)
    assert margin(window) == before
    assert not window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_Z, CONTROL | SHIFT)
    assert margin(window) < before


def test_menus_follow_a_drag_at_its_first_move_and_as_it_ends(
    qtbot: QtBot, opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    synced, sync = [], window.actions_by_name.sync
    monkeypatch.setattr(window.actions_by_name, "sync", lambda: synced.append(sync()))
    monkeypatch.setattr(window.workspace.elevation, "kept", window.document, raising=False)
    assert not window.actions_by_name["undo"].isEnabled()
    drag(window.workspace.elevation, place(window.workspace.elevation, "carriage"), (0.6, 1.0), (0.6, 1.1))
    assert window.actions_by_name["undo"].isEnabled()
    assert len(synced) == 3  # for the press, which selects, for the first move, and for letting go
    at = place(window.workspace.elevation, "carriage")
    window.document.undo_stack.undo()
    home = place(window.workspace.elevation, "carriage")
    assert at != home
    drag(window.workspace.elevation, home, (0.6, 1.0), home)
    assert window.document.undo_stack.index() == 0
    assert not window.actions_by_name["undo"].isEnabled(), "a key may follow at once"
    qtbot.waitUntil(lambda: not window.workspace.column._rest.isActive())  # that of the next test at rest


def test_pointing_at_one_lights_all(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    table = window.workspace.ledger.table
    row = window.workspace.ledger.ledger.row_of("riser/straight 1")
    spot = table.visualRect(window.workspace.ledger.ledger.index(row, 0)).center()
    elevation, column = window.workspace.elevation, window.workspace.column
    before = [view.grab().toImage() for view in (elevation, column)]
    qtbot.mouseMove(table.viewport(), spot)
    assert window.document.pointed_key == "riser/straight 1"
    after = [view.grab().toImage() for view in (elevation, column)]
    assert all(one != other for one, other in zip(before, after, strict=True))


def test_a_drawing_is_shown_in_its_own_units(opener: Opener) -> None:
    window = opener(LAYOUTS / "baler-flooded.toml")
    assert window.document.system is System.SI
    downs = [button.text() for button in window.heading.findChildren(QToolButton) if button.isChecked()]
    assert downs == ["Minimum", "SI"]


def test_what_cannot_be_calculated_greys_every_view_and_is_told(opener: Opener) -> None:
    from dataclasses import replace

    window = opener()
    layout = window.document.layout
    runs = {name: run for name, run in layout.runs.items() if name != "riser"}
    window.document.apply("Delete riser", replace(layout, runs=runs))
    assert window.document.solution is None
    tabs = window.workspace.tabs
    guarded = [page for at in range(tabs.count()) if isinstance(page := tabs.widget(at), Guarded)]
    assert len(guarded) == sum(tab.guarded for tab in TABS.values()), "all but where it is put right"
    for page in guarded:
        assert page.refused
        assert page.refusal.texts()
    assert window.workspace.tabs.tabText(2) == "Findings"
    assert not window.actions_by_name["sheet"].isEnabled()
    window.document.undo_stack.undo()
    assert not any(page.refused for page in guarded)


def test_a_pump_within_is_not_green_while_another_is_over(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    window.document.show_pump("pilot")
    outlook = window.document.outlook
    assert outlook is not None
    assert outlook.severity == "stop"
    window.workspace.column.grab()
    assert "main: over by " in window.workspace.column.accessibleDescription()


@pytest.mark.thorough
def test_the_welcome_page_offers_the_examples(qtbot: QtBot, opener: Opener) -> None:
    window = opener(None)
    assert not window.workspace.isVisible()
    page = window._pages.currentWidget()
    titles = [
        str(page.list.item(row).data(Qt.ItemDataRole.AccessibleTextRole)) for row in range(page.list.count())
    ]
    at = next(row for row, title in enumerate(titles) if title.startswith("Log carriage pump"))
    item = page.list.item(at)
    page.list.scrollToItem(item)
    qtbot.mouseClick(
        page.list.viewport(), Qt.MouseButton.LeftButton, pos=page.list.visualItemRect(item).center()
    )
    assert window.document.path is not None
    assert window.document.path.name == CARRIAGE.name
    assert window.workspace.isVisible()


@pytest.mark.thorough
def test_light_and_dark_dress_every_view(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    light = window.grab().toImage()
    qtbot.keyClick(window, Qt.Key.Key_D, CONTROL | ALT)
    assert window.appearance.choice is ThemeChoice.DARK
    qtbot.waitUntil(lambda: window.workspace.elevation.theme is DARK)
    dark = window.grab().toImage()
    for view in (
        window.workspace.elevation,
        window.workspace.column,
        window.workspace.ledger,
        window.heading,
    ):
        corner = view.mapTo(window, QPoint(3, view.height() - 3))
        assert light.pixelColor(corner).lightness() > 200
        assert dark.pixelColor(corner).lightness() < 80
    qtbot.keyClick(window, Qt.Key.Key_L, CONTROL | ALT)
    assert window.appearance.choice is ThemeChoice.LIGHT


def test_a_move_of_a_drag_is_one_solve_and_one_sync(
    opener: Opener, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    from PySide6.QtTest import QTest

    counts = {"solve": 0, "sync": 0}

    def counted(name: str, call: Callable[..., object]) -> Callable[..., object]:
        def counting(*args: object, **named: object) -> object:
            counts[name] += 1
            return call(*args, **named)

        return counting

    sync = counted("sync", Window.sync)
    monkeypatch.setattr(Window, "sync", lambda window, *_: sync(window))
    monkeypatch.setattr(outcome, "judge", counted("solve", outcome.judge))
    window = opener()
    canvas = window.workspace.elevation
    start = QPointF(*canvas.view.device(*(at.si for at in window.document.layout.pumps["carriage"].at)))
    QTest.mousePress(canvas, Qt.MouseButton.LeftButton, pos=start.toPoint())
    QTest.mouseMove(canvas, start.toPoint() - QPoint(0, 10))
    heights = set()
    for step in range(2, 6):
        counts.update(solve=0, sync=0)
        QTest.mouseMove(canvas, start.toPoint() - QPoint(0, 10 * step))
        assert counts == {"solve": 1, "sync": 1}
        heights.add(window.document.layout.pumps["carriage"].at[1].si)
    assert len(heights) == 4
    QTest.mouseRelease(canvas, Qt.MouseButton.LeftButton, pos=start.toPoint())


def test_a_drag_in_an_alternative_leaves_the_drawing_itself_alone(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document, elevation = window.document, window.workspace.elevation
    base = document.drawing.base
    document.show_alternative(BESIDE)
    said = window.heading.compared.text()
    at = QPointF(*elevation.view.device(*(v.si for v in document.layout.pumps["carriage"].at))).toPoint()
    qtbot.mousePress(elevation, Qt.MouseButton.LeftButton, pos=at)
    for step in range(4, 60, 8):
        qtbot.mouseMove(elevation, at - QPoint(0, step))
    qtbot.mouseRelease(elevation, Qt.MouseButton.LeftButton, pos=at - QPoint(0, 60))
    assert document.undo_stack.count() == 1
    assert document.drawing.base is base
    assert window.heading.compared.text() != said
    document.show_alternative("")
    assert document.layout is base


def test_what_is_tried_can_be_kept_as_an_alternative(
    qtbot: QtBot, opener: Opener, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener(copy)
    asked: list[str] = []

    def answer(*given: Any) -> str:
        asked.append(given[2])
        return str(given[-1])

    monkeypatch.setattr(asking, "ask_for_text", answer)
    window.actions_by_name["new alternative"].trigger()
    assert window.document.alternative == "Alternative 1"
    window.actions_by_name["new alternative"].trigger()
    assert asked == [
        "It begins as a copy of the drawing itself. Name:", "It begins as a copy of Alternative 1. Name:",
    ]  # fmt: skip
    assert window.document.drawing.alternatives["Alternative 2"].note == "Begun from Alternative 1."
    window.document.undo_stack.undo()
    raise_port(window)
    assert " worse than " in window.heading.compared.text()
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL)
    assert '[alternatives."Alternative 1"]' in copy.read_text("utf-8")
    monkeypatch.setattr(asking, "ask_for_text", lambda *_: "Alternative 1")
    window.actions_by_name["new alternative"].trigger()
    assert "already" in window.notice.text
    window.actions_by_name["remove alternative"].trigger()
    assert window.document.alternative == ""
    assert "Alternative 1" not in window.document.alternatives


def test_an_error_inside_is_told_in_the_window_and_logged(
    opener: Opener, caplog: pytest.LogCaptureFixture
) -> None:
    from sketch.run import report_error

    window = opener()
    try:
        raise LookupError("no such thing")
    except LookupError as error:
        report_error(window, type(error), error, error.__traceback__)
    assert "LookupError: no such thing" in window.notice.text
    assert caplog.records[-1].exc_info is not None
    assert window.document.solution is not None


def test_the_ledger_of_a_pump_that_is_clicked_on_is_shown(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    assert window.document.pump == "main"
    window.document.select("pilot")
    assert window.document.pump == "pilot"
    window.document.select("header")
    assert window.document.pump == "pilot"


def test_everything_is_that_of_the_case_that_is_chosen(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    document = window.document
    warm, cold = document.ledger, document.outcome.worst_elsewhere("carriage").ledger
    drawn = document.layout
    choose_case(qtbot, window, "coldest start")
    assert document.case == "coldest start"
    assert document.ledger.margin == pytest.approx(cold.margin, rel=1e-12)
    assert document.layout is drawn, "the drawing itself stays as it is"
    assert document.clean
    assert 'shown: "coldest start"' in document.outlook.word
    assert "77.0 °F" in window._facts.text()
    assert document.saved_outcome.ledger(document.pump).margin == document.ledger.margin
    raise_port(window)
    assert document.ledger.margin < cold.margin
    document.undo_stack.undo()
    choose_case(qtbot, window, "as drawn")
    assert document.ledger.margin == warm.margin


def test_the_highest_port_is_the_same_whichever_start_is_looked_at(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    warm = window.workspace.elevation.highest_port
    window.document.set_case("coldest start")
    qtbot.waitUntil(lambda: window.workspace.elevation.highest_port is not None)
    assert window.workspace.elevation.highest_port == pytest.approx(warm, abs=1e-6)


def test_a_drawing_without_cases_has_no_choice_of_them(opener: Opener) -> None:
    window = opener(LAYOUTS / "wash-water-npsh.toml")
    assert not window.heading.case.isVisible()
    assert not window.actions_by_name.menu("View/Case").menuAction().isVisible()
    window.document.set_case("coldest start")
    assert window.document.case == "as drawn"
    assert window.document.ledger is not None


def test_every_case_has_its_mark_and_says_what_it_means(opener: Opener) -> None:
    window = opener()
    case_making.add(window.document, "boiled off", {"fluid": {"temperature": "900 degC"}})
    box = window.heading.cases
    words = [box.itemData(at, Qt.ItemDataRole.AccessibleTextRole) for at in range(box.count())]
    judgement = window.document.outcome.judgement
    assert words[-1] == "boiled off: not judged"
    for text, name in zip(words[:-1], judgement.cases, strict=False):
        assert text == f"{name}: {judgement.worst(cases=[name]).pump_state}"
    assert not any(box.itemIcon(at).isNull() for at in range(box.count()))
    assert window.document.solution is None, "the case in view cannot be calculated"
    assert 'not judged: "boiled off"' in window.document.outlook.headline


def test_level_and_strainer_of_the_case_in_view_stand_under_it(opener: Opener) -> None:
    window = opener()
    assert window.heading.state.text() == "minimum level, strainer 0 % blocked"
    table = {"level": "normal", "intakes": {"strainer": {"screen": {"blocked": "40 %"}}}}
    case_making.add(window.document, "dirty", table)
    assert window.heading.state.text() == "normal level, strainer 40 % blocked"
    normal, minimum = window.actions_by_name["normal"], window.actions_by_name["minimum"]
    assert normal.isChecked()
    assert not minimum.isEnabled(), "the case names its level"
    window.document.set_case("as drawn")
    assert minimum.isChecked()
    assert minimum.isEnabled()


def test_the_next_case_is_a_key_away_and_the_round_closes(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    names = list(cases_of(window.document.layout))
    for name in (*names[1:], names[0]):
        qtbot.keyClick(window, Qt.Key.Key_PageDown, Qt.KeyboardModifier.AltModifier)
        assert window.document.case == name
    qtbot.keyClick(window, Qt.Key.Key_PageUp, Qt.KeyboardModifier.AltModifier)
    assert window.document.case == names[-1]


def choose_case(qtbot: QtBot, window: Window, name: str) -> None:
    """Choose a case by the keys of the box that offers them."""
    box = window.heading.cases
    box.setFocus()
    qtbot.keyClick(box, Qt.Key.Key_Home)
    for _ in range(box.findData(name)):
        qtbot.keyClick(box, Qt.Key.Key_Down)


def test_a_figure_that_the_case_gives_is_turned_in_that_case(opener: Opener) -> None:
    window = opener()
    turner = window.workspace.whatif.turners["Fluid temperature"]
    drawn = turner.scale.value()
    window.document.set_case("coldest start")
    assert turner.scale.isEnabled()
    assert turner.scale.value() < drawn
    window.document.set_case("as drawn")
    assert turner.scale.value() == drawn


def test_a_case_that_is_not_judged_hides_no_other(opener: Opener) -> None:
    window = opener()
    before = window.workspace.tabs.tabText(2)
    case_making.add(window.document, "boiled off", {"fluid": {"temperature": "900 degC"}})
    assert window.document.solution is None
    pages = {name: window.workspace.tabs.widget(at) for at, name in enumerate(TABS)}
    assert pages["ledger"].refused
    assert not pages["findings"].refused
    assert window.workspace.tabs.tabText(2) == before
    window.workspace.column.grab()
    words = window.workspace.column.accessibleDescription()
    assert 'not judged: "boiled off"' in words
    assert "over by" in words.lower()


def test_a_pump_at_rest_gives_way_to_one_that_runs_and_says_so_when_asked_for(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    document = window.document
    assert document.pump == "main"
    document.set_case("pilot alone")
    assert document.pump == "pilot"
    assert document.ledger is not None
    document.show_pump("main")
    assert document.ledger is None
    assert document.refusal == (
        ("main", 'at rest in the case "pilot alone": it takes nothing and has no margin'),
    )
    assert window.workspace.tabs.widget(list(TABS).index("profile")).refused
    assert not window.workspace.tabs.widget(list(TABS).index("findings")).refused


def test_the_other_cases_are_a_key_away(qtbot: QtBot, opener: Opener) -> None:
    window = opener(LAYOUTS / "winter-press.toml")
    column = window.workspace.column
    column.grab()
    before = [label.kind for label in column.drawn.labels]
    assert "other" not in before
    qtbot.keyClick(window, Qt.Key.Key_O, CONTROL | ALT)
    column.grab()
    labels = [label for label in column.drawn.labels if label.kind == "other"]
    assert labels
    names = {label.text.partition(":")[0] for label in labels}
    assert names <= set(window.document.outcome.judgement.cases) - {window.document.case}
    qtbot.keyClick(window, Qt.Key.Key_O, CONTROL | ALT)
    assert not window.document.ledgers_of_other_cases
