"""What the first page says of the worst case."""

from __future__ import annotations

import pytest

from solver.findings.judgement import judge
from solver.findings.outlook import own_headline
from solver.quantities.units import System
from tests.sketch.sheets import pages, solution, written

pytestmark = pytest.mark.usefixtures("qapp")


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


@pytest.mark.parametrize("system", list(System))
def test_the_first_page_says_how_the_worst_case_stands_before_and_after(system: System) -> None:
    first, *_ = compared("carriage-at-altitude", "A4", system)
    before = solution("carriage-at-altitude", "")
    assert own_headline(judge(before.layout), "carriage", system) in first
    assert 'In "coldest start": over by' in first
    assert 'In "coldest start": within, margin' in first
    assert "Margin, worst case" in first


def test_without_cases_the_first_page_has_none() -> None:
    first, *_ = compared("wash-water-npsh", "A4", System.SI)
    assert "case" not in first.lower().replace("casing", "")
