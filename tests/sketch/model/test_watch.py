"""The file of the open drawing, watched."""

from __future__ import annotations

from pathlib import Path

from pytestqt.qtbot import QtBot

from sketch.model.document import Document
from solver.quantities import units
from tests.sketch.model.documents import raised

from ..conftest import RISER


def test_change_by_another_program_is_noticed_once(document: Document, riser: Path, qtbot: QtBot) -> None:
    with qtbot.waitSignal(document.file.changed_outside, timeout=3000):
        riser.write_text(RISER.replace("1450", "1400"), encoding="utf-8")
    document.reload()
    assert document.layout.pumps["carriage"].speed == units.quantity("1400 rpm", units.Kind.SPEED)


def test_replaced_file_is_watched_again(
    document: Document, riser: Path, qtbot: QtBot, tmp_path: Path
) -> None:
    for speed in ("1400", "1300"):
        other = tmp_path / "new.toml"
        other.write_text(RISER.replace("1450", speed), encoding="utf-8")
        with qtbot.waitSignal(document.file.changed_outside, timeout=3000):
            other.replace(riser)


def test_own_save_is_no_change_by_another(document: Document, qtbot: QtBot) -> None:
    raised(document, 1.25)
    with qtbot.assertNotEmitted(document.file.changed_outside, wait=400):
        document.save()
