"""A seeded cause is found when the readings tell it apart, and not claimed when they do not."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.answers import inputs
from solver.field import places
from solver.field.causes import CauseKind, without_bypass
from solver.field.explain import Explained, Reading, explain
from solver.field.gauges import Band, Gauge, Tube
from solver.field.places import Place
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import SHIPPED

(PATH,) = (path for path in SHIPPED if path.stem == "carriage-at-altitude")
DRAWN = file.read(PATH).base
GAUGE = Gauge("A", tube=Tube.EMPTY, accuracy=0.01, zero=0.0)
PORT, TAP = Place("carriage"), Place("carriage", "riser", 0.1)


def at(temperature: float) -> Layout:
    return inputs.temperature(DRAWN, ("",), temperature + 273.15, Level.MINIMUM)


def readings(blocked: float, *taken: tuple[float, Place]) -> list[Reading]:
    """Readings of the machine with its screen blocked, at temperatures [degC] and places."""
    out = []
    for temperature, place in taken:
        drawn = at(temperature)
        shown = places.vacuum(solve(inputs.blocked(drawn, ("strainer",), blocked, Level.MINIMUM)), place)
        out.append(Reading(drawn, Level.MINIMUM, place, Band(shown, shown), GAUGE))
    return out


def weight(explained: Explained, kind: CauseKind) -> float:
    return sum(each.weight for each in explained.explanations if each.cause is kind)


def test_weights_are_shares_of_one() -> None:
    explained = explain(readings(0.8, (45.0, PORT)))
    assert sum(each.weight for each in explained.explanations) == pytest.approx(1.0)


def test_a_tap_and_two_temperatures_single_out_a_blocked_screen() -> None:
    explained = explain(readings(0.85, (45.0, PORT), (45.0, TAP), (25.0, PORT), (25.0, TAP)))
    first = explained.explanations[0]
    assert explained.word == "far likelier"
    assert (first.cause, first.part) == (CauseKind.SCREEN, "strainer")
    assert first.low <= 0.85 <= first.high


def test_one_reading_at_the_port_tells_no_cause_from_another() -> None:
    explained = explain(readings(0.85, (45.0, PORT)))
    assert explained.word == "cannot be distinguished"


def test_thicker_fluid_and_colder_fluid_are_never_told_apart_by_the_port_alone() -> None:
    cold = [Reading(at(45.0), Level.MINIMUM, PORT, Band(*2 * (places.vacuum(solve(at(30.0)), PORT),)), GAUGE)]
    assert explain(cold).word == "cannot be distinguished"


def test_what_the_drawing_says_needs_no_cause() -> None:
    explained = explain(readings(0.0, (45.0, PORT), (45.0, TAP), (25.0, PORT), (25.0, TAP)))
    assert explained.explanations[0].cause is CauseKind.NOTHING


def test_a_reading_above_what_is_allowed_is_named() -> None:
    assert explain(readings(0.85, (45.0, PORT))).stop == (0,)


def test_no_reading_is_refused() -> None:
    with pytest.raises(ValueError, match="no reading"):
        explain([])


def test_a_deep_reading_at_rest_does_not_rule_out_a_plugged_breather() -> None:
    read = []
    for resting in (False, True):
        solution = solve(at(45.0))
        drawn = (places.at_rest if resting else places.vacuum)(solution, PORT)
        band = Band(drawn + 3e3, drawn + 3e3)
        read.append(Reading(at(45.0), Level.MINIMUM, PORT, band, GAUGE, resting))
    explained = explain(read)
    assert explained.word != "far likelier"
    assert weight(explained, CauseKind.SURFACE) > 0.1


def test_a_liner_that_is_firm_at_every_reading_is_no_cause_and_one_hardly_warm_a_rare_one() -> None:
    cold = explain(readings(0.0, (-10.0, PORT), (15.0, PORT)))
    firm = next(each for each in cold.explanations if each.cause is CauseKind.HOSE)
    assert firm.weight == 0.0
    assert firm.why_not.startswith("a liner is firm up to 68 °F")
    hardly, warm = (explain(readings(0.0, (each, PORT))) for each in (21.0, 45.0))
    assert 0.0 < weight(hardly, CauseKind.HOSE) < 0.05 * weight(hardly, CauseKind.NOTHING)
    assert weight(warm, CauseKind.HOSE) > 0.05 * weight(warm, CauseKind.NOTHING)


def test_of_a_pair_any_share_of_what_a_breather_took_may_be_left_at_rest() -> None:
    drawn = at(45.0)
    soft = places.vacuum(solve(inputs.blocked(drawn, ("strainer",), 0.9, Level.MINIMUM)), PORT)
    rest = places.at_rest(solve(drawn), PORT)
    shown = ((soft + 6e3, False, drawn), (rest + 3e3, True, drawn))
    both = [
        Reading(layout, Level.MINIMUM, PORT, Band(vacuum, vacuum), GAUGE, resting=resting)
        for vacuum, resting, layout in shown
    ]
    pairs = [each for each in explain(both).explanations if each.second is not None]
    pair = next(
        each
        for each in pairs
        if each.second and {each.cause, each.second.cause} == {CauseKind.SCREEN, CauseKind.SURFACE}
    )
    assert pair.fits
    assert pair.lasted[0] == 0.0
    assert pair.lasted[1] == pytest.approx(3e3, rel=0.3)


def test_of_a_pair_a_screen_with_its_bypass_open_has_a_lower_bound_only() -> None:
    own = DRAWN.intakes["strainer"].screen
    assert own is not None
    point = {
        "bypass": quantity("5 kPa", Kind.PRESSURE),
        "bypass_flow": quantity("400 L/min", Kind.FLOW),
        "bypass_drop": quantity("6 kPa", Kind.PRESSURE),
        "bypass_viscosity": quantity("40 cSt", Kind.VISCOSITY),
    }
    cold = inputs.screen_put(at(25.0), "strainer", replace(own, **point))  # type: ignore[arg-type]
    blocked = solve(inputs.blocked(cold, ("strainer",), 0.95, Level.MINIMUM))
    plateau, rest = places.vacuum(blocked, PORT), places.at_rest(solve(cold), PORT)
    running = Reading(cold, Level.MINIMUM, PORT, Band(plateau, plateau), GAUGE)
    both = [running, replace(running, band=Band(rest, rest), resting=True)]
    halves = [
        half
        for each in explain(both).explanations
        if each.second is not None and each.fits
        for half in (each, each.second)
        if half.cause is CauseKind.SCREEN
    ]
    assert halves
    assert all(half.bound_only for half in halves if half.at_end)
    assert any(half.bound_only for half in halves)


def stuck(blocked: float) -> list[Reading]:
    """Readings of the machine, cold, with its screen blocked and the bypass of it that does not open."""
    bare = without_bypass(at(25.0), "strainer")
    dirty = solve(inputs.blocked(bare, ("strainer",), blocked, Level.MINIMUM))
    shown = ((place, places.vacuum(dirty, place)) for place in (PORT, TAP))
    return [Reading(at(25.0), Level.MINIMUM, place, Band(read, read), GAUGE) for place, read in shown]


def test_a_bypass_that_does_not_open_is_a_cause_where_a_blocked_screen_alone_cannot_be() -> None:
    told = explain(stuck(0.97))
    first = told.explanations[0]
    assert (first.cause, first.part, first.fits) == (CauseKind.STUCK, "strainer", True)
    assert first.low <= 0.97 <= first.high
    screen = next(each for each in told.explanations if each.cause is CauseKind.SCREEN and not each.second)
    assert not screen.fits


def test_a_stuck_bypass_is_no_cause_in_a_size_in_which_it_would_be_shut_anyway() -> None:
    told = explain(readings(0.6, (45.0, PORT), (45.0, TAP)))
    assert weight(told, CauseKind.STUCK) < 0.02
    bare = [replace(each, layout=without_bypass(each.layout, "strainer")) for each in stuck(0.97)]
    assert not any(each.cause is CauseKind.STUCK for each in explain(bare).explanations)
