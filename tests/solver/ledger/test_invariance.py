"""What may not change a ledger does not, and what makes a line worse does: random drawings, changed.

Each is solved as drawn and once more with its tables in another order, its lengths in feet, a run cut in two
by a joint that takes nothing, a run lengthened, the pumps faster, the site higher, or the fluid thicker.
"""

from __future__ import annotations

import random
import re
from collections.abc import Iterator
from dataclasses import replace
from itertools import pairwise

import pytest

from solver.layout import file
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout
from solver.ledger.solve import PumpLedger, solve
from solver.network.build import NetworkError
from solver.network.screens import wire_cloth
from solver.properties import fluid
from solver.quantities.units import Quantity
from tests.solver.working.test_random import Drawn
from tests.thorough import first

DRAWINGS = first((0, 1, 2, 3, 5, 4, *range(6, 160)), 5)

ROUNDING = 1e-6
"""Share of the budget by which a figure may move as a typed length is turned into feet and back."""

Pumps = dict[str, PumpLedger]


def pumps(layout: Layout) -> Pumps:
    """The ledgers of a drawing; none where it cannot be solved."""
    try:
        return dict(solve(layout).pumps)
    except NetworkError:
        return {}


def base(text: str) -> Layout:
    return file.parse(text, "random").base


def same(before: Pumps, after: Pumps) -> bool:
    """Whether every margin stayed where it was."""
    assert before.keys() == after.keys()
    return all(
        abs(after[name].margin - each.margin) <= ROUNDING * max(abs(each.budget), 1e3)
        for name, each in before.items()
    )


def lost(ledger: PumpLedger) -> float:
    return sum(entry.loss for entry in ledger.entries)


def faster(layout: Layout, factor: float) -> Layout:
    quick = {
        name: replace(pump, flow=Quantity("faster", pump.flow.si * factor))
        for name, pump in layout.pumps.items()
        if pump.flow is not None
    }
    return replace(layout, pumps={**layout.pumps, **quick})


def straight_runs(layout: Layout) -> Iterator[str]:
    return (name for name, run in layout.runs.items() if not run.via)


@pytest.mark.parametrize("number", DRAWINGS)
def test_order_and_units_of_a_file_change_nothing(number: int) -> None:
    text = Drawn(number).text()
    before = pumps(base(text))
    head, *tables = re.split(r"(?m)^(?=\[)", text)
    random.Random(number).shuffle(tables)
    assert same(before, pumps(base(head + "".join(f"{table.rstrip()}\n" for table in tables))))
    in_feet = re.sub(r'"(-?[\d.]+) m"', lambda m: f'"{float(m[1]) / 0.3048:.10f} ft"', text)
    assert in_feet != text
    assert same(before, pumps(base(in_feet)))


@pytest.mark.parametrize("number", DRAWINGS)
def test_a_run_cut_in_two_changes_nothing_and_a_longer_one_loses_more(number: int) -> None:
    layout = base(Drawn(number).text())
    before = pumps(layout)
    name = next(straight_runs(layout))
    run = layout.runs[name]
    ends = zip(layout.joint(run.start).at, layout.joint(run.end).at, strict=True)
    x, y = ((one.si + two.si) / 2 for one, two in ends)
    middle = Fitting(
        "middle of it", (Quantity(f"{x!r} m", x), Quantity(f"{y!r} m", y)), FittingKind.KNOWN_K,
        run.size, run.bore, k=0.0, k_re=0.0,
    )  # fmt: skip
    halves = {name: replace(run, end=middle.name), f"{name} on": replace(run, start=middle.name)}
    halves = {each: replace(half, name=each) for each, half in halves.items()}
    cut = replace(
        layout,
        runs={**layout.runs, **halves},
        fittings={**layout.fittings, middle.name: middle},
    )
    assert same(before, pumps(cut))
    longer = pumps(
        replace(layout, runs={**layout.runs, name: replace(run, out_of_plane=Quantity("1 m", 1.0))})
    )
    if len(layout.intakes) == 1:  # of two lines in parallel the other takes over
        assert all(lost(longer[each]) >= lost(ledger) for each, ledger in before.items())


@pytest.mark.parametrize("number", DRAWINGS)
def test_a_higher_site_has_less_to_spend(number: int) -> None:
    layout = base(Drawn(number).text())
    assert layout.site.elevation is not None
    up = replace(layout.site, elevation=Quantity("higher", layout.site.elevation.si + 50.0))
    after = pumps(replace(layout, site=up))
    assert all(after[name].margin < ledger.margin for name, ledger in pumps(layout).items())


@pytest.mark.parametrize("number", DRAWINGS)
def test_no_share_jumps_with_the_flow(number: int) -> None:
    """0.1 % of flow moves a margin by less than half a hundredth of the budget, or of the losses where these
    are more, also where flow turns turbulent; a third more flow takes more."""
    layout = base(Drawn(number).text())
    before, step, much = (pumps(faster(layout, factor)) for factor in (1.0, 1.001, 1.33))
    for name, ledger in before.items():
        most = 0.005 * max(ledger.budget, lost(ledger))
        assert name not in step or abs(step[name].margin - ledger.margin) <= most
        assert name not in much or lost(much[name]) >= lost(ledger)


@pytest.mark.parametrize("number", DRAWINGS)
def test_a_thicker_fluid_loses_more_but_where_flow_turns_laminar(number: int) -> None:
    layout = base(Drawn(number).text())
    state = fluid.state(layout.fluid)
    thin, thick = (
        replace(layout, fluid=replace(
            layout.fluid,
            density=Quantity("held", state.density),
            viscosity=Quantity("held", state.viscosity * factor),
        ))
        for factor in (1.0, 1.2)
    )  # fmt: skip
    before, after = pumps(thin), pumps(thick)
    for name, ledger in before.items():
        if len(layout.intakes) > 1:
            continue
        other = after[name].entries
        turned = [
            one.key
            for one, two in zip(ledger.entries, other, strict=True)
            if (one.reynolds or 0) > 2000 and (two.reynolds or 0) < 4000
        ]
        if not turned:
            assert lost(after[name]) >= lost(ledger)


def test_a_finer_cloth_of_one_open_share_takes_more() -> None:
    taken = [wire_cloth(wires, 0.4 / wires, 0.05)[:2] for wires in (1000.0, 2000.0, 4000.0, 8000.0)]
    for (viscous, inertial), (finer, finer_inertial) in pairwise(taken):
        assert finer > viscous
        assert finer_inertial >= inertial * (1 - 1e-9)
