"""Figures as typed beside those in the units shown."""

from __future__ import annotations

import pytest

from sketch.card.typed_text import converted, displayed
from solver.quantities.units import Kind, System


@pytest.mark.parametrize(
    ("text", "kind", "system", "also"),
    [
        ("45 degC", Kind.TEMPERATURE, System.US, "113 °F"),
        ("45 °C", Kind.TEMPERATURE, System.US, "113 °F"),
        ("45 degC", Kind.TEMPERATURE, System.SI, ""),
        ("1650 m", Kind.ELEVATION, System.US, "5413 ft"),
        ("1-1/2 in", Kind.BORE, System.SI, "38.1 mm"),
        ("0.0045 in", Kind.BORE, System.SI, "0.11 mm"),
        ("0.045 mm", Kind.BORE, System.US, "0.0018 in"),
        ("12 ft", Kind.LENGTH, System.SI, "3.66 m"),
        ("46 cSt", Kind.VISCOSITY, System.US, ""),
        ("0.8 bar", Kind.ABSOLUTE, System.US, "23.6 inHg abs"),
        ("far", Kind.LENGTH, System.US, ""),
        ("", Kind.LENGTH, System.US, ""),
    ],
)
def test_a_figure_of_the_other_system_is_converted(text: str, kind: Kind, system: System, also: str) -> None:
    assert converted(text, kind, system) == also
    if text.startswith("45"):
        assert displayed(text, kind, system) == ("45 °C (113 °F)" if also else "45 °C")
