"""Figures in sentences: no gauge reads what no fluid can have, and nothing positive reads as nothing."""

import re

import pytest

from solver.properties.families import catalogue
from solver.quantities.units import Kind, System
from solver.quantities.wording import (
    QuotingError,
    allowance,
    allowed_there,
    broken,
    capitalised,
    compared,
    degrees,
    end_text,
    error_text,
    figures_in,
    gauge_reading,
    margin_words,
    reached,
    significant,
    text_above_zero,
    uncapitalised,
    with_article,
    with_side,
)


@pytest.mark.parametrize(
    ("vacuum", "text"),
    [
        (7_000.0, "7.0 kPa of vacuum"),
        (0.0, "the atmosphere's pressure"),
        (49.0, "the atmosphere's pressure"),
        (-49.0, "the atmosphere's pressure"),
        (-51.0, "0.1 kPa above the atmosphere"),
        (-7_000.0, "7.0 kPa above the atmosphere"),
    ],
)
def test_a_gauge_reads_below_or_above_the_atmosphere(vacuum, text):
    assert gauge_reading(vacuum, System.SI) == text


def test_above_the_atmosphere_us_units_say_psi_too():
    assert gauge_reading(-13_789.5, System.US) == "4.1 inHg (2.00 psi) above the atmosphere"
    assert "psi" not in gauge_reading(13_789.5, System.US)
    assert "4.1 inHg (2.00 psi) above the atmosphere" in allowance(-13_789.5, System.US)


def test_no_vacuum_allowed_is_said_as_what_the_port_must_stand_at():
    assert allowance(53.6e3, System.SI) == "53.6 kPa of vacuum is allowed here"
    assert allowance(-53.6e3, System.SI) == (
        "no vacuum is allowed here: the port must stand at least 53.6 kPa above the atmosphere"
    )
    assert "less than 0.1 kPa above" in allowance(-1.0, System.SI)


def test_little_vacuum_is_allowed_in_words():
    assert allowance(1.0, System.SI) == "less than 0.1 kPa of vacuum is allowed here"


@pytest.mark.parametrize(
    ("margin", "text"),
    [
        (1_000.0, "margin 1.00 kPa"),
        (1.0, "margin less than 0.01 kPa"),
        (0.0, "margin less than 0.01 kPa"),
        (-1.0, "over by less than 0.01 kPa"),
        (-1_000.0, "over by 1.00 kPa"),
    ],
)
def test_how_a_pump_stands_is_said_in_one_way(margin, text):
    assert margin_words(margin, System.SI) == text
    assert margin_words(margin, System.SI, "<") == text.replace("less than ", "<")


def test_a_reading_beside_what_is_allowed():
    assert compared(7e3, 5e3, System.SI) == "7.0 kPa of vacuum at the port, 5.0 kPa allowed here"
    assert compared(7e3, -5e3, System.SI).startswith("7.0 kPa of vacuum at the port; no vacuum is allowed")


def test_what_no_fluid_can_have_is_no_reading():
    assert broken(-44e3, 0.0, System.SI) == "it would need −44.00 kPa abs"
    assert broken(0.0, 0.0, System.SI) == "it would need 0.00 kPa abs"
    assert broken(2e3, 2.5e3, System.SI) == "2.00 kPa abs is left, and it boils at 2.50 kPa abs"


@pytest.mark.parametrize(("pressure", "text"), [(1.0, "less than 0.1 kPa"), (100.0, "0.1 kPa")])
def test_nothing_positive_is_shown_as_nothing(pressure, text):
    assert text_above_zero(pressure, Kind.VACUUM, System.SI) == text


@pytest.mark.parametrize(
    ("kelvin", "system", "text"),
    [(278.15, System.SI, "5 °C"), (278.15, System.US, "41 °F"), (263.65, System.SI, "−9.5 °C")],
)
def test_a_temperature_as_it_is_spoken_of(kelvin, system, text):
    assert degrees(kelvin, system) == text


