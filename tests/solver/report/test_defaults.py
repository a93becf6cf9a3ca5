"""Whatever is taken where nobody has typed a figure stands in words, once for several parts."""

from dataclasses import MISSING, fields

import pytest

from solver.findings.judgement import judge
from solver.layout import parts
from solver.layout.file import from_raw, read, to_raw
from solver.ledger.solve import solve
from solver.quantities.units import System
from solver.report.assumptions import assumptions
from solver.report.defaults import NAMED, defaults
from solver.report.page import page
from solver.report.text import report
from tests.drawings import SHIPPED

CARRIAGE = next(path for path in SHIPPED if path.stem == "carriage-at-altitude")

VARIED = {
    "site.barometer": "95 kPa",
    "site.weather_allowance": "1 kPa",
    "fluid.density": "880 kg/m^3",
    "fluid.viscosity": "60 cSt",
    "fluid.vapor_pressure": "5 kPa",
    "fluid.line_temperature": "10 degC",
    "reservoirs.tank.pressure": "2 kPa",
    "reservoirs.tank.breather_drop": "1 kPa",
    "intakes.strainer.screen.blocked": 0.5,
    "fittings.valve.state": "closed",
    "fittings.valve.opening": {"kv": "20 m^3/h"},
    "fittings.drop.flow": "100 L/min",
    "fittings.drop.viscosity": "10 cSt",
    "fittings.drop.density": "700 kg/m^3",
    "pumps.carriage.volumetric_efficiency": 0.9,
    "pumps.carriage.rated_speed": "1200 rpm",
    "pumps.carriage.rated_density": "800 kg/m^3",
    "runs.riser.material": "rusted steel",
    "runs.riser.roughness": "1 mm",
    "runs.riser.bend": "mitre",
    "runs.riser.bend_radius": "300 mm",
    "runs.riser.out_of_plane": "2 m",
}
"""What the line below leaves out, and another figure in its place."""

ELSEWHERE = {
    parts.Site: {
        "elevation": "it or a barometer is required", "altimeter_setting": "as the barometer, above"
    },
    parts.FluidChoice: {
        "coldest_start": "a case of its own", "viscosity_index": "stands with a typed viscosity",
        "dissolved_air": "in no ledger", "pour_point": "refuses or changes nothing",
        "line_density": "no key of a file", "line_viscosity": "no key of a file",
    },
    parts.Reservoir: {
        "sealed": "what is drawn", "draw_down": "a level of its own",
        "baffle": "in no ledger",
        "return_at": "in no ledger", "level": "the level stands in the head of text, page and sheet",
        "intakes_at": "no key of a file",
    },
    parts.Intake: {"size": "required", "bore": "required", "screen": "what is drawn"},
    parts.Screen: {
        "mesh": "required", "wire": "required", "area": "required", "drops": "required",
        "viscosity": "required with drops", "density": "required with drops", "bypass": "what is drawn",
        "bypass_flow": "in the headline: at least", "bypass_drop": "in the headline: at least",
        "bypass_viscosity": "in the headline: at least", "own_part": "in no ledger",
        "assumed": "in the headline",
    },
    parts.Fitting: {
        "size": "required", "bore": "required", "k": "required", "kv": "required", "cv": "required",
        "drop": "required", "head": "in the place of drop", "screen": "required",
        "k_re": "in the headline: at least",
        "curve": "in the place of the kind's figure", "length": "a reservation of its own",
        "other_size": "required", "other_bore": "required", "own_part": "in no ledger",
    },
    parts.Pump: {
        "size": "required", "bore": "required", "displacement": "required", "speed": "required",
        "flow": "in the place of displacement and speed", "limit_assumed": "in the headline",
        "start_viscosity": "in no ledger", "credit": "tested below",
        "rated_fluid": "the line of rated_density",
        "cylinders": "required",
        "double_acting": "tested below", "cylinder_constant": "in the place of cylinders",
        "fluid_constant": "tested below", "case_volume": "in no ledger", "dry_lift": "in no ledger",
        "priming_speed": "in no ledger", "priming_time": "in no ledger", "at_rest": "no ledger at all",
        "flow_rise": "what happens, in a case", "own_part": "in no ledger",
    },
    parts.Run: {"via": "what is drawn", "size": "required", "bore": "required", "own_part": "in no ledger"},
}  # fmt: skip
"""Other fields that may be left out, and why no line is owed."""

TABLES = {
    "site": parts.Site, "fluid": parts.FluidChoice, "reservoirs": parts.Reservoir, "intakes": parts.Intake,
    "fittings": parts.Fitting, "pumps": parts.Pump, "runs": parts.Run,
}  # fmt: skip


def untyped():
    """The shortest form of a line, with a valve and a known drop in it."""
    raw = to_raw(read(CARRIAGE).base)
    raw["site"] = {"elevation": "1650 m"}
    del raw["fluid"]["coldest_start"]
    raw["fittings"] |= {
        "valve": {"at": ["2 ft 6 in", "3 ft 8 in"], "kind": "ball valve", "size": "NPS 2 schedule 40"},
        "drop": {
            "at": ["3 ft", "3 ft 8 in"], "kind": "known drop", "size": "NPS 2 schedule 40", "drop": "1 kPa"
        },
    }  # fmt: skip
    run = {"size": "NPS 2 schedule 40"}
    raw["runs"]["riser"] = {"from": "strainer", "to": "connector", "via": raw["runs"]["riser"]["via"], **run}
    raw["runs"]["lead"] = {"from": "connector", "to": "valve", **run}
    raw["runs"]["link"] = {"from": "valve", "to": "drop", **run}
    raw["runs"]["last"] = {"from": "drop", "to": "carriage", **run}
    for key in ("rated_speed", "rated_density", "start_viscosity"):
        del raw["pumps"]["carriage"][key]
    raw["intakes"]["strainer"]["screen"].pop("blocked", None)
    return raw


