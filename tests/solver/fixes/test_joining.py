"""Two runs that go on as one where a part between them is taken out."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes.candidate import NoRoomError
from solver.fixes.joining import joined
from solver.layout import file
from solver.layout.parts import Layout
from solver.ledger.solve import solve
from tests.drawings import drawing, fitting, point, run


def parted(bore: float = 0.05, *, turned: bool = False) -> Layout:
    """A valve between two runs; without it in the drawing."""
    lead = (
        run("lead", "pump", "v", via=[(0.9, 1.2)], bore=bore)
        if turned
        else run("lead", "v", "pump", bore=bore)
    )
    layout = drawing(fitting("v", (0.9, 0.8)), run("riser", "strainer", "v"), lead)
    return replace(layout, fittings={})


@pytest.mark.parametrize("turned", [False, True])
def test_two_runs_of_one_bore_become_one_by_way_of_the_place_between(*, turned: bool) -> None:
    whole = joined(parted(turned=turned), "v", point((0.9, 0.8)))
    (only,) = whole.runs.values()
    assert (only.start, only.end) == ("strainer", "pump")
    assert point((0.9, 0.8)) in only.via
    assert file.check(whole) == ()
    assert solve(whole).pumps["pump"].margin > 0


def test_two_runs_of_two_bores_meet_in_a_reducer() -> None:
    whole = joined(parted(0.08), "v", point((0.9, 0.8)))
    (cone,) = whole.fittings.values()
    assert cone.kind == "eccentric reducer"
    assert file.check(whole) == ()


def test_what_does_not_lie_between_two_runs_is_refused() -> None:
    with pytest.raises(NoRoomError, match="does not lie between"):
        joined(parted(), "strainer", point((0.9, 0.8)))
