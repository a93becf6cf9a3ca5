"""The keys of arrangements: what they become, what stands in whose place, and what is refused where."""

# ruff: noqa: E501 - each row of the table of refusals is one line, to be read across

from __future__ import annotations

import pytest

from solver.findings.criteria import Criteria
from solver.layout import file
from solver.layout.criteria import CRITERIA
from solver.layout.file import Drawing, parse, write
from solver.layout.parts import Layout, Limit, Opening
from solver.quantities.units import Kind, quantity
from tests.drawings import ARRANGEMENTS
from tests.solver.layout.test_refusals import problems


@pytest.fixture(scope="module")
def base() -> Layout:
    return parse(ARRANGEMENTS).base


def tried(lines: str) -> Layout:
    return parse(f"{ARRANGEMENTS}\n[alternatives.tried]\n{lines}\n").alternatives["tried"].layout


def test_a_reservoir_with_all_that_stands_in_it(base: Layout) -> None:
    tank, shut = base.reservoirs["tank"], base.reservoirs["accumulator"]
    assert tank.breather_drop == quantity("0.7 kPa", Kind.PRESSURE)
    assert tank.draw_down == quantity("200 L", Kind.VOLUME)
    assert tank.draw_down.si == pytest.approx(0.2)
    assert tank.return_at is not None
    assert tank.return_at[1].text == "0.4 m"
    assert tank.baffle is not None
    assert (tank.baffle.x.si, tank.baffle.top.si) == (1.1, 0.5)
    assert not tank.sealed
    assert shut.sealed
    assert shut.baffle is None


def test_the_two_ends_of_a_reducer(base: Layout) -> None:
    reducer, taper = base.fittings["reducer"], base.fittings["taper"]
    assert (reducer.size, reducer.other_size) == ("NPS 3 schedule 40", "NPS 2 schedule 40")
    assert taper.other_bore is not None
    assert taper.other_bore.si == pytest.approx(0.04)


def test_a_pump_with_strokes_and_a_curve_over_flow(base: Layout) -> None:
    pump = base.pumps["plunger"]
    assert (pump.cylinders, pump.double_acting, pump.fluid_constant) == (3, True, 1.8)
    assert pump.volumetric_efficiency == 0.96
    assert pump.limit.over == "flow"
    assert pump.limit.table[0][0] == quantity("50 L/min", Kind.FLOW)


def test_a_table_over_speed_is_still_one_over_speed() -> None:
    layout = tried('pumps.plunger.limit = { npsh = [["200 rpm", "2 m"], ["400 rpm", "3 m"]] }')
    table = ((quantity("200 rpm", Kind.SPEED), quantity("2 m", Kind.HEAD)),
             (quantity("400 rpm", Kind.SPEED), quantity("3 m", Kind.HEAD)))  # fmt: skip
    assert layout.pumps["plunger"].limit == Limit("npsh", table)


def test_criteria_keep_their_text_and_say_their_value(base: Layout) -> None:
    criteria = base.criteria
    assert criteria["thin_margin"].si == 0.15
    assert criteria["free_air"] == quantity("3 %", Kind.SHARE)
    assert criteria["velocity_stop"].si == pytest.approx(1.4)
    assert set(criteria) < {key.name for key in CRITERIA}


def test_every_criterion_of_the_findings_can_be_typed() -> None:
    assert [key.name for key in CRITERIA] == list(Criteria.__dataclass_fields__)


@pytest.mark.parametrize("name", Criteria.__dataclass_fields__)
def test_a_criterion_is_typed_in_the_unit_of_its_kind(name: str) -> None:
    field = Criteria.__dataclass_fields__[name]
    kind, value = field.metadata["kind"], field.default
    units = {
        Kind.SHARE: "", Kind.NUMBER: "", Kind.PRESSURE: " Pa", Kind.VELOCITY: " m/s", Kind.VISCOSITY: " m^2/s",
    }  # fmt: skip
    text = f"{value:.12f}{units[kind]}"
    typed = repr(float(value)) if not units[kind] else f'"{text}"'
    layout = tried(
        f"limits.{name} = {typed}\n"
        + ('limits.velocity_caution = "0.1 m/s"' if name == "velocity_stop" else "")
    )
    assert layout.criteria[name].si == pytest.approx(value)


def test_a_new_text_of_it_reads_the_same(base: Layout) -> None:
    text = write(Drawing(base))
    assert parse(text).base == base
    assert "thin_margin = 0.15\n" in text
    assert 'free_air = "3 %"\n' in text
    assert "straight_before_port = 4\n" in text
    assert "[limits]" in text


def test_it_survives_being_plain_tables(base: Layout) -> None:
    assert file.from_raw(file.to_raw(base)) == base


