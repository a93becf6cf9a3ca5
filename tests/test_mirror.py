"""Every module of the two packages has a test file of its own name, at its own place."""

from __future__ import annotations

from pathlib import Path

import pytest

TREE = Path(__file__).resolve().parent.parent


def file_of(module: Path) -> Path:
    """Where the tests of a module stand; those of __main__ in test_main.py."""
    return Path("tests") / module.parent / f"test_{module.stem.strip('_')}.py"


def modules() -> list[Path]:
    paths = (path for package in ("solver", "sketch") for path in (TREE / package).rglob("*.py"))
    return sorted(path.relative_to(TREE) for path in paths if path.name != "__init__.py")


def lacking() -> set[str]:
    return {module.as_posix() for module in modules() if not (TREE / file_of(module)).exists()}


def test_every_module_has_its_test_file() -> None:
    assert lacking() == set(), "a new module needs a test file of its own name"


def test_a_module_without_one_is_seen(monkeypatch: pytest.MonkeyPatch) -> None:
    monkeypatch.setattr(f"{__name__}.modules", lambda: [Path("solver/no_such_module.py")])
    assert lacking() == {"solver/no_such_module.py"}
