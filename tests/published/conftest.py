"""The fixtures of the published values, and the table that they leave at the end of a run."""

from __future__ import annotations

from collections.abc import Callable
from pathlib import Path

import pytest

from solver.layout import file
from solver.layout.parts import Layout
from tests.published import comparing
from tests.published.comparing import Published, Row
from tests.published.coverage import NOT_COMPUTED

KEPT = "published value"
HERE = "tests/published/"


@pytest.fixture
def published(request: pytest.FixtureRequest) -> Published:
    """Keep and assert one published value. What a test reads from a layout file counts as drawn."""
    drawn = "read" in request.fixturenames

    def compare(
        source: str,
        case: str,
        theirs: float,
        ours: float,
        unit: str = "",
        *,
        rel: float | None = None,
        abs: float | None = None,
    ) -> None:
        item = comparing.row(source, case, theirs, ours, unit, rel, abs, drawn)
        request.node.user_properties.append((KEPT, tuple(item)))
        assert item.ours == pytest.approx(item.theirs, abs=item.tolerance, rel=0), f"{source}, {case}"

    return compare


@pytest.fixture
def read() -> Callable[[str], Layout]:
    """The drawing that a layout file's text describes."""
    return lambda text: file.parse(text, "example").base


def pytest_terminal_summary(terminalreporter: pytest.TerminalReporter) -> None:
    """The whole table where nothing but published values was run, and one line in any other run."""
    reports = [
        report
        for outcome in ("passed", "failed")
        for report in terminalreporter.stats.get(outcome, ())
        if isinstance(report, pytest.TestReport)
    ]
    rows = [
        Row._make(value)
        for report in reports
        for name, value in report.user_properties
        if name == KEPT and isinstance(value, tuple | list)
    ]
    if not rows:
        return
    terminalreporter.section("published values")
    if all(report.nodeid.startswith(HERE) for report in reports):
        lines = comparing.table(rows)
        if _all_asked(terminalreporter.config):
            lines += ["", "Not computed, and why:", *comparing.gaps(NOT_COMPUTED), ""]
        for line in lines:
            terminalreporter.write_line(line)
    terminalreporter.write_line(comparing.summary(rows))


def _all_asked(config: pytest.Config) -> bool:
    """Whether the whole of this folder was asked for."""
    folder = Path(__file__).parent
    return any(Path(argument).resolve() == folder for argument in config.args)
