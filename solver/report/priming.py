"""How to fill a pump and its line before the first start, and where air may come in, in words and as data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from solver.field import air, plan, priming
from solver.findings.judgement import Judgement
from solver.findings.outlook import own_headline
from solver.ledger.solve import Solution
from solver.quantities.wording import printable

WIDTH = 100
NO_JOINT = "No joint of the line is below the atmosphere in this state: air can come in at none of them."
AT_REST = "at rest in this state, so there is no plan for it; ask for a case in which it runs."
NOT_JUDGED = "No plan for a first start: the case that is shown was not judged."
LOW_JOINTS = (
    "Joints below the atmosphere in this state, the lowest pressure first; to test them, wet one at a time:"
)


def text(judgement: Judgement, solution: Solution, pump: str | None = None, line: str = "") -> str:
    """The plan for every pump of a solved drawing, or for one, in the drawing's own units.

    judgement: by all cases of the drawing, for the headline of each pump. line: the alternative that was
    solved, "" for the drawing itself.
    """
    names = [name for name in solution.pumps if pump in (None, name)]
    lines = [words for name in names for words in _plan(judgement, solution, name, line)]
    lines += [f"{name}: {AT_REST}\n" for name in solution.resting if pump in (None, name)]
    return printable("\n".join(lines), keep="\n") + "\n"


def record(judgement: Judgement, solution: Solution, pump: str) -> dict[str, Any]:
    """The plan for one pump as a JSON object, SI; what is not known is None. Raises KeyError."""
    system = solution.layout.units
    primed = priming.priming(solution, pump, system)
    return {
        "flooded": primed.flooded,
        "siphons": primed.siphons,
        "line_volume_m3": primed.line_volume,
        "dry_volume_m3": primed.dry_volume,
        "case_volume_m3": primed.case_volume,
        "lift_m": primed.lift,
        "draws_dry": primed.draws_dry,
        "shortest_fill_s": primed.shortest_fill,
        "pockets": [
            {
                "part": pocket.part,
                "x_m": pocket.x,
                "z_m": pocket.z,
                "volume_m3": pocket.volume,
                "may_be_vented": pocket.below_level,
            }
            for pocket in primed.pockets
        ],
        "steps": list(plan.steps(primed, judgement, solution, system)),
        "air": _air(air.air(solution, pump)),
    }


def _air(held: air.Air) -> dict[str, Any]:
    """Where air may come in, as a JSON object, SI."""
    return {
        "joints_below_atmosphere": [
            {
                "name": joint.name,
                "part": joint.part,
                "following": joint.following,
                "x_m": joint.x,
                "z_m": joint.z,
                "vacuum_pa": held.atmosphere - joint.pressure,
            }
            for joint in held.joints
        ],
        "free_air_at_port": held.free_air,
        "covers": [
            {
                "intake": cover.intake,
                "depth_m": cover.depth,
                "cylinders_out_m": cover.drawn_depth,
                "needed_m": cover.needed,
            }
            for cover in held.covers
        ],
        "returns": [
            {"reservoir": each.reservoir, "depth_m": each.depth, "cylinders_out_m": each.drawn_depth}
            for each in held.returns
        ],
    }


def _plan(judgement: Judgement, solution: Solution, pump: str, line: str) -> Iterator[str]:
    system = solution.layout.units
    primed, held = priming.priming(solution, pump, system), air.air(solution, pump)
    of = f' of "{line}"' if line else ""
    yield from _wrapped(f"{pump}: before the first start{of}", "", "  ")
    yield from _wrapped(f"{own_headline(judgement, pump, system)}.", "  ", "  ")
    yield ""
    for name, figure in plan.facts(primed, solution, system, judgement.layout):
        yield from _wrapped(f"{name}: {figure}", "  ", "    ")
    yield ""
    for number, step in enumerate(plan.steps(primed, judgement, solution, system), start=1):
        yield from _wrapped(step, f"  {number}. ", "     ")
    yield ""
    yield f"{pump}: where air may come in"
    yield from _wrapped(LOW_JOINTS if held.joints else NO_JOINT, "  ", "  ")
    for number, joint in enumerate(held.joints, start=1):
        yield from _wrapped(air.joint_text(joint, held, system), f"  {number}. ", "     ")
    seal = air.seal_text(held, system)
    yield from _wrapped(f"And the {seal}.", "  ", "  ") if seal else ()
    for remark in air.air_notes(held, solution.layout, system):
        mark = f"{remark.severity.capitalize()}: " if remark.severity is not None else ""
        yield from _wrapped(mark + remark.text, "  ", "  ")
    yield from _wrapped(plan.CAUTION, "  ", "  ")
    yield ""


def _wrapped(words: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
