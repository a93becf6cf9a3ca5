"""What is in hand from the shelf, led over the sheet and put down by keys. No Qt here."""

from __future__ import annotations

from contextlib import suppress

from sketch.canvas import snapping, walking
from sketch.canvas.tool import Spot, Tool
from sketch.drawing.view import XY
from sketch.editing import building
from sketch.editing.building import LINE
from sketch.editing.edits import SAME, EditError
from sketch.editing.remarks import TEXT
from solver.layout.kinds import IntakeKind


def walk(tool: Tool, *, back: bool) -> bool:
    """Select the next part and lead what is in hand onto it; past either end False, or from the other end on
    while something is in hand, which the keyboard would leave behind."""
    document = tool.document
    if tool.picked and not document.selected_part:
        walking.begin(document, back=back)
    elif not walking.walk(document, back=back):
        if not tool.picked:
            return False
        walking.begin(document, back=back)
    if tool.picked and document.selected_part:
        tool.lead(_on_selected(tool))
    return bool(document.selected_part)


def step(tool: Tool, dx: int, dy: int, start: XY, *, coarse: bool) -> None:
    """Lead what is in hand by a grid step, or ten; from `start` [m] where it is nowhere yet."""
    size = snapping.grid_step(tool.document.system, coarse=coarse)
    x, y, run = _begun(tool, dx, dy, start)
    x, y = round(x + dx * size, 9), round(y + dy * size, 9)
    if run:
        with suppress(EditError):  # too short to be cut: putting it down says so
            x, y = building.place_on(tool.document.layout, run, x, y)
    tool.lead(Spot(x, y, run=run))


def put_down(tool: Tool, start: XY) -> bool:
    """Put down what is in hand where it has been led, else on the part that is selected, else at `start` [m].

    True when that is done and it is let go.
    """
    if tool.pointer is None:
        tool.lead(_place(tool, start))
    assert tool.pointer is not None
    return tool.put_down(tool.pointer, (tool.pointer.x, tool.pointer.y))


def _begun(tool: Tool, dx: int, dy: int, start: XY) -> tuple[float, float, str]:
    """Where a step begins [m], and the run that is followed: a line in the making leads off squarely."""
    if not tool.draws_line:
        begun = tool.pointer or _place(tool, start)
        return begun.x, begun.y, begun.run
    last, spot = tool.last, tool.pointer
    if spot is None or spot.part or spot.run or not tool.by_keys:
        return *last, ""
    aside = abs(spot.y - last[1]) if dx else abs(spot.x - last[0])
    return (*last, "") if aside > SAME else (spot.x, spot.y, "")


def _place(tool: Tool, start: XY) -> Spot:
    """Where what is in hand stands first: on what is selected, where that kind of thing can go onto it."""
    free = tool.picked in (*building.FREE, TEXT) and tool.picked not in tuple(IntakeKind)
    if free or not tool.document.selected_part:
        size = snapping.grid_step(tool.document.system)
        x, y = (round(round(each / size) * size, 9) for each in start)
        return Spot(x, y)
    return _on_selected(tool)


def _on_selected(tool: Tool) -> Spot:
    layout, part = tool.document.layout, tool.document.selected_part
    x, y = walking.middle(layout, part)
    if part in layout.runs and tool.picked != LINE:
        with suppress(EditError):
            x, y = building.place_on(layout, part, x, y)
    return tool.spot_on(part, x, y)
