"""A window that edits, saves and keeps a drawing without a rest, until it is killed.

`python -m tests.kill.victim FILE MARK SEED`: each state is numbered in the title, behind the mark. A line is
printed once a state is safe: "open", "copy", "recovered N", "saved N", "kept N".
"""

from __future__ import annotations

import os
import random
import sys
from dataclasses import replace
from pathlib import Path

from PySide6.QtCore import Qt, QTimer
from PySide6.QtTest import QTest
from PySide6.QtWidgets import QPushButton

from sketch.look.appearance import ThemeChoice
from sketch.run import application
from sketch.window.main_window import Window, make_window


def state_of(title: str, mark: str) -> int:
    """The number in a title with that mark; 0 in another."""
    head, _, number = title.partition(" ")
    return int(number) if head == mark and number.isdigit() else 0


def say(what: str) -> None:
    os.write(1, f"{what}\n".encode())


def take_up(window: Window, path: Path, mark: str) -> None:
    """Press the button of the newest recovery, where one is offered that was kept after the last save."""
    recoveries = window.document.file.recoveries
    if not recoveries or recoveries[0].stat().st_mtime_ns < path.stat().st_mtime_ns:
        return  # the button says when it was kept: what is older than the drawing is left alone
    buttons = window.notice.findChildren(QPushButton)
    offered = [each for each in buttons if each.text().startswith("Take up") and each.isVisible()]
    if offered:
        QTest.mouseClick(offered[0], Qt.MouseButton.LeftButton)
        say(f"recovered {state_of(window.document.layout.title, mark)}")


class Victim:
    """Makes one state after another, and saves or keeps it."""

    def __init__(self, window: Window, mark: str, seed: int) -> None:
        self._window, self._mark, self._chance = window, mark, random.Random(seed)
        self._timer = QTimer(window, interval=0)
        self._timer.timeout.connect(self._work)

    def start(self) -> None:
        self._timer.start()

    def _work(self) -> None:
        document = self._window.document
        number = state_of(document.layout.title, self._mark) + 1
        document.apply("Count", replace(document.layout, title=f"{self._mark} {number}"))
        if document.path is not None and self._chance.random() < 0.4:
            if self._window.files.save():
                say(f"saved {number}")
        else:
            document.file.keep()
            say(f"kept {number}")


def main(path: Path, mark: str, seed: int) -> int:
    running = application()
    window = make_window(running, None, ThemeChoice.LIGHT)
    if not window.files.read(path):
        say(f"refused {window.notice.text}")
        return 1
    window.show()
    running.processEvents()
    say("copy" if window.document.file.held_by else "open")
    take_up(window, path, mark)
    victim = Victim(window, mark, seed)
    victim.start()
    return running.exec()


if __name__ == "__main__":
    sys.exit(main(Path(sys.argv[1]), sys.argv[2], int(sys.argv[3])))
