import dataclasses
import os
import shutil
from collections.abc import Callable
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QMimeData, QObject, QPoint, QPointF, QSettings, QSize, Qt, QTimer, QUrl
from PySide6.QtGui import QDropEvent
from PySide6.QtWidgets import QApplication, QFileDialog, QInputDialog, QMessageBox, QPushButton, QToolButton
from pytestqt.qtbot import QtBot

from sketch.look.appearance import Choice
from sketch.look.colours import DARK
from sketch.model import outcome, storage
from sketch.views import case_making
from sketch.views.refusal import Guarded
from sketch.views.tabs import TABS
from sketch.window.main_window import Window, make_window
from solver.layout.cases import cases_of
from solver.quantities.units import System

LAYOUTS = Path(__file__).parents[3] / "layouts"
CARRIAGE = LAYOUTS / "carriage-at-altitude.toml"
CONTROL = Qt.KeyboardModifier.ControlModifier
SHIFT = Qt.KeyboardModifier.ShiftModifier
ALT = Qt.KeyboardModifier.AltModifier

Opener = Callable[..., Window]


@pytest.fixture
def opener(qtbot: QtBot, qapp: QApplication) -> Opener:
    def made(path: Path | None = CARRIAGE, settings: QSettings | None = None) -> Window:
        window = make_window(qapp, settings, Choice.LIGHT)
        qtbot.addWidget(window, before_close_func=lambda each: each.document.undo_stack.setClean())
        if path is not None:
            assert window.files.read(path)
        with qtbot.waitExposed(window):
            window.show()
        window.activateWindow()
        return window

    return made


@pytest.fixture
def copy(tmp_path: Path) -> Path:
    return Path(shutil.copy(CARRIAGE, tmp_path / "carriage.toml"))


def raise_port(window: Window) -> None:
    """One step up for the pump, by the keyboard."""
    from PySide6.QtTest import QTest

    elevation = window.workspace.elevation
    window.document.select("carriage")
    elevation.setFocus()
    QTest.keyClick(elevation, Qt.Key.Key_Up)


def margin(window: Window) -> float:
    assert window.document.ledger is not None
    return window.document.ledger.margin


def answer_next(button: QMessageBox.StandardButton) -> None:
    def press() -> None:
        box = QApplication.activeModalWidget()
        assert isinstance(box, QMessageBox)
        box.button(button).click()

    QTimer.singleShot(50, press)


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


def test_units_switch_by_key_everywhere_but_in_the_drawing(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    held = window.document.layout
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL | ALT)
    assert window.document.system is System.SI
    assert window.document.layout is held
    assert "1650 m" in window._facts.text()
    assert window.actions_by_name["si"].isChecked()
    qtbot.keyClick(window, Qt.Key.Key_U, CONTROL | ALT)
    assert "5413 ft" in window._facts.text()


def test_a_drawing_is_shown_in_its_own_units(opener: Opener) -> None:
    window = opener(LAYOUTS / "baler-flooded.toml")
    assert window.document.system is System.SI
    downs = [button.text() for button in window.heading.findChildren(QToolButton) if button.isChecked()]
    assert downs == ["Minimum", "SI"]


