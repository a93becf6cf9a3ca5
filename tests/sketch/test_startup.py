import os
import subprocess
import sys

import pytest

from sketch import startup


def test_the_aborting_pair_is_refused_and_no_other() -> None:
    assert "PySide6-Essentials<6.12" in startup.pair_problem((3, 11), "6.12.0")
    assert startup.pair_problem((3, 10), "6.13.1") != ""
    assert startup.pair_problem((3, 11), "6.11.3") == ""
    assert startup.pair_problem((3, 12), "6.12.0") == ""


def test_the_installed_pair_may_run() -> None:
    assert startup.installed_pair_problem() == ""


def test_a_call_that_returns_nothing_keeps_its_reference_to_none() -> None:
    from PySide6.QtCore import QObject

    thing = QObject()
    before = sys.getrefcount(None)
    for _ in range(100):
        thing.setObjectName("x")
    assert abs(sys.getrefcount(None) - before) < 50


@pytest.mark.parametrize(
    ("text", "package"),
    [
        ("libEGL.so.1: cannot open shared object file: No such file or directory", "libegl1"),
        ("libxcb-cursor.so.0: cannot open shared object file", "libxcb-cursor0"),
        ("libglib-2.0.so.0: cannot open shared object file", "libglib2.0-0"),
        ("libxkbcommon-x11.so.0: cannot open shared object file", "libxkbcommon-x11-0"),
    ],
)
def test_a_missing_library_is_named_with_its_package(text: str, package: str) -> None:
    there = {"load": lambda _: None}
    assert startup.missing_library(ImportError(text), **there).endswith(f"apt-get install {package}")


def test_all_missing_libraries_are_named_at_once() -> None:
    def load(name: str) -> None:
        if name in ("libdbus-1.so.3", "libEGL.so.1"):
            raise OSError(name)

    text = startup.missing_library(OSError("libxcb-cursor.so.0: cannot open shared object file"), load)
    assert "libxcb-cursor.so, libEGL.so, libdbus-1.so, which are not installed" in text
    assert text.endswith("sudo apt-get install libxcb-cursor0 libegl1 libdbus-1-3")


def test_what_is_asked_for_has_a_package() -> None:
    assert set(startup.NEEDED) <= set(startup.PACKAGES)


def test_an_unknown_library_is_still_named_and_other_errors_are_not_mistaken_for_one() -> None:
    assert "libodd.so" in startup.missing_library(OSError("libodd.so.4: cannot open shared object file"))
    assert startup.missing_library(ImportError("No module named 'PySide6'")) == ""


def test_display_problems() -> None:
    assert "no display" in startup.display_problem({}, "linux")
    assert startup.display_problem({"QT_QPA_PLATFORM": "offscreen"}, "linux") == ""
    assert startup.display_problem({"WAYLAND_DISPLAY": "wayland-0"}, "linux") == ""
    assert startup.display_problem({}, "darwin") == ""


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="X11 is asked on Linux only")
def test_a_display_that_nobody_answers_is_found_before_qt_aborts() -> None:
    environ = {"DISPLAY": ":4321"}
    said = startup.plugin_problem(environ, "linux") or startup.display_problem(environ, "linux")
    assert ":4321" in said or "apt-get install" in said


def test_the_guards_need_no_qt() -> None:
    code = (
        "import sys, sketch.startup as s; s.installed_pair_problem(); "
        "sys.exit(any(m.startswith('PySide6') for m in sys.modules))"
    )
    assert subprocess.run([sys.executable, "-c", code], env=dict(os.environ), check=False).returncode == 0


def test_the_examples_are_found() -> None:
    folder = startup.examples_folder()
    assert folder is not None
    assert folder.name == "layouts"
