"""A pump's margin in words."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.layout import file
from solver.ledger.rounding import RoundedLedger, port_figures
from solver.ledger.sentences import at_port, brief, clause, rounding_note, shortage, verdict
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, to_display
from tests.solver.ledger.lines import INHG, flooded_line, ledger, lift_line, with_limit

LAYOUTS = Path(__file__).parents[3] / "layouts"


def test_within_says_what_the_gauge_shows_of_what_is_allowed():
    within = ledger(lift_line(z=1.1))
    assert verdict(within, System.US) == (
        f"Within: {within.vacuum / INHG:.2f} of {within.allowed_vacuum / INHG:.2f} inHg allowed here"
    )


def test_over_says_by_how_much():
    pump_ledger = ledger(lift_line(z=3.2))
    assert verdict(pump_ledger, System.US) == f"Over by {-pump_ledger.margin / INHG:.2f} inHg"


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("path", sorted(LAYOUTS.glob("*.toml")), ids=lambda path: path.stem)
def test_every_figure_of_a_sentence_is_that_of_the_ledger(path, system) -> None:
    """Digit for digit, though the sum of what each is by itself would come to another last digit."""
    for pump in solve(file.read(path).base).pumps.values():
        figures = RoundedLedger(pump, system)
        vacuum, allowed, margin = (
            to_display(each, Kind.VACUUM, system) for each in port_figures(pump, system)
        )
        assert f"{allowed - vacuum:.2f}" == f"{margin:.2f}" == f"{figures.margin:.2f}"
        if pump.surface == pump.atmosphere and pump.vacuum > 0:
            assert f"{vacuum:.2f}" == f"{figures.spent:.2f}"
            assert f"{allowed:.2f}" == f"{figures.budget:.2f}"
            assert at_port(pump, system)[0].startswith(f"{vacuum:.2f} ")
        if pump.npsh_required is None and pump.budget > 0 and not pump.sound:
            assert shortage(pump, system).startswith(f"over by {-figures.margin:.2f} ")
            assert clause(pump, system).startswith(shortage(pump, system))


@pytest.mark.parametrize(("limit", "reachable"), [("1.2 bar", True), ("1.6 bar", False)])
def test_a_port_under_the_fluid_is_named_only_where_a_tank_can_stand_that_high(limit, reachable):
    without = ledger(with_limit(lift_line(), "pressure", limit))
    assert without.budget < 0
    assert ("under the fluid" in verdict(without, System.SI)) == reachable


def test_a_hair_over_is_never_shown_as_nothing():
    changed = replace(ledger(lift_line()), margin=-1.0)
    assert verdict(changed, System.US) == "Over by less than 0.01 inHg"


def test_a_port_above_the_atmosphere_says_so():
    said = verdict(ledger(flooded_line(-0.8, flow=1e-4)), System.SI)
    assert said.startswith("Within: ")
    assert "kPa above the atmosphere, " in said
    assert "kPa of vacuum allowed here" in said


@pytest.mark.parametrize("vacuum", [4.0, 0.0, -4.0])
def test_a_port_at_the_atmosphere_is_said_so(vacuum):
    changed = replace(ledger(flooded_line(-0.8, flow=1e-4)), vacuum=vacuum)
    assert verdict(changed, System.SI).startswith("Within: the atmosphere's pressure at the port, ")
    assert verdict(changed, System.SI).endswith(" kPa of vacuum allowed here")


def test_npsh_is_judged_in_head():
    within = ledger(with_limit(lift_line(), "npsh", "2 m", Kind.HEAD))
    assert verdict(within, System.SI) == f"Within: {within.npsh_available:.2f} m of NPSH, 2.00 m required"
    over = ledger(with_limit(lift_line(), "npsh", "12 m", Kind.HEAD))
    short = over.npsh_required - over.npsh_available
    if over.budget > 0:
        assert verdict(over, System.SI) == f"{short:.2f} m short of the 12.00 m of NPSH required"
    assert over.margin < 0


def test_what_is_left_is_said_where_figure_and_limit_look_alike():
    spent = ledger(lift_line())
    tight = replace(spent, allowed_vacuum=spent.vacuum + 10.0, margin=10.0)
    assert verdict(tight, System.US).endswith(" inHg allowed here, less than 0.01 inHg left")


def test_a_line_that_is_within_has_its_margin_where_no_lift_would_work():
    """Its pump stands so far under the fluid that it needs no budget above it."""
    flooded = ledger(with_limit(flooded_line(-2.0, flow=1e-4), "pressure", "110 kPa abs", Kind.ABSOLUTE))
    assert flooded.budget < 0 < flooded.margin
    assert brief(flooded, System.SI).startswith("margin ")


@pytest.mark.parametrize("units", System)
@pytest.mark.parametrize("path", sorted(LAYOUTS.glob("*.toml")), ids=lambda path: path.stem)
def test_that_an_entry_reads_otherwise_in_another_ledger_is_said_where_it_does(
    path: Path, units: System
) -> None:
    """A port took 0.72 kPa before and 0.73 after: each ledger adds up."""
    drawn = file.read(path)
    layouts = (drawn.base, *(each.layout for each in drawn.alternatives.values()))
    ledgers = [each for one in layouts for each in solve(replace(one, units=units)).pumps.values()]
    printed: dict[tuple[str, str], set[str]] = {}
    for each in ledgers:
        rounded = RoundedLedger(each, units)
        for entry in each.entries:
            for own, shown in zip((entry.lift, entry.loss), rounded.entry(entry), strict=False):
                printed.setdefault((entry.key, f"{own:.4f}"), set()).add(f"{shown:.2f}")
    assert bool(rounding_note(ledgers, units)) == any(len(figures) > 1 for figures in printed.values())
