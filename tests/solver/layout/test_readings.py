"""[[readings]] are read with their places, kept byte for byte, and refused where they mean nothing."""

from __future__ import annotations

from dataclasses import replace
from difflib import unified_diff

import pytest

from solver.field.compared import compare
from solver.layout import file
from solver.layout.drawing import drawing_of
from solver.layout.file import Drawing
from solver.layout.logged import LoggedReading
from solver.layout.readings import GAUGE, READING, reading_raw
from tests.drawings import RISER

ALTERNATIVE = '\n[alternatives.wide]\nruns.riser.bore = "80 mm"\n'
READINGS = """
# the first visit
[[readings]]
when = 2026-03-04                  # a date of TOML
pump = "carriage"
vacuum = "5.5 inHg"
[readings.state]
fluid.temperature = "44 degC"

# the second visit
[[readings]]
when = "2026-03-05 10:00"
pump = "carriage"
run = "riser"
distance = "0.3 m"
pressure = ["-20 kPa", "-18 kPa"]
rest_vacuum = "2 inHg"
fall_time = "holds"
gauge = { name = "A", over_port = "0.3 m", tube = "full", class = 1.6, range = "30 inHg", zero = "0.1 inHg" }
sound = "erratic"
sound_when = ["only fast"]
work = "strainer cleaned"
"""
TEXT = RISER.replace("format = 1", "format = 2") + READINGS + ALTERNATIVE


@pytest.fixture(scope="module")
def drawing() -> Drawing:
    return file.parse(TEXT)


def saved(drawing: Drawing, readings: tuple[LoggedReading, ...]) -> tuple[list[str], list[str]]:
    """Lines that saving other readings takes out of the text, and lines that it puts in."""
    changed = file.with_base(drawing, replace(drawing.base, readings=readings))
    text = file.write(changed)
    assert file.parse(text).base == changed.base
    lines = list(unified_diff(TEXT.splitlines(), text.splitlines(), n=0))[2:]
    out, put = ([line[1:] for line in lines if line[0] == sign] for sign in "-+")
    return out, put


def test_what_was_read_is_kept_as_typed(drawing: Drawing) -> None:
    first, second = drawing.base.readings
    assert (first.when, first.vacuum[0].text) == ("2026-03-04", "5.5 inHg")
    assert first.state == {"fluid": {"temperature": "44 degC"}}
    assert [figure.si for figure in second.pressure] == [-20e3, -18e3]
    assert (second.gauge.accuracy, second.fall_time) == (1.6, "holds")
    assert (second.sound_when, second.work) == (("only fast",), ("strainer cleaned",))
    assert file.write(drawing) == TEXT


def test_a_changed_reading_changes_its_own_line(drawing: Drawing) -> None:
    first, second = drawing.base.readings
    assert saved(drawing, (first, replace(second, note="hot"))) == ([], ['note = "hot"'])


def test_a_reading_is_added_where_it_stands_in_the_list(drawing: Drawing) -> None:
    first, second = drawing.base.readings
    added = LoggedReading("2026-03-06", "carriage", note="quiet")
    lines = ["[[readings]]", 'when = "2026-03-06"', 'pump = "carriage"', 'note = "quiet"']
    for readings in ((added, first, second), (first, added, second), (first, second, added)):
        out, put = saved(drawing, readings)
        assert out == []
        assert sorted(filter(None, put)) == sorted(lines)


def test_a_reading_is_taken_out_alone(drawing: Drawing) -> None:
    first, second = drawing.base.readings
    assert 'vacuum = "5.5 inHg"' in saved(drawing, (second,))[0]
    assert 'distance = "0.3 m"' not in saved(drawing, (second,))[0]
    out, put = saved(drawing, (first, replace(second, note="hot"))[1:])
    assert put == ['note = "hot"']
    assert 'distance = "0.3 m"' not in out


def test_the_last_reading_is_taken_out(drawing: Drawing) -> None:
    out, _ = saved(drawing, ())
    assert out.count("[[readings]]") == 2


def test_a_new_file_holds_them(drawing: Drawing) -> None:
    assert file.parse(file.write(Drawing(drawing.base))).base.readings == drawing.base.readings


def test_alternatives_have_the_readings_of_the_file(drawing: Drawing) -> None:
    assert drawing.alternatives["wide"].layout.readings == drawing.base.readings


