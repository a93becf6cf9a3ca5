"""Lines that may still be cold where a tank is warmed: in which cases, how cold, as the drawing has it."""

from __future__ import annotations

from dataclasses import replace

from solver.layout import raw
from solver.layout.cold_lines import with_cold_lines
from solver.layout.file import parse
from tests.drawings import RISER

TEXT = (
    RISER.replace("format = 1", "format = 2")
    + """
[cases.night]
fluid.temperature = "-5 degC"
[cases.lagged]
fluid = { temperature = "-5 degC", line_temperature = "8 degC" }
[alternatives.heater]
cases.night.fluid.temperature = "15 degC"
cases.lagged.fluid.temperature = "15 degC"
[alternatives.heated]
cases.night.fluid = { temperature = "15 degC", line_temperature = "15 degC" }
[alternatives.cooler]
cases.night.fluid.temperature = "-9 degC"
"""
)


def test_a_warmed_tank_leaves_the_line_as_cold_as_drawn_unless_its_temperature_is_typed():
    drawing = parse(TEXT)
    known = {name: each.layout.lines_left_cold for name, each in drawing.alternatives.items()}
    assert {case: each.text for case, each in known["heater"].items()} == {"night": "-5 degC"}
    assert not known["heated"]
    assert not known["cooler"]
    assert not drawing.base.lines_left_cold


def test_an_edit_of_the_drawing_goes_on_to_its_alternatives_and_a_drawing_itself_has_none():
    drawing = parse(TEXT)
    base = replace(drawing.base, cases={})
    assert not replace(drawing, base=base).alternatives["heater"].layout.lines_left_cold
    heater = drawing.alternatives["heater"].layout
    assert not replace(drawing, base=heater, alternatives={}).base.lines_left_cold
    assert raw.to_raw(heater) == raw.to_raw(replace(heater, lines_left_cold={}))
    twice = with_cold_lines(heater, heater)
    assert twice is heater  # what is made from an alternative remembers the drawing
