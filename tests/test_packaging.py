"""What the package says of itself, and what its tools are held to."""

from __future__ import annotations

import re
import tomllib
from pathlib import Path

TREE = Path(__file__).resolve().parent.parent
PROJECT = tomllib.loads((TREE / "pyproject.toml").read_text("utf-8"))
CONSTRAINTS = (TREE / ".ci" / "constraints.txt").read_text("utf-8")
EXTRAS = PROJECT["project"]["optional-dependencies"]
NEEDED = [
    *PROJECT["build-system"]["requires"],
    *PROJECT["project"]["dependencies"],
    *(each for extra in EXTRAS.values() for each in extra if not each.startswith("liftledger")),
]


def test_every_dependency_has_an_upper_limit() -> None:
    """A next major version may take away what is called here."""
    assert len(NEEDED) > 15
    assert [each for each in NEEDED if not re.search(r"<\d", each.partition(";")[0])] == []


def test_every_dependency_and_the_build_tool_have_one_version_in_the_constraints() -> None:
    held = {line.partition("==")[0].lower().replace("_", "-") for line in CONSTRAINTS.splitlines()}
    named = {re.split(r"[<>=;\[]", each)[0].strip().lower() for each in NEEDED}
    assert named <= held


def test_the_wheel_names_its_licence() -> None:
    assert PROJECT["project"]["license"]
