"""SI values as they are shown: in whose units, with how many digits, and read back within them."""

from __future__ import annotations

import math

import pytest
from hypothesis import given
from hypothesis import strategies as st

from solver.quantities import display, units
from solver.quantities.scales import Kind, System


@pytest.mark.parametrize(
    ("value", "kind", "us", "metric"),
    [
        (16593.3, Kind.VACUUM, "4.9 inHg", "16.6 kPa"),
        (101325.0, Kind.PRESSURE, "14.7 psi", "101 kPa"),
        (0.0, Kind.VACUUM, "0.0 inHg", "0.0 kPa"),
        (101325.0, Kind.ABSOLUTE, "29.9 inHg abs", "101 kPa abs"),
        (2339.0, Kind.ABSOLUTE, "0.69 inHg abs", "2.34 kPa abs"),
        (-10.0, Kind.VACUUM, "0.0 inHg", "0.0 kPa"),
        (3.6576, Kind.LENGTH, "12.0 ft", "3.66 m"),
        (0.0525018, Kind.BORE, "2.07 in", "52.5 mm"),
        (1650.0, Kind.ELEVATION, "5413 ft", "1650 m"),
        (118e-3 / 60, Kind.FLOW, "31.2 gpm", "118 L/min"),
        (0.1, Kind.FLOW, "1590 gpm", "6000 L/min"),
        (318.15, Kind.TEMPERATURE, "113 °F", "45.0 °C"),
        (46e-6, Kind.VISCOSITY, "46.0 cSt", "46.0 cSt"),
        (860e-6, Kind.VISCOSITY, "860 cSt", "860 cSt"),
        (877.0, Kind.DENSITY, "54.7 lb/ft³", "877 kg/m³"),
        (82e-6, Kind.DISPLACEMENT, "5.00 in³/rev", "82.0 cm³/rev"),
        (1450 / 60, Kind.SPEED, "1450 rpm", "1450 rpm"),
        (0.314, Kind.SHARE, "31 %", "31 %"),
        (1.2, Kind.VELOCITY, "3.94 ft/s", "1.20 m/s"),
        (9.999, Kind.LENGTH, "32.8 ft", "10.0 m"),
        (123456.0, Kind.NUMBER, "123000", "123000"),
        (0.0213, Kind.NUMBER, "0.0213", "0.0213"),
        (1e-6, Kind.NUMBER, "1.00e-06", "1.00e-06"),
    ],
)
def test_shown_with_three_digits_and_no_more_than_is_earned(
    value: float, kind: Kind, us: str, metric: str
) -> None:
    assert display.show(value, kind, System.US) == us
    assert display.show(value, kind, System.SI) == metric


@given(st.sampled_from(Kind), st.sampled_from(System), st.floats(1e-6, 1e6))
def test_what_is_shown_is_read_back_within_its_digits(kind: Kind, system: System, shown: float) -> None:
    value = display.from_display(shown, kind, system)
    text = display.show(value, kind, system)
    digits = display.number(value, kind, system)
    last = 10.0 ** -len(digits.partition(".")[2]) if "e" not in digits else 0.0
    back = display.to_display(units.quantity(text, kind).si, kind, system)
    assert back == pytest.approx(shown, rel=0.00501, abs=0.501 * last)
    assert display.to_display(value, kind, system) == pytest.approx(shown, rel=1e-9)


def test_a_sentence_has_a_minus_sign_and_a_quantity_reads_it_back() -> None:
    text = display.typeset(263.15, Kind.TEMPERATURE, System.SI)
    assert text == "\N{MINUS SIGN}10.0 °C"
    assert units.quantity(text, Kind.TEMPERATURE).si == pytest.approx(263.15)


@pytest.mark.parametrize(
    ("value", "text"), [(-18_336.0, "−5.41"), (0.0, "0.00"), (-1.0, "0.00"), (1e6, "295.30")]
)
def test_fixed_decimals_never_show_less_than_nothing(value: float, text: str) -> None:
    assert display.fixed(value, Kind.VACUUM, System.US) == text


@pytest.mark.parametrize(
    ("value", "places", "text"),
    [(1309.4, 0, "1310"), (97.26, 0, "97"), (0.1234, 2, "0.12"), (-12.345, 2, "−12.3"), (0.0, 2, "0.00")],
)
def test_rounded_to_three_digits(value: float, places: int, text: str) -> None:
    assert display.rounded(value, places) == text


@given(
    st.floats(-1e6, 1e6),
    st.sampled_from([Kind.LENGTH, Kind.BORE, Kind.TEMPERATURE, Kind.SPEED, Kind.FLOW, Kind.NUMBER]),
    st.sampled_from(list(System)),
    st.booleans(),
)
def test_a_figure_beside_a_value_is_shown_as_it_is_and_on_its_side(
    value: float, kind: Kind, system: System, above: bool
) -> None:
    """Never nearer than needed: the next figure back lies on the other side, or is the value's own."""
    beside = display.shown_beside(value, kind, system, above=above)
    shown, own = display.to_display(beside, kind, system), display.to_display(value, kind, system)
    near = 1e-8 * max(abs(own), 1.0)
    assert shown >= own - near if above else shown <= own + near
    text = display.number(beside, kind, system)
    assert float(text) == pytest.approx(shown, rel=1e-9, abs=1e-9)
    assert abs(shown - own) <= max(0.0101 * abs(own), 1.01 * 10.0 ** -len(text.partition(".")[2]))


@pytest.mark.parametrize(
    ("value", "above", "text"),
    [(3.1765, False, "3.17"), (3.1765, True, "3.18"), (-1.084, False, "-1.09"), (12.349, True, "12.4")],
)
def test_a_figure_beside_a_length(value: float, above: bool, text: str) -> None:
    beside = display.shown_beside(value, Kind.LENGTH, System.SI, above=above)
    assert display.number(beside, Kind.LENGTH, System.SI) == text


def test_no_number_is_rounded_to_a_dash() -> None:
    assert display.rounded(math.nan, 2) == "—"
    for value in (math.nan, math.inf):
        assert display.number(value, Kind.LENGTH, System.SI) == "—"
