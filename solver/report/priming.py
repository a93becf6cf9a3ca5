"""How to fill a pump and its line before the first start, in words and as plain data."""

from __future__ import annotations

import textwrap
from collections.abc import Iterator
from typing import Any

from solver.field import priming
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import capitalised, printable

WIDTH = 100

CAUTION = (
    "The pump maker's instructions, local codes and a person licensed for the work come before this order of "
    "work. Never feel for a leak, and never loosen a fitting on a running or pressurised machine."
)


def text(solution: Solution, pump: str | None = None) -> str:
    """The plan for every pump of a solved drawing, or for one, in the drawing's own units."""
    system = System(solution.layout.units)
    names = [name for name in solution.pumps if pump in (None, name)]
    lines = [line for name in names for line in _plan(solution, name, system)]
    return printable("\n".join(lines), keep="\n") + "\n"


def record(solution: Solution, pump: str) -> dict[str, Any]:
    """The plan for one pump as a JSON object, SI; what is not known is None. Raises KeyError."""
    system = System(solution.layout.units)
    plan = priming.priming(solution, pump, system)
    return {
        "flooded": plan.flooded,
        "line_volume_m3": plan.line_volume,
        "dry_volume_m3": plan.dry_volume,
        "case_volume_m3": plan.case_volume,
        "lift_m": plan.lift,
        "draws_dry": plan.draws_dry,
        "shortest_fill_s": plan.shortest_fill,
        "pockets": [
            {
                "part": pocket.part,
                "x_m": pocket.x,
                "z_m": pocket.z,
                "volume_m3": pocket.volume,
                "may_be_vented": pocket.below_level,
            }
            for pocket in plan.pockets
        ],
        "steps": list(priming.steps(plan, solution, system)),
    }


def _plan(solution: Solution, pump: str, system: System) -> Iterator[str]:
    plan = priming.priming(solution, pump, system)
    yield f"{pump}: before the first start"
    held = typeset(plan.line_volume, Kind.VOLUME, system)
    over = typeset(plan.dry_volume, Kind.VOLUME, system)
    yield f"  The line holds {held}, {over} of it above the fluid."
    yield from _wrapped(f"Drawing the line full by itself: {plan.draws_dry_why}.", "  ", "  ")
    for number, step in enumerate(priming.steps(plan, solution, system), start=1):
        yield from _wrapped(step, f"  {number}. ", "     ")
    yield from _wrapped(capitalised(CAUTION), "  ", "  ")
    yield ""


def _wrapped(words: str, first: str, rest: str) -> list[str]:
    return textwrap.wrap(words, WIDTH, initial_indent=first, subsequent_indent=rest, break_on_hyphens=False)