def test_a_refusal_quotes_its_figures_in_either_system():
    error = QuotingError("{part} of {size} is short", part="hose {a}", size=(0.0254, Kind.BORE))
    assert str(error) == error.text == error_text(error, System.SI) == "hose {a} of 25.4 mm is short"
    assert error_text(error, System.US) == end_text(error, System.US) == "hose {a} of 1.00 in is short"


def test_a_refusal_without_figures_stands_as_it_is():
    for error in (QuotingError("a name {in braces}"), ValueError("a name {in braces}")):
        assert error_text(error, System.US) == end_text(error, System.SI) == "a name {in braces}"


def test_a_part_has_the_article_of_its_sound():
    assert with_article("eccentric reducer") == "an eccentric reducer"
    assert with_article("gate valve") == "a gate valve"


def test_a_vacuum_is_allowed_up_to_a_figure_and_a_pressure_down_to_one() -> None:
    assert allowed_there(8.4e3, System.SI) == "no more than 8.4 kPa"
    assert allowed_there(-8.5e3, System.SI) == "no less than 8.5 kPa above the atmosphere"
    assert allowed_there(-1.0, System.SI) == "no more than 0.0 kPa"


def test_a_pressure_is_called_one_and_falls_to_what_is_reached() -> None:
    assert [with_side(each, System.SI) for each in (13e3, -13e3, -1.0)] == [
        "13.0 kPa",
        "13.0 kPa pressure",
        "0.0 kPa",
    ]
    assert reached(13e3, System.SI) == "13.0 kPa"
    assert reached(-13e3, System.SI) == "13.0 kPa above the atmosphere or less"


@pytest.mark.parametrize(
    ("text", "si", "us"),
    [
        ("875 kg/m³ at 15 °C, typical", "875 kg/m³ at 15 °C, typical", "54.6 lb/ft³ at 59 °F, typical"),
        ("46 mm²/s at 40 °C, index 95", "46 cSt at 40 °C, index 95", "46 cSt at 104 °F, index 95"),
        ("1.04 to 1.10 kg/L typical", "1040 to 1100 kg/m³ typical", "64.9 to 68.7 lb/ft³ typical"),
        ("0.69 kg/m3 a kelvin", "0.69 kg/m³ a kelvin", "0.024 lb/ft³ a degree"),
        ("below 10 Pa, counted as 0", "below 10 Pa, counted as 0", "below 0.003 inHg, counted as 0"),
        (
            "API MPMS 11.1; ASTM D341 (2020)",
            "API MPMS 11.1; ASTM D341 (2020)",
            "API MPMS 11.1; ASTM D341 (2020)",
        ),
    ],
)
def test_what_a_source_quotes_in_si_is_read_in_the_system_asked_for(text: str, si: str, us: str) -> None:
    """By hand, with 1 lb/ft³ = 16.018 kg/m³ and 1 inHg = 3386.4 Pa (NIST SP 811)."""
    assert (figures_in(text, System.SI), figures_in(text, System.US)) == (si, us)


def test_every_figure_that_the_catalogue_quotes_is_turned_into_the_other_units() -> None:
    quoted = [text for family in catalogue().values() for text in family.sources.values()]
    assert any("kg/L" in text for text in quoted)
    for text in quoted:
        left = figures_in(text, System.US)
        assert not re.search(r"kg/|°C|degC|\bPa\b|mm2|mm²", left), left


def test_a_small_figure_is_written_by_its_digits() -> None:
    assert significant(0.0045 * 0.0254, Kind.BORE, System.US) == "0.0045 in"
    assert significant(0.0045 * 0.0254, Kind.BORE, System.SI) == "0.11 mm"
    assert significant(0.0, Kind.BORE, System.SI) == "0 mm"


def test_only_the_first_letter_of_a_sentence_changes() -> None:
    assert (capitalised("over by 1.8 inHg"), uncapitalised("Over by 1.8 inHg")) == (
        "Over by 1.8 inHg",
        "over by 1.8 inHg",
    )
    assert (capitalised(""), uncapitalised("")) == ("", "")