@pytest.mark.parametrize(
    ("lines", "part", "gone", "there"),
    [
        ('fittings.throttle.state = "closed"', ("fittings", "throttle"), "opening", "state"),
        ('fittings.shut.opening = { cv = "9 gpm" }', ("fittings", "shut"), "state", "opening"),
        ('fittings.throttle.curve = { drops = [["9 L/min", "1 Pa"]], viscosity = "9 cSt", density = "900 kg/m^3" }',
         ("fittings", "throttle"), "opening", "curve"),
        ('fittings.reducer.other_bore = "60 mm"', ("fittings", "reducer"), "other_size", "other_bore"),
        ("pumps.plunger.cylinder_constant = 0.05", ("pumps", "plunger"), "cylinders", "cylinder_constant"),
        ("reservoirs.tank.sealed = true", ("reservoirs", "tank"), "breather_drop", "sealed"),
        ('reservoirs.accumulator.breather_drop = "1 kPa"', ("reservoirs", "accumulator"), "pressure", "breather_drop"),
    ],
)  # fmt: skip
def test_a_key_takes_the_place_of_its_rival(lines: str, part: tuple[str, str], gone: str, there: str) -> None:
    group, name = part
    changed = getattr(tried(lines), group)[name]
    assert getattr(changed, gone) is None
    assert getattr(changed, there)


def test_the_coefficient_of_an_opening_takes_the_place_of_the_other() -> None:
    opening = tried('fittings.throttle.opening.cv = "40 gpm"').fittings["throttle"].opening
    assert opening == Opening(cv=quantity("40 gpm", Kind.FLOW_COEFFICIENT_CV))


