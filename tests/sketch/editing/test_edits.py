from __future__ import annotations

import math
from dataclasses import replace
from itertools import pairwise
from pathlib import Path

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.canvas.gestures import Pointer, Proposal, drag, moved
from sketch.canvas.handles import Handle, Hold, handles
from sketch.canvas.snapping import Snapped
from sketch.editing import edits
from sketch.editing.edits import EditError
from sketch.model.document import Document
from solver.answers import inputs
from solver.geometry.outline import GeometryError
from solver.layout import file
from solver.layout.parts import Layout
from solver.quantities import units
from solver.quantities.units import Kind, System

from ..conftest import BENT, RISER

CARRIAGE = Path(__file__).parents[3] / "layouts" / "carriage-at-altitude.toml"


@pytest.fixture
def layout() -> Layout:
    return file.parse(RISER, "riser").base


def reread(layout: Layout) -> Layout:
    """The layout after a round trip through its file."""
    drawing = file.parse(RISER, "riser")
    text = file.write(replace(drawing, base=layout, alternatives={}))
    return file.parse(text, "again").base


def test_moved_part_keeps_the_text_of_the_coordinate_that_stays(layout: Layout) -> None:
    moved = edits.move_part(layout, "carriage", 0.6, 1.25)
    assert moved.pumps["carriage"].at[0].text == "0.6 m"
    assert moved.pumps["carriage"].at[1].text == "1.25 m"
    assert layout.pumps["carriage"].at[1].text == "1.00 m"


def test_part_moved_to_where_it_is_changes_nothing(layout: Layout) -> None:
    assert edits.move_part(layout, "carriage", 0.6, 1.0) is layout


def test_line_beside_a_moved_pump_stays_square(bent: Layout) -> None:
    moved = edits.move_part(bent, "carriage", 1.9, 1.3)
    ((x, y),) = moved.runs["riser"].via
    assert x.si == pytest.approx(0.6)
    assert y.si == pytest.approx(1.3)


def test_moved_bend_stays_square_with_both_ends(bent: Layout) -> None:
    moved = edits.move_corner(bent, "riser", 0, 0.8, 1.2)
    points = [edits.place(moved, "strainer"), *_via(moved), edits.place(moved, "carriage")]
    for (x1, y1), (x2, y2) in pairwise(points):
        assert math.isclose(x1, x2, abs_tol=1e-4) or math.isclose(y1, y2, abs_tol=1e-4), points


def _via(layout: Layout) -> list[tuple[float, float]]:
    return [(x.si, y.si) for x, y in layout.runs["riser"].via]


def test_intake_cannot_leave_its_tank(layout: Layout) -> None:
    with pytest.raises(EditError, match="tank"):
        edits.move_part(layout, "strainer", 1.5, 0.12)


def test_level_keeps_its_unit(layout: Layout) -> None:
    new = edits.set_level(layout, "tank", "minimum", 0.45)
    assert new.reservoirs["tank"].minimum_level.text == "0.45 m"


def test_typed_quantity_is_kept_as_typed(layout: Layout) -> None:
    typed = units.quantity("1' 6\"", Kind.LENGTH)
    new = edits.set_level(layout, "tank", "minimum", typed)
    assert new.reservoirs["tank"].minimum_level.text == "1' 6\""
    assert reread(new).reservoirs["tank"].minimum_level == typed


@pytest.mark.parametrize(
    ("which", "y", "why"),
    [
        ("normal", 0.71, "rim"),
        ("normal", 0.39, "below the minimum"),
        ("minimum", 0.56, "above the normal"),
        ("minimum", 0.0, "floor"),
        ("minimum", -0.1, "floor"),
    ],
)
def test_level_stays_in_the_tank_and_in_order(layout: Layout, which: str, y: float, why: str) -> None:
    with pytest.raises(EditError, match=why):
        edits.set_level(layout, "tank", which, y)


@pytest.mark.parametrize("which", ["minimum", "normal"])
def test_both_ends_of_a_level_range_can_be_saved_and_read(layout: Layout, which: str) -> None:
    for y in inputs.level_range(layout.reservoirs["tank"], which):
        assert reread(edits.set_level(layout, "tank", which, y)).reservoirs["tank"].outline


