"""How high a pump draws an empty line full where it stands, against hydrostatics by hand."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.parts import FluidChoice, Layout
from solver.ledger.dry_lift import dry_lift, held_full, too_slow
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import stand, twins

STANDARD = 101325.0
OIL = FluidChoice("Mineral oil, ISO VG 46", quantity("40 degC", Kind.TEMPERATURE))


def at_site(barometer: str = "101.325 kPa", **figures: str) -> Layout:
    """A pump whose maker lets it prime 2 m of empty line, at a site."""
    kinds = {"priming_speed": Kind.SPEED, "speed": Kind.SPEED, "rated_density": Kind.DENSITY}
    given = stand()
    ((name, pump),) = given.pumps.items()
    typed = {key: quantity(text, kinds[key]) for key, text in figures.items()}
    stated = replace(pump, dry_lift=quantity("2 m", Kind.LENGTH), **typed)  # type: ignore[arg-type]
    site = replace(given.site, elevation=None, barometer=quantity(barometer, Kind.PRESSURE))
    return replace(given, pumps={name: stated}, site=site, fluid=OIL)


def lift(layout: Layout) -> float | None:
    solution = solve(layout)
    (ledger,) = solution.pumps.values()
    return dry_lift(solution, ledger)


def test_the_figure_stands_at_sea_level_and_no_higher_pressure_raises_it() -> None:
    assert lift(at_site()) == pytest.approx(2.0)
    assert lift(at_site("104 kPa")) == pytest.approx(2.0)


def test_thin_air_leaves_the_same_share_of_it() -> None:
    assert lift(at_site("70 kPa")) == pytest.approx(2.0 * 70e3 / STANDARD)


def test_a_fluid_heavier_than_the_maker_s_stands_lower() -> None:
    density = next(iter(solve(at_site()).pumps.values())).density
    lighter = at_site(rated_density=f"{density / 1.25!r} kg/m^3")
    assert lift(lighter) == pytest.approx(2.0 / 1.25)
    assert lift(at_site(rated_density=f"{density * 1.25!r} kg/m^3")) == pytest.approx(2.0)


def test_what_the_tank_lacks_of_the_atmosphere_is_not_there_to_lift_with() -> None:
    layout = at_site()
    ((name, tank),) = layout.reservoirs.items()
    drop = replace(layout, reservoirs={name: replace(tank, breather_drop=quantity("5 kPa", Kind.PRESSURE))})
    density = next(iter(solve(drop).pumps.values())).density
    assert lift(drop) == pytest.approx(2.0 - 5e3 / (density * 9.80665))


def test_no_column_stands_under_the_pressure_at_which_its_fluid_boils() -> None:
    hot = replace(
        at_site(rated_density="1000 kg/m^3"),
        fluid=FluidChoice("Water", quantity("95 degC", Kind.TEMPERATURE)),
    )
    solution = solve(hot)
    (ledger,) = solution.pumps.values()
    by_hand = (STANDARD - ledger.vapor_pressure) / (ledger.density * 9.80665)
    assert by_hand < 2.0
    assert dry_lift(solution, ledger) == pytest.approx(by_hand)


@pytest.mark.parametrize(("speed", "slow"), [("599 rpm", True), ("600 rpm", False)])
def test_under_the_maker_s_priming_speed_it_draws_nothing(speed: str, slow: bool) -> None:
    layout = at_site(priming_speed="600 rpm", speed=speed)
    solution = solve(layout)
    (ledger,) = solution.pumps.values()
    assert too_slow(solution, ledger) is slow
    assert lift(layout) == pytest.approx(0.0 if slow else 2.0)


def test_without_a_figure_none_is_made_up() -> None:
    assert lift(replace(stand(), fluid=OIL)) is None


@pytest.mark.parametrize(
    ("left", "right", "held"),
    [
        ("strainer", "strainer", False),
        ("strainer", "foot valve", False),
        ("foot valve", "strainer", False),
        ("foot valve", "foot valve", True),
    ],
)
def test_a_line_from_two_intakes_runs_empty_through_the_one_without_a_valve(
    left: str, right: str, held: bool
) -> None:
    layout = twins()
    kinds = {"left": left, "right": right}
    fitted = {name: replace(layout.intakes[name], kind=kind) for name, kind in kinds.items()}
    assert held_full(replace(layout, intakes=fitted), "press") is held


@pytest.mark.parametrize(("kind", "held"), [("swing check", True), ("ball valve", False)])
def test_a_check_valve_in_the_line_holds_it(kind: str, held: bool) -> None:
    layout = stand()
    valve = replace(layout.fittings["isolator"], kind=kind)
    assert held_full(replace(layout, fittings={"isolator": valve}), "press") is held
