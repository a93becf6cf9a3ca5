"""What cannot be a drawing, brought to the window by the ways a user has: refused with what and where."""

from __future__ import annotations

import os
import shutil
from collections.abc import Callable, Iterator
from contextlib import contextmanager
from pathlib import Path
from typing import NamedTuple

import pytest
from PySide6.QtCore import QMimeData, QPointF, Qt, QUrl
from PySide6.QtGui import QDragEnterEvent, QDropEvent
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QApplication, QFileDialog, QMessageBox

from sketch.editing import edits
from sketch.look.appearance import ThemeChoice
from sketch.model import storage
from sketch.window.main_window import Window, make_window
from tests.thorough import first, one_in

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"
TEXT = CARRIAGE.read_text("utf-8")


class Bad(NamedTuple):
    """A drawing spoilt in one place: the key named, and a word of what is said of it."""

    old: str
    new: str
    key: str
    said: str


SPOILT = {
    "unknown key": Bad(
        'type = "vane"', 'type = "vane"\ncolour = "red"', "pumps.carriage.colour", "unknown key"
    ),
    "wrong dimension": Bad('"45 degC"', '"45 m"', "fluid.temperature", "which is a length"),
    "nan": Bad('"1450 rpm"', '"nan rpm"', "pumps.carriage.speed", "nan rpm"),
    "1e400 m": Bad('["3 ft 5 in", ', '["1e400 m", ', "pumps.carriage.at[0]", "1e400 m"),
    "9**9**9 m": Bad('["3 ft 5 in", ', '["9**9**9 m", ', "pumps.carriage.at[0]", "9**9**9 m"),
    "negative bore": Bad(
        'to = "carriage"\nsize = "NPS 2 schedule 40"',
        'to = "carriage"\nbore = "-50 mm"',
        "runs.lead.bore",
        "-50 mm",
    ),
    "zero flow": Bad('displacement = "82 cm^3/rev"', 'flow = "0 gpm"', "pumps.carriage.flow", "0 gpm"),
    "two parts of one name": Bad("[runs.lead]", "[runs.connector]", "runs.connector", "second part"),
    "a run to nowhere": Bad('to = "carriage"', 'to = "carrige"', "runs.lead.to", "no part"),
    "intake outside the tank": Bad(
        '["1 ft", "1 ft 1 in"]', '["9 ft", "1 ft 1 in"]', "intakes.strainer.at", "outside"
    ),
    "level above the rim": Bad('"2 ft 4 in"', '"9 ft"', "reservoirs.tank.normal_level", "above the rim"),
}


class Held(NamedTuple):
    """Everything of the open drawing that a refused file must leave alone."""

    layout: object
    path: Path | None
    title: str
    steps: int
    modified: bool
    selected: str
    recent: list[Path]
    said: str


def held(window: Window) -> Held:
    document = window.document
    return Held(
        document.layout,
        document.path,
        window.windowTitle(),
        document.undo_stack.count(),
        window.isWindowModified(),
        document.selected_part,
        storage.recent_files(),
        window.workspace.elevation.accessibleDescription(),
    )


@contextmanager
def changed_window(qapp: QApplication, folder: Path) -> Iterator[Window]:
    """A window with a drawing that has an unsaved change and a selection."""
    window = make_window(qapp, None, ThemeChoice.LIGHT)
    assert window.files.read(Path(shutil.copy(CARRIAGE, folder / "open.toml")))
    window.show()
    assert QTest.qWaitForWindowExposed(window)
    window.document.apply("Raise", edits.set_port_height(window.document.layout, "carriage", 1.2))
    window.document.select("connector")
    QTest.qWait(250)  # until the highest port is known
    yield window
    window.document.undo_stack.setClean()
    window.close()


@pytest.fixture(scope="module")
def opened(qapp: QApplication, tmp_path_factory: pytest.TempPathFactory) -> Iterator[Window]:
    """One window for all files that are refused, since none may change anything in it."""
    with changed_window(qapp, tmp_path_factory.mktemp("open")) as window:
        yield window


@pytest.fixture
def window(opened: Window, monkeypatch: pytest.MonkeyPatch) -> Window:
    """The window with no notice in it."""

    def asked(*_: object) -> None:
        raise AssertionError("nobody is asked about unsaved changes for a file that cannot be opened")

    monkeypatch.setattr(QMessageBox, "exec", asked)
    opened.notice.show_message("nothing yet")
    assert not opened.notice.rows()
    return opened