def test_the_notes_can_be_read_whole(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    story = window.heading
    assert story.more.isVisible()
    assert story.notes.text().endswith("…")
    before = story.height()
    qtbot.mouseClick(story.more, Qt.MouseButton.LeftButton)
    assert "The pump growls" in story.notes.text()
    qtbot.waitUntil(lambda: story.height() > before)
    qtbot.mouseClick(story.more, Qt.MouseButton.LeftButton)
    assert story.notes.text().endswith("…")


def test_the_level_switches_and_a_higher_level_leaves_more(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    before = margin(window)
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL | ALT)
    assert window.document.level == "normal"
    assert margin(window) > before
    assert window.actions_by_name["normal"].isChecked()
    assert not window.actions_by_name["minimum"].isChecked()


def test_choosers_stand_there_only_when_there_is_a_choice(opener: Opener) -> None:
    window = opener()
    assert window.heading.alternatives.isVisible()
    assert not window.heading.pumps.isVisible()
    assert window.actions_by_name.menu("View/Alternative").menuAction().isVisible()
    assert not window.actions_by_name.menu("View/Pump").menuAction().isVisible()
    assert window.files.read(LAYOUTS / "header-two-pumps.toml")
    assert window.heading.pumps.isVisible()
    other = window.heading.pumps.itemData(1)
    window.heading.pumps.activated.emit(1)
    assert window.document.pump == other


def test_an_alternative_is_chosen_and_tells_its_own_story(opener: Opener) -> None:
    window = opener()
    over = margin(window)
    at = window.heading.alternatives.findData("Pump beside the tank")
    window.heading.alternatives.activated.emit(at)
    assert window.document.alternative == "Pump beside the tank"
    assert margin(window) > 0 > over
    assert "On a stand beside the tank" in window.heading.notes.accessibleName()


BAD = {
    "not TOML": "format = [",
    "unknown key": 'format = 1\ntitle = "x"\ncolour = "red"\n',
    "a binary file": "\x00\x01\x02",
}


@pytest.mark.parametrize("text", BAD.values(), ids=BAD.keys())
def test_a_bad_file_is_refused_with_its_errors_and_the_drawing_stays(
    opener: Opener, tmp_path: Path, text: str
) -> None:
    window = opener()
    held, path = window.document.layout, tmp_path / "bad.toml"
    path.write_text(text, "utf-8")
    assert not window.files.open(path)
    assert window.document.layout is held
    assert "bad.toml was not opened" in window.notice.text
    assert "untouched" in window.notice.text
    assert window.notice.rows()


def test_every_error_of_a_file_is_listed_with_line_and_key(opener: Opener, tmp_path: Path) -> None:
    window = opener()
    path = tmp_path / "wrong.toml"
    text = CARRIAGE.read_text("utf-8")
    path.write_text(text.replace('"45 degC"', '"45 m"').replace('"1450 rpm"', '"nan rpm"'), "utf-8")
    assert not window.files.open(path)
    rows = window.notice.rows()
    lines = path.read_text("utf-8").splitlines()
    assert {row[1] for row in rows} >= {"fluid.temperature", "pumps.carriage.speed"}
    for line, key, found, allowed in rows:
        assert key.rpartition(".")[2] in lines[int(line) - 1]
        assert found
        assert allowed


@pytest.mark.parametrize("kind", ["directory", "missing", "forbidden"])
def test_what_is_no_readable_file_is_refused(opener: Opener, tmp_path: Path, kind: str) -> None:
    path = tmp_path / "there"
    if kind == "directory":
        path.mkdir()
    elif kind == "forbidden":
        path.write_text("format = 1", "utf-8")
        path.chmod(0)
        if os.access(path, os.R_OK):
            pytest.skip("this user may read everything")
    window = opener()
    held = window.document.layout
    assert not window.files.open(path)
    assert window.document.layout is held
    assert "was not opened" in window.notice.text


def test_a_mended_file_opens_on_another_try(qtbot: QtBot, opener: Opener, tmp_path: Path) -> None:
    window, path = opener(None), tmp_path / "mended.toml"
    path.write_text("format = [", "utf-8")
    assert not window.files.open(path)
    assert "untouched" not in window.notice.text
    path.write_text(CARRIAGE.read_text("utf-8"), "utf-8")
    again = next(b for b in window.notice.findChildren(QPushButton) if b.text() == "Try again")
    qtbot.mouseClick(again, Qt.MouseButton.LeftButton)
    assert window.document.path == path
    assert window.notice.text == ""


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


def test_the_tab_of_the_findings_says_how_serious_the_worst_is(opener: Opener) -> None:
    window = opener(LAYOUTS / "carriage-at-altitude.toml")
    tabs = window.workspace.tabs
    assert tabs.tabText(2) == "Findings: 1 stop of 3"
    assert not tabs.tabIcon(2).isNull()
    window.document.show_alternative("Pump beside the tank")
    assert tabs.tabText(2) == "Findings"
    assert tabs.tabIcon(2).isNull()


def test_a_pump_within_is_not_green_while_another_is_over(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    window.document.show_pump("pilot")
    found = window.document.outlook
    assert found is not None
    assert found.severity == "stop"
    window.workspace.column.grab()
    assert "main: over by " in window.workspace.column.accessibleDescription()


def test_saving_keeps_the_file_and_clears_the_mark(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    assert window.isWindowModified()
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL)
    assert not window.isWindowModified()
    assert "# stands on six-inch legs; y = 0 is the mill floor" in copy.read_text("utf-8")
    again = opener(copy)
    assert again.document.layout.pumps == window.document.layout.pumps


def test_save_as_asks_for_a_name_and_adds_the_ending(
    opener: Opener, copy: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener(copy)
    wanted = copy.parent / "other"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(wanted), ""))
    assert window.files.save_as()
    assert window.document.path == wanted.with_suffix(".toml")
    assert storage.recent_files()[0] == wanted.with_suffix(".toml").resolve()
    assert wanted.with_suffix(".toml").read_text("utf-8") == CARRIAGE.read_text("utf-8")


def test_a_save_that_fails_is_told_and_offers_another_name(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    assert not window.files._save(copy.parent / "nowhere" / "drawing.toml")
    assert "unchanged" in window.notice.text
    assert window.isWindowModified()


@pytest.mark.parametrize(
    ("button", "closed", "saved"),
    [
        (QMessageBox.StandardButton.Cancel, False, False),
        (QMessageBox.StandardButton.Discard, True, False),
        (QMessageBox.StandardButton.Save, True, True),
    ],
)
def test_unsaved_changes_are_asked_about(
    opener: Opener, copy: Path, button: QMessageBox.StandardButton, closed: bool, saved: bool
) -> None:
    window = opener(copy)
    raise_port(window)
    answer_next(button)
    assert window.close() is closed
    assert (copy.read_text("utf-8") != CARRIAGE.read_text("utf-8")) is saved


def test_a_drawing_without_changes_closes_unasked(opener: Opener) -> None:
    assert opener().close()


def test_a_file_dropped_on_the_window_opens(opener: Opener, copy: Path) -> None:
    window = opener(None)
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(copy))])
    event = QDropEvent(
        QPointF(50, 50),
        Qt.DropAction.CopyAction,
        data,
        Qt.MouseButton.LeftButton,
        Qt.KeyboardModifier.NoModifier,
    )
    window.dropEvent(event)
    assert window.document.path == copy


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


