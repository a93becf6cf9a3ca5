"""Whether two files are two states of one line, or two lines that have nothing to do with each other."""

from __future__ import annotations

from solver.layout.parts import Layout

LEAST_ALIKE = 0.5
"""Share of the parts of the larger that both have by name, or it is another line; our own choice."""


def other_line(before: Layout, after: Layout) -> str:
    """Why a drawing is of another line than the one before it, as a clause; "" where it is not."""
    pumps = before.pumps.keys() & after.pumps.keys()
    both, most = len(_parts(before) & _parts(after)), max(len(_parts(before)), len(_parts(after)))
    alike = f"{both} of {most} parts have one name and kind in both"
    if not pumps:
        return f"no pump has one name in both, and {alike}"
    return alike if both < LEAST_ALIKE * most else ""


def _parts(layout: Layout) -> set[tuple[str, str]]:
    """What stands in a line, each part by its kind and name."""
    groups = {
        "pump": layout.pumps,
        "run": layout.runs,
        "fitting": layout.fittings,
        "intake": layout.intakes,
        "tee": layout.tees,
    }
    return {(kind, name) for kind, group in groups.items() for name in group}
