"""A disk that does not answer: the hand goes on meanwhile, is told what is waited for, and may give it up."""

from __future__ import annotations

import threading
import time
from collections.abc import Callable, Iterator
from pathlib import Path
from typing import Any

import pytest
from PySide6.QtCore import Qt, QTimer
from PySide6.QtWidgets import QFileDialog
from pytestqt.qtbot import QtBot

from sketch.card.part_card import PartCard
from sketch.look.words import without_no_break
from sketch.model import disk, own_parts
from sketch.model.disk import SaveError
from sketch.page import dxf, logo, machine_card, options, paper
from sketch.page.sheet_parts import SheetWish
from sketch.plots.curves_view import CurvesView
from sketch.window import exports, page_file
from sketch.window.main_window import Window
from solver.layout import file
from solver.layout.own_parts import OwnPart
from tests.sketch.window.windows import CONTROL, Opener
from tests.thorough import first

ONE_WINDOW = True

LEFT = Qt.MouseButton.LeftButton
PART = "carriage"


@pytest.fixture
def window(opener: Opener, copy: Path) -> Window:
    return opener(copy)


@pytest.fixture
def gone(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """A share that answers nothing until the event is set."""
    back, read, write = threading.Event(), disk.file.contents, disk._write
    monkeypatch.setattr(disk.file, "contents", lambda path: back.wait(30) and read(path))
    monkeypatch.setattr(disk, "_write", lambda path, *given: _late(back, write, path, *given))
    yield back
    back.set()


def _late(back: threading.Event, write: Callable[..., None], path: Path, *given: object) -> None:
    if path.name == "carriage.toml":
        back.wait(30)
    write(path, *given)


@pytest.fixture
def stalled(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """A disk that writes nothing until the event is set."""
    back, write = threading.Event(), disk._write

    def late(*given: Any) -> None:
        back.wait(30)
        write(*given)

    monkeypatch.setattr(disk, "_write", late)
    monkeypatch.setattr(disk, "PATIENT_S", 0.06)
    yield back
    back.set()


def meanwhile(window: Window, qtbot: QtBot, *acts: Callable[[], object]) -> list[object]:
    """Do things by the hand once the bar is seen, one after another; what they come to is listed."""
    came: list[object] = []

    def look() -> None:
        if window.files.waiting.isVisible():
            timer.stop()
            came.extend(act() for act in acts)

    timer = QTimer(window, interval=20)
    timer.timeout.connect(look)
    timer.start()
    return came


def lift(window: Window, qtbot: QtBot) -> None:
    """The pump one step up, by the arrow key."""
    window.document.select(PART)
    qtbot.keyClick(window.workspace.elevation, Qt.Key.Key_Up)


def cancel(window: Window, qtbot: QtBot) -> None:
    qtbot.mouseClick(window.files.waiting.cancel, LEFT)


@pytest.mark.thorough
def test_the_hand_goes_on_while_a_drawing_is_read_and_may_give_it_up(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document, begun = window.document, time.monotonic()
    path, before = document.path, document.layout
    assert path is not None
    came = meanwhile(
        window,
        qtbot,
        lambda: window.files.waiting.text,
        lambda: lift(window, qtbot),
        lambda: document.layout is not before,
        lambda: window.files.read(path),
        window.close,
        lambda: cancel(window, qtbot),
    )
    assert not window.files.read(path)
    assert time.monotonic() - begun < 4.0
    sentence, _, moved, second, closed, _ = came
    assert "Reading carriage.toml" in str(sentence)
    assert moved
    assert not second, "one thing after the other"
    assert not closed
    assert window.isVisible()
    assert window.files.waiting.isHidden()
    assert "not waited for" in window.notice.text
    assert document.layout is not before, "what the hand did is kept"


@pytest.mark.thorough
def test_what_is_done_while_a_drawing_is_saved_is_not_taken_for_saved(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document = window.document
    lift(window, qtbot)
    saved = document.layout
    meanwhile(window, qtbot, lambda: lift(window, qtbot), window.files.save, gone.set)
    assert window.files.save()
    assert document.path is not None
    assert file.read(document.path).base == saved
    assert document.layout != saved
    assert not document.clean
    document.undo_stack.undo()
    document.undo_stack.undo()
    assert not document.clean, "the file holds what was undone"
    assert window.files.save()
    assert document.clean
    assert file.read(document.path).base == document.layout


@pytest.mark.thorough
def test_a_save_that_is_given_up_is_said_and_never_written_late(
    window: Window, qtbot: QtBot, gone: threading.Event
) -> None:
    document = window.document
    assert document.path is not None
    before = document.path.read_bytes()
    lift(window, qtbot)
    meanwhile(window, qtbot, lambda: cancel(window, qtbot))
    assert not window.files.save()
    assert "not known to be written" in window.notice.text
    assert not document.clean
    gone.set()
    qtbot.wait(100)
    assert document.path.read_bytes() == before


def test_what_nobody_waits_for_any_more_replaces_nothing(tmp_path: Path) -> None:
    path = tmp_path / "late.toml"
    path.write_text("newer", "utf-8")
    with pytest.raises(SaveError):
        disk._write(path, b"older", False, threading.Event())
    assert path.read_text("utf-8") == "newer"


def writers(window: Window, folder: Path) -> dict[str, tuple[Callable[[], object], Path]]:
    """Everything that the window writes but the drawing: how it is asked for, and the file it makes."""
    files, document, views = window.files, window.document, window.workspace.views
    curves, card = views["curves"], views["card"]
    assert isinstance(curves, CurvesView)
    assert isinstance(card, PartCard)

    def page(wanted: page_file.PageFile, path: Path) -> bool:
        return page_file.write_to(wanted, document, path, window.notice, window.show_status)

    def keep() -> None:
        table = {"density": "868 kg/m^3", "viscosity": [["40 degC", "46 cSt"], ["100 degC", "6.9 cSt"]]}
        card.own_parts.keep(OwnPart("fluids", "Our oil", table))

    path = {end: folder / f"out.{end}" for end in ("pdf", "png", "csv", "txt", "html", "dxf")}
    return {
        "sheet": (lambda: files.write_sheet_to(path["png"], SheetWish(pages=1)), path["png"]),
        "ledger": (lambda: files.write_ledger_to(path["txt"]), path["txt"]),
        "calculation": (lambda: files.write_calculation_to(path["html"]), path["html"]),
        "window": (files.write_picture, folder / "asked.png"),
        "parts list": (lambda: window.sheets.write_parts_to(path["csv"]), path["csv"]),
        "card": (lambda: page(page_file.CARD, path["pdf"]), path["pdf"]),
        "drawing to scale": (lambda: page(page_file.DXF, path["dxf"]), path["dxf"]),
        "curves": (curves._picture_button.click, folder / "asked.png"),
        "curves' figures": (curves._csv_button.click, folder / "asked.csv"),
        "own part": (keep, folder / "own.parts.toml"),
    }


@pytest.mark.thorough
@pytest.mark.parametrize("step", first([3, 1]))
def test_the_hand_goes_on_whatever_is_written_and_may_give_it_up(
    step: int,
    window: Window,
    qtbot: QtBot,
    stalled: threading.Event,
    tmp_path: Path,
    monkeypatch: pytest.MonkeyPatch,
) -> None:
    document = window.document
    monkeypatch.setattr(own_parts, "user_catalogue", lambda: tmp_path / "own.parts.toml")
    monkeypatch.setattr(
        QFileDialog,
        "getSaveFileName",
        lambda parent, title, start, kinds: (str(tmp_path / f"asked{kinds[-5:-1]}"), kinds),
    )
    window.workspace.show_tab("curves")
    curves = window.workspace.views["curves"]
    assert isinstance(curves, CurvesView)
    qtbot.waitUntil(lambda: curves.plot is not None and not curves.stale, timeout=5000)
    window.workspace.show_tab("ledger")  # curves that are hidden work nothing out at each step of the hand
    written = writers(window, tmp_path)
    for what, (write, path) in list(written.items())[::step]:
        window.notice.hide()
        before = document.layout
        came = meanwhile(
            window,
            qtbot,
            lambda: lift(window, qtbot),
            lambda: window.files.waiting.text,
            lambda write=write: write(),  # nothing else is asked of the disk meanwhile
            lambda: cancel(window, qtbot),
        )
        assert not write(), what
        assert came, f"{what}: no bar says that the disk is waited for"
        assert "not answered" in str(came[1]) or "worked out" in str(came[1]), what
        assert document.layout is not before, f"{what}: the hand does not go on"
        assert "not waited for" in window.notice.text, what
        assert not path.exists(), what
    stalled.set()
    qtbot.wait(50)
    assert not [path for _, path in written.values() if path.exists()], "written late"


def test_pages_written_before_and_a_logo_are_asked_of_the_disk_with_a_limit(
    window: Window, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch, tmp_path: Path
) -> None:
    back = threading.Event()
    monkeypatch.setattr(paper, "_pages_at", lambda path: back.wait(30) and ())
    monkeypatch.setattr(logo, "contents", lambda path, most: back.wait(30) and b"")
    monkeypatch.setattr(paper, "READ_S", 0.1)
    monkeypatch.setattr(logo, "READ_S", 0.1)
    try:
        assert not window.files._may_replace(tmp_path / "out.png")
        assert "did not answer" in window.notice.text
        with pytest.raises(ValueError, match="did not answer"):
            logo.read_logo(tmp_path, "logo.png")
    finally:
        back.set()


@pytest.fixture
def slow(monkeypatch: pytest.MonkeyPatch) -> Iterator[threading.Event]:
    """What to try takes until the event is set, wherever it is worked out."""
    over, work = threading.Event(), exports.with_remedies

    def late(*given: Any) -> Any:
        assert threading.current_thread() is not threading.main_thread(), "the hand waits for it"
        over.wait(30)
        return work(*given)

    monkeypatch.setattr(exports, "with_remedies", late)
    monkeypatch.setattr(disk, "PATIENT_S", 0.06)
    yield over
    over.set()


def test_a_ledger_is_worked_out_while_the_hand_goes_on(
    window: Window, qtbot: QtBot, slow: threading.Event, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    document, path = window.document, tmp_path / "out.txt"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *given: (str(path), "Text (*.txt)"))
    before, shown = document.layout, exports.ledger_text(document, ".txt", waits=False)
    came = meanwhile(
        window,
        qtbot,
        lambda: window.files.waiting.text,
        lambda: lift(window, qtbot),
        window.close,
        lambda: window.files.waiting.text,
        slow.set,
    )
    qtbot.keyClick(window, Qt.Key.Key_E, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    sentence, _, closed, wait, _ = came
    assert "Writing out.txt. It is being worked out" in without_no_break(str(sentence))
    assert document.layout is not before
    assert not closed
    assert "or cancel" in str(wait)
    assert window.isVisible()
    assert window.files.waiting.isHidden()
    assert path.read_text("utf-8").startswith(shown[: shown.index("Try: ")]), (
        "as it was when it was asked for"
    )


def test_a_calculation_may_be_given_up(
    window: Window, qtbot: QtBot, slow: threading.Event, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    path = tmp_path / "out.html"
    monkeypatch.setattr(QFileDialog, "getSaveFileName", lambda *given: (str(path), "HTML (*.html)"))
    meanwhile(window, qtbot, lambda: cancel(window, qtbot))
    qtbot.keyClick(window, Qt.Key.Key_H, CONTROL | Qt.KeyboardModifier.ShiftModifier)
    assert window.notice.text == "The calculation was not written: it was not waited for any longer."
    assert not path.exists()
    assert not window.files.waiting.busy


def test_a_sheet_is_worked_out_on_a_thread_and_may_be_given_up(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    over, threads, path = threading.Event(), list[bool](), tmp_path / "out.svg"
    work = options.advise_all

    def late(*given: Any) -> Any:
        threads.append(threading.current_thread() is threading.main_thread())
        over.wait(30)
        return work(*given)

    monkeypatch.setattr(options, "advise_all", late)
    monkeypatch.setattr(disk, "PATIENT_S", 0.06)
    came = meanwhile(window, qtbot, lambda: window.files.waiting.text, lambda: cancel(window, qtbot))
    assert not window.files.write_sheet_to(path, SheetWish(pages=1))
    assert "Writing out.svg. It is being worked out" in without_no_break(str(came[0]))
    assert window.notice.text == "The sheet was not written: it was not waited for any longer."
    assert not path.exists()
    over.set()
    assert window.files.write_sheet_to(path, SheetWish(pages=1))
    assert path.exists()
    assert threads
    assert not any(threads), "the hand waits for it"


def test_a_card_and_a_drawing_to_scale_are_worked_out_on_a_thread(
    window: Window, qtbot: QtBot, tmp_path: Path, monkeypatch: pytest.MonkeyPatch
) -> None:
    hand = list[bool]()

    def noted(work: Any) -> Any:
        def noting(*given: Any, **named: Any) -> Any:
            hand.append(threading.current_thread() is threading.main_thread())
            return work(*given, **named)

        return noting

    monkeypatch.setattr(dxf, "dxf_text", noted(dxf.dxf_text))
    monkeypatch.setattr(machine_card.card, "rows", noted(machine_card.card.rows))
    for wanted, name in ((page_file.CARD, "out.svg"), (page_file.DXF, "out.dxf")):
        path = tmp_path / name
        assert page_file.write_to(wanted, window.document, path, window.notice, window.show_status)
        assert path.exists()
    assert len(hand) > 1
    assert not any(hand), "the hand waits for it"
