"""One figure or two, in any usual way of writing; what may be read in two ways is asked about."""

from __future__ import annotations

import pytest

from sketch.editing.edits import EditError
from sketch.editing.reading_figures import figures
from solver.quantities.units import Kind, System


@pytest.mark.parametrize(
    "text",
    [
        "24 to 26 kPa", "24-26 kPa", "24 - 26 kPa", "24–26 kPa", "24 kPa, 26 kPa", "24 kPa-26 kPa",
        "24/26 kPa", "24, 26 kPa", "24..26 kPa", "24 … 26 kPa", "24 and 26 kPa", "from 24 to 26 kPa",
        "between 24 and 26 kPa",
        "24 kPa to 26", "24; 26 kPa", "24 TO 26 kPa",
    ],
)  # fmt: skip
def test_a_hand_that_swings_is_typed_in_any_usual_way(text: str) -> None:
    """A unit at one of the two holds for both, whatever unit a bare number would be in."""
    assert figures(text, Kind.VACUUM, System.US) == ("24 kPa", "26 kPa")


@pytest.mark.parametrize(
    ("text", "read"),
    [
        ("6", ("6 inHg",)),
        ("5-6", ("5 inHg", "6 inHg")),
        ("-24 kPa", ("-24 kPa",)),
        ("-24 - -26 kPa", ("-24 kPa", "-26 kPa")),
        ("-24--26 kPa", ("-24 kPa", "-26 kPa")),
        ("80-82 kPa abs", ("80 kPa abs", "82 kPa abs")),
        ("1e-1 bar", ("1e-1 bar",)),
        ("0,24 bar", ("0,24 bar",)),
        ("24,26 kPa", ("24,26 kPa",)),
        ("5 1/2 inHg", ("5 1/2 inHg",)),
        ("a lot", ("a lot",)),
        ("5 to 6 to 7 kPa", ("5 to 6 to 7 kPa",)),
        ("to", ("to",)),
        ("", ("",)),
    ],
)
def test_signs_units_and_what_cannot_be_parted(text: str, read: tuple[str, ...]) -> None:
    assert figures(text, Kind.VACUUM, System.US) == read


def test_a_minus_that_may_be_a_dash_is_asked_about() -> None:
    with pytest.raises(EditError, match="allowed: -24 to 26 kPa, or -24 to -26 kPa"):
        figures("-24-26 kPa", Kind.VACUUM, System.SI)
