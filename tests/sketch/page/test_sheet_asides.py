"""What the first page says of the cold start."""

from __future__ import annotations

import pytest

from sketch.page.sheet_asides import cold_start
from solver.layout import file
from solver.ledger import solve
from solver.quantities.units import System
from tests.sketch.sheets import EXAMPLES, pages, solution, written

pytestmark = pytest.mark.usefixtures("qapp")


def compared(name: str, paper: str, system: System, working: bool = False) -> list[str]:
    """The pages of a sheet of a drawing beside its last alternative."""
    return pages(written(name, paper=paper, system=system, compared=True, working=working))


@pytest.mark.parametrize("system", list(System))
def test_the_first_page_says_how_the_cold_start_stands_before_and_after(
    system: System,
) -> None:
    first, *_ = compared("carriage-at-altitude", "A4", system)
    for alternative in ("", "Pump beside the tank"):
        told = cold_start(solution("carriage-at-altitude", alternative), "carriage", system)
        assert told is not None
        assert " ".join(told) in first
    assert "over by" in first
    assert "within, margin" in first
    assert "Margin, cold start" in first


def test_without_a_coldest_start_the_first_page_has_none() -> None:
    first, *_ = compared("wash-water-npsh", "A4", System.SI)
    assert "cold start" not in first.lower()


def test_a_cold_start_that_cannot_be_calculated_says_so() -> None:
    text = (EXAMPLES / "carriage-at-altitude.toml").read_text()
    cold = text.replace('coldest_start = "25 degC"', 'coldest_start = "-60 degF"')
    assert cold != text
    told = cold_start(solve.solve(file.parse(cold, "cold").base), "carriage", System.US)
    assert told is not None
    assert told[1].startswith("not calculated: ")
