"""Cases in a file: what they may hold, in which order they are laid, how they are written back."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from solver.layout import cases
from solver.layout.cases import AS_DRAWN, CaseError, cases_of, layout_in_case, passed_over
from solver.layout.drawing import drawing_of
from solver.layout.file import Drawing, LayoutErrors, from_raw, parse, tables, to_raw, with_base, write
from solver.layout.parts import Case, Layout, Level
from tests.drawings import ARRANGEMENTS, EVERY_KEY, RISER, SHIPPED

TWO = next(path for path in SHIPPED if path.name == "header-two-pumps.toml").read_text("utf-8")
CASES = """
[cases."cold morning"]
note = "First start on a Monday in January."
fluid.temperature = "5 degC"
pumps.carriage.flow_rise = "0.5 s"

[cases."strainer due"]
intakes.strainer.screen.blocked = "60 %"

[cases."cylinders out"]
level = "drawn down"

[cases."carriage rests"]
pumps.carriage.at_rest = true
"""


def drawn(more: str = CASES) -> Drawing:
    return parse(EVERY_KEY + more, "plan.toml")


def out(layout: Layout, name: str) -> Layout:
    return layout_in_case(layout, name, cases_of(layout)[name])


def test_the_cases_of_the_drawing_come_after_the_one_as_drawn() -> None:
    base = drawn().base
    short = ["coldest start"] if base.fluid.coldest_start else []
    typed = ["cold morning", "strainer due", "cylinders out", "carriage rests"]
    assert list(cases_of(base)) == [AS_DRAWN, *short, *typed]
    assert base.cases["cold morning"].note == "First start on a Monday in January."


def test_each_figure_is_put_in_the_place_of_the_drawings_own() -> None:
    base = drawn().base
    cold = out(base, "cold morning")
    assert cold.fluid == replace(base.fluid, temperature=cold.fluid.temperature, coldest_start=None)
    assert cold.fluid.temperature.text == "5 degC"
    assert cold.pumps["carriage"].flow_rise is not None
    assert cold.pumps["carriage"].flow_rise.si == 0.5
    assert out(base, "strainer due").intakes["strainer"].screen.blocked == 0.6  # type: ignore[union-attr]
    assert out(base, "cylinders out").level == Level.DRAWN_DOWN
    assert out(base, "carriage rests").pumps["carriage"].at_rest
    assert out(base, AS_DRAWN) is base


def test_a_typed_out_case_has_no_cases_and_can_be_written() -> None:
    base = drawn().base
    for name in base.cases:
        whole = out(base, name)
        assert not whole.cases
        assert from_raw(to_raw(whole)) == whole
        assert parse(write(Drawing(whole))).base == whole


@pytest.mark.parametrize(
    ("line", "key", "allowed"),
    [
        ('runs.riser.size = "NPS 3 schedule 40"', "runs", "without rebuilding"),
        ('pumps.carriage.at = ["1 m", "1 m"]', "pumps.carriage.at", '"at_rest"'),
        ("pumps.cariage.at_rest = true", "pumps.cariage", 'did you mean "carriage"?'),
        ('fluid.temprature = "5 degC"', "fluid.temprature", 'did you mean "temperature"?'),
        ('fluid.coldest_start = "5 degC"', "fluid.coldest_start", "temperature"),
        ('pumps.carriage.flow_rise = "0 s"', "pumps.carriage.flow_rise", "above zero"),
        ('level = "high"', "level", '"drawn down"'),
        ('levels.tnak = "1 m"', "levels.tnak", "tank"),
        ('without = ["header"]', "without", "without rebuilding"),
        ('intakes.strainer.screen.mesh = "60 per inch"', "intakes.strainer.screen.mesh", '"blocked"'),
        ("note = 5", "note", "text in quotes"),
    ],
)
def test_a_case_that_does_not_read_is_kept_with_its_place(line: str, key: str, allowed: str) -> None:
    layout = drawn(f"[cases.odd]\n{line}\n").base
    path, _, said = layout.cases["odd"].problems[0]
    assert ".".join(map(str, path)) == f"cases.odd.{key}"
    assert allowed in said
    with pytest.raises(CaseError, match=r"cases\.odd"):
        out(layout, "odd")


@pytest.mark.parametrize(
    ("text", "key"),
    [
        ("cases = 5\n" + EVERY_KEY, "cases"),
        (EVERY_KEY + '[cases."as drawn"]\nlevel = "normal"\n', 'cases."as drawn"'),
        (EVERY_KEY + '[cases.without]\nlevel = "normal"\n', "cases.without"),
        (EVERY_KEY + "".join(f'[cases.c{n}]\nlevel = "normal"\n' for n in range(31)), "cases"),
        (EVERY_KEY + '[cases.""]\nlevel = "normal"\n', 'cases.""'),
    ],
)
def test_what_is_no_table_of_cases_is_refused(text: str, key: str) -> None:
    with pytest.raises(LayoutErrors) as errors:
        parse(text)
    assert [problem.key for problem in errors.value.problems] == [key]


def test_a_figure_takes_the_place_of_its_rival() -> None:
    text = TWO
    base = parse(text + '[cases.a]\nsite.barometer = "24 inHg"\n[cases.b]\nlevel = "normal"\n').base
    assert out(base, "a").site.elevation is None
    tank = next(iter(base.reservoirs))
    level = base.reservoirs[tank].minimum_level
    own = replace(base, reservoirs={**base.reservoirs, tank: replace(base.reservoirs[tank], level=level)})
    assert out(own, "b").reservoirs[tank].level is None
    assert out(own, "a").reservoirs[tank].level == level


def test_levels_stand_in_the_base_too() -> None:
    text = EVERY_KEY.replace("[site]", '[levels]\ntank = "0.5 m"\n\n[site]', 1)
    text = text.replace("format = 1", 'format = 1\nlevel = "normal"', 1)
    base = parse(text).base
    assert (base.level, base.reservoirs["tank"].level.text) == (Level.NORMAL, "0.5 m")  # type: ignore[union-attr]
    assert from_raw(to_raw(base)) == base
    assert write(Drawing(base, {}, text)) == text or parse(write(Drawing(base, {}, text))).base == base
    with pytest.raises(LayoutErrors, match=r"levels\.tank"):
        parse(text.replace('tank = "0.5 m"', 'tank = "50 m"', 1))


def test_a_level_outside_the_reservoir_does_not_hold() -> None:
    base = drawn('[cases.a]\nlevels.tank = "50 m"\n').base
    with pytest.raises(CaseError, match="above the rim"):
        out(base, "a")


def test_one_viscosity_says_nothing_of_another_temperature() -> None:
    base = drawn('[cases.a]\nfluid.temperature = "5 degC"\n').base
    one = replace(base, fluid=replace(base.fluid, viscosity=parse_viscosity("46 cSt"), viscosity_index=None))
    with pytest.raises(CaseError, match="one viscosity"):
        out(one, "a")


def parse_viscosity(text: str):  # type: ignore[no-untyped-def]
    from solver.quantities.units import Kind, quantity

    return quantity(text, Kind.VISCOSITY)


WITH_ALTERNATIVES = (
    EVERY_KEY
    + CASES
    + """
