"""What is wrong with the text of a drawing."""

from __future__ import annotations

from solver.layout.file import LayoutErrors, Problem, parse, placed_problems


def problems(text: str) -> tuple[Problem, ...]:
    """Those for which a text is refused, or for which an alternative is kept as one that is not valid."""
    try:
        drawing = parse(text, "plan.toml")
    except LayoutErrors as error:
        return error.problems
    troubles = [trouble for broken in drawing.broken.values() for trouble in broken.troubles]
    assert troubles, "nothing is wrong with it"
    return placed_problems(drawing, troubles, "plan.toml")
