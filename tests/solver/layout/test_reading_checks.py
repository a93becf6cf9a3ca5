"""A reading that cannot be compared as typed is kept, and said with its line."""

from __future__ import annotations

import pytest

from solver.field.states import prepare
from solver.layout.file import parse, reading_problems
from tests.drawings import RISER

HEAD = RISER.replace("format = 1", "format = 2")
WIDE = '\n[alternatives.wide]\nruns.riser.bore = "80 mm"\n'
READING = '\n[[readings]]\nwhen = "2026-03-04"\npump = "carriage"\nvacuum = "9 kPa"\n'


GONE = 'line = "gone"\nrun = "gone"\ndistance = "1 m"\n'


@pytest.mark.parametrize(
    ("typed", "key", "found", "allowed"),
    [
        ('pump = "carriag"', "pump", "none of the pumps", 'did you mean "carriage"?'),
        ('distance = "1 m"\nrun = "risr"', "run", "none of the runs", 'did you mean "riser"?'),
        ('run = "riser"\njoint = "nothing"', "joint", "does not end", "an end of riser"),
        ('case = "noon"', "case", "none of the cases", '"as drawn"'),
        ('strokes.mian = "at rest"', "strokes.mian", "none of the pumps", '"carriage"'),
        ('state.fluid.temperature = "40"', "state.fluid.temperature", "has no unit", "degC"),
        ('state.levels.tank = "-9 m"', "state.levels.tank", "-9 m", "above the floor"),
        (f'{GONE}state.levl = "normal"', "state.levl", "no case may have", "level"),
        ('line = "wide"\ndistance = "1 m"\nrun = "gone"', "run", "none of the runs", '"riser"'),
    ],
)  # fmt: skip
def test_each_is_said_with_its_place(typed: str, key: str, found: str, allowed: str) -> None:
    reading = READING.replace('pump = "carriage"\n', "") if key == "pump" else READING
    text = f"{HEAD}{reading}{typed}\n{WIDE}"
    drawing = parse(text)
    (problem,) = reading_problems(drawing, "read.toml")
    assert (problem.file, problem.key) == ("read.toml", f"readings[0].{key}")
    assert found in problem.found
    assert allowed in problem.allowed
    line = 1 + text.split("\n").index(typed.split("\n")[-1])
    assert (problem.line, problem.column) == (line, 1)
    assert len(drawing.base.readings) == 1


def test_what_can_be_compared_is_no_problem() -> None:
    earlier = HEAD.replace("format = 2", 'format = 2\nbuilt = "2026-04-01"') + READING
    assert reading_problems(parse(earlier + 'run = "gone"\ndistance = "1 m"\n')) == ()
    assert reading_problems(parse(HEAD + READING + 'state.fluid.temperature = "40 degC"\n')) == ()
    assert reading_problems(parse(HEAD)) == ()


@pytest.mark.parametrize(
    ("typed", "said"),
    [
        ('vacuum = "120 kPa"', '"120 kPa", more than the atmosphere of 101 kPa here: check the unit'),
        ('rest_pressure = "-15 psi"', '"-15 psi", more than the atmosphere of 101 kPa here'),
        ('vacuum = ["1 kPa", "30 inHg"]\nstate.site.barometer = "950 mbar"', "of 95.0 kPa here"),
        ('vacuum = "99 kPa"\nstate.site.barometer = "950 mbar"\ngauge.reference = "sea level"', ""),
        ('pressure = "102 kPa abs"', ""),
    ],
)  # fmt: skip
def test_more_vacuum_than_the_atmosphere_cannot_have_been_read(typed: str, said: str) -> None:
    drawing = parse(HEAD + READING.replace('vacuum = "9 kPa"', typed) + WIDE)
    problems = reading_problems(drawing)
    assert [said in each.found for each in problems] == [True] * bool(said)
    assert said in prepare(drawing.base)[0].why_not
