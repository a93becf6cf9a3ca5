"""What stands round the drawing follows every change, but of a drag only some and the last."""

from __future__ import annotations

from itertools import count
from pathlib import Path

from pytestqt.qtbot import QtBot

from sketch.editing import edits
from sketch.model.document import Document
from sketch.model.pace import FRAMES, LATEST, Pace, pace


class Rig:
    """A document with a pace by a clock of its own, and how many changes it has passed on."""

    def __init__(self, path: Path) -> None:
        self.now, self.passed = 100.0, 0
        self.document = Document()
        self.document.open(path)
        self.pace = Pace(self.document, lambda: self.now)
        self.pace.changed.connect(self._count)
        self._warmer = count(310)

    def _count(self) -> None:
        self.passed += 1

    def change(self, after: float = 0.001) -> int:
        """Change the drawing once more; how many changes were passed on until then."""
        self.now += after
        layout = self.document.layout
        self.document.apply("Warm", edits.set_temperature(layout, float(next(self._warmer))), 7)
        return self.passed


def test_every_change_is_passed_on_but_of_a_drag_one_in_five_and_the_last(qtbot: QtBot, riser: Path) -> None:
    rig = Rig(riser)
    assert [rig.change() for _ in range(3)] == [1, 2, 3]
    rig.pace.begin_drag()
    assert [rig.change() for _ in range(2 * FRAMES + 1)] == [3] * 4 + [4] * 5 + [5] * 2
    rig.pace.end_drag()
    assert rig.passed == 6
    rig.pace.end_drag()
    assert rig.passed == 6, "nothing was held back"
    assert rig.change() == 7
    assert rig.pace.passed_on == 7


def test_a_drag_that_is_slow_or_rests_keeps_nothing_back_for_long(qtbot: QtBot, riser: Path) -> None:
    rig = Rig(riser)
    rig.change()
    rig.pace.begin_drag()
    assert [rig.change(LATEST + 0.001) for _ in range(3)] == [2, 3, 4]
    with qtbot.waitSignal(rig.pace.changed, timeout=2000):
        assert rig.change() == 4
    assert rig.passed == 5


def test_a_document_has_one_pace(qtbot: QtBot) -> None:
    document = Document()
    assert pace(document) is pace(document)
