"""What to do at which reading: a vacuum rises to its limit, a pressure falls to it."""

from __future__ import annotations

from dataclasses import replace

from solver.field import card
from solver.field.card import CardRow
from solver.field.places import Place
from solver.field.what_to_do import (
    AT_ANY,
    AT_STOP,
    ON_LOW_DAY,
    PAST_EXPECTED,
    WHEN_OFF,
    FigureSign,
    cleaned,
    parts_to_look_at,
    sign_of,
    what_to_do,
)
from solver.layout import file
from solver.layout.cases import AS_DRAWN
from tests.drawings import SHIPPED


def row(expected: float, stop: float) -> CardRow:
    return CardRow(Place("pump"), (AS_DRAWN,), "50 °C", (expected, expected), stop, stop, stop)


PARTS = ("strainer", "hoses")
DRAWS, PRESSED, BETWEEN = row(5e3, 9e3), row(-14.7e3, -11.9e3), row(-1.3e3, 5e3)


def test_the_figures_say_whether_a_vacuum_rises_or_a_pressure_falls_to_stop() -> None:
    signs = [sign_of(each) for each in ([DRAWS], [PRESSED], [BETWEEN], [DRAWS, PRESSED])]
    assert signs == [FigureSign.VACUUM, FigureSign.PRESSURE, FigureSign.BOTH, FigureSign.BOTH]


def test_where_no_reading_to_clean_at_is_left_it_says_when_to_clean() -> None:
    each_stop = replace(DRAWS, instead=card.EACH_TIME_OFF, note="no room")
    assert "whenever the pump stands" in what_to_do([each_stop], PARTS)[WHEN_OFF]
    assert cleaned([each_stop])
    finer = replace(DRAWS, instead=card.FINER_GAUGE, note="no room")
    for rows in ([DRAWS], [finer]):
        assert WHEN_OFF not in what_to_do(rows, PARTS)


def test_a_pressure_is_never_stopped_for_being_above_its_figure() -> None:
    signs = (
        (FigureSign.VACUUM, FigureSign.VACUUM),
        (FigureSign.PRESSURE, FigureSign.PRESSURE),
        (FigureSign.BOTH, FigureSign.VACUUM),
    )
    for each, (sign, stop) in zip((DRAWS, PRESSED, BETWEEN), signs, strict=True):
        todo = what_to_do([each], PARTS)
        assert todo[AT_STOP[stop]].startswith("stop the pump now")
        assert any(reading.startswith(PAST_EXPECTED[sign]) for reading in todo)
    healthy_plus = [reading for reading in what_to_do([PRESSED], PARTS) if "more pressure" in reading.lower()]
    assert [what_to_do([PRESSED], PARTS)[reading].startswith("less flow") for reading in healthy_plus] == [
        True
    ]


def test_stops_of_either_kind_are_both_worded() -> None:
    assert AT_STOP[FigureSign.BOTH] in what_to_do([DRAWS, PRESSED], PARTS)


def test_past_the_limit_in_every_state_nothing_is_said_of_running_on() -> None:
    over = replace(DRAWS, stop=None, note=card.OVER)
    assert next(iter(what_to_do([over], PARTS))) == AT_ANY
    assert not any("next stop" in work for work in what_to_do([over], PARTS).values())
    assert {AT_ANY, AT_STOP[FigureSign.VACUUM]} <= set(what_to_do([over, DRAWS], PARTS))


def test_what_to_clean_at_is_said_where_some_state_has_such_a_reading() -> None:
    assert not any("lean at" in reading for reading in what_to_do([DRAWS], PARTS))
    assert sum("lean at" in reading for reading in what_to_do([replace(DRAWS, service=7e3)], PARTS)) == 3


def test_only_what_a_line_has_is_looked_at() -> None:
    def parts(stem: str) -> tuple[str, ...]:
        return parts_to_look_at(file.read(next(path for path in SHIPPED if path.stem == stem)).base)

    assert parts("winter-press") == ("strainer", "hoses")
    assert "strainer" not in parts("header-two-pumps")
    assert "valves" in parts("header-two-pumps")
    todo = what_to_do([DRAWS], ("valves",)).values()
    assert any(work.startswith("look at valves at the next stop") for work in todo)
    assert not any("strainer" in work or "hose" in work for work in todo)
    assert (
        "look at strainer and hoses at the next stop, then read again" in what_to_do([DRAWS], PARTS).values()
    )


def test_past_the_limit_on_a_low_pressure_day_alone_it_runs_on_any_other() -> None:
    low = replace(DRAWS, stop=None, note=f"{card.ON_LOW_DAY}; {card.NO_OTHER_DAY}")
    assert (low.over, low.over_on_low_day) == (False, True)
    assert AT_ANY not in what_to_do([low, DRAWS], PARTS)
    assert "on any other day" in what_to_do([low, DRAWS], PARTS)[ON_LOW_DAY]
    assert next(iter(what_to_do([low], PARTS))) == ON_LOW_DAY
    assert not any("next stop" in work for work in what_to_do([low], PARTS).values())
