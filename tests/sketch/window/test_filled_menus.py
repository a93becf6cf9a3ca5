"""Menus that are filled as they open: what there is, the one that is shown ticked."""

from __future__ import annotations

from pathlib import Path

import pytest

from sketch.editing import building
from sketch.model import storage
from sketch.window.main_window import Window
from tests.sketch.window.windows import LAYOUTS, Opener

ONE_WINDOW = True


def ticked(window: Window, path: str) -> list[str]:
    """What is ticked of a menu, once it is opened."""
    menu = window.actions_by_name.menu(path)
    menu.aboutToShow.emit()
    return [action.text() for action in menu.actions() if action.isChecked()]


@pytest.mark.parametrize(
    ("path", "first", "second"),
    [
        ("View/Alternative", "The drawing itself", "Three-inch header"),
        ("View/Pump", "main", "pilot"),
        ("View/Case", "as drawn", "coldest start"),
    ],
)
def test_what_is_shown_is_ticked_and_what_is_chosen_is_shown(
    opener: Opener, path: str, first: str, second: str
) -> None:
    window = opener(LAYOUTS / "header-two-pumps.toml")
    assert ticked(window, path) == [first]
    menu = window.actions_by_name.menu(path)
    next(action for action in menu.actions() if action.text() == second).trigger()
    assert ticked(window, path) == [second]


def test_a_name_with_an_ampersand_is_whole(opener: Opener, monkeypatch: pytest.MonkeyPatch) -> None:
    window = opener()
    window.document.add_alternative("Hose & valve")
    assert ticked(window, "View/Alternative") == ["Hose && valve"]
    monkeypatch.setattr(storage, "recent_files", lambda: [Path("oil & water.toml")])
    menu = window.actions_by_name.menu("File/Open recent")
    menu.aboutToShow.emit()
    assert [action.text() for action in menu.actions()] == ["oil && water.toml"]


def test_a_menu_of_pumps_comes_with_the_second(opener: Opener) -> None:
    window = opener()
    action = window.actions_by_name.menu("View/Pump").menuAction()
    assert not action.isVisible()
    document = window.document
    document.apply("Add", building.add(document.layout, "pump", 9.0, 1.0).layout)
    assert action.isVisible()
