"""What holds for every test: no display, no home of the user's, and a missing Qt said plainly."""

from __future__ import annotations

import atexit
import gc
import os
import shutil
import tempfile
from collections.abc import Generator, Iterator
from pathlib import Path

import pytest
from hypothesis import settings

from sketch import startup
from tests.once import work_out_once

os.environ.setdefault("QT_QPA_PLATFORM", "offscreen")
os.environ.setdefault("PYTEST_QT_API", "pyside6")
for place in ("XDG_CONFIG_HOME", "XDG_STATE_HOME", "XDG_DATA_HOME"):
    os.environ[place] = tempfile.mkdtemp(prefix="liftledger-test-")
    atexit.register(shutil.rmtree, os.environ[place], ignore_errors=True)

# A shared machine may stall any single example; time is measured in tests/bench alone. Whoever waits for the
# tests has few examples tried; the checks that let a change in run every property again with many.
settings.register_profile("at hand", deadline=None, max_examples=5)
settings.register_profile("checks", deadline=None, max_examples=100)
settings.load_profile("at hand")


def _qt_problem() -> str:
    try:
        import PySide6.QtWidgets  # noqa: F401 - only whether it loads
    except ImportError as error:
        return startup.missing_library(error) or str(error)
    return ""


def pytest_addoption(parser: pytest.Parser) -> None:
    """A long run is asked for by the clock."""
    parser.addoption(
        "--hours", type=float, default=0.0, help="how long each attack of hostile, hand, kill runs"
    )


@pytest.fixture
def seconds(request: pytest.FixtureRequest) -> float:
    """How long an attack runs [s]; 0 for the short run of the checks."""
    return 3600.0 * float(request.config.getoption("--hours"))


@pytest.fixture(scope="session", autouse=True)
def worked_out_once(request: pytest.FixtureRequest) -> Iterator[None]:
    """Fixes, reach and what explains readings: once a run for each drawing, but in measurements."""
    from solver.answers.ask import ask_all
    from solver.field.diagnosis import diagnose
    from solver.fixes.fixes import advise_all, advise_lazily

    with pytest.MonkeyPatch.context() as patch:
        if not any(item.get_closest_marker("bench") for item in request.session.items):
            work_out_once(patch, ask_all, diagnose, advise_all, advise_lazily)
        yield


PAIR_PROBLEM = startup.installed_pair_problem()
QT_PROBLEM = PAIR_PROBLEM or _qt_problem()


def pytest_plugin_registered(plugin: object, manager: pytest.PytestPluginManager) -> None:
    """Without Qt, pytest-qt would end the whole run, the solver's tests with it."""
    if QT_PROBLEM and manager.hasplugin("pytest-qt"):
        manager.unregister(name="pytest-qt")


def pytest_configure(config: pytest.Config) -> None:
    """End the run before a pair of PySide6 and Python that aborts the interpreter."""
    if PAIR_PROBLEM:
        pytest.exit(PAIR_PROBLEM, returncode=3)


MANY = 600_000
"""Objects made and not given back since the last look for cycles."""

UNDER_A_MARKER = ("bench", "hand", "hostile", "kill", "planted")
"""Folders whose tests all stand under the marker of that name."""


def pytest_ignore_collect(collection_path: Path, config: pytest.Config) -> bool | None:
    """A folder of which no test is to run is not read: that takes a second and more."""
    name = collection_path.name
    left_out = f"not {name}" in config.option.markexpr.split(" and ")
    return True if left_out and name in UNDER_A_MARKER and collection_path.is_dir() else None


def pytest_sessionstart(session: pytest.Session) -> None:
    """No thread that waits for the disk may take down a widget: see `sketch.model.cycles`."""
    gc.disable()


def pytest_collection_finish(session: pytest.Session) -> None:
    """What is loaded by now stays to the end: no look for cycles need go through it."""
    gc.collect()
    gc.freeze()


def pytest_runtest_teardown(item: pytest.Item) -> None:
    if gc.get_count()[0] > MANY:
        gc.collect()


@pytest.hookimpl(wrapper=True)
def pytest_make_collect_report(
    collector: pytest.Collector,
) -> Generator[None, pytest.CollectReport, pytest.CollectReport]:
    """Skip a module that cannot import Qt, naming the library and its package; where CI is set, fail."""
    report = yield
    if QT_PROBLEM and report.failed and "ImportError" in str(report.longrepr):
        if os.environ.get("CI"):
            report.longrepr = f"{QT_PROBLEM}\n\n{report.longrepr}"
        else:
            report.outcome = "skipped"
            report.longrepr = (str(collector.path), 0, f"Skipped: {QT_PROBLEM}")
    return report


@pytest.hookimpl(wrapper=True)
def pytest_runtest_makereport(
    item: pytest.Item, call: pytest.CallInfo[None]
) -> Generator[None, pytest.TestReport, pytest.TestReport]:
    """Skip a single test that imports Qt for itself, on the same terms."""
    report = yield
    unloadable = call.excinfo is not None and call.excinfo.errisinstance(ImportError)
    if QT_PROBLEM and report.failed and unloadable and not os.environ.get("CI"):
        report.outcome = "skipped"
        report.longrepr = (str(item.path), 0, f"Skipped: {QT_PROBLEM}")
    return report


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """Say once, in full, why the window's tests did not run."""
    if QT_PROBLEM:
        terminalreporter.write_line(f"The window's tests did not run: {QT_PROBLEM}", yellow=True)
