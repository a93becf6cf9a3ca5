import os
import re
import subprocess
import sys
from pathlib import Path

import pytest
from PySide6.QtGui import QImage

from sketch.__main__ import main

LAYOUTS = Path(__file__).parents[2] / "layouts"
CARRIAGE = LAYOUTS / "carriage-at-altitude.toml"
FLOODED = LAYOUTS / "baler-flooded.toml"


def run(*arguments: str | Path, **environ: str) -> subprocess.CompletedProcess[str]:
    """The program as a user starts it, with no display unless one is given."""
    hidden = ("DISPLAY", "WAYLAND_DISPLAY", "QT_QPA_PLATFORM")
    kept = {name: value for name, value in os.environ.items() if name not in hidden}
    return subprocess.run(
        [sys.executable, "-m", "sketch", *map(str, arguments)],
        env={**kept, **environ},
        capture_output=True,
        text=True,
        check=False,
        timeout=60,
    )


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_without_a_display_the_ledger_is_printed_and_the_sheet_named() -> None:
    done = run(CARRIAGE)
    assert "no display" in done.stderr
    assert "--sheet OUT.pdf" in done.stderr
    assert "riser" in done.stdout
    assert "Over by" in done.stdout
    assert done.returncode == 1


@pytest.mark.skipif(not sys.platform.startswith("linux"), reason="elsewhere there is always a display")
def test_without_a_display_the_options_reach_the_ledger() -> None:
    done = run(CARRIAGE, "--alternative", "Pump beside the tank", "--units", "si")
    assert done.returncode == 0
    assert "kPa" in done.stdout
    refused = run(LAYOUTS / "nowhere.toml")
    assert refused.returncode == 2
    nothing = run()
    assert nothing.returncode == 2
    assert "no display" in nothing.stderr


def test_a_sheet_and_a_picture_leave_no_trace_in_the_users_folders(tmp_path: Path) -> None:
    home = tmp_path / "home"
    places = {f"XDG_{name}_HOME": str(home / name) for name in ("STATE", "CONFIG", "DATA", "CACHE")}
    for out in ("sheet.svg", "window.png"):
        asked = "--sheet" if out.endswith("svg") else "--picture"
        assert run(FLOODED, asked, tmp_path / out, **places).returncode == 0
    assert [path for path in home.rglob("*") if path.is_file() and "liftledger" in str(path)] == []


@pytest.mark.parametrize("ending", ["pdf", "svg", "png"])
def test_a_sheet_needs_no_display(tmp_path: Path, ending: str) -> None:
    out = tmp_path / f"sheet.{ending}"
    done = run(FLOODED, "--sheet", out, "--paper", "Letter")
    assert done.returncode == 0, done.stderr
    written = sorted(tmp_path.glob(f"*.{ending}"))
    said = out if ending == "pdf" else f"{written[0]} to {written[-1].name}, a page each"
    assert f"Wrote {said}\n" in done.stdout
    assert len(written) == 1 if ending == "pdf" else len(written) > 1
    assert all(each.stat().st_size > 1000 for each in written)


def test_a_sheet_of_an_alternative_shows_what_it_is_an_alternative_to(tmp_path: Path) -> None:
    from pypdf import PdfReader

    out = tmp_path / "sheet.pdf"
    done = run(CARRIAGE, "--sheet", out, "--alternative", "Pump beside the tank")
    assert done.returncode == 0, done.stderr
    text = "\n".join(" ".join(page.extract_text().split()) for page in PdfReader(out).pages)
    assert "Pump beside the tank" in text
    assert "As drawn" in text


def test_what_cannot_be_written_or_is_not_known_is_told(tmp_path: Path) -> None:
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


def test_a_sheet_sets_alternatives_beside_the_drawing_when_asked(tmp_path: Path) -> None:
    from pypdf import PdfReader

    one, every = tmp_path / "one.pdf", tmp_path / "every.pdf"
    assert run(CARRIAGE, "--sheet", one, "--compare", "Pump beside the tank").returncode == 0
    assert run(CARRIAGE, "--sheet", every, "--compare").returncode == 0
    first, whole = (
        " ".join(word for page in PdfReader(out).pages for word in page.extract_text().split())
        for out in (one, every)
    )
    assert "before and after: Pump beside the tank" in first
    assert "Three-inch suction line" not in first
    assert "Alternatives side by side" in first
    for name in ("Three-inch suction line", "Pump beside the tank"):
        assert f"before and after: {name}" in whole


def test_what_cannot_be_compared_is_said(tmp_path: Path) -> None:
    out = tmp_path / "sheet.pdf"
    unknown = run(CARRIAGE, "--sheet", out, "--compare", "No such thing")
    assert (unknown.returncode, unknown.stderr.count("\n")) == (2, 1)
    assert '"Pump beside the tank"' in unknown.stderr
    header = LAYOUTS / "header-two-pumps.toml"
    lacking = run(header, "--sheet", out, "--pump", "pilot", "--compare", "Main pump alone")
    assert lacking.returncode == 2
    assert "pilot is not in it" in lacking.stderr
    assert not out.exists()


def test_a_bad_drawing_gives_no_sheet(tmp_path: Path) -> None:
    bad = tmp_path / "bad.toml"
    bad.write_text(CARRIAGE.read_text("utf-8").replace('"45 degC"', '"45 m"'), "utf-8")
    done = run(bad, "--sheet", tmp_path / "sheet.pdf")
    assert done.returncode == 2
    assert "fluid.temperature" in done.stderr
    assert not (tmp_path / "sheet.pdf").exists()


def test_a_picture_of_the_window_has_the_size_and_dress_asked_for(tmp_path: Path) -> None:
    out = tmp_path / "window.png"
    done = run(CARRIAGE, "--picture", out, "--size", "1280x720", "--theme", "dark", "--tab", "profile")
    assert done.returncode == 0, done.stderr
    image = QImage(str(out))
    assert (image.width(), image.height()) == (1280, 720)
    assert image.pixelColor(600, 5).lightness() < 80
    assert len({image.pixel(x, 600) for x in range(0, 1280, 3)}) > 5


def test_a_picture_is_sharp_at_twice_the_scale(tmp_path: Path) -> None:
    out = tmp_path / "window.png"
    done = run(CARRIAGE, "--picture", out, "--size", "800x600", QT_SCALE_FACTOR="2")
    assert done.returncode == 0, done.stderr
    image = QImage(str(out))
    assert (image.width(), image.height()) == (1600, 1200)


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
    done = run(CARRIAGE, "--sheet", tmp_path / "x.pdf", PYTHONPATH=str(tmp_path))
    assert done.returncode == 2
    assert "apt-get install libegl1" in done.stderr
    assert "python -m solver" in done.stderr
    assert "Traceback" not in done.stderr


def test_help_names_every_option_that_works_without_a_display() -> None:
    done = run("--help")
    assert done.returncode == 0
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
        assert re.search(rf"{option}\b", done.stdout)