def test_readings_are_refused_in_alternatives_and_cases() -> None:
    broken = file.parse(TEXT + "readings = []\n").broken["wide"].troubles
    assert [(each.path[-1], each.allowed) for each in broken] == [("readings", "only in the base")]
    (case,) = file.parse(TEXT + '\n[cases.cold]\nreadings = "none"\n').base.cases.values()
    assert "which no case may have" in case.problems[0][1]


def test_a_reading_whose_place_is_gone_is_kept() -> None:
    kept = file.parse(TEXT.replace('run = "riser"', 'run = "no such run"')).base.readings
    assert kept[1].run == "no such run"


@pytest.mark.parametrize(
    ("typed", "key", "allowed"),
    [
        ('when = "yesterday"', "when", "a date such as"),
        ('when = "2026-13-01"', "when", "a date such as"),
        ('vacuum = ["1 inHg"]', "vacuum", "from, to"),
        ('vacuum = "1 inHg"\npressure = "80 kPa abs"', "pressure", "exactly one of"),
        ('run = "riser"', "", "from its start"),
        ('distance = "1 m"', "distance", "with run"),
        ('gauge = { class = 40 }', "gauge.class", "percent of the range"),
        ('strokes = { carriage = "half" }', "strokes.carriage", "full flow"),
        ('fall_time = "soon"', "fall_time", "one number"),
        ('vacuum_gauge = "A"', "vacuum_gauge", "keys"),
        ('temperature = "40 degC"', "temperature", "it is written as state.fluid.temperature; here keys"),
        ('class = 1.6', "class", "it is written as gauge.class; here keys"),
    ],
)  # fmt: skip
def test_what_means_nothing_is_marked_with_its_place_and_kept(typed: str, key: str, allowed: str) -> None:
    when = "" if "when" in typed else 'when = "2026-03-04"'
    text = RISER.replace("format = 1", "format = 2") + f'\n[[readings]]\npump = "carriage"\n{when}\n{typed}\n'
    drawing = file.parse(text)
    problem = next(each for each in file.reading_problems(drawing) if each.found != "nothing")
    assert problem.key == f"readings[0].{key}".rstrip(".")
    assert allowed in problem.allowed
    assert problem.line > 10


BAD = (-1, "", "no such thing", ["x"], {"x": 1}, True, 10**400)


KEYS = [*(key.name for key in READING), *(f"gauge.{key.name}" for key in GAUGE), "no such key"]


@pytest.mark.parametrize("key", KEYS)
def test_no_key_of_a_reading_keeps_a_drawing_from_opening(key: str) -> None:
    """Every key with values that it may not have: the reading says why, the last is compared as before."""
    raw = file.tables(TEXT.replace("when = 2026-03-04 ", 'when = "2026-03-04" '))
    outer, _, inner = key.partition(".")
    table, last = raw["readings"]
    bad = [table | {outer: {"name": "A", inner: each} if inner else each} for each in BAD]
    drawing = drawing_of({**raw, "readings": [*bad, last]}, "", [])
    assert drawing is not None
    *readings, other = compare(drawing.base)
    assert other.compared
    refused = [(typed, each) for typed, each in zip(bad, readings, strict=True) if each.logged.problems]
    assert len(refused) >= len(BAD) - 3 or key == "state"  # of which a state is a table
    for typed, each in refused:
        assert each.why_not.startswith("it is not valid: ")
        assert not each.compared
        assert reading_raw(each.logged) in (typed, {name: typed[name] for name in typed if typed[name] != ""})


def test_a_pump_may_have_run_for_days() -> None:
    for typed, allowed in (("3 h", []), ("30 d", []), ("31 d", ["time from zero to 30 days"])):
        drawing = file.parse(TEXT.replace('sound = "erratic"', f'sound = "erratic"\nrunning = "{typed}"'))
        assert [each.allowed for each in file.reading_problems(drawing)] == allowed


def test_a_date_with_an_offset_is_by_the_clock_there_and_reads_again() -> None:
    text = TEXT.replace('when = "2026-03-05 10:00"', "when = 2026-03-05T10:00:00+01:00")
    last = file.parse(text).base.readings[-1]
    assert (last.when, last.day, last.has_time) == ("2026-03-05 10:00", "2026-03-05", True)


def test_format_2_is_written_with_readings() -> None:
    base = file.parse(RISER).base
    assert "format = 2" in file.write(
        Drawing(replace(base, readings=(LoggedReading("2026-03-04", "carriage"),)))
    )
