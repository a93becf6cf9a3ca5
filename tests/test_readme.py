"""What the README shows is what the program does."""

from __future__ import annotations

import re
import shlex
from pathlib import Path

import pytest

from solver import layout_file, ledger
from solver.__main__ import main

TREE = Path(__file__).resolve().parent.parent
README = (TREE / "README.md").read_text(encoding="utf-8")


def blocks(language: str) -> list[str]:
    return re.findall(rf"^```{language}\n(.*?)^```$", README, re.MULTILINE | re.DOTALL)


def test_the_terminal_sample_is_the_program_s_own_output(
    capsys: pytest.CaptureFixture[str], monkeypatch: pytest.MonkeyPatch
) -> None:
    """Chunks between lines of "..." must come out as shown and in that order."""
    (sample,) = (block for block in blocks("text") if block.startswith("$ "))
    command, _, shown = sample.partition("\n")
    monkeypatch.chdir(TREE)
    main(shlex.split(command.partition("-m solver")[2]))
    printed = capsys.readouterr().out
    place = 0
    for chunk in shown.split("...\n"):
        found = printed.find(chunk, place)
        assert found >= 0, f"not printed:\n{chunk}"
        place = found + len(chunk)


def test_the_sample_drawing_can_be_solved() -> None:
    (sample,) = blocks("toml")
    drawing = layout_file.parse(sample, "README")
    for layout in (drawing.base, *(alternative.layout for alternative in drawing.alternatives.values())):
        assert ledger.solve(layout).pumps


def test_the_two_commands_do_their_own_setting_up() -> None:
    window, tests = (line for line in README.splitlines() if line.startswith("python3 -m venv"))
    for command in (window, tests):
        assert "&& .venv/bin/pip install -q -c .ci/constraints.txt -e " in command
    (drawing,) = re.findall(r"-m sketch (\S+)", window)
    assert (TREE / drawing).is_file()
    assert tests.endswith("-m pytest")


def test_every_drawing_is_listed() -> None:
    listed = set(re.findall(r"^\| `([\w-]+\.toml)`", README, re.MULTILINE))
    assert listed == {path.name for path in (TREE / "layouts").glob("*.toml")}


def test_links_and_pictures_are_there() -> None:
    for target in re.findall(r"\]\(([^)#]+)\)", README):
        assert (TREE / target).exists(), target
