"""Every module of the two packages has a test file of its own name, at its own place."""

from __future__ import annotations

from pathlib import Path

TREE = Path(__file__).resolve().parent.parent

OWED = frozenset(
    (
        "sketch/air_column/scales.py",
        "sketch/look/label.py",
        "sketch/look/marks.py",
        "sketch/model/cycles.py",
        "sketch/model/gate.py",
        "sketch/run.py",
        "sketch/views/profile_view.py",
        "sketch/views/refusal.py",
        "sketch/window/notice.py",
    )
)
"""Modules whose tests still stand in a file of another's name. This list only gets shorter."""


def file_of(module: Path) -> Path:
    """Where the tests of a module stand; those of __main__ in test_main.py."""
    return Path("tests") / module.parent / f"test_{module.stem.strip('_')}.py"


def modules() -> list[Path]:
    found = (path for package in ("solver", "sketch") for path in (TREE / package).rglob("*.py"))
    return sorted(path.relative_to(TREE) for path in found if path.name != "__init__.py")


def lacking() -> set[str]:
    return {module.as_posix() for module in modules() if not (TREE / file_of(module)).exists()}


def test_every_module_has_its_test_file() -> None:
    assert lacking() - OWED == set(), "a new module needs a test file of its own name"


def test_nothing_is_owed_that_has_been_paid() -> None:
    assert OWED - lacking() == set(), "has its test file, or is gone: take it off the list"
