"""How the views share the window."""

from __future__ import annotations

from collections.abc import Iterable
from itertools import permutations
from pathlib import Path

import pytest
from PySide6.QtCore import QEvent, QObject, QPoint, QPointF, QRect, QSettings, QSize, Qt
from PySide6.QtWidgets import QApplication, QTableWidget, QWidget
from pytestqt.qtbot import QtBot

from sketch.canvas import highest
from sketch.look.appearance import ThemeChoice, theme_of
from sketch.look.colours import DARK, LIGHT
from sketch.look.focus_frame import FocusFrame
from sketch.model.document import Document
from sketch.model.inspector import gauger
from sketch.model.pace import pace
from sketch.strip import readings, whatif
from sketch.views import ledger_rows
from sketch.views.ledger_model import LedgerModel
from sketch.views.tabs import TABS
from tests.drawings import RISER
from tests.sketch.canvas.mouse import drag, send, spot
from tests.sketch.window.pages import AT_ONCE, pages_of
from tests.sketch.window.windows import CARRIAGE, CONTROL, LAYOUTS, Opener, raise_port
from tests.thorough import first

ONE_WINDOW = True


def test_the_tab_of_the_findings_says_how_serious_the_worst_is(opener: Opener) -> None:
    window = opener(LAYOUTS / "carriage-at-altitude.toml")
    tabs = window.workspace.tabs
    assert tabs.tabText(2) == "Findings: 1 stop of 4"
    on_light = tabs.tabIcon(2).pixmap(16).toImage()
    window.appearance.choose(ThemeChoice.DARK)
    QApplication.processEvents()
    on_dark = tabs.tabIcon(2).pixmap(16).toImage()
    assert on_dark != on_light, "in the colours that are seen on this ground"
    tables = window.workspace.findChildren(QTableWidget)
    assert tables
    assert all(theme_of(each.palette()) is DARK for each in tables), "none keeps the colours it was made in"
    window.appearance.choose(ThemeChoice.LIGHT)
    QApplication.processEvents()
    assert tabs.tabIcon(2).pixmap(16).toImage() == on_light
    assert all(theme_of(each.palette()) is LIGHT for each in tables)
    window.document.show_alternative("Pump beside the tank")
    assert tabs.tabText(2) == "Findings"
    assert tabs.tabIcon(2).isNull()


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


def test_the_window_fits_a_small_screen(opener: Opener) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml", own=True)
    smallest = window.minimumSizeHint()
    assert smallest.width() <= 960
    assert smallest.height() <= 560
    window.resize(QSize(1366, 740))
    for view in (window.workspace.elevation, window.workspace.column, window.workspace.tabs):
        inside = view.mapTo(window, view.rect().bottomRight())
        assert inside.x() <= 1366
        assert inside.y() <= 740


@pytest.mark.thorough
def test_no_name_and_no_drawing_shown_before_keeps_the_window_wide(opener: Opener, tmp_path: Path) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    text = (LAYOUTS / "header-two-pumps.toml").read_text(encoding="utf-8")
    for name in ("main", "pilot"):
        text = text.replace(f"pumps.{name}", f"pumps.{name}-of-the-second-press-line-by-the-door")
        text = text.replace(f'"{name}"', f'"{name}-of-the-second-press-line-by-the-door"')
    text += """
[alternatives."Everything a size larger and the header a metre further down"]
fluid.temperature = "30 degC"
[cases."The first start on a Monday morning in the coldest week of the year"]
fluid.temperature = "10 degC"
"""
    path = tmp_path / "long.toml"
    path.write_text(text, encoding="utf-8")
    window.resize(QSize(1366, 740))
    assert window.files.read(path)
    window.document.show_alternative("Everything a size larger and the header a metre further down")
    QApplication.processEvents()
    assert window.heading.cases.isVisible()
    assert window.heading.pumps.isVisible()
    assert window.minimumSizeHint().width() <= 960
    window.resize(QSize(960, 600))
    QApplication.processEvents()
    assert window.width() == 960
    shown = [each for each in window.heading.children() if isinstance(each, QWidget) and each.isVisible()]
    assert max(each.geometry().right() for each in shown) < 960
    longest = "The first start on a Monday morning in the coldest week of the year"
    cases = window.heading.cases
    assert cases.view().minimumWidth() > cases.fontMetrics().horizontalAdvance(longest) > cases.width()
    assert window.files.read(LAYOUTS / "shear-started-dry.toml")
    window.resize(QSize(1366, 740))
    assert window.minimumSizeHint().width() <= 960