def typed(key, value):
    raw = untyped()
    *way, last = key.split(".")
    table = raw
    for name in way:
        table = table[name]
    table[last] = value
    return from_raw(raw)


def outcome(layout):
    """The margin, or nothing where the line is shut; and what is assumed."""
    try:
        solution = solve(layout)
    except ValueError:
        return None, None
    return solution.pumps["carriage"].margin, set(assumptions(solution, System.SI))


@pytest.fixture(scope="module")
def plain():
    return outcome(from_raw(untyped()))


@pytest.mark.parametrize("key", VARIED)
def test_what_changes_the_ledger_when_typed_is_an_assumption_until_then(key, plain):
    margin, lines = outcome(typed(key, VARIED[key]))
    assert margin != plain[0], "this figure was to change the ledger"
    assert lines is None or plain[1] - lines, f"no line goes when {key} is typed"


def test_no_field_that_may_be_left_out_is_forgotten():
    varied = {(TABLES[key.split(".")[0]], key.split(".")[-1]) for key in VARIED}
    varied.add((parts.Screen, "blocked"))
    for table, reasons in ELSEWHERE.items():
        for each in fields(table):
            optional = each.default is not MISSING or each.default_factory is not MISSING
            assert not optional or (table, each.name) in varied or each.name in reasons, (table, each.name)


def test_a_wall_is_named_once_for_all_runs_with_its_source():
    lines = list(defaults(solve(from_raw(untyped())), System.SI))
    (wall,) = (each for each in lines if "roughness" in each)
    assert wall == (
        "commercial steel: a roughness of 0.046 mm (Moody (1944), Friction factors for pipe flow, Fig. 1); "
        "taken for riser, lead, link, last by the size"
    )
    assert any("roughness of 0.0018 in" in each for each in defaults(solve(from_raw(untyped())), System.US))


def test_of_many_parts_some_are_named_and_the_others_counted():
    raw = untyped()
    before = "drop"
    for number in range(NAMED):
        name = f"valve {number}"
        at = [f"{36.5 + 0.5 * number} in", "3 ft 8 in"]
        raw["fittings"][name] = {"at": at, "kind": "ball valve", "size": "NPS 2 schedule 40"}
        raw["runs"][f"run {number}"] = {"from": before, "to": name, "size": "NPS 2 schedule 40"}
        before = name
    raw["runs"]["last"]["from"] = before
    (line,) = (each for each in defaults(solve(from_raw(raw)), System.SI) if "fully open" in each)
    assert line == "valve, valve 0, valve 1, valve 2, valve 3, valve 4 and 1 more: taken as fully open"


def test_credit_that_is_not_asked_for_and_strokes_are_named():
    pump = {"rated_speed": "1500 rpm", "credit": False, "type": "reciprocating", "cylinders": 3}
    raw = untyped()
    raw["pumps"]["carriage"] |= pump
    names = " / ".join(defaults(solve(from_raw(raw)), System.SI))
    for words in ("a slower speed or a lighter", "single-acting", "the kind of fluid (unverified)"):
        assert words in names
    raw["pumps"]["carriage"] |= {"credit": True, "double_acting": False, "fluid_constant": 2.0}
    names = " / ".join(defaults(solve(from_raw(raw)), System.SI))
    for words in ("no credit for a slower", "single-acting", "the kind of fluid (unverified)"):
        assert words not in names


def test_a_bell_mouth_has_one_figure_and_says_which():
    raw = untyped()
    raw["intakes"]["strainer"] = {
        "reservoir": "tank", "at": ["1 ft", "1 ft 9 in"], "kind": "bell-mouth", "size": "NPS 2 schedule 40",
    }  # fmt: skip
    judgement = judge(from_raw(raw))
    text = " ".join(report(judgement).split())
    assert "strainer: submergence is worked out with its throat" in text
    assert "keeps a vortex away; submergence is worked out with its throat" in text
    assert "a roughness of 0.0018 in" in text
    assert "strainer: submergence is worked out with its throat" in page(judgement)


def test_a_single_density_of_a_fluid_of_the_catalogue_is_that_at_15_degrees():
    """Data sheets state it there (ISO 3675, from memory): 870 kg/m³ is about 3 % less at 60 °C, and a reader
    finds another figure than the one typed. Pairs over temperature are taken as they stand."""
    raw = untyped()
    raw["fluid"] |= {"temperature": "60 degC", "density": "870 kg/m^3"}
    solution = solve(from_raw(raw))
    assert solution.fluid.density == pytest.approx(841, abs=1)
    assert any("the density typed is that at 15 °C" in each for each in defaults(solution, System.SI))
    raw["fluid"]["density"] = [["15 degC", "870 kg/m^3"], ["70 degC", "835 kg/m^3"]]
    assert not any("at 15 °C" in each for each in defaults(solve(from_raw(raw)), System.SI))
