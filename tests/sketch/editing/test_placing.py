"""Where a part is drawn, by figures."""

from __future__ import annotations

import pytest

from sketch.editing import edits, placing
from sketch.editing.edits import EditError
from solver.layout.parts import Layout
from solver.quantities.units import Kind, quantity


def metres(text: str) -> object:
    return quantity(text, Kind.LENGTH)


def test_figures_are_shown_as_typed_and_set_one_and_all(bent: Layout) -> None:
    tank = [placing.place_text(bent, "tank", key) for key in placing.SIDES]
    assert tank == ["0 m", "0 m", "1.2 m", "0.7 m"]
    assert placing.place_text(bent, "tank", "return.x") == ""
    assert placing.place_text(bent, "carriage", "at.y") == "1.00 m"
    placed = placing.set_places(bent, "carriage", {"at.x": metres("1.75 m"), "at.y": metres("48 in")})
    assert [figure.text for figure in placed.pumps["carriage"].at] == ["1.75 m", "48 in"]
    assert edits.corner(placed, "riser", 0) == pytest.approx((0.6, 1.2192))
    layout = placing.set_places(
        bent, "tank", {"side.width": metres("5 ft"), "return.x": metres("1 m"), "return.y": metres("20 cm")}
    )
    assert placing.place_text(layout, "tank", "side.width") == "5 ft", "as typed"
    moved = placing.set_places(layout, "tank", {"side.left": metres("0.1 m")})
    assert placing.place_text(moved, "tank", "side.width") == "5 ft 0 in", "in the style of its far wall"
    assert [placing.place_text(layout, "tank", key) for key in placing.RETURN] == ["1 m", "20 cm"]
    moved = placing.set_places(layout, "tank", {"return.y": metres("0.3 m")})
    assert [figure.text for figure in moved.reservoirs["tank"].return_at] == ["1 m", "0.3 m"]
    assert placing.set_places(moved, "tank", {"return.x": None}).reservoirs["tank"].return_at is None


def test_what_cannot_be_is_refused(bent: Layout) -> None:
    for name, values, said in (
        ("tank", {"return.x": metres("1 m")}, "its x and its elevation"),
        ("tank", {"side.height": metres("0.5 m")}, "normal level"),
        ("tank", {"side.floor": None}, "needed"),
        ("strainer", {"at.x": metres("3 m")}, "strainer"),
    ):
        with pytest.raises(EditError, match=said):
            placing.set_places(bent, name, values)


def test_a_straight_is_given_its_length(bent: Layout) -> None:
    assert placing.place_text(bent, "riser", "straight.1") == "0.88 m"
    longer = placing.set_places(bent, "riser", {"straight.1": metres("1 m")})
    assert edits.corner(longer, "riser", 0) == pytest.approx((0.6, 1.12))
    assert edits.place(longer, "carriage") == pytest.approx((1.6, 1.12)), "its pump stays in line"
    out = placing.set_places(bent, "riser", {"straight.2": metres("1.4 m")})
    assert edits.place(out, "carriage") == pytest.approx((2.0, 1.0))
    assert placing.set_places(bent, "riser", {"straight.2": metres("1 m")}) is bent
    short = placing.set_places(bent, "riser", {"straight.1": metres("800 mm")})
    assert placing.place_text(short, "riser", "straight.1") == "800 mm", "as typed"
    with pytest.raises(EditError, match="above zero"):
        placing.set_places(bent, "riser", {"straight.1": metres("0 m")})
