"""A machine without Qt's system libraries still runs the solver's tests, and says what the window's need."""

from __future__ import annotations

import os
import subprocess
import sys
from pathlib import Path

import pytest

from tests import conftest

ROOT = Path(__file__).parent.parent
MODULES = ("tests/sketch/model/test_document.py", "tests/solver/quantities/test_spelling.py")
MESSAGE = "libEGL.so.1: cannot open shared object file: No such file or directory"


def run(folder: Path, **environ: str) -> subprocess.CompletedProcess[str]:
    (folder / "PySide6").mkdir()
    (folder / "PySide6" / "__init__.py").write_text(f"raise ImportError({MESSAGE!r})\n")
    kept = {key: value for key, value in os.environ.items() if key not in ("CI", "PYTEST_ADDOPTS")}
    return subprocess.run(
        [sys.executable, "-m", "pytest", "-p", "no:cacheprovider", "-q", "-rs", *MODULES],
        cwd=ROOT,
        env=kept | {"PYTHONPATH": str(folder)} | environ,
        capture_output=True,
        text=True,
        timeout=120,
    )


@pytest.mark.thorough
def test_window_tests_are_skipped_by_library_and_package(tmp_path: Path) -> None:
    done = run(tmp_path)
    assert done.returncode == 0, done.stdout + done.stderr
    assert "libEGL.so" in done.stdout
    assert "apt-get install libegl1" in done.stdout
    assert "SKIPPED [1] tests/sketch/model/test_document.py" in done.stdout
    assert " passed" in done.stdout or "[100%]" in done.stdout


@pytest.mark.parametrize(("value", "outcome"), [("", "skipped"), ("true", "failed"), ("1", "failed")])
def test_a_module_that_needs_qt_fails_where_a_skip_would_go_unseen(
    value: str, outcome: str, monkeypatch: pytest.MonkeyPatch, request: pytest.FixtureRequest
) -> None:
    monkeypatch.setattr(conftest, "QT_PROBLEM", "It needs libegl1")
    monkeypatch.setenv("CI", value)
    module = request.node.getparent(pytest.Module)
    report = pytest.CollectReport(module.nodeid, "failed", f"ImportError: {MESSAGE}", [])
    hook = conftest.pytest_make_collect_report(module)
    next(hook)
    with pytest.raises(StopIteration) as done:
        hook.send(report)
    assert done.value.value.outcome == outcome
    assert "libegl1" in str(done.value.value.longrepr)


@pytest.mark.thorough
@pytest.mark.parametrize("value", ["true", "1"])
def test_window_tests_fail_where_a_skip_would_go_unseen(tmp_path: Path, value: str) -> None:
    done = run(tmp_path, CI=value)
    assert done.returncode != 0
    assert "libegl1" in done.stdout