def test_recent_drawings_stand_in_the_menu(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    menu = window.actions_by_name.menu("File/Open recent")
    menu.aboutToShow.emit()
    assert menu.actions()[0].text() == copy.name
    assert storage.recent_files()[0] == copy.resolve()


def test_panels_hide_and_are_remembered(qtbot: QtBot, opener: Opener, tmp_path: Path) -> None:
    settings = QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat)
    window = opener(CARRIAGE, settings)
    qtbot.keyClick(window, Qt.Key.Key_F7)
    assert not window.workspace.whatif.isVisible()
    qtbot.keyClick(window, Qt.Key.Key_3, CONTROL)
    window.resize(1500, 900)
    assert window.close()
    again = opener(CARRIAGE, QSettings(str(tmp_path / "window.ini"), QSettings.Format.IniFormat))
    assert not again.workspace.whatif.isVisible()
    assert again.workspace.column.isVisible()
    assert again.workspace.tabs.currentIndex() == 2
    qtbot.keyClick(again, Qt.Key.Key_F7)
    assert again.workspace.whatif.isVisible()


def test_light_and_dark_dress_every_view(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    light = window.grab().toImage()
    qtbot.keyClick(window, Qt.Key.Key_D, CONTROL | ALT)
    assert window.appearance.choice is Choice.DARK
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
    assert window.appearance.choice is Choice.LIGHT


def test_the_window_fits_a_small_screen(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    smallest = window.minimumSizeHint()
    assert smallest.width() <= 960
    assert smallest.height() <= 560
    window.resize(QSize(1366, 740))
    for view in (window.workspace.elevation, window.workspace.column, window.workspace.tabs):
        inside = view.mapTo(window, view.rect().bottomRight())
        assert inside.x() <= 1366
        assert inside.y() <= 740


@pytest.mark.parametrize("size", [QSize(1280, 720), QSize(1366, 768)])
def test_the_strip_is_whole_beside_the_column(qtbot: QtBot, opener: Opener, size: QSize) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    window.resize(size)
    strip = window.workspace.whatif
    qtbot.waitUntil(lambda: strip.width() <= strip.parentWidget().width())
    assert strip.minimumSizeHint().width() <= strip.parentWidget().width()
    assert len({turner.y() for turner in strip.turners.values()}) == 2


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


def test_no_two_actions_share_a_shortcut(opener: Opener) -> None:
    window = opener()
    actions = window.actions_by_name
    keys = [key.toString() for row in actions.commands for key in actions[row.name].shortcuts()]
    assert len(keys) == len(set(keys))
    assert all(row.tip for row in actions.commands)


def test_a_change_by_another_program_is_told(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    text = copy.read_text("utf-8").replace('title = "Log', 'title = "Lumber')
    copy.write_text(text, "utf-8")
    qtbot.waitUntil(lambda: "Another program" in window.notice.text, timeout=3000)
    again = next(b for b in window.notice.findChildren(QPushButton) if b.text() == "Read it again")
    qtbot.mouseClick(again, Qt.MouseButton.LeftButton)
    assert window.windowTitle().startswith("Lumber")


def test_what_the_last_session_left_unsaved_is_offered(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    moved = window.document.layout.pumps["carriage"].at
    window.document.file.keep()
    window.document.file._autosave.recovery.release()  # as when its process is gone
    again = opener(copy)
    assert "earlier session" in again.notice.text
    take = next(b for b in again.notice.findChildren(QPushButton) if b.text().startswith("Take up "))
    qtbot.mouseClick(take, Qt.MouseButton.LeftButton)
    assert again.document.layout.pumps["carriage"].at == moved
    assert again.isWindowModified()


class Paints(QObject):
    """Counts what is painted, widget by widget."""

    def __init__(self) -> None:
        super().__init__()
        self.widgets: list[QObject] = []

    def eventFilter(self, thing: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Paint:
            self.widgets.append(thing)
        return False


def test_a_drag_repaints_only_what_it_changes(qtbot: QtBot, qapp: QApplication, opener: Opener) -> None:
    window = opener()
    work, document = window.workspace, window.document
    x, y = (value.si for value in document.layout.pumps["carriage"].at)
    start = QPointF(*work.elevation.view.device(x, y)).toPoint()
    qtbot.mousePress(work.elevation, Qt.MouseButton.LeftButton, pos=start)
    qtbot.mouseMove(work.elevation, start - QPoint(0, 6))
    qtbot.wait(250)
    paints = Paints()
    qapp.installEventFilter(paints)
    for step in range(7, 30):
        qtbot.mouseMove(work.elevation, start - QPoint(0, step))
        QApplication.processEvents()
    qapp.removeEventFilter(paints)
    painted = set(paints.widgets)
    assert {work.elevation, work.column, work.ledger.table.viewport()} <= painted
    still = [window.heading, work.tabs.tabBar(), work.tabs, work.ledger.table.horizontalHeader().viewport()]
    still += [turner for name, turner in work.whatif.turners.items() if name != "Port height"]
    still += [window, window.centralWidget(), window.menuBar(), window.statusBar()]
    assert [each for each in still if each in painted] == []
    assert work.views["profile"].plot is None
    assert paints.widgets.count(work.elevation) <= 23


def test_tabs_that_are_not_seen_do_no_work_during_a_drag(
    qtbot: QtBot, opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    for at in (1, 2, 0):
        window.workspace.tabs.setCurrentIndex(at)
        QApplication.processEvents()
    worked = []
    for view in (window.workspace.views["profile"], window.workspace.views["findings"]):
        monkeypatch.setattr(view, "refresh", lambda view=view: worked.append(view))
    raise_port(window)
    assert worked == []
    window.workspace.tabs.setCurrentIndex(1)
    QApplication.processEvents()
    assert worked == [window.workspace.views["profile"]]


DRAWN = 'depth = "2 ft"\ndraw_down = "30 gal"\n'


def test_a_level_is_offered_only_where_it_can_be_told_apart(
    qtbot: QtBot, opener: Opener, tmp_path: Path
) -> None:
    from solver.layout.parts import Level

    window = opener()
    offered = [name for name in Level if window.actions_by_name[name].isVisible()]
    assert offered == list(window.document.levels) == ["minimum", "normal"]
    path = tmp_path / "drawn.toml"
    path.write_text(CARRIAGE.read_text("utf-8").replace('depth = "2 ft"\n', DRAWN), "utf-8")
    assert window.files.read(path)
    assert window.document.levels == tuple(Level)
    shown = [b for b in window.heading.findChildren(QToolButton) if b.accessibleName().startswith("Level")]
    assert [button.text() for button in shown if button.isVisible()] == [n.capitalize() for n in Level]
    qtbot.keyClick(window, Qt.Key.Key_N, CONTROL | ALT)
    normal = margin(window)
    qtbot.keyClick(window, Qt.Key.Key_W, CONTROL | ALT)
    assert window.document.level == "drawn down"
    assert margin(window) < normal
    assert window.files.read(CARRIAGE)
    assert window.document.level == "minimum"


def test_every_action_has_its_keys_and_stands_in_a_menu(opener: Opener) -> None:
    window = opener()
    bare = [
        row.name
        for row in window.actions_by_name.commands
        if not window.actions_by_name[row.name].shortcuts()
    ]
    assert bare == ["as desktop"]
    for row in window.actions_by_name.commands:
        assert window.actions_by_name[row.name] in window.actions_by_name.menu(row.menu).actions()


def test_every_choice_of_the_terminal_is_in_a_menu(opener: Opener) -> None:
    from sketch.views.tabs import TABS
    from solver.layout.parts import Level

    window = opener(LAYOUTS / "header-two-pumps.toml")
    for name in (
        *TABS,
        *Level,
        "us",
        "si",
        "sheet",
        "ledger file",
        "calculation file",
        "picture",
        "light",
        "dark",
        "as desktop",
    ):
        assert window.actions_by_name[name].text()
    for path, names in (
        ("View/Alternative", ("As drawn", *window.document.alternatives)),
        ("View/Pump", tuple(window.document.layout.pumps)),
    ):
        menu = window.actions_by_name.menu(path)
        menu.aboutToShow.emit()
        assert [action.text() for action in menu.actions()] == list(names)


@pytest.mark.parametrize("ending", [".txt", ".csv", ".json"])
def test_the_ledger_is_written_from_the_menu(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch, ending: str
) -> None:
    from sketch.window.exports import ledger_text
    from sketch.window.files import LEDGERS

    window = opener()
    chosen = next(each for each in LEDGERS.split(";;") if f"*{ending}" in each)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "ledger"), chosen))
    window.actions_by_name["ledger file"].trigger()
    written = (tmp_path / f"ledger{ending}").read_text("utf-8")
    assert written == ledger_text(window.document, ending)
    assert not window.files.write_ledger_to(tmp_path / "nowhere" / "ledger.txt")
    assert "not written" in window.notice.text


def test_the_calculation_is_written_from_the_menu(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    from sketch.window.exports import calculation_page

    window = opener()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "carriage"), ""))
    window.actions_by_name["calculation file"].trigger()
    written = (tmp_path / "carriage.html").read_text("utf-8")
    assert written == calculation_page(window.document)
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: ("", ""))
    window.actions_by_name["calculation file"].trigger()
    assert [path.name for path in tmp_path.glob("*.html")] == ["carriage.html"]
    assert not window.files.write_calculation_to(tmp_path / "nowhere" / "carriage.html")
    assert "The calculation was not written" in window.notice.text


