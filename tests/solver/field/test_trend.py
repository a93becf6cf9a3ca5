"""How a strainer blocks over the months: none from few readings, and none across a cleaning."""

from __future__ import annotations

import re
from dataclasses import replace
from datetime import datetime, timedelta

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.causes import without_bypass
from solver.field.diagnosis import diagnose
from solver.field.places import Place
from solver.field.trend import Trend, due_screens, grown_screens, long_trends, trends
from solver.layout import file
from solver.layout.logged import LoggedGauge, LoggedReading
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import SHIPPED
from tests.thorough import first

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
DRAWN = replace(DRAWN, site=replace(DRAWN.site, elevation=quantity("10 m", Kind.ELEVATION)))
GAUGE = LoggedGauge("A", quantity("0 m", Kind.LENGTH), "empty", 0.5, None, quantity("0 kPa", Kind.VACUUM))
BEGIN = datetime(2025, 1, 1)
MONTH = timedelta(days=30)


def reading(month: int, blocked: float, celsius: float = 45.0, drawn: Layout = DRAWN) -> LoggedReading:
    """What the gauge shows on the machine with its screen blocked so far."""
    state = {"level": "minimum", "fluid": {"temperature": f"{celsius} degC"},
             "pumps": {"carriage": {"speed": "1450 rpm"}}}  # fmt: skip
    machine = inputs.temperature(drawn, ("",), celsius + 273.15, Level.MINIMUM)
    vacuum = places.vacuum(
        solve(inputs.blocked(machine, ("strainer",), blocked, Level.MINIMUM)), Place("carriage")
    )
    when = (BEGIN + month * MONTH).date().isoformat()
    shown = (Quantity(f"{vacuum!r} Pa", vacuum),)
    return LoggedReading(when, "carriage", vacuum=shown, gauge=GAUGE, state=state, measured_at="line")


YEAR = tuple(reading(month, 0.3 + 0.05 * month) for month in range(9))
"""A screen that loses a twentieth of its area a month."""


def trend(*readings: LoggedReading, layout: Layout = DRAWN) -> Trend:
    (pump_trends,) = trends(replace(layout, readings=readings), "carriage")
    return pump_trends


def test_the_open_share_is_found_at_each_reading() -> None:
    fitted = trend(*YEAR)
    for month, point in enumerate(fitted.points):
        assert point.low <= 0.7 - 0.05 * month <= point.high
        assert point.open_share == pytest.approx(0.7 - 0.05 * month, abs=0.08)


def test_the_date_lies_where_the_line_meets_what_is_due() -> None:
    fitted = trend(*YEAR)
    assert fitted.due_share is not None
    assert fitted.earliest is not None
    assert fitted.latest is not None
    due = BEGIN + (0.7 - fitted.due_share) / 0.05 * MONTH
    assert fitted.earliest < due < fitted.latest
    assert fitted.latest - fitted.earliest < 12 * MONTH


def test_warm_and_cold_days_stand_in_one_line() -> None:
    mixed = [reading(month, 0.5 + 0.05 * month, 25.0 if month % 2 else 45.0) for month in range(6)]
    for month, point in enumerate(trend(*mixed).points):
        assert point.open_share == pytest.approx(0.5 - 0.05 * month, abs=0.05)


def test_three_readings_have_no_date() -> None:
    fitted = trend(*YEAR[:3])
    assert fitted.earliest is None
    assert fitted.due_share is not None
    assert fitted.why_none.startswith("3 readings: a trend needs 4, on different days. By these 3 alone ")
    dates = [datetime.fromisoformat(day) for day in re.findall(r"\d{4}-\d\d-\d\d", fitted.why_none)]
    assert dates[0] < BEGIN + (0.7 - fitted.due_share) / 0.05 * MONTH
    assert all(date > BEGIN + (0.7 - fitted.due_share) / 0.05 * MONTH for date in dates[1:])


def test_a_screen_that_is_due_by_its_newest_reading_is_said_to_be_without_a_trend() -> None:
    few = trend(YEAR[0], reading(5, 0.95))
    assert few.due_share is not None
    assert few.points[-1].high < few.due_share
    assert "By the newest alone it is due: " in few.why_none
    assert "By the newest" not in trend(*YEAR[:2]).why_none


def test_two_readings_of_a_gauge_that_is_not_described_say_how_far_its_pressure_fell() -> None:
    one, other = (replace(each, gauge=LoggedGauge("A")) for each in (YEAR[0], reading(12, 0.95)))
    assert trend(one, other).fallen.startswith(
        f"From {one.day} to {other.day} the pressure at the gauge fell by "
    )
    assert trend(one, replace(one, when=other.when)).fallen == ""


@pytest.mark.thorough
@pytest.mark.parametrize("work", ["strainer cleaned", "fluid changed"])
def test_a_trend_begins_anew_after_work_on_the_line(work: str) -> None:
    fitted = trend(*YEAR[:5], replace(YEAR[5], work=(work,)), *YEAR[6:])
    assert len(fitted.points) == 4
    assert fitted.earliest is not None
    fitted = trend(*YEAR[:6], replace(YEAR[6], work=(work,)), *YEAR[7:])
    assert fitted.why_none.startswith("3 readings since the last work on the line: a trend needs 4")


def test_a_reading_of_the_day_of_the_work_counts_before_it_where_it_stands_before_it() -> None:
    cleaned = replace(YEAR[4], when=YEAR[3].when, work=("strainer cleaned",))
    fitted = trend(*YEAR[:4], cleaned, *YEAR[5:])
    assert [point.number for point in fitted.points] == list(range(4, len(YEAR)))


