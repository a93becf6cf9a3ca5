"""A reading beside what the drawing expects: the first word is stop where it is past what is allowed."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.compared import STOP, Comparison, compare
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import RISER, SHIPPED

STATE = """
gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0, zero = "0 kPa" }
measured_at = "line"
state = { level = "minimum", fluid.temperature = "45 degC", pumps.carriage.speed = "1450 rpm" }
"""


def drawn(*readings: str) -> Layout:
    head = RISER.replace("format = 1", "format = 2").partition("[alternatives")[0]
    rows = (f'\n[[readings]]\nwhen = "2026-03-04"\npump = "carriage"\n{each}\n' for each in readings)
    return file.parse(head + "".join(rows)).base


def comparison(vacuum: float, more: str = STATE) -> Comparison:
    return compare(drawn(f'vacuum = "{vacuum!r} Pa"\n{more}'))[0]


@pytest.fixture(scope="module")
def vacuum() -> float:
    return solve(drawn()).pumps["carriage"].vacuum


def test_what_the_drawing_says_lies_within_what_it_expects(vacuum: float) -> None:
    compared = comparison(vacuum)
    assert compared.compared[0].expected.vacuum == pytest.approx(vacuum)
    assert compared.compared[0].inside
    assert compared.words(System.SI)[0].endswith(": within that.")


def test_the_first_word_is_stop_above_what_is_allowed() -> None:
    allowed = solve(drawn()).pumps["carriage"].allowed_vacuum
    for more in (STATE, ""):  # also where nothing was noted
        compared = comparison(allowed + 100.0, more)
        assert compared.stop
        assert compared.words(System.SI)[0].startswith(STOP)
    assert not comparison(allowed - 100.0).stop


def test_a_tap_is_held_to_what_leaves_the_port_its_own() -> None:
    tap = compare(drawn(f'vacuum = "1 kPa"\nrun = "riser"\ndistance = "0.1 m"\n{STATE}'))[0].compared[0]
    port = comparison(1000.0).compared[0]
    assert tap.expected.allowed is not None
    assert port.expected.allowed is not None
    assert port.expected.allowed - tap.expected.allowed == pytest.approx(
        port.expected.vacuum - tap.expected.vacuum
    )


def test_how_far_it_is_off_is_said(vacuum: float) -> None:
    assert comparison(vacuum + 4000.0).words(System.SI)[0].endswith("above that.")
    assert comparison(vacuum - 4000.0).words(System.SI)[0].endswith("below that.")
    high = comparison(vacuum).compared[0].expected.band.high
    assert comparison(high + 20.0).words(System.SI)[0].endswith(": barely above that.")


FLOODED = next(path for path in SHIPPED if path.stem == "baler-flooded").read_text(encoding="utf-8")


@pytest.mark.parametrize(
    ("rest", "words"),
    [
        ('rest_pressure = "1 kPa"', "less pressure than that."),
        ('rest_pressure = "6 kPa"', "more pressure than that."),
        ('rest_vacuum = "4 kPa"', "more vacuum than that."),
    ],
)
def test_above_the_atmosphere_it_is_more_or_less_pressure(rest: str, words: str) -> None:
    """More vacuum is less pressure: "above" is taken the other way round on a gauge that shows a pressure."""
    head = FLOODED.replace("format = 1", "format = 2").partition("[alternatives")[0]
    gauge = 'gauge = { name = "A", over_port = "0 m", tube = "empty", class = 1.0, zero = "0 kPa" }'
    more = f'[[readings]]\nwhen = "2026-03-04"\npump = "baler"\nstate.level = "minimum"\n{gauge}\n{rest}\n'
    (compared,) = compare(file.parse(f"{head}\n{more}").base)
    assert compared.words(System.SI)[0].endswith(words)


def test_what_a_gauge_showed_stands_beside_what_that_is_at_its_tap(vacuum: float) -> None:
    """A metre of oil of 860 kg/m3 in the tube of a gauge over its tap is 8.4 kPa that the tap has not."""
    full = STATE.replace('over_port = "0 m", tube = "empty"', 'over_port = "1 m", tube = "full"')
    (line, *_) = comparison(vacuum + 8400.0, full).words(System.SI)
    assert " at the tap; the drawing expects " in line
    assert line.endswith(": within that.")
    assert "at the tap" not in comparison(vacuum).words(System.SI)[0]


def test_what_cannot_be_compared_is_shown_with_why() -> None:
    (compared,) = compare(drawn('vacuum = "9 kPa"\nrun = "gone"\ndistance = "1 m"'))
    assert compared.words(System.SI)[0] == "Not compared: it has no place: there is no run gone."
    assert compare(drawn('note = "only heard"'))[0].words(System.SI)[0] == "No vacuum was noted."


def test_a_reading_that_the_gauge_may_have_put_below_the_allowed_says_so() -> None:
    allowed = solve(drawn()).pumps["carriage"].allowed_vacuum
    near, clear = comparison(allowed - 500.0), comparison(allowed - 3000.0)
    assert not near.stop
    assert "by the gauge's error it may be past" in near.words(System.SI)[0]
    assert "gauge's error" not in clear.words(System.SI)[0]


def test_a_reading_dated_after_today_says_so() -> None:
    layout = drawn('vacuum = "9 kPa"')
    for when, ahead in (("9999-01-01 10:00", True), ("2001-01-01", False)):
        for pump in ("carriage", "gone"):
            reading = replace(layout.readings[0], when=when, pump=pump)
            (dated,) = compare(replace(layout, readings=(reading,)))
            last = dated.words(System.SI)[-1]
            assert last.startswith("It is dated 9999-01-01, and today is ") is ahead


def test_no_negative_vacuum_is_expected_of_a_gauge() -> None:
    (compared,) = comparison(9e3).compared
    near_none = replace(compared, expected=replace(compared.expected, vacuum=1e3, deviation=2e3))
    assert "the drawing expects 2.3 kPa above the atmosphere to 4.3 kPa of vacuum" in near_none.words(
        System.SI
    )


def test_where_the_gauges_tube_or_height_was_not_noted_it_is_never_said_to_be_as_expected(
    vacuum: float,
) -> None:
    known = comparison(vacuum)
    assert not known.compared[0].undecided
    full = STATE.replace('over_port = "0 m", tube = "empty"', 'over_port = "2 m", tube = "not known"')
    unnoted = {
        "neither the gauge's height nor an empty tube": STATE.replace(
            'over_port = "0 m", tube = "empty", ', ""
        ),
        "what was in the gauge's tube": full,
    }
    for missing, more in unnoted.items():
        compared = comparison(vacuum, more)
        assert compared.compared[0].inside
        assert compared.compared[0].undecided
        words = compared.words(System.SI)[0]
        assert "within that" not in words
        assert f"cannot be told, as {missing} was noted" in words.replace("was not noted", "was noted")
    assert not comparison(vacuum + 60e3, full).compared[0].undecided


def test_a_band_of_nearly_all_asks_for_the_temperature_and_gives_no_impossible_figure():
    path = next(each for each in SHIPPED if each.stem == "winter-press")
    text = path.read_text(encoding="utf-8")
    typed = '\n[[readings]]\nwhen = "2026-01-04"\npump = "press"\nvacuum = "9 inHg"\n'
    (comparison,) = compare(file.parse(text + typed).base)
    assert "the drawing expects nearly any figure" in comparison.words(System.US)[0]


def test_a_gauge_whose_height_nobody_noted_may_hide_that_its_reading_is_past_what_is_allowed() -> None:
    allowed = solve(drawn()).pumps["carriage"].allowed_vacuum
    low = STATE.replace('over_port = "0 m", tube = "empty", ', "")
    known, unknown = (comparison(allowed - 3000.0, more) for more in (STATE, low))
    assert not known.compared[0].near_allowed
    assert unknown.compared[0].near_allowed
    assert (
        "by the gauge's error and its height, which was not noted, it may be past"
        in unknown.words(System.SI)[0]
    )


def test_a_band_that_ends_where_the_fluid_boils_says_that_no_gauge_shows_more() -> None:
    """Nobody noted the temperature of a long thin line: the drawing alone would have it past a vacuum."""
    one = comparison(10e3).compared[0]
    wide = replace(one, expected=replace(one.expected, deviation=30e3, most=40e3))
    assert "to 40.0 kPa of vacuum, the most that any gauge can show here" in wide.words(System.SI)
    assert "the most that any gauge" not in one.words(System.SI)


def test_what_is_expected_over_a_reading_at_rest_ends_where_the_fluid_boils() -> None:
    """Nobody noted the temperature, nor the gauge's height: at the coldest the drawing alone would have more
    than the whole atmosphere over what stands at the port at rest."""
    path = next(each for each in SHIPPED if each.stem == "winter-press")
    typed = (
        '\n[[readings]]\nwhen = "2026-01-04"\npump = "press"\nvacuum = "9 inHg"\nrest_vacuum = "1 inHg"\n'
        'gauge = { name = "A" }\n'
    )
    layout = file.parse(path.read_text(encoding="utf-8") + typed).base
    running, rest = compare(layout)[0].compared
    assert running.over_rest is not None
    ledger = solve(layout).pumps["press"]
    most = ledger.atmosphere - ledger.vapor_pressure - rest.expected.vacuum
    assert running.over_rest.most == pytest.approx(most)
    assert running.over_rest.expected.high > most == running.over_rest.band.high
    words = running.words(System.SI)
    assert f"to {most / 1000:.1f} kPa, the most that there can be, that the drawing expects" in words
    sound = comparison(9e3).compared[0]
    assert "the most that there can be" not in sound.words(System.SI)