@pytest.mark.parametrize("size", first([QSize(1280, 720), QSize(1366, 768)]))
def test_the_strip_is_whole_beside_the_column(qtbot: QtBot, opener: Opener, size: QSize) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    window.resize(size)
    strip = window.workspace.whatif
    qtbot.waitUntil(lambda: strip.width() <= strip.parentWidget().width())
    assert strip.minimumSizeHint().width() <= strip.parentWidget().width()
    assert len({turner.y() for turner in strip.turners.values()}) == 2


class Paints(QObject):
    """Counts what is painted, widget by widget."""

    def __init__(self) -> None:
        super().__init__()
        self.widgets: list[QObject] = []

    def eventFilter(self, thing: QObject, event: QEvent) -> bool:
        if event.type() is QEvent.Type.Paint:
            self.widgets.append(thing)
        return False


def test_a_drag_repaints_only_what_it_changes(
    qtbot: QtBot, qapp: QApplication, opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    # A machine that is busy elsewhere pauses for so long that the strip takes it for a rest and marks what is
    # safe on all its knobs, and the sheet asks again how high the port may stand.
    for module, name in ((whatif, "REST_MS"), (highest, "IDLE_MS")):
        monkeypatch.setattr(module, name, 3_600_000)
    window = opener(own=True)
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


def test_a_frame_of_a_drag_has_its_own_verdict_and_the_last_shows_all(
    opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr("sketch.model.pace.LATEST", 3600.0)  # a busy machine takes longer for every frame
    window = opener(CARRIAGE)
    document, work = window.document, window.workspace
    x, y = (value.si for value in document.layout.pumps["carriage"].at)
    headline = QRect(work.column.mapTo(window, QPoint()), QSize(work.column.width(), 60))
    drag(work.elevation, (x, y), release=False)
    late = 0
    for step in range(1, 7):
        send(work.elevation, QEvent.Type.MouseMove, spot(work.elevation, x, y + 0.05 * step))
        QApplication.processEvents()
        now = _ledger_rows(document)
        assert _figures(work.ledger.sums.ledger)[-1] == now[-1], "the margin of another frame"
        assert work.whatif.margin.text() == readings.margin_text(document.ledger, document.system)
        shown = window.screen().grabWindow(window.winId()).toImage().copy(headline)
        assert shown == window.grab(headline).toImage(), "the headline of another frame"
        late += _figures(work.ledger.ledger) != now
    send(work.elevation, QEvent.Type.MouseButtonRelease, spot(work.elevation, x, y + 0.3))
    assert _figures(work.ledger.ledger) == _ledger_rows(document)
    assert late, "nothing was kept back, so that nothing was tried"


def test_the_last_frame_of_a_slow_drag_is_in_the_ledger_once_the_hand_lets_go(
    opener: Opener, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Also where what was held back was shown between two frames, and the last is passed on at once."""
    window = opener(CARRIAGE)
    document, work = window.document, window.workspace
    now = [0.0]
    monkeypatch.setattr(pace(document), "_clock", lambda: now[0])
    x, y = (value.si for value in document.layout.pumps["carriage"].at)
    drag(work.elevation, (x, y), release=False)
    send(work.elevation, QEvent.Type.MouseMove, spot(work.elevation, x, y + 0.05))
    pace(document)._catch_up()
    pace(document).changed.emit()
    now[0] = 1.0
    send(work.elevation, QEvent.Type.MouseMove, spot(work.elevation, x, y + 0.3))
    send(work.elevation, QEvent.Type.MouseButtonRelease, spot(work.elevation, x, y + 0.3))
    assert _figures(work.ledger.ledger) == _ledger_rows(document)


def _figures(ledger: LedgerModel) -> list[list[str]]:
    return [[ledger.text(row, column) for column in range(6)] for row in range(len(ledger.rows))]


def _ledger_rows(document: Document) -> list[list[str]]:
    """What the ledger of the drawing as it is now says."""
    assert document.solution is not None
    rows = ledger_rows.rows(document.solution, document.pump)
    return [[ledger_rows.text(row, column, document.system) for column in range(6)] for row in rows]


SHOWN_AFTER = {
    "two pumps": (LAYOUTS / "header-two-pumps.toml").read_text("utf-8"),
    "one pump": RISER,
    "read": (LAYOUTS / "strainer-over-a-year.toml").read_text("utf-8"),
    "unfinished": RISER[: RISER.index("[runs")],
}


def refuse_other_figures(
    qtbot: QtBot, opener: Opener, folder: Path, before: str, after: str, names: Iterable[str]
) -> None:
    paths = {name: folder / f"{name}.toml" for name in (before, after)}
    for name, path in paths.items():
        path.write_text(SHOWN_AFTER[name], encoding="utf-8")
    window = opener(paths[before], own=True)
    pages_of(window, qtbot, names)
    assert window.files.read(paths[after])
    shown = pages_of(window, qtbot, names)
    fresh = pages_of(opener(paths[after], own=True), qtbot, names)
    for name, words in fresh.items():
        assert shown[name] == words, name


def test_no_tab_shows_anything_of_the_drawing_before(qtbot: QtBot, opener: Opener, tmp_path: Path) -> None:
    refuse_other_figures(qtbot, opener, tmp_path, "two pumps", "one pump", AT_ONCE)


@pytest.mark.thorough
@pytest.mark.parametrize(("before", "after"), [*permutations(SHOWN_AFTER, 2)])
def test_no_tab_shows_anything_of_any_drawing_before(
    qtbot: QtBot, opener: Opener, tmp_path: Path, before: str, after: str
) -> None:
    refuse_other_figures(qtbot, opener, tmp_path, before, after, TABS)


def test_elevation_ledger_and_sums_are_framed_where_a_key_leads_to_them(opener: Opener, qtbot: QtBot) -> None:
    window = opener()
    work = window.workspace
    for key, modifiers, widget in (
        (Qt.Key.Key_1, Qt.KeyboardModifier.ControlModifier, work.ledger.table),
        (Qt.Key.Key_Tab, Qt.KeyboardModifier.NoModifier, work.ledger.sums),
        (Qt.Key.Key_F4, Qt.KeyboardModifier.NoModifier, work.elevation),
    ):
        qtbot.keyClick(QApplication.focusWidget(), key, modifiers)
        assert QApplication.focusWidget() is widget
        frame = widget.findChild(FocusFrame)
        assert frame is not None
        assert frame.isVisible(), widget.accessibleName()
    assert sum(frame.isVisible() for frame in window.findChildren(FocusFrame)) == 1
    qtbot.mouseClick(work.elevation, Qt.MouseButton.LeftButton, pos=QPoint(10, 10))
    assert not any(frame.isVisible() for frame in window.findChildren(FocusFrame))


def test_headline_picture_ledger_and_copy_say_of_which_of_two_pumps_they_are(
    qtbot: QtBot, opener: Opener
) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    workspace, document = window.workspace, window.document
    elevation = workspace.elevation
    for name, other in (("pilot", "main"), ("main", "pilot")):
        at = (each.si for each in document.layout.pumps[name].at)
        qtbot.mouseClick(elevation, Qt.MouseButton.LeftButton, pos=spot(elevation, *at))
        assert document.pump == name
        elevation.repaint()
        legends = [each.text for each in elevation.picture.labels if each.kind == "legend"]
        assert legends
        assert legends[0].startswith(f"share of the inlet budget of {name}")
        outlook = gauger(document).outlook
        assert outlook.headline.startswith("main: over by")
        below = {"pilot": "Shown here, pilot: within, but the fluid runs too fast", "main": ""}[name]
        assert outlook.beneath.startswith(below)
        assert bool(outlook.beneath) is bool(below)
        assert workspace.whatif.margin.text().startswith(f"{name}: ")
        assert workspace.column._case.startswith(f"{name}, ")
        rows = ledger_rows.rows(document.solution, document.pump)
        assert rows[0].part == f"of {name}"
        qtbot.keyClick(window, Qt.Key.Key_C, CONTROL | Qt.KeyboardModifier.ShiftModifier)
        copied = QApplication.clipboard().text()
        assert copied.index(f"{name}: takes in") < copied.index(f"{other}: takes in")
        assert (
            f"Copied the ledger of {name}, and under it that of {other}"
            in window.statusBar().currentMessage()
        )


def test_a_drawing_opens_with_the_pump_that_its_headline_is_of(opener: Opener, tmp_path: Path) -> None:
    text = (LAYOUTS / "header-two-pumps.toml").read_text(encoding="utf-8")
    begin, end = text.index("[pumps.main]"), text.index("[pumps.pilot]")
    after = text.index("\n[", end) + 1
    turned = text[:begin] + text[end:after] + text[begin:end] + text[after:]
    path = tmp_path / "turned.toml"
    path.write_text(turned, encoding="utf-8")
    window = opener(path, own=True)
    assert next(iter(window.document.layout.pumps)) == "pilot"
    assert window.document.pump == "main"
    assert not gauger(window.document).outlook.beneath
