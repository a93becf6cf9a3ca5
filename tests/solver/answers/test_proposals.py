"""Cases that are offered ready made: each can be taken as it is, or says which figure it asks for."""

from __future__ import annotations

import pytest

from solver.answers.proposals import proposals
from solver.layout.cases import layout_in_case, read_case
from solver.layout.file import parse
from solver.layout.keys import PARTS
from solver.layout.parts import Layout
from tests.drawings import ARRANGEMENTS, RISER, SHIPPED

DRAWN = {path.stem: path.read_text("utf-8") for path in SHIPPED} | {"riser": RISER, "tanks": ARRANGEMENTS}


def known(layout: Layout) -> set[tuple[str, str]]:
    return {(group, name) for group in PARTS for name in getattr(layout, group)}


@pytest.mark.parametrize("name", DRAWN)
def test_each_can_be_read_and_typed_out(name: str) -> None:
    layout = parse(DRAWN[name]).base
    for offered in proposals(layout):
        case = read_case(offered.table, ("cases",), offered.name, known(layout))
        assert case.problems == ()
        assert offered.table or offered.asked
        layout_in_case(layout, offered.name, case)
        assert set(offered.assumed) <= {".".join(path) for path in case.figures}


def test_each_pump_is_offered_alone_where_there_are_several() -> None:
    layout = parse(DRAWN["header-two-pumps"]).base
    names = [offered.name for offered in proposals(layout)]
    assert "main alone" not in names, "the drawing has it already"
    single = [offered.name for offered in proposals(parse(RISER).base)]
    assert not any(name.endswith("alone") for name in single)


def test_a_figure_that_the_drawing_does_not_hold_is_asked_for_or_marked() -> None:
    offered = {each.name: each for each in proposals(parse(RISER).base)}
    assert offered["coming on stroke"].asked == ("pumps.carriage.flow_rise",)
    assert offered["hottest hour"].asked == ("fluid.temperature",)
    assert offered["strainer due"].assumed == ("intakes.strainer.screen.blocked",)
    assert offered["low-pressure day"].assumed == ("site.weather_allowance",)
    assert "pumps.carriage.flow_rise" in offered["worst cold"].asked


def test_the_worst_level_is_the_lower_of_minimum_and_drawn_down() -> None:
    low, deep = (
        parse(RISER.replace("depth =", f'draw_down = "{out}"\ndepth =', 1)) for out in ("1 L", "250 L")
    )
    for layout, level in ((low.base, "minimum"), (deep.base, "drawn down")):
        offered = {each.name: each for each in proposals(layout)}
        assert offered["worst hot"].table["level"] == level


def test_a_low_pressure_day_is_never_milder_than_the_allowance_drawn() -> None:
    text = RISER.replace('elevation = "', 'weather_allowance = "40 mbar"\nelevation = "', 1)
    layout = parse(text).base
    assert layout.site.weather_allowance is not None
    offered = {each.name: each for each in proposals(layout)}
    assert offered["low-pressure day"].asked == ("site.weather_allowance",)
    assert "site" not in offered["worst hot"].table