def test_level_in_other_units_than_the_one_it_meets_can_be_saved_and_read(layout: Layout) -> None:
    tank = replace(
        layout.reservoirs["tank"],
        minimum_level=units.quantity("1.31 ft", Kind.LENGTH),
        normal_level=units.quantity("1 ft 10.268 in", Kind.LENGTH),
    )
    mixed = replace(layout, reservoirs={"tank": tank})
    met = edits.set_level(mixed, "tank", "minimum", tank.normal_level.si)
    level = met.reservoirs["tank"].minimum_level
    assert level.si == pytest.approx(tank.normal_level.si, abs=3e-4)
    assert reread(met).reservoirs["tank"].minimum_level == level


def test_port_height_takes_text_as_typed(layout: Layout) -> None:
    new = edits.set_port_height(layout, "carriage", units.quantity("3' 6\"", Kind.LENGTH))
    assert new.pumps["carriage"].at[1].text == "3' 6\""
    assert new.pumps["carriage"].at[0].text == "0.6 m"


def test_temperature_beyond_the_data_is_refused(layout: Layout) -> None:
    with pytest.raises(EditError) as refused:
        edits.set_temperature(layout, 700.0)
    assert str(refused.value).endswith("its figures hold from −20 °C to 100 °C")
    assert refused.value.text_in(System.US).endswith("its figures hold from −4 °F to 212 °F")
    assert edits.set_temperature(layout, 333.15).fluid.temperature.text == "60 degC"


def test_speed_must_be_positive_and_needs_a_displacement(layout: Layout) -> None:
    assert edits.set_speed(layout, "carriage", 20.0).pumps["carriage"].speed == units.quantity(
        "1200 rpm", Kind.SPEED
    )
    with pytest.raises(EditError, match="above zero"):
        edits.set_speed(layout, "carriage", 0.0)
    pump = replace(layout.pumps["carriage"], speed=None, flow=units.quantity("100 L/min", Kind.FLOW))
    with pytest.raises(EditError, match="flow"):
        edits.set_speed(replace(layout, pumps={"carriage": pump}), "carriage", 20.0)


def test_site_given_by_barometer_has_no_elevation_to_set(layout: Layout) -> None:
    assert edits.set_site_elevation(layout, 1650.0).site.elevation == units.quantity("1650 m", Kind.ELEVATION)
    barometer = replace(layout.site, elevation=None, barometer=units.quantity("24.6 inHg", Kind.PRESSURE))
    with pytest.raises(EditError, match="barometer"):
        edits.set_site_elevation(replace(layout, site=barometer), 100.0)


@pytest.mark.parametrize(
    ("elevation", "fits"), [(-500.0, True), (-500.1, False), (9000.0, True), (9000.1, False)]
)
def test_a_site_stands_where_sites_are(layout: Layout, elevation: float, fits: bool) -> None:
    if fits:
        assert edits.set_site_elevation(layout, elevation).site.elevation is not None
        return
    with pytest.raises(EditError, match="between -500 m and 9000 m; elsewhere give the barometer"):
        edits.set_site_elevation(layout, elevation)


@pytest.mark.parametrize("share", [-0.01, 1.0, math.nan, math.inf])
def test_blocked_share_outside_its_range_is_refused(layout: Layout, share: float) -> None:
    with pytest.raises(EditError):
        edits.set_blocked(layout, "strainer", share)


def test_blocked_share_is_set_and_unblocked_parts_have_none(layout: Layout) -> None:
    screen = edits.set_blocked(layout, "strainer", 0.5).intakes["strainer"].screen
    assert screen is not None
    assert screen.blocked == 0.5
    with pytest.raises(EditError, match="no screen"):
        edits.set_blocked(layout, "carriage", 0.5)


def test_base_edit_reaches_an_alternative_except_where_it_differs() -> None:
    drawing = file.parse(RISER, "riser")
    half = drawing.alternatives["Half speed"].layout
    warm = edits.carry(drawing.base, edits.set_temperature(drawing.base, 333.15), half)
    assert warm.fluid.temperature.text == "60 degC"
    assert warm.pumps["carriage"].speed == half.pumps["carriage"].speed
    fast = edits.carry(drawing.base, edits.set_speed(drawing.base, "carriage", 30.0), half)
    assert fast == half
    raised = edits.carry(drawing.base, edits.move_part(drawing.base, "carriage", 0.6, 1.3), half)
    assert raised.pumps["carriage"].at[1].text == "1.3 m"
    assert raised.pumps["carriage"].speed == half.pumps["carriage"].speed


