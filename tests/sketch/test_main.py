"""The program as it is started: with and without a display, for a sheet, for a picture."""

from __future__ import annotations

import os
import re
import subprocess
import sys
from collections.abc import Iterator
from functools import partial
from pathlib import Path

import pytest
from PySide6.QtGui import QImage
from PySide6.QtWidgets import QApplication

from sketch import startup
from sketch.__main__ import main
from sketch.look.appearance import Appearance, ThemeChoice
from tests.drawings import RISER
from tests.sketch.pixels import pixels
from tests.sketch.runs import CARRIAGE, FLOODED, LAYOUTS, Run, Runner
from tests.sketch.sheets import words

HIDDEN = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")

on_linux = pytest.mark.skipif(
    not sys.platform.startswith("linux"), reason="elsewhere there is always a display"
)


def start(*arguments: str | Path, **environ: str) -> subprocess.CompletedProcess[str]:
    """The program as a user starts it, with no display unless one is given."""
    kept = {name: value for name, value in os.environ.items() if name not in HIDDEN}
    return subprocess.run(
        [sys.executable, "-m", "sketch", *map(str, arguments)],
        env={**kept, **environ},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


@pytest.fixture
def no_display(monkeypatch: pytest.MonkeyPatch) -> None:
    for name in HIDDEN:
        monkeypatch.delenv(name, raising=False)


@pytest.fixture
def run(qapp: QApplication, capsys: pytest.CaptureFixture[str]) -> Iterator[Runner]:
    """The program in this process, which it leaves as it was."""
    names = qapp.organizationName(), qapp.applicationName()
    yield partial(Run, capsys)
    qapp.setOrganizationName(names[0])
    qapp.setApplicationName(names[1])
    Appearance(qapp, ThemeChoice.LIGHT).deleteLater()


@on_linux
@pytest.mark.thorough
def test_without_a_display_the_ledger_is_printed_and_the_sheet_named() -> None:
    done = start(CARRIAGE)
    assert "no display" in done.stderr
    assert "--sheet OUT.pdf" in done.stderr
    assert "riser" in done.stdout
    assert "Over by" in done.stdout
    assert done.returncode == 1


@on_linux
@pytest.mark.parametrize("problem", ["", "The window needs the system library libxcb-cursor.so"])
def test_without_a_display_its_libraries_are_not_asked_for(
    problem: str, no_display: None, run: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    """The ledger comes out on a machine with Qt's X11 libraries and on one without them."""
    monkeypatch.setattr(startup, "plugin_problem", lambda _: problem)
    done = run(CARRIAGE)
    assert "no display" in done.stderr
    assert "libxcb" not in done.stderr
    assert "Over by" in done.stdout
    assert done.returncode == 1


@on_linux
def test_on_a_display_a_missing_library_is_named_first(
    no_display: None, run: Runner, monkeypatch: pytest.MonkeyPatch
) -> None:
    monkeypatch.setattr(startup, "display_problem", lambda _: "")
    monkeypatch.setattr(startup, "plugin_problem", lambda _: "The window needs libxcb-cursor.so")
    done = run(CARRIAGE)
    assert done.stderr.startswith("The window needs libxcb-cursor.so Here is the ledger instead.\n")
    assert "Over by" in done.stdout
    assert done.returncode == 1


@on_linux
def test_without_a_display_the_options_reach_the_ledger(no_display: None, run: Runner) -> None:
    done = run(CARRIAGE, "--alternative", "Pump beside the tank", "--units", "si")
    assert done.returncode == 0
    assert "kPa" in done.stdout
    refused = run(LAYOUTS / "nowhere.toml")
    assert refused.returncode == 2
    nothing = run()
    assert nothing.returncode == 2
    assert "no display" in nothing.stderr


@pytest.fixture(scope="module")
def home(tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A user's folders, for the programs that are started here."""
    return tmp_path_factory.mktemp("home")


@pytest.fixture(scope="module")
def at_home(home: Path) -> dict[str, str]:
    return {f"XDG_{name}_HOME": str(home / name) for name in ("STATE", "CONFIG", "DATA", "CACHE")}


@pytest.fixture(scope="module")
def sheet(at_home: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> tuple[Path, str]:
    """The first page of a sheet that the program wrote, as SVG, and what was imported for it."""
    out = tmp_path_factory.mktemp("sheet") / "sheet.svg"
    asked = ("--sheet", out, "--paper", "Letter", "--pages", "1")
    done = start(FLOODED, *asked, **at_home, PYTHONPROFILEIMPORTTIME="1")
    assert done.returncode == 0, done.stderr
    assert done.stdout == f"Wrote {out}\n"
    return out, done.stderr


@pytest.fixture(scope="module")
def picture(at_home: dict[str, str], tmp_path_factory: pytest.TempPathFactory) -> Path:
    """A picture of the window that the program took, on a screen of a broken scale."""
    folder = tmp_path_factory.mktemp("picture")
    (folder / "riser.toml").write_text(RISER, "utf-8")
    asked = ("--picture", folder / "window.png", "--size", "1280x720")
    done = start(folder / "riser.toml", *asked, **at_home, QT_SCALE_FACTOR="1.5")
    assert (done.returncode, done.stderr) == (0, "")
    return folder / "window.png"


@pytest.mark.thorough
def test_a_sheet_and_a_picture_leave_no_trace_in_the_users_folders(
    home: Path, sheet: tuple[Path, str], picture: Path
) -> None:
    assert sheet[0].exists()
    assert picture.exists()
    assert [path for path in home.rglob("*") if path.is_file() and "liftledger" in str(path)] == []


@pytest.mark.thorough
def test_a_sheet_needs_no_display_and_no_plotting_library(sheet: tuple[Path, str]) -> None:
    path, imported = sheet
    assert path.stat().st_size > 1000
    assert "sketch.window.main_window\n" in imported
    assert "pyqtgraph" not in imported


def test_what_cannot_be_written_or_is_not_known_is_told(run: Runner, tmp_path: Path) -> None:
    nowhere = run(CARRIAGE, "--sheet", tmp_path / "no" / "sheet.pdf")
    assert nowhere.returncode == 2
    assert "was not written" in nowhere.stderr
    odd = run(CARRIAGE, "--sheet", tmp_path / "sheet.doc")
    assert odd.returncode == 2
    assert not (tmp_path / "sheet.doc").exists()
    unknown = run(CARRIAGE, "--sheet", tmp_path / "sheet.pdf", "--alternative", "No such thing")
    assert unknown.returncode == 2
    assert '"Pump beside the tank"' in unknown.stderr
    pump = run(CARRIAGE, "--sheet", tmp_path / "sheet.pdf", "--pump", "other")
    assert pump.returncode == 2
    assert '"carriage"' in pump.stderr


@pytest.mark.thorough
def test_a_picture_is_sharp_at_a_broken_scale_and_no_pixel_left_unpainted(picture: Path) -> None:
    image = QImage(str(picture))
    assert (image.width(), image.height()) == (1920, 1080)
    right_of_the_axis = pixels(image)[100:600:10, 150:].astype(int)
    lightness = (right_of_the_axis.max(axis=2) + right_of_the_axis.min(axis=2)) // 2
    assert (lightness.max(axis=0) >= 200).all(), "a column of pixels that nobody painted"


def test_a_picture_of_the_window_has_the_size_and_dress_asked_for(
    run: Runner, riser: Path, tmp_path: Path
) -> None:
    out = tmp_path / "window.png"
    asked = ("--size", "1280x720", "--theme", "dark", "--tab", "profile")
    assert run(riser, "--picture", out, *asked).returncode == 0
    image = QImage(str(out))
    assert (image.width(), image.height()) == (1280, 720)
    assert image.pixelColor(600, 5).lightness() < 80
    assert len({image.pixel(x, 600) for x in range(0, 1280, 3)}) > 5


@pytest.mark.parametrize("size", ["big", "10x10", "99999x2", "-5x700"])
def test_an_odd_size_is_refused(size: str, capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main([str(CARRIAGE), "--picture", "x.png", f"--size={size}"])
    assert stopped.value.code == 2
    assert "1366x768" in capsys.readouterr().err


def test_a_missing_system_library_is_named_with_its_package(tmp_path: Path) -> None:
    fake = tmp_path / "PySide6"
    fake.mkdir()
    (fake / "__init__.py").write_text("", "utf-8")
    (fake / "QtCore.py").write_text(
        'raise ImportError("libEGL.so.1: cannot open shared object file: No such file or directory")', "utf-8"
    )
    done = start(CARRIAGE, "--sheet", tmp_path / "x.pdf", PYTHONPATH=str(tmp_path))
    assert done.returncode == 2
    assert "apt-get install libegl1" in done.stderr
    assert "Traceback" not in done.stderr


def test_a_case_that_is_not_in_the_drawing_is_refused(run: Runner, tmp_path: Path) -> None:
    """A sheet of another case than the one asked for would mislead."""
    for option in (("--cold",), ("--case", "full")):
        done = run(LAYOUTS / "wash-water-npsh.toml", *option, "--sheet", tmp_path / "x.pdf")
        assert done.returncode == 2
        assert 'There is no case "' in done.stderr
        assert not list(tmp_path.iterdir())


@pytest.mark.parametrize(
    "asked", [["--with", "working"], ["--working"], ["--pages", "1"], ["--compare"], ["--alone"]]
)
def test_what_a_sheet_is_to_hold_is_refused_where_none_is_written(
    asked: list[str], capsys: pytest.CaptureFixture[str]
) -> None:
    """A window opened, and nothing was written."""
    assert main([str(LAYOUTS / "winter-press.toml"), *asked]) == 2
    assert capsys.readouterr().err == f"{asked[0]} is of a sheet: add --sheet OUT.pdf\n"


def test_help_names_every_option_that_works_without_a_display(capsys: pytest.CaptureFixture[str]) -> None:
    with pytest.raises(SystemExit) as stopped:
        main(["--help"])
    assert stopped.value.code == 0
    shown = capsys.readouterr().out
    for option in (
        "--sheet",
        "--paper",
        "--alternative",
        "--level",
        "--units",
        "--picture",
        "--size",
        "--theme",
    ):
        assert re.search(rf"{option}\b", shown)


def test_a_fault_of_the_program_is_one_sentence_and_a_status_of_its_own(
    monkeypatch: pytest.MonkeyPatch, capsys: pytest.CaptureFixture[str]
) -> None:
    def fail(args: object) -> int:
        raise ArithmeticError("no root")

    monkeypatch.setattr("sketch.run.sheet", fail)
    assert main([str(CARRIAGE), "--sheet", "never.pdf"]) == 70
    said = capsys.readouterr().err
    assert "ArithmeticError (no root)" in said
    assert "report this sentence" in said
    assert "Traceback" not in said


@pytest.mark.thorough
def test_the_sheet_of_one_case_still_says_what_the_worst_comes_to(run: Runner, tmp_path: Path) -> None:
    press = CARRIAGE.parent / "winter-press.toml"
    sheet = tmp_path / "sheet.pdf"
    done = run(press, "--case", "strainer due", "--sheet", sheet, "--pages", "1")
    assert sheet.is_file(), done
    assert 'in "first stroke"' in words(sheet)


def test_a_case_that_there_is_not_is_named_with_those_there_are(run: Runner, tmp_path: Path) -> None:
    unknown = run(CARRIAGE, "--sheet", tmp_path / "sheet.pdf", "--case", "No such thing")
    assert unknown.returncode == 2
    assert '"as drawn", "coldest start"' in unknown.stderr
