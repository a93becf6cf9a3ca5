"""What goes with parts that are taken out of a drawing is said."""

from __future__ import annotations

from dataclasses import replace
from typing import Any

import pytest

from sketch.editing import beginning, building, selection, taken_along
from solver.layout.kinds import Bend
from solver.layout.parts import Layout
from solver.quantities.units import Kind, System, quantity

SLIM = "NPS 1-1/2 schedule 40"


def cut(**second: Any) -> Layout:
    """A valve in the line of a new drawing, behind which the line has other figures."""
    layout = building.insert(beginning.begin(System.US), "gate valve", "line", 0.6, 0.9).layout
    return replace(layout, runs={**layout.runs, "line 2": replace(layout.runs["line 2"], **second)})


def said(before: Layout, *names: str) -> tuple[str, str]:
    after = selection.remove(before, names)
    return taken_along.with_text(before, after, names), taken_along.joined_text(before, after)


def test_a_line_that_only_closes_up_has_nothing_to_say() -> None:
    assert said(cut(), "gate valve") == ("", "")


@pytest.mark.parametrize(
    ("figures", "text"),
    [
        ({"size": SLIM}, f"in NPS 2 schedule 40, not {SLIM}"),
        ({"material": "drawn tube"}, "material as its size has it, not drawn tube"),
        ({"bend": Bend.MITRE}, "bends long radius, not mitre"),
        (
            {"size": SLIM, "roughness": quantity("0.1 mm", Kind.BORE)},
            f"in NPS 2 schedule 40, not {SLIM}; roughness as its size has it, not 0.1 mm",
        ),
    ],
)
def test_figures_that_are_lost_where_two_lines_become_one_are_said(
    figures: dict[str, Any], text: str
) -> None:
    assert said(cut(**figures), "gate valve") == ("", f"line 2 is one with line now, {text}.")


def test_a_name_that_is_lost_is_said() -> None:
    layout = building.rename(cut(), "line 2", "suction header")
    assert said(layout, "gate valve")[1] == "suction header is one with line now."


def test_what_ends_on_a_deleted_part_is_named_in_the_step() -> None:
    layout = cut(size=SLIM)
    assert said(layout, "pump") == (", with line 2", "")
    assert said(layout, "strainer", "pump") == (", with line and line 2", "")
    assert said(layout, "pump", "line 2") == ("", "")


def test_a_bend_in_the_place_of_a_part_is_said() -> None:
    layout = cut()
    pump = layout.pumps["pump"]
    below = replace(pump, at=(layout.fittings["gate valve"].at[0], quantity("2 m", Kind.LENGTH)))
    turned = replace(layout, pumps={"pump": below})
    assert said(turned, "gate valve") == ("", "line has 1 bend more now.")


def test_what_several_parts_leave_is_one_line() -> None:
    layout = cut()
    twice = building.insert(layout, "ball valve", "line 2", 0.8, 0.9).layout
    runs = {**twice.runs, "line 3": replace(twice.runs["line 3"], size=SLIM)}
    text = said(replace(twice, runs=runs), "gate valve", "ball valve")
    assert text == ("", f"line 3 is one with line now, in NPS 2 schedule 40, not {SLIM}.")
