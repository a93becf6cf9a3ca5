"""Disks that refuse: full, read-only, gone. The window says so, and the file that stood there is whole."""

from __future__ import annotations

import json
import os
import shutil
import subprocess
import sys
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest

pytestmark = pytest.mark.kill

EXAMPLE = Path(__file__).resolve().parents[2] / "layouts" / "carriage-at-altitude.toml"
NOBODY = 65534


def asked(path: Path, state: Path, how: str, user: int = -1) -> dict[str, str]:
    """What a window says that edits the drawing, has its disk refuse, and saves."""
    environment = {**os.environ, "XDG_STATE_HOME": str(state), "QT_QPA_PLATFORM": "offscreen"}
    completed = subprocess.run(
        [sys.executable, "-m", "tests.kill.saver", str(path), how, str(user)],
        capture_output=True, text=True, env=environment, timeout=120,
    )  # fmt: skip
    assert completed.returncode == 0, completed.stderr
    said: dict[str, str] = json.loads(completed.stdout.splitlines()[-1])
    return said


@pytest.fixture
def small_disk(tmp_path: Path) -> Iterator[Path]:
    """A disk of 64 kB, where this user may mount one."""
    place = tmp_path / "disk"
    place.mkdir()
    mount = shutil.which("mount")
    asked = ["mount", "-t", "tmpfs", "-o", "size=64k", "tmpfs", str(place)]
    if mount is None or os.geteuid() != 0 or subprocess.run(asked, capture_output=True).returncode:
        pytest.skip("nobody may mount a small disk here")
    yield place
    subprocess.run(["umount", "-l", str(place)], capture_output=True)


def test_a_full_disk_is_said_and_leaves_the_file_whole(small_disk: Path, tmp_path: Path) -> None:
    path = Path(shutil.copy(EXAMPLE, small_disk / "drawing.toml"))
    before = path.read_bytes()
    said = asked(path, tmp_path / "state", "fill")
    assert said["saved"] == "no"
    assert "there is no room left on the disk" in said["notice"] or "No space left" in said["notice"]
    assert path.read_bytes() == before
    assert said["kept"] == "yes"


def test_a_state_folder_on_a_full_disk_is_said_once_and_saving_goes_on(
    small_disk: Path, tmp_path: Path
) -> None:
    path = Path(shutil.copy(EXAMPLE, tmp_path / "drawing.toml"))
    (small_disk / "fill").write_bytes(bytes(64 * 1024))
    said = asked(path, small_disk / "state", "state")
    assert "cannot be kept against a crash" in said["unkept"]
    assert said["saved"] == "yes"


def test_a_drive_that_is_pulled_out_is_said_and_the_drawing_stays(tmp_path: Path) -> None:
    folder = tmp_path / "drive"
    folder.mkdir()
    path = Path(shutil.copy(EXAMPLE, folder / "drawing.toml"))
    said = asked(path, tmp_path / "state", "vanish")
    assert said["saved"] == "no"
    assert "was not written" in said["notice"]
    assert said["kept"] == "yes"


@pytest.fixture
def open_place() -> Iterator[Path]:
    """A folder into which any user may look."""
    place = Path(tempfile.mkdtemp(prefix="liftledger-kill-"))
    place.chmod(0o755)
    yield place
    shutil.rmtree(place)


def test_a_folder_that_may_not_be_written_is_said_and_the_drawing_stays(open_place: Path) -> None:
    """By a user without rights; where the tests run as such a user, by that one."""
    folder, state = open_place / "folder", open_place / "state"
    for each in (folder, state):
        each.mkdir()
    path = Path(shutil.copy(EXAMPLE, folder / "drawing.toml"))
    before, user = path.read_bytes(), -1
    if os.geteuid() == 0:
        user = NOBODY
        state.chmod(0o777)
    path.chmod(0o644)
    folder.chmod(0o555)
    try:
        said = asked(path, state, "none", user)
    finally:
        folder.chmod(0o755)
    assert said["saved"] == "no"
    assert "was not written" in said["notice"]
    assert path.read_bytes() == before
    assert said["kept"] == "yes"
