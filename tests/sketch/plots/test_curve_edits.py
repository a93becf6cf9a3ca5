"""What the hand may do with the figure under the curves: the drawing with it, in steps it can mean."""

from __future__ import annotations

import pytest

from sketch.plots.curve_edits import EDITS, before_drag, dragged, edited, rounded
from solver.answers.curves import CurveSubject, subjects
from solver.answers.inputs import INPUTS
from solver.layout.parts import Level
from solver.quantities.units import System, to_display
from tests.sketch.shown import opened


def test_every_edit_puts_the_figure_where_it_is_read() -> None:
    document = opened("strainer-over-a-year")
    layout = document.layout
    assert document.ledger is not None
    offered = {each.name: each for each in subjects(layout, document.ledger, Level.MINIMUM)}
    assert set(EDITS) <= set(offered)
    for name in EDITS:
        subject, slider = offered[name], INPUTS[name].slider
        aim = subject.now + 0.1 * (subject.ends[1] - subject.now)
        level = Level.DRAWN_DOWN if name == "level" else Level.MINIMUM
        changed = edited(layout, subject, level, aim)
        assert slider is not None
        at = Level.NORMAL if name == "level" else Level.MINIMUM
        assert slider.value(changed, subject.part, at).si == pytest.approx(aim, rel=1e-3, abs=1e-3), name


@pytest.mark.parametrize("system", [System.SI, System.US])
def test_a_place_is_rounded_to_a_five_hundredth_of_the_way_at_most_ten_times_over(system: System) -> None:
    subject = CurveSubject("port height", "press", 1.0, (0.0, 3.0))
    kind = INPUTS[subject.name].kind
    way = to_display(3.0, kind, system) - to_display(0.0, kind, system)
    for place in (0.3333 * way, 0.71717 * way):
        shown = to_display(rounded(place, subject, system), kind, system)
        assert abs(shown - place) <= 5 * way / 500
        assert shown == pytest.approx(round(shown, 2), abs=1e-9)


def test_a_port_that_is_dragged_again_leaves_no_trace_of_where_it_was() -> None:
    document = opened("shear-started-dry")
    subject, first = CurveSubject("port height", "shear", 1.2, (0.0, 3.0)), document.layout
    label, layout = dragged(first, before_drag(document, subject), subject, Level.MINIMUM, 1.9)
    assert label == (
        "Port height of shear: 1 bend less in line, shear turned, its line now comes from the left"
    )
    document.apply(label, layout)
    _, back = dragged(layout, before_drag(document, subject), subject, Level.MINIMUM, 1.2)
    assert back.runs == first.runs
    document.undo_stack.setClean()
