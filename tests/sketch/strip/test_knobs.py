"""The knobs of the strip: the same figures and ends as edits, sweeps and backward answers have."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import edits
from sketch.editing.edits import EditError
from sketch.strip.knobs import KNOBS, Knob, KnobSubject, subject
from solver.answers import ask, sweep
from solver.answers.inputs import BLOCKED, INPUTS, SITES
from solver.answers.sweep import SweepError
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.solver.checking import lifted, mesh, with_pump, with_screen


def screened(blocked: float) -> Layout:
    turning = with_pump(
        lifted(),
        displacement=quantity("80 cm^3/rev", Kind.DISPLACEMENT),
        speed=quantity("1500 rpm", Kind.SPEED),
        flow=None,
    )
    return with_screen(turning, **mesh(blocked=blocked))


BY_NAME = {knob.name: knob for knob in KNOBS}


@pytest.fixture(scope="module")
def layout() -> Layout:
    return screened(blocked=0.2)


def turned(layout: Layout) -> KnobSubject:
    return subject(layout, solve(layout).pumps["pump"], "pump", Level.MINIMUM)


def test_every_input_with_a_slider_has_a_knob() -> None:
    assert [knob.input.name for knob in KNOBS if INPUTS[knob.input.name] is not knob.input] == []
    assert {knob.input.name for knob in KNOBS} == {row.name for row in INPUTS.values() if row.slider}


@pytest.mark.parametrize("knob", KNOBS, ids=BY_NAME)
def test_a_slider_reaches_from_what_is_drawn_to_ends_that_can_be_set(knob: Knob, layout: Layout) -> None:
    which = turned(layout)
    if reason := knob.reason(layout, which):
        pytest.skip(reason)
    low, high = knob.span(layout, which)
    assert low <= knob.value(layout, which).si <= high
    for end in (low, high):
        part = knob.part(which)
        least, most = knob.input.allowed(layout, part)
        assert least <= end <= most
        assert knob.set(layout, which, end) is not None


def test_blocked_has_one_end_everywhere(layout: Layout) -> None:
    least, most = BLOCKED
    which = turned(layout)
    assert BY_NAME["Strainer blocked"].span(layout, which) == BLOCKED
    edits.set_blocked(layout, which.screen, most)
    with pytest.raises(EditError, match=r"99 ?%"):
        edits.set_blocked(layout, which.screen, most + 1e-3)
    sweep.solve(layout, {"blocked": [least, most]})
    with pytest.raises(SweepError, match=r"allowed: 0 to 0\.99"):
        sweep.solve(layout, {"blocked": [most + 1e-3]})
    clean = ask.ask("dirtiest strainer", screened(blocked=0.0), "pump")
    assert clean.value <= most


def test_a_site_has_one_range_everywhere(layout: Layout) -> None:
    sited = replace(
        layout, site=replace(layout.site, elevation=quantity("0 m", Kind.ELEVATION), barometer=None)
    )
    for end, beyond in zip(SITES, (SITES[0] - 1, SITES[1] + 1), strict=True):
        edits.set_site_elevation(sited, end)
        sweep.solve(sited, {"elevation": [end]})
        with pytest.raises(EditError):
            edits.set_site_elevation(sited, beyond)
        with pytest.raises(SweepError):
            sweep.solve(sited, {"elevation": [beyond]})


def test_a_figure_that_is_not_there_says_why(layout: Layout) -> None:
    none = KnobSubject("", "", Level.MINIMUM, "")
    reasons = {knob.name: knob.reason(layout, none) for knob in KNOBS}
    assert reasons["Port height"] == "no pump yet"
    assert reasons["Fluid level"] == "no tank yet"
    assert reasons["Strainer blocked"] == "no strainer here"
    with pytest.raises(ValueError, match="no strainer here"):
        BY_NAME["Strainer blocked"].value(layout, none)
