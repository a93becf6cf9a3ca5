"""Changes of place: the port, the level, the corners, a line laid anew."""

from __future__ import annotations

import pytest

from solver.fixes import places
from solver.fixes.candidate import Candidate, FixKind, NoRoomError
from solver.geometry import outline, reservoirs
from solver.layout.parts import Layout
from solver.quantities.units import System
from tests.drawings import RISER, drawing, pump, run
from tests.solver.fixes.examples import line, of_kind, riser
from tests.solver.geometry.test_leads import fed_from_below


def found(layout: Layout, kind: FixKind) -> list[Candidate]:
    return of_kind(list(places.candidates(layout, line(layout))), kind)


def test_a_port_over_its_tank_comes_down_to_a_hand_over_the_lid() -> None:
    """By hand: the rim at 0.70 m and 0.10 m of room over it; 0.20 m less to lift."""
    layout = riser()
    lower = found(layout, FixKind.PLACE)[0]
    assert (lower.now, lower.most) == (1.0, pytest.approx(0.8))
    assert lower.describe(0.8, System.SI) == "lower carriage's port to 0.800 m"
    before, after = line(layout), line(lower.edit(layout, 0.8))
    lifted = before.density * 9.80665 * 0.2
    assert lifted < after.margin - before.margin < 1.1 * lifted, "and a little less friction"


def test_a_port_that_stands_as_low_as_it_can_is_not_lowered() -> None:
    low = riser(RISER.replace('at = ["0.6 m", "1.00 m"]', 'at = ["0.6 m", "0.82 m"]'))
    assert not any(each.continuous for each in found(low, FixKind.PLACE))


def test_a_port_beside_its_tank_stays_clear_of_what_its_pump_stands_on() -> None:
    """Half its bore and 0.10 m over the lowest floor drawn: a port's centre on the ground is a pump in it."""
    layout = riser(RISER.replace('at = ["0.6 m", "1.00 m"]', 'at = ["3 m", "1.00 m"]'))
    lowest = found(layout, FixKind.PLACE)[0].most
    half = outline.bore(layout.pumps["carriage"]) / 2
    assert lowest == pytest.approx(reservoirs.lowest_drawn(layout) + half + 0.10)


def test_the_least_level_may_be_kept_as_high_as_the_normal_one() -> None:
    layout = riser()
    (higher,) = found(layout, FixKind.LEVEL)
    assert (higher.now, higher.most) == (0.4, 0.55)
    assert line(higher.edit(layout, 0.55)).fluid_level == pytest.approx(0.55)
    level = riser(RISER.replace('minimum_level = "0.40 m"', 'minimum_level = "0.53 m"'))
    assert found(level, FixKind.LEVEL) == [], "less than a step to gain"


def corners(via: list[tuple[float, float]], height: float = 1.5) -> tuple[Layout, list[Candidate]]:
    layout = drawing(pump(at=(2.0, height)), run("riser", "strainer", "pump", via=via))
    return layout, found(layout, FixKind.ROUTE)


def test_each_of_several_corners_may_be_left_out_where_no_wall_stands_in_the_way() -> None:
    layout, without = corners([(0.9, 1.2), (1.5, 1.2), (1.5, 1.5)])
    assert [each.describe(1.0, System.SI) for each in without] == [
        "lay riser without its corner 1",
        "lay riser without its corner 2",
        "lay riser without its corner 3",
        "lay riser without its corners 1 and 2",
        "lay riser without its corners 2 and 3",
    ]
    assert [len(each.edit(layout, 1.0).runs["riser"].via) for each in without] == [2, 2, 2, 1, 1]
    with pytest.raises(NoRoomError):
        without[-1].edit(without[-1].edit(layout, 1.0), 1.0)
    _, two = corners([(0.9, 1.2), (2.0, 1.2)], height=1.9)
    assert two[-1].describe(1.0, System.SI) == "lay riser straight, without a corner"
    _, drowned = corners([(0.9, 1.2), (2.0, 1.2)])
    orders = [each.describe(1.0, System.SI) for each in drowned]
    assert orders == ["lay riser without its corner 2"], (
        "others leave the tank under the fluid, without a nozzle"
    )
    assert corners([(0.9, 1.5)])[1] == [], "one corner alone is no detour"


def test_a_corner_in_the_port_itself_gives_no_direction_of_its_own() -> None:
    """The straight before it does: 0.10 m further along is 0.10 m to the right."""
    lead = run("lead", "strainer", "pump", via=[(0.9, 1.5), (1.4, 1.5)])
    layout = drawing(pump(at=(1.4, 1.5)), lead)
    (away,) = places.port_away(layout, layout.pumps["pump"], 0.1)
    moved = away.edit(layout, 1.0).pumps["pump"].at
    assert [each.si for each in moved] == pytest.approx([1.5, 1.5])


def test_a_lower_port_says_what_becomes_of_its_line() -> None:
    layout = fed_from_below()
    (lower,) = places.port_lower(layout, layout.pumps["pump"])
    assert lower.describe(2.0, System.SI) == "lower pump's port to 2.00 m"
    assert lower.describe(0.9, System.SI) == (
        "lower pump's port to 0.900 m (pump turned, its line now comes from above)"
    )