[alternatives."With a heater"]
cases."cold morning".fluid.temperature = "15 degC"
cases."hot noon".fluid.temperature = "60 degC"
cases.without = ["cylinders out"]

[alternatives."Warmer shed"]
fluid.coldest_start = "12 degC"
"""
)


def test_an_alternative_changes_adds_and_drops_cases() -> None:
    heated = parse(WITH_ALTERNATIVES).alternatives["With a heater"].layout
    assert list(heated.cases) == ["cold morning", "strainer due", "carriage rests", "hot noon"]
    cold = out(heated, "cold morning")
    assert cold.fluid.temperature.text == "15 degC"
    assert cold.pumps["carriage"].flow_rise is not None, "what it does not change stays"
    shed = parse(WITH_ALTERNATIVES).alternatives["Warmer shed"].layout
    assert out(shed, "coldest start").fluid.temperature.text == "12 degC"


def test_a_figure_for_a_part_taken_out_is_passed_over_and_listed() -> None:
    text = ARRANGEMENTS + '[cases.still]\nfittings.shut.state = "closed"\nfluid.temperature = "5 degC"\n'
    layout = parse(text + '[alternatives.bare]\nwithout = ["shut"]\n').base
    assert passed_over(layout, layout.cases["still"]) == ()
    bare = replace(layout, fittings={})
    assert passed_over(bare, bare.cases["still"]) == ("fittings.shut.state",)
    assert out(bare, "still").fluid.temperature.text == "5 degC"


def test_two_temperatures_for_one_case_are_refused() -> None:
    text = EVERY_KEY + '[cases."coldest start"]\nfluid.temperature = "1 degC"\n'
    assert "coldest_start" in EVERY_KEY
    with pytest.raises(LayoutErrors, match="second temperature"):
        parse(text)


def test_text_with_cases_is_kept_byte_for_byte() -> None:
    drawing = parse(WITH_ALTERNATIVES)
    assert write(drawing) == WITH_ALTERNATIVES
    assert with_base(drawing, drawing.base).alternatives == drawing.alternatives
    moved = replace(drawing.base, title="Another")
    text = write(with_base(drawing, moved))
    differing = [a for a, b in zip(text.split("\n"), WITH_ALTERNATIVES.split("\n"), strict=True) if a != b]
    assert differing == ["format = 2", 'title = "Another"   # a literal text']


def test_cases_are_added_renamed_and_dropped_in_the_text() -> None:
    drawing = parse(EVERY_KEY)
    case = cases.read_case({"level": "normal"}, ("cases",), "full", set())
    added = replace(drawing.base, cases={"full": case})
    text = write(with_base(drawing, added))
    assert text.startswith("format = 2") or "\nformat = 2" in text
    again = parse(text)
    assert again.base.cases["full"].figures == case.figures
    dropped = write(with_base(again, replace(again.base, cases={})))
    assert parse(dropped).base == drawing.base
    assert to_raw(drawing.base)["format"] == 1


def test_an_alternatives_own_cases_are_written_and_read_back() -> None:
    drawing = parse(WITH_ALTERNATIVES)
    other = drawing.alternatives["Warmer shed"]
    fewer = {name: case for name, case in other.layout.cases.items() if name != "strainer due"}
    table = {"intakes": {"strainer": {"screen": {"blocked": 0.25}}}}
    fewer["half blind"] = cases.read_case(table, ("cases",), "half blind", {("intakes", "strainer")})
    changed = replace(other, layout=replace(other.layout, cases=fewer))
    alternatives = {**drawing.alternatives, "Warmer shed": changed}
    again = parse(write(replace(drawing, alternatives=alternatives)))
    assert again.alternatives["Warmer shed"].layout.cases.keys() == fewer.keys()
    assert again.alternatives["With a heater"] == drawing.alternatives["With a heater"]


def test_the_case_of_a_drawing_as_drawn_is_empty() -> None:
    assert cases_of(parse(TWO).base)[AS_DRAWN] == Case()


def test_figures_follow_a_part_to_its_new_name_and_go_with_it() -> None:
    case = drawn().base.cases["cold morning"]
    named = cases.with_part_named(case, "carriage", "feed pump")
    assert named.table["pumps"] == {"feed pump": case.table["pumps"]["carriage"]}
    assert ("pumps", "feed pump", "flow_rise") in named.figures
    gone = cases.with_part_named(case, "carriage", None)
    assert "pumps" not in gone.table
    assert set(gone.figures) == {("fluid", "temperature")}


def test_a_figure_of_a_screen_that_an_alternative_has_taken_out_is_passed_over() -> None:
    text = RISER.replace("format = 1", "format = 2") + (
        '[cases.due]\nintakes.strainer.screen.blocked = "60 %"\n'
        '[alternatives.open]\nintakes.strainer.kind = "plain end"\nwithout = ["intakes.strainer.screen"]\n'
    )
    drawing = parse(text)
    other = drawing.alternatives["open"].layout
    due = cases_of(other)["due"]
    assert passed_over(other, due) == ("intakes.strainer.screen.blocked",)
    assert layout_in_case(other, "due", due).intakes["strainer"].screen is None
    assert parse(write(drawing)) == drawing
    alone = from_raw({**to_raw(other), "cases": {"due": due.table}})
    with pytest.raises(CaseError, match="a figure of a screen"):
        layout_in_case(alone, "due", cases_of(alone)["due"])


def test_no_key_of_a_case_or_an_alternative_keeps_a_drawing_from_opening() -> None:
    """Every key of either with values that it may not have: it is kept with why, the drawing opens."""
    raw = tables(RISER.replace("format = 1", "format = 2"))
    parts = {group: next(iter(raw.get(group, {"no such part": {}}))) for group in cases.PART_KEYS}
    walked = [(key,) for key in ("note", "level", "levels", "no such key")]
    walked += [(table, key) for table, keys in cases.TABLE_KEYS.items() for key in keys]
    walked += [(group, parts[group], key) for group, keys in cases.PART_KEYS.items() for key in keys]
    for path in walked:
        for bad in (10**400, ["x"], {"x": 1}):
            table: Any = bad
            for step in reversed(path):
                table = {step: table}
            drawing = drawing_of({**raw, "cases": {"cold": table}, "alternatives": {"wide": table}}, "", [])
            assert drawing is not None, path
            assert cases.troubles_of(drawing.base)["cold"], path
            assert drawing.broken["wide"].troubles, path


def test_a_case_may_be_marked_as_lacking_its_start() -> None:
    marked = cases.read_case({"start_not_counted": True}, ("cases",), "cold", set())
    assert marked.lacks_start
    assert not marked.problems
    assert not cases.read_case({}, ("cases",), "cold, start not counted", set()).lacks_start


def test_a_case_may_be_a_fault_and_a_state_that_was_read_may_not() -> None:
    wrong = drawn(CASES.replace('[cases."strainer due"]\n', '[cases."strainer due"]\nfault = true\n')).base
    assert [name for name, case in wrong.cases.items() if case.is_fault] == ["strainer due"]
    assert out(wrong, "strainer due") == out(drawn().base, "strainer due")
    said = cases.read_case({"fault": "yes"}, ("cases",), "odd", set())
    assert said.problems == ((("cases", "odd", "fault"), '"yes"', "true or false"),)
    ((path, _, allowed),) = cases.read_case({"fault": True}, ("readings", 0), "state", set()).problems
    assert path == ("readings", 0, "state", "fault")
    assert '"fault"' not in allowed
