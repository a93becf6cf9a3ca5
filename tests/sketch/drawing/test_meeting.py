"""How runs meet their parts."""

from __future__ import annotations

from dataclasses import replace

from sketch.drawing.meeting import Meeting, meetings
from sketch.drawing.memory import Memory
from sketch.editing import edits
from solver.ledger.solve import solve
from tests import drawings


def test_runs_meet_a_part_in_the_direction_of_flow_whichever_way_they_are_drawn() -> None:
    layout = drawings.steps(12)
    turned = {
        name: replace(run, start=run.end, end=run.start, via=run.via[::-1])
        for name, run in layout.runs.items()
    }
    backward = replace(layout, runs=turned)
    rows = solve(layout).network.rows
    assert meetings(layout, rows) == meetings(backward, solve(backward).network.rows)
    assert meetings(backward) != meetings(layout)  # without rows nobody knows the flow
    assert meetings(layout)["pump"].flow in meetings(layout)["pump"].arriving
    assert Meeting((), ()).flow == (0.0, -1.0)
    assert Meeting(((1.0, 0.0),), ((0.0, 1.0),)).legs == ((-1.0, 0.0), (0.0, 1.0))


def test_what_is_kept_of_the_last_frame_meets_as_if_it_were_new() -> None:
    layout = drawings.steps(12)
    memory = Memory()
    assert meetings(layout, (), memory) == meetings(layout)
    x, y = (value.si for value in layout.pumps["pump"].at)
    for step in range(3):
        layout, memory = edits.move_part(layout, "pump", x + 0.1 * step, y + 0.2 * step), Memory(memory)
        rows = solve(layout).network.rows
        assert meetings(layout, rows, memory) == meetings(layout, rows)
