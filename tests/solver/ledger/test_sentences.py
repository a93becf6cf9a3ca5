"""A pump's margin in words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.layout import file
from solver.ledger.sentences import brief, clause, decimals, shortage, verdict
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System
from tests.solver.ledger.lines import INHG, flooded_line, ledger, lift_line, with_limit

LAYOUTS = Path(__file__).parents[3] / "layouts"


def test_within_says_what_the_gauge_shows_of_what_is_allowed():
    within = ledger(lift_line(z=1.1))
    assert verdict(within, System.US) == (
        f"Within: {within.vacuum / INHG:.1f} of {within.allowed_vacuum / INHG:.1f} inHg allowed here"
    )


def test_over_says_by_how_much():
    pump_ledger = ledger(lift_line(z=3.2))
    assert verdict(pump_ledger, System.US) == f"Over by {-pump_ledger.margin / INHG:.1f} inHg"


def test_a_figure_that_stands_alone_has_the_usual_decimals() -> None:
    """Beside figure and limit it needs more of them to add up; a sentence of its own reads as the column."""
    press = solve(file.read(LAYOUTS / "winter-press.toml").base).pumps["press"]
    assert decimals(press, System.US) > 0
    over = press.shortfall / INHG
    assert clause(press, System.US) == f"over by {over:.1f} inHg (limit estimated)"
    assert shortage(press, System.US) != shortage(press, System.US, alone=True)


@pytest.mark.parametrize(("limit", "reachable"), [("1.2 bar", True), ("1.6 bar", False)])
def test_a_port_under_the_fluid_is_named_only_where_a_tank_can_stand_that_high(limit, reachable):
    without = ledger(with_limit(lift_line(), "pressure", limit))
    assert without.budget < 0
    assert ("under the fluid" in verdict(without, System.SI)) == reachable


def test_a_hair_over_is_never_shown_as_nothing():
    changed = replace(ledger(lift_line()), margin=-1.0)
    assert verdict(changed, System.US) == "Over by less than 0.1 inHg"


def test_a_port_above_the_atmosphere_says_so():
    said = verdict(ledger(flooded_line(-0.8, flow=1e-4)), System.SI)
    assert said.startswith("Within: ")
    assert "kPa above the atmosphere, " in said
    assert "kPa of vacuum allowed here" in said


@pytest.mark.parametrize("vacuum", [40.0, 0.0, -40.0])
def test_a_port_at_the_atmosphere_is_said_so(vacuum):
    changed = replace(ledger(flooded_line(-0.8, flow=1e-4)), vacuum=vacuum)
    assert verdict(changed, System.SI).startswith("Within: the atmosphere's pressure at the port, ")
    assert verdict(changed, System.SI).endswith(" kPa of vacuum allowed here")


def test_npsh_is_judged_in_head():
    within = ledger(with_limit(lift_line(), "npsh", "2 m", Kind.HEAD))
    assert verdict(within, System.SI) == f"Within: {within.npsh_available:.1f} m of NPSH, 2.00 m required"
    over = ledger(with_limit(lift_line(), "npsh", "12 m", Kind.HEAD))
    short = over.npsh_required - over.npsh_available
    if over.budget > 0:
        assert verdict(over, System.SI) == f"{short:.2f} m short of the 12.0 m of NPSH required"
    assert over.margin < 0


def test_what_is_left_is_said_where_figure_and_limit_look_alike():
    spent = ledger(lift_line())
    tight = replace(spent, allowed_vacuum=spent.vacuum + 20.0, margin=20.0)
    assert verdict(tight, System.US).endswith(" inHg allowed here, less than 0.1 inHg left")


def test_a_line_that_is_within_has_its_margin_where_no_lift_would_work():
    """Its pump stands so far under the fluid that it needs no budget above it."""
    flooded = ledger(with_limit(flooded_line(-2.0, flow=1e-4), "pressure", "110 kPa abs", Kind.ABSOLUTE))
    assert flooded.budget < 0 < flooded.margin
    assert brief(flooded, System.SI).startswith("margin ")