# What stands in the drawing, what is typed instead, the key that is refused, and words of found and allowed.
TYPED = [
    ("thin_margin = 0.15", "thin_margins = 0.15", "limits.thin_margins", 'unknown key "thin_margins"', 'did you mean "thin_margin"?'),
    ("thin_margin = 0.15", "thin_margin = 1.5", "limits.thin_margin", "1.5", "from 0 to 1"),
    ("thin_margin = 0.15", 'thin_margin = "15"', "limits.thin_margin", '"15"', "from 0 to 1"),
    ("thin_margin = 0.15", "thin_margin = true", "limits.thin_margin", "true", "text in quotes"),
    ('velocity_caution = "1.0 m/s"', "velocity_caution = 1.0", "limits.velocity_caution", "1.0", "a velocity"),
    ('velocity_caution = "1.0 m/s"', 'velocity_caution = "1.0 m"', "limits.velocity_caution", "which is a length", "m/s"),
    ('velocity_caution = "1.0 m/s"', 'velocity_caution = "2 m/s"', "limits.velocity_stop", '"1.4 m/s", below', "at least"),
    ("straight_before_port = 4", "straight_before_port = -4", "limits.straight_before_port", "-4", "zero or above"),
    ("straight_before_port = 4", "straight_before_port = 1" + "0" * 400, "limits.straight_before_port", "very long", "number"),
    ('draw_down = "200 L"', 'draw_down = "2 m^3"', "reservoirs.tank.draw_down", '"2 m^3", of the', "less than it holds"),
    ('draw_down = "200 L"', 'draw_down = "200 L/min"', "reservoirs.tank.draw_down", "which is a flow", "a volume"),
    ('return_at = ["1.4 m", "0.4 m"]', 'return_at = ["1.4 m", "0.2 m"]', "reservoirs.tank.return_at", "outside the outline", "inside"),
    ('x = "1.1 m"', 'x = "1.7 m"', "reservoirs.tank.baffle.x", '"1.7 m", beside', "between its walls"),
    ('top = "0.5 m"', 'top = "1.2 m"', "reservoirs.tank.baffle.top", "above the rim", "floor and rim"),
    ('bottom = "0.3 m"', 'bottom = "0.6 m"', "reservoirs.tank.baffle.bottom", "not below the top", '"0.5 m"'),
    ('bottom = "0.3 m"', 'bottom = "-0.3 m"', "reservoirs.tank.baffle.bottom", "under the floor", "floor and rim"),
    ('top = "0.5 m", bottom = "0.3 m"', 'top = "0 m"', "reservoirs.tank.baffle.top", "at the floor", "above the floor"),
    ('x = "1.1 m", ', "", "reservoirs.tank.baffle.x", "nothing", "which is required"),
    ('breather_drop = "0.7 kPa"', 'breather_drop = "0.7 kPa"\npressure = "1 bar"', "reservoirs.tank.breather_drop", "breather_drop", "only without pressure"),
    ('breather_drop = "0.7 kPa"', 'breather_drop = "0.7 kPa"\nsealed = true', "reservoirs.tank.breather_drop", "breather_drop", "only without sealed"),
    ('normal_level = "0.8 m"', 'normal_level = "1 m"', "reservoirs.accumulator.sealed", "full to its rim", "for the gas"),
    ('state = "closed"', 'state = "shut"', "fittings.shut.state", '"shut"', '"open", "closed"'),
    ('opening = { kv = "40 m^3/h" }', "opening = {}", "fittings.throttle.opening", "nothing", 'exactly one of "kv", "cv"'),
    ('opening = { kv = "40 m^3/h" }', 'opening = { kv = "40 m^3/h" }\nstate = "open"', "fittings.throttle.opening", "both", "exactly one"),
    ('opening = { kv = "40 m^3/h" }', 'kv = "40 m^3/h"', "fittings.throttle.kv", '"kv"', 'kind = "flow coefficient"'),
    ('kind = "gate valve"', 'kind = "foot valve"\nopening = { kv = "4 m^3/h" }', "fittings.shut.opening", '"opening"', "kind among"),
    ('other_size = "NPS 2 schedule 40"\n', "", "fittings.reducer", "nothing", '"other_size", "other_bore"'),
    ('other_bore = "40 mm"', 'other_bore = "0 mm"', "fittings.taper.other_bore", '"0 mm"', "from 0.1 mm"),
    ('length = "250 mm"', 'length = "0 mm"', "fittings.bellows.length", '"0 mm"', "above zero"),
    ('kind = "gate valve"', 'kind = "gate valve"\nlength = "1 m"', "fittings.shut.length", '"length"', '"flexible connector"'),
    ('viscosity = "32 cSt"\n', "", "fittings.mixer.curve.viscosity", "nothing", "which is required"),
    ('["50 L/min", "0.5 kPa"], ["100 L/min"', '["50 L/min", "0.5 kPa"], ["40 L/min"', "fittings.mixer.curve.drops[1][0]", "40 L/min", "rising"),
    ("kind = \"maker's curve\"", 'kind = "known K"\nk = 1', "fittings.mixer.curve", '"curve"', "maker's curve"),
    ("k_re = 500", "k_re = -1", "fittings.cooler.k_re", "-1", "zero or above"),
    ("cylinders = 3", "cylinders = 4", "pumps.plunger.cylinders", "4", "1, 2, 3, 5, 7, 9"),
    ("cylinders = 3", 'cylinders = "3"', "pumps.plunger.cylinders", '"3"', "without quotes"),
    ("cylinders = 3\ndouble_acting = true\n", "", "pumps.plunger", "nothing", '"cylinders", "cylinder_constant"'),
    ("cylinders = 3\n", "cylinder_constant = 0.066\n", "pumps.plunger.double_acting", "double_acting", "with cylinders"),
    ('type = "reciprocating"', 'type = "piston"', "pumps.plunger.cylinders", "cylinders", 'type = "reciprocating"'),
    ('speed = "300 rpm"\n', "", "pumps.plunger.speed", "nothing", "of the crank"),
    ("volumetric_efficiency = 0.96", "volumetric_efficiency = 1.2", "pumps.plunger.volumetric_efficiency", "1.2", "up to 1"),
    ('displacement = "0.3 L/rev"', 'flow = "90 L/min"', "pumps.plunger.volumetric_efficiency", "volumetric_efficiency", "displacement and speed"),
    ('["100 L/min", "2.6 m"]', '["100 rpm", "2.6 m"]', "pumps.plunger.limit.npsh[1][0]", "which is a speed", "a flow"),
    ('limit = { npsh = [["50 L/min", "2 m"], ', 'limit = { vacuum = [["50 L/min", "2 inHg"], ', "pumps.plunger.limit.vacuum[0][0]", "which is a flow", "a speed"),
    ('bend = "two-weld mitre"', 'bend = "two-weld"', "runs.rise.bend", '"two-weld"', '"two-weld mitre"'),
    ("limits.free_air = 0.05", "limits.free_air = 5", 'alternatives."On the standby".limits.free_air', "5", "from 0 to 1"),
]  # fmt: skip


@pytest.mark.parametrize(
    ("old", "new", "key", "found", "allowed"), TYPED, ids=[f"{row[2]} {row[1][:30]}" for row in TYPED]
)
def test_refused_where_it_stands(old: str, new: str, key: str, found: str, allowed: str) -> None:
    assert ARRANGEMENTS.count(old) >= 1
    told = problems(ARRANGEMENTS.replace(old, new, 1))
    match = [problem for problem in told if problem.key == key]
    assert match, [str(problem) for problem in told]
    assert found in match[0].found
    assert allowed in match[0].allowed
    assert match[0].line > 1
