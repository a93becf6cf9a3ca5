"""The page of what mouse and keys do."""

from __future__ import annotations

import html
import re
from pathlib import Path

from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.look.glossary import WORDS
from sketch.window.help import NOTHING, page
from tests.sketch.window.windows import Opener


def test_help_says_what_the_hand_does(qtbot: QtBot, opener: Opener) -> None:
    window = opener()
    qtbot.keyClick(window, Qt.Key.Key_F1)
    assert window._help is not None
    assert window._help.isVisible()
    text = window._help.text.toPlainText()
    for word in ("Drag a straight", "corner of a tank", "Alt while dragging", "Double-click a dimension"):
        assert word in text
    qtbot.keyClicks(window._help.field, "size STANDARD")
    text = window._help.text.toPlainText()
    assert "Ctrl+Alt+Up" in text
    assert "Ctrl+.," in text
    assert "Drag a straight" not in text
    qtbot.keyClicks(window._help.field, " zzz")
    assert window._help.text.toPlainText() == NOTHING
    window._help.field.clear()
    assert "Drag a straight" in window._help.text.toPlainText()
    window._help.close()
    assert window.document.path is not None


def test_help_explains_every_word_of_the_readme_and_of_the_column() -> None:
    table = (Path(__file__).parents[3] / "README.md").read_text("utf-8")
    listed = [word.lower() for word in re.findall(r"^\| \*\*(.+?)\*\* \|", table, re.MULTILINE)]
    assert len(listed) > 8
    explained = {word.lower() for word in WORDS}
    on_the_screen = {
        "kept to fill the pump",
        "over budget",
        "given back",
        "highest port",
        "velocity head",
        "k",
        "est.",
    }
    assert {*listed, *on_the_screen} <= explained | {"entrance", "screen"}
    assert all(html.escape(meaning) in page() for meaning in WORDS.values())