def test_a_screen_that_stays_as_it_is_has_no_date() -> None:
    alike = [replace(YEAR[2], when=each.when) for each in YEAR]
    assert trend(*alike).earliest is None or trend(*alike).earliest > BEGIN + 24 * MONTH
    cleaner = [replace(one, when=other.when) for one, other in zip(YEAR, reversed(YEAR), strict=True)]
    assert trend(*sorted(cleaner, key=lambda each: each.when)).why_none.startswith(
        "the open share does not fall"
    )


def test_with_its_bypass_open_nobody_knows_how_much_is_blocked() -> None:
    screen = DRAWN.intakes["strainer"].screen
    assert screen is not None
    wide = replace(
        screen,
        bypass=quantity("5 kPa", Kind.PRESSURE),
        bypass_flow=quantity("400 L/min", Kind.FLOW),
        bypass_drop=quantity("6 kPa", Kind.PRESSURE),
        bypass_viscosity=quantity("40 cSt", Kind.VISCOSITY),
    )
    layout = replace(DRAWN, intakes={"strainer": replace(DRAWN.intakes["strainer"], screen=wide)})
    cold = [reading(month, 0.95, 25.0, layout) for month in range(5)]
    fitted = trend(*cold, layout=layout)
    assert fitted.points[-1].bound_only
    assert "bypass" in fitted.why_none


@pytest.mark.thorough
def test_gauges_are_kept_apart() -> None:
    other = tuple(replace(each, gauge=replace(GAUGE, name="B")) for each in YEAR)
    pump_trends = trends(replace(DRAWN, readings=(*YEAR, *other)), "carriage")
    assert [(each.gauge, len(each.points)) for each in pump_trends] == [("A", 9), ("B", 9)]


DUE = "strainer is due for cleaning by its trend. "


@pytest.mark.parametrize("gauge", first([LoggedGauge("A"), GAUGE, LoggedGauge()]))
def test_one_careless_reading_does_not_make_a_due_strainer_clean(gauge: LoggedGauge) -> None:
    year = tuple(reading(month, 0.3 + 0.05 * month) for month in range(13))
    careless = replace(reading(14, 0.0), gauge=gauge, state={}, measured_at=None)
    drawn = replace(DRAWN, readings=(*year, careless))
    assert diagnose(drawn, "carriage").headline.startswith(DUE)
    assert due_of(drawn_cleaned(drawn), "carriage") == {}


def due_of(layout: Layout, pump: str) -> dict[str, str]:
    """The screens that are due by the trends of a pump."""
    return due_screens(layout, long_trends(layout, pump))


def drawn_cleaned(drawn: Layout) -> Layout:
    """The drawing with its strainer cleaned before the last reading."""
    *earlier, last = drawn.readings
    return replace(drawn, readings=(*earlier, replace(last, work=("strainer cleaned",))))


@pytest.mark.thorough
def test_a_strainer_that_was_cleaned_is_not_due_nor_is_one_of_an_earlier_day() -> None:
    year = tuple(reading(month, 0.3 + 0.05 * month) for month in range(13))
    drawn = replace(DRAWN, readings=(*year, replace(reading(14, 0.0), state={}, measured_at=None)))
    assert DUE not in diagnose(drawn_cleaned(drawn), "carriage").headline
    assert DUE not in diagnose(drawn, "carriage", numbers=(0,)).headline


@pytest.mark.thorough
def test_a_strainer_that_the_headline_names_is_not_said_to_be_due_beside_it() -> None:
    (path,) = (path for path in SHIPPED if path.stem == "strainer-over-a-year")
    layout = file.read(path).base
    assert due_of(layout, "feed") == {"strainer": "is due"}
    assert diagnose(layout, "feed").headline.startswith(
        "Far likelier than any other: screen blocked: strainer"
    )


def test_few_readings_make_nothing_due() -> None:
    assert due_of(replace(DRAWN, readings=YEAR[:3]), "carriage") == {}


def test_an_open_share_that_grows_by_itself_speaks_against_the_strainer() -> None:
    def grown(last: LoggedReading) -> dict[str, str]:
        return grown_screens(long_trends(replace(DRAWN, readings=(*blocking, last)), "carriage"))

    blocking = tuple(reading(month, 0.3 + 0.15 * month) for month in range(4))
    cleaner = reading(4, 0.4)
    (words,) = grown(cleaner).values()
    assert words.startswith("its open share would have grown by itself from ")
    assert words.endswith(f"on {cleaner.when}, no work noted between")
    assert grown(reading(4, 0.85)) == {}
    assert grown(replace(cleaner, work=("strainer cleaned",))) == {}
    diagnosis = diagnose(replace(DRAWN, readings=(*blocking, cleaner)), "carriage")
    (screen,) = (each for each in diagnosis.causes if each.name == "screen blocked: strainer")
    assert words in screen.evidence_against


def test_more_than_a_screen_gives_whose_bypass_opens_as_drawn_is_a_bound_alone() -> None:
    """Its bypass sticks: the share that comes nearest is no share, and the next strainer may be fuller."""
    stuck = reading(1, 0.97, 25.0, without_bypass(DRAWN, "strainer"))
    before, after = trend(reading(0, 0.8, 25.0), stuck).points
    assert not before.bound_only
    assert after.bound_only
