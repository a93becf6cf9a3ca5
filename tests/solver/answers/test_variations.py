"""What each backward question varies: the thing, its range, and a drawing with it."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import running, variations
from solver.layout.parts import Layout, Site
from solver.ledger.solve import PumpLedger, Solution, solve
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import drawing, fitting, intake, metres, run


def solved(layout: Layout) -> tuple[Solution, PumpLedger]:
    solution = solve(layout)
    return solution, solution.pumps["pump"]


def reduced() -> Layout:
    """A riser of 80 mm, a reducer and a lead of 50 mm."""
    reducer = fitting("reducer", (0.9, 1.0), bore=0.08, kind="concentric reducer")
    return drawing(
        intake(bore=0.08),
        replace(reducer, other_bore=metres(0.05)),
        run("riser", "strainer", "reducer", bore=0.08),
        run("lead", "reducer", "pump"),
    )


def test_the_line_is_all_between_reservoir_and_port() -> None:
    _, ledger = solved(reduced())
    assert variations.line_parts(ledger) == ("strainer", "riser", "reducer", "lead")


def test_one_bore_for_the_line_is_that_of_both_ends_of_a_reducer() -> None:
    wide = variations.with_bore(reduced(), ("riser", "reducer", "lead"), bore=metres(0.1))
    reducer = wide.fittings["reducer"]
    assert (reducer.bore, reducer.other_bore) == (metres(0.1), metres(0.1))
    assert wide.runs["lead"].bore == metres(0.1)
    assert wide.intakes["strainer"].bore == metres(0.08), "not asked for"
    sized = variations.with_bore(reduced(), ("riser",), size="NPS 3 schedule 40")
    assert (sized.runs["riser"].bore, sized.runs["riser"].size) == (None, "NPS 3 schedule 40")


def test_a_line_of_several_bores_says_that_its_widest_is_meant() -> None:
    assert variations.bore(*solved(reduced())).from_here == "now up to"
    assert variations.bore(*solved(drawing(run("riser", "strainer", "pump")))).from_here == "now"


def test_a_line_that_is_typed_in_one_bore_already_stays_as_it_is() -> None:
    solution, ledger = solved(drawing(run("riser", "strainer", "pump")))
    varied = variations.bore(solution, ledger)
    assert not varied.alters
    assert solved(varied.change(varied.now))[1].margin == ledger.margin
    assert variations.bore(*solved(reduced())).alters
    sized = drawing(replace(run("riser", "strainer", "pump"), bore=None, size="NPS 2 schedule 40"))
    assert variations.bore(*solved(sized)).alters, "its bends go by the size"


def test_a_port_that_goes_up_loses_its_column_of_fluid() -> None:
    solution, ledger = solved(drawing(run("riser", "strainer", "pump")))
    varied = variations.port_height(solution, ledger)
    assert varied.slope == pytest.approx(ledger.density * 9.80665)
    assert varied.now == 1.5
    assert varied.change(varied.now) is solution.layout
    assert varied.change(1.7).pumps["pump"].at[1].si == pytest.approx(1.7)
    # The first step is as far as the margin would reach, either way.
    steps = varied.step(1000.0, ledger), varied.step(-1000.0, ledger)
    assert steps[0] == pytest.approx(1000.0 / varied.slope) == steps[1]


def test_without_a_slope_the_first_step_is_a_part_of_the_way_to_the_end() -> None:
    solution, ledger = solved(drawing(run("riser", "strainer", "pump")))
    varied = running.density(solution, ledger)
    assert varied.slope == 0.0
    assert varied.step(1.0, ledger) == pytest.approx((varied.worst - varied.now) / 32)
    assert varied.step(-1.0, ledger) == pytest.approx((varied.now - varied.best) / 32)


def test_what_a_ledger_loses_says_how_far_the_first_step_goes() -> None:
    """Laminar losses are in proportion to the flow, but for the velocity head."""
    solution, ledger = solved(drawing(run("riser", "strainer", "pump")))
    varied = running.pump_flow(solution, ledger)
    assert isinstance(varied, variations.Variation)
    lost = sum(entry.loss for entry in ledger.entries)
    assert varied.step(lost, ledger) == pytest.approx(1.2 * ledger.flow)
    assert varied.step(lost / 10, ledger) == pytest.approx(0.12 * ledger.flow)
    assert varied.step(1e9, ledger) == pytest.approx(varied.worst - varied.now)


def test_the_longest_run_is_made_longer_out_of_the_plane() -> None:
    solution, ledger = solved(reduced())
    varied = variations.run_length(solution, ledger)
    assert isinstance(varied, variations.Variation)
    assert varied.meaning == "straight pipe in riser"
    longer = varied.change(varied.now + 3.0)
    assert longer.runs["riser"].out_of_plane.si == pytest.approx(3.0)
    assert longer.runs["lead"].out_of_plane is None


def test_what_cannot_be_varied_says_why() -> None:
    solution, ledger = solved(drawing(run("riser", "strainer", "pump")))
    assert variations.blocked(solution, ledger) == "there is no strainer on the way to the pump"
    one = replace(solution.layout.fluid, viscosity=quantity("46 cSt", Kind.VISCOSITY))
    typed = solved(replace(solution.layout, fluid=one))
    assert running.temperature(*typed) == "the one viscosity typed says nothing of another temperature"


@pytest.mark.parametrize(("height", "pressure"), [(0.0, 101325.0), (1000.0, 89874.6), (3000.0, 70108.5)])
def test_a_barometer_stands_for_the_height_of_the_standard_atmosphere(height: float, pressure: float) -> None:
    """U.S. Standard Atmosphere, 1976: table of pressure over geometric altitude, at geopotential heights."""
    site = Site(barometer=Quantity(f"{pressure} Pa", pressure))
    layout = replace(drawing(run("riser", "strainer", "pump")), site=site)
    assert running.site_elevation(*solved(layout)).now == pytest.approx(height, rel=2e-3, abs=1.0)


def test_without_a_speed_the_flow_is_varied() -> None:
    varied = running.pump_flow(*solved(drawing(run("riser", "strainer", "pump"))))
    assert (varied.kind, varied.now) == (Kind.FLOW, 0.002)
    assert varied.change(0.001).pumps["pump"].flow.si == pytest.approx(0.001)
