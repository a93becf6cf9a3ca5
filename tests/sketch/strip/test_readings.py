"""What the strip says of the margin."""

from __future__ import annotations

from pathlib import Path
from types import SimpleNamespace
from typing import Any

from sketch.editing import edits
from sketch.model.document import Document
from sketch.strip import readings
from solver.layout.file import read
from solver.quantities.units import System
from tests.drawings import SHIPPED
from tests.sketch import samples

(CARRIAGE,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")


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


def test_a_drawing_that_was_never_saved_is_held_against_how_it_began() -> None:
    document = Document()
    document.open_drawing(read(CARRIAGE), CARRIAGE)
    assert readings.change_text(document) == "as saved"
    document.begin(document.layout)
    assert document.path is None
    assert readings.change_text(document) == "as at first"
    document.apply("Warm", edits.set_temperature(document.layout, 325.0))
    assert readings.change_text(document).endswith(" better than at first")


def test_a_case_in_less_room_keeps_its_amount_and_its_estimate() -> None:
    assert readings.short_text("over by 5.8 inHg, est.") == "5.8 inHg over, est."
    assert readings.short_text("margin 6.9 kPa, est.") == "6.9 kPa left, est."
    assert readings.short_text("column breaks") == "column breaks"


def test_a_margin_that_is_shown_otherwise_is_not_the_same() -> None:
    def text(now: float, saved: float) -> str:
        document: Any = SimpleNamespace(
            ledger=SimpleNamespace(margin=now),
            saved_ledger=SimpleNamespace(margin=saved),
            path=Path("any.toml"),
            layout="now",
            saved_layout="saved",
            system=System.SI,
        )
        return readings.change_text(document)

    assert text(2440.0, 2460.0) == "<0.1 kPa worse than saved", "2.4 kPa left beside 2.5"
    assert text(2460.0, 2480.0) == "same margin as saved"
