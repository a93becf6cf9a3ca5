"""A case is the drawing typed out, to the last digit: random drawings with alternatives and cases, by text.

The drawing typed out is made here by laying plain tables over each other, with none of the program's own code
for cases or alternatives.
"""

from __future__ import annotations

import random
from copy import deepcopy
from typing import Any

import pytest

from solver.findings.judgement import judge
from solver.layout import text as layout_text
from solver.layout.file import Drawing, parse, to_raw, with_base, write
from solver.layout.parts import Layout
from solver.ledger.cases import solve_cases
from solver.ledger.solve import Solution, solve
from tests.drawings import RISER, SHIPPED, twins_text

DRAWINGS = 300
BASES = [RISER, twins_text(), *(path.read_text("utf-8") for path in SHIPPED)]

RIVALS = {
    "elevation": ("barometer",), "barometer": ("elevation",), "level": ("levels",), "speed": ("flow",),
    "vacuum": ("pressure", "npsh"), "breather_drop": ("pressure", "sealed"),
}  # fmt: skip


def laid(base: dict[str, Any], over: dict[str, Any]) -> dict[str, Any]:
    """Tables laid over tables; a key takes the place of its rivals."""
    table = deepcopy(base)
    for key in over:
        for rival in RIVALS.get(key, ()):
            if rival not in over:
                table.pop(rival, None)
    for key, value in over.items():
        table[key] = laid(table.get(key, {}), value) if isinstance(value, dict) else value
    return table


def put(case: dict[str, Any], *path: str, value: Any) -> None:
    for key in path[:-1]:
        case = case.setdefault(key, {})
    case[path[-1]] = value


def random_case(pick: random.Random, layout: Layout) -> dict[str, Any]:
    """Some figures that a case may have, for the parts that a drawing has."""
    case: dict[str, Any] = {"note": f"Case {pick.random():.6f}."} if pick.random() < 0.3 else {}
    random_conditions(pick, layout, case)
    if pick.random() < 0.3:
        put(case, "level", value=pick.choice(["minimum", "normal", "drawn down"]))
    elif pick.random() < 0.4:
        name, tank = pick.choice(list(layout.reservoirs.items()))
        low, high = tank.minimum_level.si, tank.normal_level.si
        put(case, "levels", name, value=f"{low + pick.uniform(-0.1, 1.0) * (high - low):.4f} m")
    for name, intake in layout.intakes.items():
        if intake.screen is not None and pick.random() < 0.4:
            share = pick.randint(1, 90)
            put(case, "intakes", name, "screen", "blocked", value=pick.choice([share / 100, f"{share} %"]))
    for name in layout.pumps:
        random_pump(pick, layout, name, case)
    for name in layout.fittings:
        if pick.random() < 0.05:
            put(case, "fittings", name, "state", value="closed")
    return case


def random_conditions(pick: random.Random, layout: Layout, case: dict[str, Any]) -> None:
    if pick.random() < 0.5 and not layout.fluid.has_one_viscosity:
        put(case, "fluid", "temperature", value=f"{pick.uniform(-12, 70):.2f} degC")
    if pick.random() < 0.2 and not layout.fluid.has_one_viscosity:
        put(case, "fluid", "line_temperature", value=f"{pick.uniform(-12, 70):.2f} degC")
    if pick.random() < 0.3:
        key, value = pick.choice(
            [("barometer", "0.93 bar"), ("weather_allowance", "0.6 inHg"), ("elevation", "900 m")]
        )
        put(case, "site", key, value=value)


def random_pump(pick: random.Random, layout: Layout, name: str, case: dict[str, Any]) -> None:
    pump, roll = layout.pumps[name], pick.random()
    if roll < 0.15:
        put(case, "pumps", name, "at_rest", value=True)
    elif roll < 0.4:
        put(case, "pumps", name, "flow_rise", value=f"{pick.uniform(0.01, 3):.3f} s")
    elif roll < 0.55 and pump.speed is not None:
        put(case, "pumps", name, "speed", value=f"{pump.speed.si * 60 * pick.uniform(0.7, 1.2):.1f} rpm")
    elif roll < 0.65 and pump.type != "reciprocating":
        put(case, "pumps", name, "flow", value=f"{pick.uniform(5, 150):.2f} L/min")
    elif roll < 0.75:
        put(case, "pumps", name, "limit", value={"vacuum": f"{pick.uniform(3, 9):.2f} inHg"})


