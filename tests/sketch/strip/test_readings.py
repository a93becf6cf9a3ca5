"""What the strip says of the margin."""

from __future__ import annotations

from sketch.strip import readings
from solver.quantities.units import System
from tests.sketch import samples


def test_without_a_ledger_nothing_is_claimed() -> None:
    assert readings.margin_text(None, System.SI) == "Not calculated"


def test_a_margin_is_within_or_over() -> None:
    within = readings.margin_text(samples.ledger(samples.SHARES), System.SI)
    over = readings.margin_text(
        samples.ledger({k: 2 * share for k, share in samples.SHARES.items()}), System.SI
    )
    assert within[0].isupper()
    assert "over" not in within.lower()
    assert "over" in over.lower()
    assert "kPa" in within
