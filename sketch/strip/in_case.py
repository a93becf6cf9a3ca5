"""A figure of the case in view, where it stands in the place of the drawing's: what it is, how it is set."""

from __future__ import annotations

from collections.abc import Callable, Mapping

from sketch.editing import cases, edits
from sketch.editing.cases import CaseFigure
from sketch.editing.edits import EditError, Value
from solver.answers.inputs import Slider, level_range
from solver.layout.cases import AS_DRAWN, CaseError, cases_of, layout_in_case
from solver.layout.checks import level_problem
from solver.layout.parts import Layout, Level
from solver.quantities.units import Kind, Quantity, System

Path = tuple[str, ...]

RIVALS: Mapping[str, str] = {
    "flow": "the case has its flow",
    "at_rest": "at rest in the case",
    "barometer": "barometer in the case",
}
"""What of a case takes the place of another figure, by its key, and why that is not turned."""

DOES_NOT_HOLD = "the case does not hold"


def figures_of(layout: Layout, case: str) -> Mapping[Path, object]:
    """The figures of a case by key path; none where the drawing has no such case."""
    if case == AS_DRAWN:
        return {}
    every = cases_of(layout)
    return every[case].figures if case in every else {}


def path_in(layout: Layout, case: str, paths: tuple[Path, ...]) -> Path | None:
    """Which of some figures, the likeliest first, a case has in the place of the drawing's, to be turned."""
    given = figures_of(layout, case)
    return next((path for path in paths if path in given and path[-1] not in RIVALS), None)


def trouble(layout: Layout, case: str, paths: tuple[Path, ...]) -> str:
    """Why none of these figures can be turned in a case; "" where one can, or all are the drawing's."""
    given = figures_of(layout, case)
    rivals = (RIVALS[path[-1]] for path in paths if path[-1] in RIVALS and given.get(path))
    if why := next(rivals, ""):
        return why
    if path_in(layout, case, paths) is not None:
        try:
            layout_of(layout, case)
        except CaseError:
            return DOES_NOT_HOLD
    return ""


def layout_of(layout: Layout, case: str) -> Layout:
    """The drawing with the figures of a case in the place of its own. Raises CaseError."""
    return layout_in_case(layout, case, cases_of(layout)[case])


def value(layout: Layout, case: str, path: Path) -> Quantity:
    """A figure of a case, as typed. Raises KeyError."""
    figure = figures_of(layout, case)[path]
    if isinstance(figure, Quantity):
        return figure
    share = float(str(figure))
    return Quantity(f"{share * 100:g} %", share)


def span(layout: Layout, case: str, path: Path, slider: Slider, part: str) -> tuple[float, float]:
    """The ends of the slider for a figure of a case [SI unit of its kind]. Raises CaseError."""
    if path[0] == "levels":
        tank = layout.reservoirs[path[1]]
        return level_range(tank, Level.MINIMUM)[0], level_range(tank, Level.NORMAL)[1]
    return slider.span(layout_of(layout, case), part, Level.MINIMUM)


def text_of(
    layout: Layout, case: str, path: Path, wanted: Value, edited: Callable[[Layout], Quantity]
) -> str:
    """A figure as the case is to have it, in the unit that it has now. Raises EditError.

    edited: the figure once it is set in a drawing that has no cases.
    """
    if path[0] != "levels":
        return edited(layout_of(layout, case)).text
    level = edits.renew(value(layout, case, path), wanted, Kind.ELEVATION)
    if problem := level_problem(layout.reservoirs[path[1]].outline, level):
        raise EditError(f"{problem[0]}. Allowed: {problem[1]}")
    return level.text


def with_text(layout: Layout, case: str, path: Path, text: str) -> Layout:
    """The drawing with a figure of a case as typed with its unit, in that case alone. Raises EditError."""
    return cases.set_figure(layout, case, CaseFigure(path, ""), text, System.SI)
