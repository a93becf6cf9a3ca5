"""Checks of the reservoirs, each from both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.geometry.reservoirs import drawn_down
from solver.layout.parts import Baffle, Layout, Point
from solver.quantities.units import Quantity
from tests.drawings import metres, point
from tests.solver.checking import HAIR, found, lifted, only


def with_tank(layout: Layout, **changes: object) -> Layout:
    return replace(layout, reservoirs={"tank": replace(layout.reservoirs["tank"], **changes)})


def drawn(volume: float, **strainer: object) -> Layout:
    """The tank is 1.2 by 0.6 m: its levels stand 0.15 m, or 108 L, apart."""
    return with_tank(lifted(**strainer), draw_down=Quantity("typed", volume))


def parted(top: float, bottom: float | None = None, return_at: Point | None = None) -> Layout:
    """A plate at 0.6 m; the strainer stands at 0.9 m."""
    baffle = Baffle(metres(0.6), metres(top), None if bottom is None else metres(bottom))
    return with_tank(lifted(), baffle=baffle, return_at=return_at)


def test_a_draw_down_past_the_minimum_level() -> None:
    one = only(drawn(0.108 + HAIR), "draw-down under the minimum level")
    assert (one.severity, one.part) == ("caution", "tank")
    assert one.value == pytest.approx(0.4, abs=1e-4)
    assert one.value < one.threshold == 0.4
    assert "108 L" in one.text
    emptied = only(drawn(0.150), "draw-down under the minimum level")
    assert emptied.advice.startswith("Find room for 42.0 L more between the levels, or lower the minimum ")
    assert not found(drawn(0.108 - HAIR), "draw-down under the minimum level")
    assert not found(lifted(), "draw-down under the minimum level")


def test_an_intake_that_the_draw_down_leaves_bare() -> None:
    """At 0.12 m, under 309.6 L of the 396 that the tank holds at its normal level."""
    one = only(drawn(0.3096 + HAIR, at=(0.9, 0.12)), "intake uncovered by the draw-down")
    assert (one.severity, one.part, one.key) == ("stop", "strainer", "strainer/entrance")
    assert one.value == 0.12 >= one.threshold
    assert not found(drawn(0.3096 - HAIR, at=(0.9, 0.12)), "intake uncovered by the draw-down")
    assert not found(lifted(at=(0.9, 0.39)), "intake uncovered by the draw-down")


def test_a_baffle_that_reaches_the_level() -> None:
    one = only(parted(0.4), "baffle lets nothing pass")
    assert (one.severity, one.part) == ("stop", "tank")
    assert (one.value, one.threshold) == (0.4, 0.4)
    assert "behind it" in one.text
    assert not found(parted(0.4 - HAIR), "baffle lets nothing pass")
    assert not found(parted(0.5), "baffle lets nothing pass", level="normal")
    assert not found(parted(0.5, bottom=0.05), "baffle lets nothing pass")


def test_a_return_on_the_intake_s_side() -> None:
    beside = only(parted(0.3, return_at=point((0.61, 0.2))), "return beside the intake")
    assert (beside.severity, beside.part) == ("note", "strainer")
    assert "both on one side of the baffle" in beside.text
    assert not found(parted(0.3, return_at=point((0.59, 0.2))), "return beside the intake")
    none = only(with_tank(lifted(), return_at=point((0.1, 0.2))), "return beside the intake")
    assert "no baffle between them" in none.text
    assert not found(lifted(), "return beside the intake")


def test_a_return_that_ends_in_the_air() -> None:
    one = only(parted(0.3, return_at=point((0.1, 0.4))), "return above the fluid")
    assert (one.severity, one.part, one.value, one.threshold) == ("caution", "tank", 0.4, 0.4)
    assert not found(parted(0.3, return_at=point((0.1, 0.4 - HAIR))), "return above the fluid")
    assert not found(parted(0.3, return_at=point((0.1, 0.5))), "return above the fluid", level="normal")


def test_a_small_reservoir_says_what_of_it_is_on_the_suction_side() -> None:
    one = only(parted(0.3, return_at=point((0.1, 0.2))), "reservoir volume", reservoir_minutes=10.0)
    assert "198 L of it on the suction side of the baffle" in one.text
    assert "baffle" not in only(lifted(), "reservoir volume", reservoir_minutes=10.0).text


def test_checks_that_go_by_a_level_go_by_the_one_in_use() -> None:
    """At the drawn-down level the intake lies 0.01 m deep."""
    layout = drawn(0.6 * 1.2 * (0.55 - 0.13), at=(0.9, 0.12))
    assert drawn_down(layout.reservoirs["tank"]) == pytest.approx(0.13)
    one = only(layout, "submergence", level="drawn down")
    assert one.value == pytest.approx(0.01)
