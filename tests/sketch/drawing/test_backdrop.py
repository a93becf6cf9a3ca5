"""Axes, fluid and levels before any paint."""

from __future__ import annotations

from dataclasses import replace

import pytest
from hypothesis import given
from hypothesis import strategies as st

from sketch.drawing import backdrop
from sketch.drawing.labels import Box
from sketch.drawing.placer import Placer
from sketch.drawing.recorder import Recorder, _polygon, _text
from sketch.drawing.view import View
from sketch.look.colours import LIGHT
from solver.quantities.units import Kind, System, quantity
from tests import drawings

TWIN = ((0.0, 0.0), (3.0, 0.0), (3.0, 2.0), (2.0, 2.0), (2.0, 1.0), (1.0, 1.0), (1.0, 2.0), (0.0, 2.0))


def test_the_surface_in_a_tank_of_two_towers() -> None:
    assert backdrop.spans(TWIN, 1.5) == [(0.0, 1.0), (2.0, 3.0)]
    assert backdrop.spans(TWIN, 0.5) == [(0.0, 3.0)]
    assert backdrop.spans(TWIN, 5.0) == []


@given(st.floats(1e-3, 1e6), st.sampled_from(list(System)))
def test_a_tick_is_round_in_the_shown_unit_and_wide_enough(scale: float, system: System) -> None:
    step = backdrop.tick_step(scale, system, 56.0)
    assert 56.0 * (1 - 1e-6) <= step * scale <= 56.0 * 2.5 * (1 + 1e-6)
    shown = step / (0.3048 if system is System.US else 1.0)
    assert float(f"{shown:.0e}") == pytest.approx(shown)
    assert f"{shown:e}"[0] in "1259"


def test_ticks_are_multiples_of_their_step_and_bounded() -> None:
    assert backdrop.ticks(-0.35, 0.5, 0.2) == pytest.approx([-0.2, 0.0, 0.2, 0.4])
    assert len(backdrop.ticks(0.0, 1e9, 1.0)) <= backdrop.MOST_TICKS + 1


def test_the_level_that_is_used_comes_first_and_is_marked() -> None:
    view = View(400.0, 100.0, 500.0)
    for used in ("minimum", "normal"):
        first, second = backdrop.levels(drawings.stand(), view, (1000.0, 640.0), used)
        assert (first.name, first.used, second.used) == (f"{used} level", True, False)


def test_a_level_out_of_sight_is_not_drawn() -> None:
    view = View(400.0, 100.0, 500.0)
    assert not backdrop.levels(drawings.stand(), replace(view, y0=-900.0), (1000.0, 640.0), "minimum")
    assert not backdrop.levels(drawings.stand(), replace(view, x0=4000.0), (1000.0, 640.0), "minimum")


def test_a_tank_that_is_drawn_down_shows_a_third_level() -> None:
    layout = drawings.stand()
    (name, tank), *_ = layout.reservoirs.items()
    low, high = tank.minimum_level.si, tank.normal_level.si
    drawn = replace(tank, draw_down=quantity("1 L", Kind.VOLUME))
    view = View(400.0, 100.0, 500.0)
    shown = backdrop.levels(replace(layout, reservoirs={name: drawn}), view, (1000.0, 640.0), "drawn down")
    assert [level.name for level in shown] == ["drawn-down level", "minimum level", "normal level"]
    assert [level.used for level in shown] == [True, False, False]
    assert low < shown[0].z < high
    undrawn = backdrop.levels(layout, view, (1000.0, 640.0), "drawn down")
    assert [(level.name, level.used) for level in undrawn] == [
        ("minimum level", True),
        ("normal level", False),
    ]


@pytest.mark.usefixtures("qapp")
def test_the_mark_of_a_level_stands_on_the_side_of_its_tank() -> None:
    """Where its label stands left of the tank as well."""
    level = backdrop.LevelLine("tank", "minimum level", 0.5, 400.0, 600.0, 300.0, True)
    for box in (Box(200.0, 280.0, 190.0, 18.0), Box(604.0, 280.0, 190.0, 18.0)):
        recorder = Recorder()
        placer = Placer(1000.0, 600.0)
        label = backdrop._marked(recorder, level, "minimum", box, LIGHT, placer, 11.0)
        (mark,) = [stroke for stroke in recorder.strokes if stroke.draw is _polygon]
        assert 0.0 < max(level.left - mark.right, mark.left - level.right) < 30.0
        assert label.box == box
        (text,) = [stroke for stroke in recorder.strokes if stroke.draw is _text]
        x = text.how[0]
        assert box.x <= x
        assert x + recorder.width("minimum") <= box.right
        assert not mark.left + 1.0 < x < mark.right - 1.0
        middle, near = (mark.left + mark.right) / 2, min(max(mark.left, level.left), level.right)
        for at, down in ((middle, 4.0), ((near + mark.left) / 2, 0.0)):
            assert placer.lines.touched(Box(at - 1.0, level.y + down, 2.0, 1.0)), "no name over its strokes"
