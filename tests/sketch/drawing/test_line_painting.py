"""The line as it is painted."""

from __future__ import annotations

import math

import pytest

from sketch.drawing.glyphs import pump_circle
from sketch.look.colours import DARK, LIGHT, share_colour
from solver.ledger import solve
from tests import drawings
from tests.sketch import samples
from tests.sketch.drawing.sheets import label, near, paint, pixel
from tests.sketch.pixels import places_near

# Asking Qt for a font needs an application.
pytestmark = pytest.mark.usefixtures("qapp")


def test_a_pipe_has_the_colour_of_its_share_and_a_dark_casing() -> None:
    for theme in (LIGHT, DARK):
        drawn, image, view = paint(drawings.stand(), samples.solution(), theme)
        x, y = view.device(0.9, 1.2)
        (riser,) = [glyph for glyph in drawn.glyphs if glyph.key == "riser/straight 1"]
        assert near(pixel(image, x, y), theme.classes[6])
        edge = [pixel(image, x + riser.width / 2 + step / 4, y) for step in range(-4, 9)]
        assert any(near(colour, theme.casing, 40) for colour in edge)


def test_what_is_pointed_at_has_a_halo_that_nothing_else_has() -> None:
    plain, without, view = paint(drawings.stand(), samples.solution())
    _, pointed, _ = paint(drawings.stand(), samples.solution(), pointed="riser/straight 1")
    (riser,) = [glyph for glyph in plain.glyphs if glyph.key == "riser/straight 1"]
    x, y = view.device(0.9, 1.0)
    beside = x + riser.width / 2 + 4
    assert near(pixel(pointed, beside, y), LIGHT.halo)
    assert not near(pixel(without, beside, y), LIGHT.halo)
    assert near(pixel(pointed, x, y), pixel(without, x, y))


@pytest.mark.parametrize("part", ["riser", "isolator", "press", "tank"])
def test_what_is_selected_is_outlined(part: str) -> None:
    _, image, _ = paint(drawings.stand(), samples.solution(), selected=(part,))
    assert len(places_near(image, LIGHT.accent)) > 50


def test_past_the_floor_a_pipe_is_hatched_and_before_it_plain() -> None:
    shares = {**samples.SHARES, "riser/straight 1": 1.5}
    _, image, view = paint(drawings.stand(), samples.solution(shares=shares))
    dark = LIGHT.classes[6]

    def plain_part(low: float, high: float) -> float:
        rows = range(round(view.device(0, high)[1]), round(view.device(0, low)[1]))
        x = round(view.device(0.9, 0)[0])
        seen = [near(image.pixelColor(x + dx, y), dark) for y in rows for dx in (-3, 0, 3)]
        return sum(seen) / len(seen)

    assert plain_part(0.6, 0.8) > 0.99  # 12.4 % before the riser, so it crosses at 0.58 of its length
    assert plain_part(1.2, 1.45) < 0.85


def test_the_pump_s_circle_is_where_it_is_said_to_be() -> None:
    _, image, view = paint(drawings.stand(), samples.solution())
    x, y, radius = pump_circle(drawings.stand(), "press", view)
    for a in (1.0, 2.0, 4.0, 5.0):
        across = [
            pixel(image, x + r * math.cos(a), y + r * math.sin(a)) for r in (radius - 1, radius, radius + 1)
        ]
        assert min(colour.lightness() for colour in across) < 140


def test_a_line_in_parallel_has_the_colour_of_its_own_share_and_another_pump_s_is_plain() -> None:
    solution = solve.solve(drawings.twins())
    drawn, image, _ = paint(solution.layout, solution)
    shares = {entry.key: entry.share for entry in solution.pumps["press"].parallel_entries}
    for key, colour in (
        ("left riser/straight 1", share_colour(shares["left riser/straight 1"], LIGHT)),
        ("pilot leg/straight 2", LIGHT.pipe),
    ):
        (pipe,) = [glyph for glyph in drawn.glyphs if glyph.key == key]
        (ax, ay), (bx, by) = pipe.points
        assert near(pixel(image, ax + (bx - ax) / 4, ay + (by - ay) / 4), colour), key
    assert label(drawn, "left riser/straight 1").text == "33 %"
    assert {arrow.part for arrow in drawn.arrows} == {"left riser", "right riser"}