def random_drawing(seed: int) -> tuple[str, dict[str, Any], dict[str, Any]]:
    """The text of a drawing; its base as tables without cases; its alternatives as partial tables."""
    pick = random.Random(seed)
    base = parse(pick.choice(BASES)).base
    raw = to_raw(base)
    raw.pop("cases", None)
    cases = {f"case {n}": random_case(pick, base) for n in range(pick.randint(1, 4))}
    others: dict[str, Any] = {}
    for n in range(pick.randint(0, 2)):
        own = {
            name: random_case(pick, base) for name in pick.sample(list(cases), pick.randint(0, len(cases)))
        }
        own |= {"own": random_case(pick, base)} if pick.random() < 0.5 else {}
        partial: dict[str, Any] = {"fluid": {"temperature": f"{pick.uniform(15, 60):.1f} degC"}}
        if base.fluid.has_one_viscosity:
            partial = {"site": {"weather_allowance": "0.3 inHg"}}
        if own:
            partial["cases"] = own
        gone = pick.sample(list(cases), 1) if pick.random() < 0.3 else []
        if gone and gone[0] not in own:
            partial.setdefault("cases", {})["without"] = gone
        others[f"other {n}"] = partial
    whole = {**raw, "format": 2, "cases": cases} | ({"alternatives": others} if others else {})
    return layout_text.fresh(whole), raw | {"cases": cases}, others


def typed_out(raw: dict[str, Any], case: dict[str, Any] | None) -> str:
    """The text of a drawing with a case of it typed out."""
    table = deepcopy(raw)
    table.pop("cases", None)
    if case is not None:
        table["fluid"].pop("coldest_start", None)
        table = laid(table, {key: value for key, value in case.items() if key != "note"})
    return layout_text.fresh(table)


def drawn(raw: dict[str, Any], partial: dict[str, Any] | None) -> dict[str, Any]:
    """The tables of the base, or of an alternative laid over it."""
    if partial is None:
        return raw
    over = deepcopy(partial)
    gone = over.get("cases", {}).pop("without", [])
    kept = {name: case for name, case in raw["cases"].items() if name not in gone}
    return laid({**raw, "cases": kept}, over)


def alone(text: str) -> Solution | None:
    try:
        return solve(parse(text).base)
    except ValueError:
        return None


def figures(solution: Solution) -> str:
    """Every figure of every pump, to the last digit."""
    return repr((dict(solution.pumps), dict(solution.resting), solution.flows.tolist(), solution.level))


def test_every_case_is_the_drawing_typed_out_and_the_worst_is_the_worst() -> None:
    check(range(0, DRAWINGS, 100))


@pytest.mark.random
@pytest.mark.parametrize("tenth", range(10))
def test_every_case_of_three_hundred_drawings_is_the_drawing_typed_out(tenth: int) -> None:
    check(range(tenth, DRAWINGS, 10))


def check(seeds: range) -> None:
    judged = 0
    for seed in seeds:
        text, raw, others = random_drawing(seed)
        drawing = parse(text)
        assert not drawing.broken, drawing.broken
        assert parse(write(drawing)) == drawing
        again = parse(write(Drawing(drawing.base, drawing.alternatives)))
        assert (again.base, again.alternatives) == (drawing.base, drawing.alternatives)
        assert with_base(drawing, drawing.base).alternatives == drawing.alternatives
        judged += checked(drawing.base, drawn(raw, None), seed)
        for name, partial in others.items():
            judged += checked(drawing.alternatives[name].layout, drawn(raw, partial), seed)
    assert judged > len(seeds)


def checked(layout: Layout, raw: dict[str, Any], seed: int) -> int:
    """How many cases were judged; each is the drawing typed out."""
    wanted: dict[str, dict[str, Any] | None] = {"as drawn": None}
    if "coldest_start" in raw["fluid"]:
        wanted["coldest start"] = {"fluid": {"temperature": raw["fluid"]["coldest_start"]}}
    wanted |= raw["cases"]
    typed = {name: alone(typed_out(raw, case)) for name, case in wanted.items()}
    if not any(typed.values()):
        return 0
    solved = solve_cases(layout)
    assert solved.keys() == wanted.keys(), seed
    for name, solution in typed.items():
        resting_solution = solved[name].solution
        assert (resting_solution is None) is (solution is None), (seed, name, solved[name].error)
        if resting_solution is not None and solution is not None:
            assert figures(resting_solution) == figures(solution), (seed, name)
    places = [
        (not ledger.breaks, ledger.within, ledger.margin, name, pump)
        for name, solution in typed.items()
        for pump, ledger in (solution.pumps.items() if solution is not None else ())
    ]
    worst = judge(layout).worst()
    if worst is not None and not worst.ledger.sound:
        least = min(places)
        assert (worst.case, worst.pump, worst.ledger.margin) == (least[3], least[4], least[2]), seed
    elif worst is not None:
        assert all(holds and within for holds, within, *_ in places), seed
    return sum(solution is not None for solution in typed.values())