def drop(window: Window, path: Path) -> None:
    data = QMimeData()
    data.setUrls([QUrl.fromLocalFile(str(path))])
    copy, left, none = Qt.DropAction.CopyAction, Qt.MouseButton.LeftButton, Qt.KeyboardModifier.NoModifier
    place = QPointF(300, 200)
    QApplication.sendEvent(window, QDragEnterEvent(place.toPoint(), copy, data, left, none))
    QApplication.sendEvent(window, QDropEvent(place, copy, data, left, none))


def dialog(window: Window, path: Path) -> None:
    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(QFileDialog, "getOpenFileName", lambda *_: (str(path), ""))
        window.actions_by_name["open"].trigger()


def recent(window: Window, path: Path) -> None:
    was = storage.recent_files()
    storage.remember(path)
    menu = window.actions_by_name.menu("File/Open recent")
    menu.aboutToShow.emit()
    menu.actions()[0].trigger()
    storage.write_safely(storage.state_folder() / "recent.txt", "".join(f"{each}\n" for each in was))


DOORS = {"dropped": drop, "by the dialog": dialog, "from the recent files": recent}


@pytest.mark.parametrize("spoilt", one_in(6, SPOILT.values()), ids=SPOILT.keys())
@pytest.mark.parametrize("door", first(DOORS))
def test_spoilt_drawing_is_refused_with_what_and_where_and_the_open_one_is_untouched(
    window: Window, tmp_path: Path, door: str, spoilt: Bad
) -> None:
    assert spoilt.old in TEXT
    path = tmp_path / "spoilt.toml"
    path.write_text(TEXT.replace(spoilt.old, spoilt.new, 1), "utf-8")
    before = held(window)
    DOORS[door](window, path)
    assert held(window) == before
    assert window.notice.text.startswith("spoilt.toml was not opened")
    assert "The open drawing is untouched." in window.notice.text
    line, _, found, allowed = next(row for row in window.notice.rows() if row[1] == spoilt.key)
    assert spoilt.said in found
    assert allowed
    word = "[runs.connector]" if "second part" in found else spoilt.new.splitlines()[-1].strip()
    assert word in path.read_text("utf-8").splitlines()[int(line) - 1]


def make_large(path: Path) -> None:
    with path.open("wb") as stream:
        stream.truncate(50 * 2**20)


def make_closed(path: Path) -> None:
    path.write_text(TEXT, "utf-8")
    path.chmod(0)


STRANGE: dict[str, tuple[Callable[[Path], object], str]] = {
    "not TOML": (lambda path: path.write_text("format = [", "utf-8"), "not TOML"),
    "50 MB": (make_large, "at most 8 MiB"),
    "binary": (lambda path: path.write_bytes(bytes(range(256)) * 9), "UTF-8"),
    "a directory": (lambda path: path.mkdir(), "directory"),
    "without permission": (make_closed, "permission denied"),
    "not there": (lambda path: None, "no such file"),
    "empty": (lambda path: path.touch(), "format"),
}


@pytest.mark.parametrize(("make", "said"), one_in(2, STRANGE.values(), several=True), ids=STRANGE.keys())
@pytest.mark.parametrize("door", first([drop, dialog]), ids=["dropped", "by the dialog"])
def test_what_is_no_drawing_is_refused_plainly(
    window: Window,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
    door: Callable[[Window, Path], None],
    make: Callable[[Path], object],
    said: str,
) -> None:
    path = tmp_path / "strange.toml"
    make(path)
    if said == "permission denied":  # whoever runs the tests may be allowed everything
        sound = os.open

        def refuse(asked: object, *arguments: int) -> int:
            if asked == path:
                raise PermissionError(13, "Permission denied")
            return sound(asked, *arguments)

        monkeypatch.setattr(os, "open", refuse)
    before = held(window)
    door(window, path)
    assert held(window) == before
    assert window.notice.text.startswith("strange.toml was not opened")
    told = " ".join([window.notice.text, *(cell for row in window.notice.rows() for cell in row)]).lower()
    assert said.lower() in told


@pytest.mark.thorough
def test_sound_drawing_after_a_refused_one_asks_and_opens(
    qapp: QApplication, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "bad.toml"
    path.write_text("format = [", "utf-8")
    monkeypatch.setattr(QMessageBox, "exec", lambda *_: QMessageBox.StandardButton.Discard)
    with changed_window(qapp, tmp_path) as window:
        drop(window, path)
        assert window.notice.text.startswith("bad.toml was not opened")
        drop(window, CARRIAGE)
        assert window.document.path == CARRIAGE
        assert window.notice.text == ""
