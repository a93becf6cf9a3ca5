"""What holds for every test: no display, no home of the user's, and a missing Qt said plainly."""

from __future__ import annotations

import os
import tempfile

import pytest
from hypothesis import settings

from sketch import startup

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("PYTEST_QT_API", "pyside6")
for place in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"):
    os.environ[place] = tempfile.mkdtemp(prefix="liftledger-test-")

# A shared machine may stall any single example; time is measured in tests/bench alone.
settings.register_profile("steady", deadline=None)
settings.load_profile("steady")


@pytest.hookimpl(tryfirst=True)
def pytest_configure(config: pytest.Config) -> None:
    """Name the library that Qt misses and its package, before pytest-qt gives up without a word on either.

    `pytest -p no:pytest-qt tests/solver` needs no Qt.
    """
    if not config.pluginmanager.hasplugin("pytest-qt"):
        return
    problem = startup.installed_pair_problem()
    try:
        import PySide6.QtWidgets  # noqa: F401 - only whether it loads
    except ImportError as error:
        problem = startup.library_problem(error) or str(error)
    if problem:
        pytest.exit(problem, returncode=3)
