"""A gauge that is only named has what other readings of it give; its own figures come first."""

from __future__ import annotations

from solver.field.compared import compare
from solver.field.states import prepare
from solver.layout.file import parse, reading_problems
from solver.quantities.units import System
from tests.drawings import RISER

HEAD = RISER.replace("format = 1", "format = 2").partition("[alternatives")[0]


def text(*rows: tuple[str, str]) -> str:
    return HEAD + "".join(
        f'\n[[readings]]\nwhen = "{when}"\npump = "carriage"\nvacuum = "9 kPa"\n{more}\n'
        for when, more in rows
    )


FULL = (
    'gauge = { name = "A", over_port = "0.3 m", tube = "full", '
    'class = 1.6, range = "30 inHg", zero = "1 kPa" }'
)


def test_figures_come_from_the_latest_reading_before_and_their_own_come_first() -> None:
    later = FULL.replace("1.6", "2.5").replace("0.3 m", "0.4 m")
    rows = (
        ("2026-01-01", FULL),
        ("2026-03-01", later),
        ("2026-02-01", 'gauge = { name = "A", class = 1.0 }'),
    )
    layout = parse(text(*rows)).base
    (reading,) = prepare(layout)[2].readings
    (first,) = prepare(layout)[0].readings
    assert (reading.gauge.accuracy, reading.gauge.range) == (0.01, first.gauge.range)
    assert (reading.gauge.over_tap, reading.gauge.tube) == (first.gauge.over_tap, first.gauge.tube)
    assert reading.gauge.zero is None
    assert "The height, tube and range of gauge A: as noted at the reading of 2026-01-01." in compare(layout)[
        2
    ].words(System.SI)
    assert prepare(layout)[2].logged.gauge.tube == "not known"


def test_a_later_reading_serves_where_none_came_before_and_another_gauge_never() -> None:
    rows = (("2026-01-01", 'gauge = "A"'), ("2026-01-02", 'gauge = "B"'), ("2026-03-01", FULL))
    first, other, _ = prepare(parse(text(*rows)).base)
    assert first.readings[0].gauge.accuracy == 0.016
    assert other.readings[0].gauge.accuracy is None
    assert other.of_gauge == ()


def test_height_and_tube_stay_at_their_place() -> None:
    tap = 'gauge = "A"\nrun = "riser"\ndistance = "0.1 m"'
    prepared = prepare(parse(text(("2026-01-01", FULL), ("2026-02-01", tap))).base)[1]
    assert prepared.readings[0].gauge.tube == "not known"
    assert prepared.of_gauge == ("The class and range of gauge A: as noted at the reading of 2026-01-01.",)


def test_a_gauge_that_shows_against_the_sea_level_is_known_as_such() -> None:
    high = 'state.site.barometer = "850 mbar"\n'
    rows = (
        ("2026-01-01", 'gauge = { name = "A", reference = "sea level" }'),
        ("2026-02-01", f'{high}gauge = "A"'),
    )
    drawing = parse(text(*rows).replace('"9 kPa"', '"90 kPa"'))
    assert reading_problems(drawing) == ()
    assert prepare(drawing.base)[1].why_not == ""