def held(layout: Layout, hold: Hold, name: str, which: str | None = None) -> Handle:
    return next(h for h in handles(layout) if (h.hold, h.name, h.which) == (hold, name, which))


def dragged(
    layout: Layout, hold: Hold, name: str, *to: tuple[float, float], which: str | None = None
) -> list[Proposal]:
    """What a drag answers to each pointer; pressed a little off the handle's middle."""
    handle = held(layout, hold, name, which)
    gesture = drag(layout, handle, 0.01, 0.005)
    next(gesture)
    gesture.send(Pointer(handle.x + 0.003, handle.y - 0.002))
    answers = [gesture.send(Pointer(x + 0.003, y - 0.002)) for x, y in to]
    gesture.close()
    return answers


def test_drag_moves_by_the_pointers_way_not_to_its_place(layout: Layout) -> None:
    (answer,) = dragged(layout, Hold.PART, "carriage", (0.6, 1.21))
    assert edits.place(answer.layout, "carriage") == pytest.approx((0.6, 1.21))


def test_drag_back_to_the_start_is_the_very_same_drawing(layout: Layout) -> None:
    away, back = dragged(layout, Hold.PART, "carriage", (0.9, 1.4), (0.6, 1.0))
    assert away.layout != layout
    assert back.layout is layout


def test_drag_of_an_intake_stops_at_its_tank_and_says_so(layout: Layout) -> None:
    inside, outside, again = dragged(layout, Hold.PART, "strainer", (1.1, 0.2), (1.5, 0.2), (1.0, 0.2))
    assert outside.layout == inside.layout
    assert "tank" in outside.trouble
    assert again.trouble == ""
    assert edits.place(again.layout, "strainer") == pytest.approx((1.0, 0.2))


def test_drag_of_a_level_stops_at_the_other(layout: Layout) -> None:
    up, over = dragged(layout, Hold.LEVEL, "tank", (0.0, 0.5), (0.0, 0.9), which="minimum")
    assert up.layout.reservoirs["tank"].minimum_level.si == pytest.approx(0.5)
    assert over.layout.reservoirs["tank"].minimum_level.si == pytest.approx(0.55)


def test_free_drag_rests_on_no_grid(layout: Layout) -> None:
    handle = held(layout, Hold.PART, "carriage")
    gesture = drag(layout, handle, 0.01, 0.005)
    next(gesture)
    gesture.send(Pointer(0.6, 1.0))
    assert gesture.send(Pointer(0.6, 1.2345, free=True)).y == pytest.approx(1.2345)
    assert gesture.send(Pointer(0.6, 1.2345)).y == pytest.approx(1.23)


@given(
    moves=st.lists(
        st.tuples(st.integers(0, 5), st.floats(-0.5, 2.5), st.floats(-0.5, 2.0)), min_size=1, max_size=6
    )
)
def test_whatever_the_hand_does_can_be_saved_and_read_again(moves: list[tuple[int, float, float]]) -> None:
    layout = file.parse(BENT, "bent").base
    for which, x, y in moves:
        choice = handles(layout)
        try:
            layout = moved(layout, choice[which % len(choice)], Snapped(x, y)).layout
        except (EditError, GeometryError):
            continue
    assert reread(layout) == layout


def test_a_base_goes_from_a_size_to_a_bore_though_an_alternative_gives_a_size() -> None:
    drawing = file.read(CARRIAGE)
    name, wide = next(
        (name, each.layout)
        for name, each in drawing.alternatives.items()
        if each.layout.runs["riser"].size not in (None, drawing.base.runs["riser"].size)
    )
    riser = replace(drawing.base.runs["riser"], size=None, bore=units.quantity("50 mm", Kind.BORE))
    after = replace(drawing.base, runs={**drawing.base.runs, "riser": riser})
    carried = edits.carry(drawing.base, after, wide)
    assert carried.runs["riser"].size == wide.runs["riser"].size
    assert carried.runs["riser"].bore is None
    assert file.check(carried) == ()
    document = Document()
    document.open(CARRIAGE)
    assert document.trouble_with(after) == ""
    document.apply("Bore", after)
    reread = file.parse(file.write(document.drawing))
    assert reread.base.runs["riser"].bore == riser.bore
    assert reread.alternatives[name].layout.runs["riser"] == wide.runs["riser"]
