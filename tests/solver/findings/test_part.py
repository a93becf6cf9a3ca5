"""Checks of single parts, each from both sides of its limit."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.layout.parts import Curve, Layout, Screen
from solver.ledger.solve import solve
from solver.properties import sizes
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.solver.checking import HAIR, found, lifted, only, with_pump, with_screen
from tests.solver.geometry.test_leads import fed_from_below


def stroking(**changes: object) -> Layout:
    return with_pump(lifted(), type="reciprocating", speed=Quantity("300 rpm", 5.0), cylinders=3, **changes)


def test_strokes_that_cost_much_of_the_budget() -> None:
    ledger = solve(stroking()).pumps["pump"]
    share = ledger.entries[-2].share
    one = only(stroking(), "acceleration head", acceleration_share=share - HAIR)
    assert (one.severity, one.part, one.key) == ("caution", "pump", "pump/acceleration head")
    assert one.value == pytest.approx(share)
    assert not found(stroking(), "acceleration head", acceleration_share=share + HAIR)
    assert not found(lifted(), "acceleration head", acceleration_share=0.0)


POINTS = (("60 L/min", "1 kPa"), ("120 L/min", "3 kPa"))
DROPS = tuple((quantity(q, Kind.FLOW), quantity(p, Kind.PRESSURE)) for q, p in POINTS)
MEASURED = {
    "viscosity": quantity("32 cSt", Kind.VISCOSITY),
    "density": quantity("870 kg/m^3", Kind.DENSITY),
}


@pytest.mark.parametrize(("flow", "told"), [(0.002 * (1 + 1e-6), True), (0.002, False), (0.0005, False)])
def test_flow_past_the_maker_s_last_point(flow: float, told: bool) -> None:
    line = [
        intake(),
        pump(at=(0.9, 1.5), flow=flow),
        replace(fitting("mixer", (0.9, 0.9), kind="maker's curve"), curve=Curve(DROPS, **MEASURED)),
        run("riser", "strainer", "mixer"),
        run("lead", "mixer", "pump"),
    ]
    hits = found(drawing(*line), "flow beyond the maker's points")
    assert [(hit.severity, hit.part) for hit in hits] == ([("note", "mixer")] if told else [])
    by_screen = with_screen(lifted(flow=flow), **vars_of(Screen(drops=DROPS, **MEASURED)))
    hits = found(by_screen, "flow beyond the maker's points")
    assert [hit.key for hit in hits] == (["strainer/screen"] if told else [])


def vars_of(screen: Screen) -> dict[str, object]:
    return {name: getattr(screen, name) for name in Screen.__dataclass_fields__}


def hose(radius: float, size: str = "hose -32") -> Layout:
    layout = lifted()
    line = replace(layout.runs["riser"], bore=None, size=size, bend_radius=metres(radius))
    return replace(layout, runs={"riser": line})


def test_a_hose_bent_to_its_least_radius() -> None:
    """A -32 suction hose bends to 12 in on its inside: 12 in and half its bore of 2 in on its centre line."""
    least = (12 + 1) * 0.0254
    one = only(hose(least - HAIR), "hose bent too tightly")
    assert (one.severity, one.part) == ("caution", "riser")
    assert one.value < one.threshold == pytest.approx(12 * 0.0254)
    assert not found(hose(least + HAIR), "hose bent too tightly")
    assert not found(hose(0.1, "NPS 2 schedule 40"), "hose bent too tightly")
    assert not found(hose(0.1, "hose -6"), "hose bent too tightly")  # no suction hose, and no figure


def test_least_radii_grow_with_the_hose() -> None:
    from solver.findings.part import LEAST_BENDS

    dashes = list(LEAST_BENDS)
    assert dashes == sorted(dashes)
    assert list(LEAST_BENDS.values()) == sorted(LEAST_BENDS.values())
    assert all(f"hose -{dash}" in sizes.names() for dash in dashes)


def reducing(kind: str, climb: float) -> Layout:
    """A reducer between two lines that climb by so much over a metre each."""
    reducer = replace(fitting("reducer", (1.9, 1.2 + climb), kind=kind, bore=0.08), other_bore=metres(0.05))
    return drawing(
        intake(bore=0.08),
        reducer,
        pump(at=(2.9, 1.2 + 2 * climb)),
        run("riser", "strainer", "reducer", via=[(0.9, 1.2)], bore=0.08),
        run("lead", "reducer", "pump"),
    )


def test_a_concentric_reducer_in_a_level_line() -> None:
    one = only(reducing("concentric reducer", 0.0), "reducer holds air")
    assert (one.severity, one.part, one.value) == ("note", "reducer", pytest.approx(0.015))
    assert found(reducing("concentric reducer", 0.17), "reducer holds air")
    assert not found(reducing("concentric reducer", 0.18), "reducer holds air")
    assert not found(reducing("eccentric reducer", 0.0), "reducer holds air")


def test_a_reducer_before_the_port_is_part_of_the_straight() -> None:
    clear = only(reducing("eccentric reducer", 0.0), "straight before the port", straight_before_port=100.0)
    assert clear.value == pytest.approx(1.0 / 0.05 + (1.0 - 0.075) / 0.08)


def test_a_reducer_that_is_longer_than_its_straights_has_no_room() -> None:
    """Two metres of line, the reducer in their middle: 2.2 m do not go in, 1.9 m do."""
    layout = reducing("eccentric reducer", 0.0)

    def of(length: float | None, at: float = 1.9) -> Layout:
        part = replace(layout.fittings["reducer"], length=None if length is None else metres(length))
        x = metres(at)
        return replace(layout, fittings={"reducer": replace(part, at=(x, part.at[1]))})

    free = only(of(2.2), "reducer without room")
    straights = free.value
    assert (free.severity, free.part, free.threshold) == ("caution", "reducer", 2.2)
    assert straights is not None
    assert 1.5 < straights < 2.0  # the bend of the riser takes some
    assert only(of(straights + 1e-3), "reducer without room").severity == "caution"
    assert not found(of(1.5), "reducer without room")
    near = only(of(0.3, at=2.8), "reducer without room")
    assert (near.severity, near.value, near.threshold) == ("note", pytest.approx(0.1), 0.15)
    assert "Set reducer 0.050 m further from it" in near.advice
    untyped = only(of(None, at=2.87), "reducer without room")
    assert (untyped.severity, untyped.threshold) == ("note", pytest.approx(0.04))
    assert not found(of(None, at=2.85), "reducer without room")


@pytest.mark.parametrize("kind", ["foot valve", "poppet foot valve"])
def test_an_intake_with_a_foot_valve_holds_the_prime(kind: str) -> None:
    layout = with_pump(lifted(), type="centrifugal")
    assert found(layout, "no foot valve")
    held = replace(layout.intakes["strainer"], kind=kind)
    assert not found(replace(layout, intakes={"strainer": held}), "no foot valve")


def test_a_tilting_disc_check_holds_the_prime() -> None:
    line = [intake(), fitting("check", (0.9, 0.3), kind="tilting-disc check"), pump(at=(0.9, 1.5)),
            run("tail", "strainer", "check"), run("riser", "check", "pump")]  # fmt: skip
    layout = with_pump(drawing(*line), type="centrifugal")
    assert not found(layout, "no foot valve")


@pytest.mark.parametrize(("height", "told"), [(1.3, False), (0.9, False), (0.5, True)])
def test_a_line_that_doubles_back_on_a_part(height: float, told: bool) -> None:
    """A pump that is moved past a connector takes its line back over the one before it."""
    corner = () if height == 0.9 else ((0.9, height),)
    line = [
        intake(),
        pump(at=(1.5, height)),
        fitting("connector", (0.9, 0.9), kind="flexible connector"),
        run("foot", "strainer", "connector"),
        run("top", "connector", "pump", corner),
    ]
    layout = drawing(*line)
    if told:
        one = only(layout, "line doubles back")
        assert (one.severity, one.part) == ("caution", "connector")
        assert one.value == pytest.approx(0.4)
        assert "Move connector" in one.advice
    else:
        assert not found(layout, "line doubles back")


@pytest.mark.parametrize(("length", "told"), [(None, False), (0.3, False), (3.0, True)])
def test_a_connector_that_is_longer_than_it_is_drawn(length: float | None, told: bool) -> None:
    layout = fed_from_below()
    typed = None if length is None else metres(length)
    layout = replace(layout, fittings={"joint": replace(layout.fittings["joint"], length=typed)})
    if not told:
        assert not found(layout, "connector longer than drawn")
        return
    one = only(layout, "connector longer than drawn")
    assert (one.severity, one.part, one.value) == ("caution", "joint", 3.0)
    assert one.threshold is not None
    assert 0.3 < one.threshold < 0.5  # the bend takes some of the 0.5 m
    assert "on top of the drawn" in one.text
    with_it, without = (solve(each).pumps["pump"].spent for each in (layout, fed_from_below()))
    assert with_it > without
