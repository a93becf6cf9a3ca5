"""How people write a number and its unit."""

from __future__ import annotations

import pytest

from solver.quantities import spelling


@pytest.mark.parametrize(
    ("typed", "read"),
    [
        ("  3 ft   6 in ", "3 ft 6 in"),
        ("12 000 Pa", "12000 Pa"),
        ("12\u00a0000 Pa", "12000 Pa"),
        ("−5 °C", "-5 degC"),
        ("46 mm²/s", "46 mm^2/s"),
        ("3 1/2 in", "3 1/2 in"),
        ("1 234 567.5 Pa", "1234567.5 Pa"),
        ("6½ in.", "6 1/2 in"),
        ("40 ° C", "40 degC"),
    ],
)
def test_signs_and_spaces_become_those_of_the_tables(typed: str, read: str) -> None:
    assert spelling.normalised(typed) == read


def test_two_numbers_side_by_side_are_not_one() -> None:
    assert spelling.normalised("12 34 m") == "12 34 m"
    assert spelling.normalised("012 000 m") == "012 000 m"


@pytest.mark.parametrize(
    ("typed", "offered"),
    [
        ("0,5 bar", '"0.5 bar"'),
        ("12,5", '"12.5"'),
        ("1,500 mm", '"1500 mm", or "1.500 mm" if the comma is a decimal one'),
        ("0,500 m", '"0.500 m"'),
        ("12.5 mm", ""),
        ("a,b", ""),
    ],
)
def test_a_comma_is_answered_with_the_ways_to_write_it(typed: str, offered: str) -> None:
    assert spelling.with_point(typed) == offered


@pytest.mark.parametrize(
    ("unit", "pressure"),
    [
        ("bara", "bar"),
        ("bar abs", "bar"),
        ("psia", "psi"),
        ("bar", ""),
        ("kPa(a)", "kPa"),
        ("in Hg absolute", "inHg"),
        ("Pa", ""),
    ],
)
def test_an_absolute_unit_names_its_pressure(unit: str, pressure: str) -> None:
    assert spelling.absolute(unit) == pressure
    assert spelling.is_absolute(f"0.8 {unit}") is bool(pressure)


def test_a_number_alone_has_no_unit() -> None:
    assert all(map(spelling.is_number, ("0.45", " 3 ", "-1e-3")))
    assert not any(map(spelling.is_number, ("3 ft", "", "3'8\"", "0,5")))


@pytest.mark.parametrize(
    ("typed", "read"), [("m3/h", "m^3/h"), ("in Hg", "inHg"), ("kg / m3", "kg/m^3"), ("inH2O", "inH2O")]
)
def test_a_unit_is_spelled_as_the_tables_have_it(typed: str, read: str) -> None:
    assert spelling.canonical(typed) == read


def test_a_unit_that_hangs_on_something_else_says_what_to_type() -> None:
    assert "kinematic" in spelling.instead("cP")
    assert not spelling.instead("cSt")


@pytest.mark.parametrize(
    ("text", "unit"),
    [
        ("0.8 bar", "bar"),
        ("0.8bar abs", "bar abs"),
        ("-5 °C", "°C"),
        ("82 cm^3/rev", "cm^3/rev"),
        ("3 m³/h", "m³/h"),
        ("100 per inch", "per inch"),
        ("7", ""),
        ("", ""),
        ("2 ft 7 in", ""),
        ("2'7\"", ""),
        ("2 1/2 in", "in"),
        ('1-1/2"', ""),
        ("1200 rpm: 7 inHg; 1800 rpm: 5 inHg", ""),
    ],
)
def test_the_unit_of_one_figure(text: str, unit: str) -> None:
    assert spelling.unit_in(text) == unit


@pytest.mark.parametrize(
    ("unit", "pressure"),
    [("psig", "psi"), ("bar g", "bar"), ("bar(g)", "bar"), ("kPa gauge", "kPa"), ("bar", ""), ("kg", "")],
)
def test_a_unit_over_the_atmosphere_names_its_pressure(unit: str, pressure: str) -> None:
    assert spelling.gauge(unit) == pressure