def test_there_is_no_calculation_to_write_while_the_drawing_is_refused(
    opener: Opener, tmp_path: Path
) -> None:
    window = opener()
    layout = window.document.layout
    window.document.apply("Unjoin", dataclasses.replace(layout, runs={}))
    assert window.document.solution is None
    assert not window.actions_by_name["calculation file"].isEnabled()
    assert not window.files.write_calculation_to(tmp_path / "carriage.html")
    assert "nothing is calculated" in window.notice.text
    assert not (tmp_path / "carriage.html").exists()


def test_the_ledger_is_copied_and_the_window_pictured(
    opener: Opener, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    window = opener()
    window.actions_by_name["copy ledger"].trigger()
    assert "Over by" in QApplication.clipboard().text()
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *_: (str(tmp_path / "window"), ""))
    window.actions_by_name["picture"].trigger()
    assert (tmp_path / "window.png").stat().st_size > 10_000


BESIDE = "Pump beside the tank"


def test_an_alternative_keeps_the_zoom_and_says_how_it_stands(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    elevation, story = window.workspace.elevation, window.heading
    assert not story.compared.isVisible()
    elevation.zoom(1.5)
    view = elevation.view
    before = margin(window)
    qtbot.keyClick(window, Qt.Key.Key_PageDown, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_PageDown, CONTROL)
    assert window.document.alternative == BESIDE
    assert elevation.view == view
    better = (margin(window) - before) / 3386.389
    assert story.compared.isVisible()
    assert story.compared.text() == f"Margin {better:.1f} inHg better than as drawn."
    qtbot.keyClick(window, Qt.Key.Key_PageUp, CONTROL)
    qtbot.keyClick(window, Qt.Key.Key_PageUp, CONTROL)
    assert window.document.alternative == ""
    assert elevation.view == view
    assert not story.compared.isVisible()


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
    monkeypatch.setattr(QInputDialog, "getText", lambda *_, **given: (given["text"], True))
    window.actions_by_name["new alternative"].trigger()
    assert window.document.alternative == "Alternative 1"
    raise_port(window)
    assert window.heading.compared.text().endswith("worse than as drawn.")
    qtbot.keyClick(window, Qt.Key.Key_S, CONTROL)
    assert '[alternatives."Alternative 1"]' in copy.read_text("utf-8")
    monkeypatch.setattr(QInputDialog, "getText", lambda *_, **given: ("Alternative 1", True))
    window.actions_by_name["new alternative"].trigger()
    assert "already" in window.notice.text
    window.actions_by_name["remove alternative"].trigger()
    assert window.document.alternative == ""
    assert "Alternative 1" not in window.document.alternatives


def test_help_says_what_the_hand_does(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window._help is not None
    assert window._help.isVisible()
    text = window._help.text.toPlainText()
    for word in ("Drag a straight", "corner of a tank", "Alt while dragging", "Double-click a dimension"):
        assert word in text
    window._help.close()
    assert window.document.path is not None


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


def outside(copy: Path) -> None:
    copy.write_text(copy.read_text(encoding="utf-8").replace("1450 rpm", "1400 rpm"), encoding="utf-8")


@pytest.mark.parametrize(
    ("button", "saved"), [(QMessageBox.StandardButton.Cancel, False), (QMessageBox.StandardButton.Save, True)]
)
def test_what_another_program_has_saved_is_not_written_over_unasked(
    qtbot: QtBot, opener: Opener, copy: Path, button: QMessageBox.StandardButton, saved: bool
) -> None:
    window = opener(copy)
    document = window.document
    raise_port(window)
    with qtbot.waitSignal(document.file.changed_outside, timeout=3000):
        outside(copy)
    assert "Another program" in window.notice.text
    answer_next(button)
    assert window.files.save() is saved
    assert document.clean is saved
    assert ("1400 rpm" in copy.read_text(encoding="utf-8")) is not saved
    assert ("Another program" in window.notice.text) is not saved


def test_own_saves_ask_nothing(opener: Opener, copy: Path) -> None:
    window = opener(copy)
    for _ in range(2):
        raise_port(window)
        assert window.files.save()
    assert window.document.clean


def test_undo_keys_reach_the_drawing_once_a_figure_is_taken(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.activateWindow()
    before = window.document.layout
    field = window.workspace.whatif.turners["Port height"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "3 ft")
    qtbot.keyClick(field, Qt.Key.Key_Return)
    assert window.document.layout != before
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.layout == before


def test_undo_keys_stay_with_a_field_while_it_is_typed_in(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    window.activateWindow()
    raise_port(window)
    changed = window.document.layout
    field = window.workspace.whatif.turners["Port height"].field
    field.setFocus()
    field.selectAll()
    qtbot.keyClicks(field, "3")
    qtbot.keyClick(field, Qt.Key.Key_Z, Qt.KeyboardModifier.ControlModifier)
    assert window.document.layout is changed


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
    assert document.saved_ledger.margin == document.ledger.margin
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
        assert text == f"{name}: {judgement.worst(cases=[name]).standing}"
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


def test_a_figure_that_the_case_gives_is_not_turned(opener: Opener) -> None:
    window = opener()
    turner = window.workspace.whatif.turners["Fluid temperature"]
    assert turner.scale.isEnabled()
    window.document.set_case("coldest start")
    assert not turner.scale.isEnabled()
    window.document.set_case("as drawn")
    assert turner.scale.isEnabled()


def test_what_was_discarded_is_not_offered_again(qtbot: QtBot, opener: Opener, copy: Path) -> None:
    window = opener(copy)
    raise_port(window)
    window.document.file.keep()
    answer_next(QMessageBox.StandardButton.Discard)
    assert window.files.open(CARRIAGE)
    assert window.files.open(copy)
    assert window.notice.text == ""
    assert window.document.file.recoveries == ()


def test_a_second_window_on_one_file_says_so_and_leaves_the_first_alone(opener: Opener, copy: Path) -> None:
    first, second = opener(copy), opener(copy)
    assert "open in another window" in second.notice.text
    assert second.document.path is None
    assert not second.files._save(copy)
    assert "open in another window" in second.notice.text
    assert first.document.path == copy


def test_a_path_that_is_no_utf8_opens_and_says_why_it_is_not_written(opener: Opener, tmp_path: Path) -> None:
    path = Path(os.fsdecode(os.fsencode(tmp_path) + b"/caf\xe9.toml"))
    path.write_bytes(CARRIAGE.read_bytes())
    window = opener(path)
    assert window.document.path == path
    raise_port(window)
    window.document.file.keep()
    assert not window.files.save()
    assert "UTF-8" in window.notice.text
    assert path.read_bytes() == CARRIAGE.read_bytes()
    window.actions_by_name.menu("File/Open recent").aboutToShow.emit()
    assert window.files.may_leave is not None
    window.sync()


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
