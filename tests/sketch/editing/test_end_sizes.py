"""Which size a line takes at a part, and what goes together without a reducer."""

from __future__ import annotations

from dataclasses import replace

import pytest

from sketch.editing import building, end_sizes
from sketch.editing.end_sizes import Size
from solver.layout.kinds import FittingKind
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, fitting, run

TWO, SLIM = "NPS 2 schedule 40", "NPS 1-1/2 schedule 40"


def reduced() -> Layout:
    cone = replace(
        fitting("cone", (1.0, 1.0), kind=FittingKind.ECCENTRIC_REDUCER), size=TWO, bore=None, other_size=SLIM
    )
    first, second = (
        replace(each, size=size, bore=None)
        for each, size in ((run("riser", "strainer", "cone"), TWO), (run("lead", "cone", "pump"), SLIM))
    )
    return drawing(first, second, cone)


def test_a_line_is_joined_to_the_end_of_a_reducer_that_is_left_free() -> None:
    layout = reduced()
    alone = {"lead": layout.runs["lead"]}, {"riser": layout.runs["riser"]}
    sizes = [end_sizes.free_end(replace(layout, runs=runs), "cone").size for runs in alone]
    assert sizes == [TWO, SLIM]
    assert end_sizes.free_end(replace(layout, runs={}), "cone").size == TWO
    assert end_sizes.end_at(layout, layout.runs["riser"], "cone").size == TWO
    assert end_sizes.end_at(layout, layout.runs["lead"], "cone").size == SLIM


def test_a_line_from_a_reducer_goes_on_in_its_free_end() -> None:
    layout = reduced()
    layout = replace(layout, runs={"riser": layout.runs["riser"]})
    assert building.add_line(layout, "cone", "pump").layout.runs["line"].size == SLIM


@pytest.mark.parametrize(
    ("one", "other", "alike"),
    [
        (Size(TWO, None), Size("tube 60 x 4 mm", None), True),
        (Size(TWO, None), Size(None, quantity("52 mm", Kind.BORE)), True),
        (Size(TWO, None), Size("hose -32", None), True),
        (Size("hose -24", None), Size(TWO, None), False),
        (Size("hose -24", None), Size("hose -32", None), False),
        (Size(TWO, None), Size(SLIM, None), False),
        (Size(TWO, None), Size(None, quantity("50 mm", Kind.BORE)), False),
    ],
)
def test_sizes_that_go_together(one: Size, other: Size, *, alike: bool) -> None:
    assert end_sizes.are_alike(one, other) is alike
    assert end_sizes.are_alike(other, one) is alike


def test_a_bore_of_its_own_is_said_as_typed() -> None:
    assert Size(None, quantity("52 mm", Kind.BORE)).text == "a bore of 52 mm"
