"""Figures of a ledger as shown add up, and none is further from its own value than rounding makes it."""

from __future__ import annotations

import math
from dataclasses import replace
from pathlib import Path

import pytest

from solver.layout import file as layout_file
from solver.ledger.rounding import (
    RoundedLedger,
    in_decimals,
    in_writing,
    is_at_port,
    port_figures,
    shown_pressure,
)
from solver.ledger.solve import solve
from solver.quantities.adding import as_shown
from solver.quantities.units import Kind, System, to_display
from tests import drawings

LAYOUTS = sorted((Path(__file__).parents[3] / "layouts").glob("*.toml"))


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("file", LAYOUTS, ids=lambda file: file.stem)
def test_what_is_quoted_elsewhere_is_rounded_from_its_own_value(file: Path, system: System) -> None:
    """What only a ledger shows is a last digit away from its own at most, and a half for what rounds it."""
    for ledger in solve(layout_file.read(file).base).pumps.values():
        figures = RoundedLedger(ledger, system)
        for name in ("surface", "floor", "margin"):
            own = to_display(getattr(ledger, name), Kind.VACUUM, system)
            assert getattr(figures, name) == pytest.approx(own, abs=0.005001)
        assert figures.budget == pytest.approx(to_display(ledger.budget, Kind.VACUUM, system), abs=0.0101)
        for entry in ledger.entries:
            own_two = (to_display(each, Kind.VACUUM, system) for each in (entry.lift, entry.loss))
            assert figures.entry(entry)[:2] == pytest.approx(tuple(own_two), abs=0.0101)


@pytest.mark.parametrize("system", System)
@pytest.mark.parametrize("file", LAYOUTS, ids=lambda file: file.stem)
def test_what_is_allowed_is_the_air_less_the_floor_as_both_are_shown(file: Path, system: System) -> None:
    for solution in (solve(each.layout) for each in layout_file.read(file).alternatives.values()):
        for ledger in solution.pumps.values():
            air, floor = (as_shown(each, Kind.ABSOLUTE, system) for each in (ledger.atmosphere, ledger.floor))
            vacuum, allowed, margin = port_figures(ledger, system)
            assert as_shown(allowed, Kind.VACUUM, system) == air - floor
            assert as_shown(vacuum, Kind.VACUUM, system) == air - floor - as_shown(
                margin, Kind.VACUUM, system
            )


def test_entries_beside_the_walk_are_in_no_sum_and_rounded_each_by_itself() -> None:
    ledger = solve(drawings.ring()).pumps["large"]
    figures = RoundedLedger(ledger, System.SI)
    for entry in ledger.parallel_entries:
        lift, loss, both, _ = figures.entry(entry)
        assert (lift, loss) == (round(entry.lift / 1000, 2), round(entry.loss / 1000, 2))
        assert both == pytest.approx(lift + loss)


def test_a_figure_that_is_no_sum_of_the_others_keeps_its_own_value() -> None:
    ledger = replace(solve(drawings.ring()).pumps["large"], spent=9_123_456.0, inlet=math.nan)
    figures = RoundedLedger(ledger, System.SI)
    assert figures.spent == 9123.46
    assert math.isnan(figures.inlet)


def test_a_figure_in_writing_is_never_a_negative_nothing() -> None:
    assert (in_writing(-0.001), in_writing(-1.2), str(in_decimals(1.239))) == ("0.00", "−1.20", "1.24")


def test_a_pressure_that_was_added_up_in_another_order_is_that_at_the_port() -> None:
    ledger = solve(drawings.ring()).pumps["large"]
    assert is_at_port(math.nextafter(ledger.inlet, 0.0), ledger)
    assert not is_at_port(ledger.inlet - 1.0, ledger)
    for system in System:
        other, own = (shown_pressure(each, ledger, system) for each in (ledger.inlet - 1e-9, ledger.inlet))
        assert other == own
