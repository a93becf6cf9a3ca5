"""Every module of the two packages has a test file of its own name, at its own place."""

from __future__ import annotations

from pathlib import Path

TREE = Path(__file__).resolve().parent.parent

OWED = frozenset(
    (
        "sketch/air_column/scales.py",
        "sketch/drawing/annotation.py",
        "sketch/drawing/line_painting.py",
        "sketch/look/label.py",
        "sketch/look/marks.py",
        "sketch/model/autosave.py",
        "sketch/model/cycles.py",
        "sketch/model/drawing_file.py",
        "sketch/model/gate.py",
        "sketch/model/storage.py",
        "sketch/model/watch.py",
        "sketch/run.py",
        "sketch/strip/scale.py",
        "sketch/strip/turner.py",
        "sketch/views/card_fields.py",
        "sketch/views/card_lines.py",
        "sketch/views/comparison.py",
        "sketch/views/ledger_model.py",
        "sketch/views/ledger_painting.py",
        "sketch/views/profile_view.py",
        "sketch/views/refusal.py",
        "sketch/views/vacuum_axis.py",
        "sketch/views/working_html.py",
        "sketch/window/actions.py",
        "sketch/window/commands.py",
        "sketch/window/files.py",
        "sketch/window/heading.py",
        "sketch/window/help.py",
        "sketch/window/notice.py",
        "sketch/window/workspace.py",
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
