"""The latest visit says stop before any other headline, with what was read against what is allowed there."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.field.compared import STOP
from solver.field.diagnosis import NothingToExplainError, diagnose
from solver.field.stopping import (
    NOTHING_ENDS,
    STILL_COUNTS,
    farthest_above,
    newest,
    stop_first,
    stop_text,
    stopped,
)
from solver.findings.judgement import judge
from solver.findings.kinds import Grade
from solver.findings.outlook import outlook
from solver.layout import file
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout, Limit, LimitForm
from solver.quantities.units import Kind, System, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
DRAWN = file.read(PATH).base


def with_last(vacuum: str, **more: object) -> Layout:
    """The year of readings, and one of the day after."""
    last = replace(DRAWN.readings[-1], when="2026-02-24", vacuum=(quantity(vacuum, Kind.VACUUM),))
    return replace(DRAWN, readings=(*DRAWN.readings, replace(last, **more)))  # type: ignore[arg-type]


def test_a_newest_reading_above_what_is_allowed_comes_first() -> None:
    layout = with_last("26 kPa")
    text = stop_text(newest(layout, layout.pumps), System.SI)
    assert text == "26.0 kPa read at the port of feed on 2026-02-24, no more than 19.2 kPa is allowed there"
    drawn = outlook(judge(layout), System.SI)
    assert drawn.headline.startswith("Within")
    first = stopped(drawn, farthest_above(newest(layout, layout.pumps), System.SI), " (yesterday)")
    assert (first.severity, first.word) == (Grade.STOP, STOP)
    assert first.headline == "26.0 kPa read, 19.2 kPa allowed there"
    begin = "Read at the port of feed on 2026-02-24 (yesterday). As drawn: w"
    assert first.beneath == begin + drawn.headline[1:]
    assert first.sentence == f"{first.headline}. {first.beneath}"
    assert stop_first(text, drawn.headline) == f"{STOP}: {text}. As drawn: w{drawn.headline[1:]}"


def test_a_stop_of_a_day_to_come_says_that_nothing_ends_it() -> None:
    layout = with_last("26 kPa", when="2999-02-24")
    readings = newest(layout, layout.pumps)
    above = farthest_above(readings, System.SI)
    assert above is not None
    assert above.text.endswith(f"is allowed there; {NOTHING_ENDS}")
    assert NOTHING_ENDS in stopped(outlook(judge(layout), System.SI), above).beneath
    assert (
        readings.latest[-1].words(System.SI)[-1].endswith("ends no earlier stop, and nothing ends its own.")
    )


def under_pressure(layout: Layout) -> Layout:
    """A drawing whose tank stands above the atmosphere, so that a gauge may show a pressure."""
    tank = replace(layout.reservoirs["tank"], pressure=quantity("20 kPa", Kind.PRESSURE))
    return replace(layout, reservoirs={"tank": tank})


def test_a_pressure_is_allowed_down_to_its_figure() -> None:
    layout = under_pressure(with_last("-5 kPa"))
    limit = Limit(LimitForm.PRESSURE, ((None, quantity("112 kPa abs", Kind.ABSOLUTE)),))
    layout = replace(layout, pumps={"feed": replace(layout.pumps["feed"], limit=limit)})
    above = farthest_above(newest(layout, layout.pumps), System.SI)
    assert above is not None
    assert above.short.startswith("5.0 kPa above the atmosphere read, no less than ")
    assert above.short.endswith(" kPa above the atmosphere allowed there")


def test_of_several_the_one_farthest_above_is_named() -> None:
    layout = with_last("26 kPa")
    worse = replace(layout.readings[-1], vacuum=(quantity("30 kPa", Kind.VACUUM),))
    layout = replace(layout, readings=(*layout.readings, worse))
    assert stop_text(newest(layout, layout.pumps), System.SI).startswith("30.0 kPa read")


@pytest.mark.parametrize("readings", [(), DRAWN.readings])
def test_nothing_comes_first_where_no_newest_reading_is_above(readings: tuple[LoggedReading, ...]) -> None:
    layout = replace(DRAWN, readings=readings)
    assert stop_text(newest(layout, layout.pumps), System.SI) == ""
    drawn = outlook(judge(layout), System.SI)
    assert stopped(drawn, None) is drawn
    assert stop_first("", drawn.headline) == drawn.headline


COLD, WARM = "12 degC", "58 degC"


def over_then(*later: LoggedReading) -> Layout:
    """A cold morning past what is allowed, and readings of the days after it."""
    return replace(DRAWN, readings=(on(25, "30 kPa", COLD), *later))


def on(day: int, vacuum: str, temperature: str, speed: str = "1460 rpm", **more: object) -> LoggedReading:
    """A reading of February 2026 at the port of the feed pump, its state noted where that is no ""."""
    state: dict[str, object] = {"level": "minimum"}
    state |= {"fluid": {"temperature": temperature}} if temperature else {}
    state |= {"pumps": {"feed": {"speed": speed}}} if speed else {}
    shown = (quantity(vacuum, Kind.VACUUM),) if vacuum else ()
    return LoggedReading(f"2026-02-{day} 09:00", "feed", vacuum=shown, state=state, **more)  # type: ignore[arg-type]


REFUSED = ((("work",), '"mended"', "a kind of work"),)


@pytest.mark.parametrize(
    "later",
    [
        on(27, "5 kPa", WARM),
        on(27, "9 kPa", COLD, "700 rpm"),
        on(27, "9 kPa", COLD, ""),
        on(27, "9 kPa", ""),
        on(27, "1 kPa", COLD, run="riser", distance=quantity("0.1 m", Kind.LENGTH)),
        on(27, "9 kPa", COLD, problems=REFUSED),
        on(27, "9 kPa", COLD, problems=REFUSED, work=("strainer cleaned",)),
        on(24, "9 kPa", COLD, work=("strainer cleaned",)),
        on(27, "5 kPa", WARM, work=("fluid topped up",)),
        on(27, "", WARM, work=("strainer cleaned",)),
        replace(on(27, "9 kPa", COLD), when="2999-02-27 09:00"),
        replace(on(27, "9 kPa", COLD, work=("strainer cleaned",)), when="2999-02-27 09:00"),
    ],
    ids=[
        "warm",
        "slow",
        "no speed",
        "no temperature",
        "elsewhere",
        "refused",
        "refused work",
        "work before",
        "work that explains too little",
        "work, nothing read",
        "ahead",
        "work ahead",
    ],
)
def test_a_stop_of_an_earlier_visit_counts_whatever_was_read_since_in_milder_states(
    later: LoggedReading,
) -> None:
    layout = over_then(later)
    first = farthest_above(newest(layout, layout.pumps), System.SI)
    assert first is not None
    assert (first.day, first.read) == ("2026-02-25", "30.0 kPa")
    drawn = stopped(outlook(judge(layout), System.SI), first)
    assert (drawn.severity, drawn.word) == (Grade.STOP, STOP)
    if later.moment > layout.readings[0].moment:
        assert first.text.endswith(f"is allowed there; {STILL_COUNTS}")
        assert STILL_COUNTS in drawn.beneath


@pytest.mark.parametrize(
    "later",
    [
        (on(27, "9 kPa", COLD),),
        (on(27, "9 kPa", "53.6 degF"), on(28, "5 kPa", WARM)),
        (on(27, "9 kPa", "5 degC", "1500 rpm"),),
        (on(27, "5 kPa", WARM, work=("strainer cleaned",)),),
        (on(26, "5 kPa", "", work=("fluid changed",)), on(28, "5 kPa", WARM)),
    ],
    ids=["as cold", "as cold, then warm", "colder and faster", "work", "work, then warm"],
)
def test_a_stop_ends_with_work_or_a_state_as_demanding_within_what_is_allowed(
    later: tuple[LoggedReading, ...],
) -> None:
    layout = over_then(*later)
    assert newest(layout, layout.pumps).stops == frozenset()
    assert stop_text(newest(layout, layout.pumps), System.SI) == ""


def test_work_noted_with_another_pumps_reading_ends_a_stop_too() -> None:
    other = replace(on(26, "", "", work=("strainer cleaned",)), pump="another")
    layout = over_then(other, on(27, "5 kPa", WARM))
    assert newest(layout, ["feed"]).stops == frozenset()
    assert newest(over_then(on(27, "5 kPa", WARM)), ["feed"]).stops == {0}


def test_where_nothing_of_the_latest_visit_can_be_compared_an_earlier_stop_is_said() -> None:
    layout = over_then(on(27, "5 kPa", WARM, problems=REFUSED))
    with pytest.raises(NothingToExplainError) as error:
        diagnose(layout, "feed")
    assert str(error.value).startswith(
        "none of the readings of the latest visit (2026-02-27) can be compared"
    )
    assert str(error.value).endswith("Stop the pump: an earlier visit's reading still counts")


def test_a_cold_reading_of_the_next_morning_makes_the_evening_before_no_kinder() -> None:
    evening = LoggedReading("2026-03-04 16:00", "feed", vacuum=(quantity("26 kPa", Kind.VACUUM),))
    morning = LoggedReading("2026-03-05 07:00", "feed", vacuum=(quantity("9 kPa", Kind.VACUUM),))
    later = replace(
        morning, when="2026-03-05 18:00"
    )  # more than a day after the evening, and of the same day
    layout = replace(DRAWN, readings=(evening, morning, later))
    stop = stop_text(newest(layout, ["feed"]), System.SI)
    assert stop.startswith("26.0 kPa read at the port of feed on 2026-03-04")
    cleaned = replace(layout, readings=(evening, replace(morning, work=("strainer cleaned",)), later))
    assert stop_text(newest(cleaned, ["feed"]), System.SI) == ""
