"""Reducers, part-open valves, curves and connectors as rows: by hand, by integration, by the standard."""

from __future__ import annotations

import math
from dataclasses import replace

import pytest
from fluids import control_valve
from fluids import fittings as library
from hypothesis import given
from hypothesis import strategies as st
from scipy.integrate import quad

from solver.geometry.outline import bore_at
from solver.layout.kinds import Bend
from solver.layout.parts import Curve
from solver.network import coefficients, rows, screens
from solver.network.build import build
from solver.network.coefficients import FittingError
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, fitting, intake, metres, pump, run
from tests.solver.network.valves import by_kv, crane_friction, lost

LIBRARY = {
    "globe valve": "Valve, Globe valve, standard, β = 1",
    "diaphragm valve": "Valve, Diaphragm, dam type",
    "angle valve": "Valve, Angle valve, 90°, full line size, β = 1",
    "Y-pattern valve": "Valve, Angle valve, 45°, full line size, β = 1",
    "three-way valve, through": "Valve, Plug valve, three-way (flow through)",
    "three-way valve, branch": "Valve, Plug valve, branch flow",
    "plug valve": "Valve, Plug valve, straight through",
    "gate valve": "Valve, Gate valve, standard, β = 1",
    "ball valve": "Valve, Ball valve, standard, β = 1",
    "swing check": "Valve, Swing check",
    "lift check": "Valve, Lift check",
}
HOOPER = {
    "butterfly valve": "Valve, Butterfly,",
    "reduced ball valve": "Valve, Ball, Reduced trim, Beta = 0.9",
    "reduced plug valve": "Valve, Plug, Reduced trim, Beta = 0.8",
    "tilting-disc check": "Valve, Check, Tilting-disc",
}
ELBOWS = {
    ("threaded elbow", 90): "Elbow, 90°, threaded, standard, (r/D = 1)",
    ("threaded elbow", 45): "Elbow, 45°, threaded standard, (r/D = 1)",
    ("threaded long elbow", 90): "Elbow, 90°, threaded, long radius, (r/D = 1.5)",
    ("threaded long elbow", 45): "Elbow, 45°, long radius, (r/D = 1.5)",
    ("mitre", 90): "Elbow, 90°, mitered, 1 weld, (90°)",
    ("mitre", 45): "Elbow, 45°, mitered, 1 weld, (45°)",
    ("two-weld mitre", 90): "Elbow, 90°, 2 welds, (45°)",
    ("two-weld mitre", 45): "Elbow, 45°, mitered, 2 welds, (22.5°)",
    ("three-weld mitre", 90): "Elbow, 90°, 3 welds, (30°)",
}
NPS_2, BORE_2 = 0.0508, 0.0525018


def k(coefficient: coefficients.K | coefficients.Bend, reynolds: float) -> float:
    return coefficient.k_inf + coefficient.k_re / reynolds


# Tables, against the tables of the library fluids


@pytest.mark.parametrize(("kind", "name"), LIBRARY.items())
@pytest.mark.parametrize("reynolds", [50.0, 1e3, 1e6])
def test_darby_s_valves(kind: str, name: str, reynolds: float) -> None:
    ours = k(coefficients.fitting_k(kind, NPS_2, BORE_2), reynolds)
    assert ours == pytest.approx(library.Darby3K(NPS=2.0, Re=reynolds, name=name), rel=1e-9)


@pytest.mark.parametrize(("kind", "name"), HOOPER.items())
@pytest.mark.parametrize("reynolds", [50.0, 1e3, 1e6])
def test_hooper_s_valves(kind: str, name: str, reynolds: float) -> None:
    ours = k(coefficients.fitting_k(kind, NPS_2, BORE_2), reynolds)
    assert ours == pytest.approx(library.Hooper2K(Di=BORE_2 / 0.0254, Re=reynolds, name=name), rel=1e-9)


@pytest.mark.parametrize(("bend", "name"), ELBOWS.items())
def test_darby_s_elbows_and_mitres(bend: tuple[str, int], name: str) -> None:
    kind, degrees = bend
    ours = coefficients.bend_k(kind, 0.0762, math.radians(degrees), BORE_2, NPS_2, 0.0)
    assert k(ours, 500.0) == pytest.approx(library.Darby3K(NPS=2.0, Re=500.0, name=name), rel=1e-9)
    assert ours.note == ""


def test_a_mitre_of_three_welds_at_45_degrees_is_half_of_one_at_90() -> None:
    half, full = (
        coefficients.bend_k("three-weld mitre", 0.0762, math.radians(turn), BORE_2, NPS_2, 0.0)
        for turn in (45, 90)
    )
    assert half.k_re == pytest.approx(full.k_re / 2)
    assert "in proportion to Darby's row for 90°" in half.note


@pytest.mark.parametrize(("kind", "times"), [("foot valve", 75), ("poppet foot valve", 420)])
def test_crane_s_foot_valves(kind: str, times: int) -> None:
    k = coefficients.fitting_k(kind, NPS_2, BORE_2)
    assert k.k_inf == pytest.approx(times * crane_friction(BORE_2), rel=1e-9)
    fitted = library.K_foot_valve_Crane(D=BORE_2, style=int(times == 75))  # to the printed table, rounded
    assert fitted <= k.k_inf <= 1.01 * fitted


def test_every_bend_of_a_drawing_has_coefficients() -> None:
    for bend in Bend:
        assert coefficients.bend_k(bend, 0.0762, math.pi / 2, BORE_2, NPS_2, 0.0).k_re >= 500


# Reducers


@given(st.floats(0.02, 0.2), st.floats(0.3, 0.95), st.floats(0.5, 20.0))
def test_a_cone_s_slow_friction_is_that_of_its_slices(wide: float, ratio: float, slender: float) -> None:
    """Hagen and Poiseuille summed over slices: k_re/Re · ρ v²/2 = ∫ 128 μ Q/(π D⁴) dx."""
    slim, length = wide * ratio, slender * wide
    mu_q = 1.0
    summed, _ = quad(lambda x: 128 * mu_q / (math.pi * (slim + (wide - slim) * x / length) ** 4), 0, length)
    by_k_re = 2 * mu_q / (math.pi * slim**3)  # of one unit of k_re, referred to the slim bore
    widening = coefficients.reducer_k(slim, wide, length)
    assert widening.k_re == pytest.approx(summed / by_k_re, rel=1e-6)
    assert coefficients.reducer_k(wide, slim, length).k_re >= widening.k_re * (1 - 1e-12)


def test_a_reducer_of_no_length_is_a_step_and_a_long_one_is_less() -> None:
    step = coefficients.reducer_k(0.08, 0.05)
    assert step == coefficients.bore_change_k(0.08, 0.05)
    assert coefficients.reducer_k(0.08, 0.05, 0.09).k_inf < 0.3 * step.k_inf
    assert coefficients.reducer_k(0.05, 0.05).k_inf == 0.0


@pytest.mark.parametrize("other", [0.05 - 1e-9, 0.05 + 1e-9])
def test_a_reducer_whose_ends_are_alike_takes_what_one_that_hardly_narrows_takes(other: float) -> None:
    """It had no friction at all, and 100 mm of pipe came free where both ends were typed alike."""
    alike, nearly = coefficients.reducer_k(0.05, 0.05, 0.1), coefficients.reducer_k(0.05, other, 0.1)
    assert alike.k_re == pytest.approx(64 * 0.1 / 0.05)
    assert (alike.k_inf, alike.k_re) == pytest.approx((nearly.k_inf, nearly.k_re), rel=1e-4)


def test_a_very_short_cone_is_nearly_a_step() -> None:
    step, short = coefficients.reducer_k(0.08, 0.05), coefficients.reducer_k(0.08, 0.05, 1e-9)
    assert short.k_inf == pytest.approx(step.k_inf, rel=0.02)
    assert short.k_re == pytest.approx(step.k_re, rel=0.02)


def reduced(wide: float = 0.08, slim: float = 0.05, turned: bool = False, **more: object):
    ends = {"bore": metres(slim), "other_bore": metres(wide)} if turned else {
        "bore": metres(wide), "other_bore": metres(slim)}  # fmt: skip
    reducer = replace(fitting("reducer", (0.9, 0.9), kind="concentric reducer"), **ends, **more)
    return drawing(
        intake(bore=wide),
        reducer,
        pump(bore=slim),
        run("riser", "strainer", "reducer", bore=wide),
        run("lead", "reducer", "pump", bore=slim),
    )


@pytest.mark.parametrize("turned", [False, True])
def test_a_reducer_is_fitted_the_way_round_that_suits_its_lines(turned: bool) -> None:
    built = build(reduced(turned=turned))
    assert [row.key for row in built.rows if row.kind == "bore change"] == []
    row = built.rows[built.index["reducer/concentric reducer"]]
    assert (row.kind, row.bore) == ("device", 0.05)
    assert row.k_inf == coefficients.bore_change_k(0.08, 0.05).k_inf
    assert row.k_inf_back == coefficients.bore_change_k(0.05, 0.08).k_inf
    assert "taken as a step" in row.note
    assert "step" not in build(reduced(length=metres(0.1))).rows[2].note


def test_a_reducer_that_fits_neither_line_leaves_changes_of_bore() -> None:
    layout = reduced()
    layout = replace(layout, runs={**layout.runs, "lead": replace(layout.runs["lead"], bore=metres(0.06))})
    built = build(layout)
    assert [row.key for row in built.rows if row.kind == "bore change"] == [
        "reducer>lead/bore change",
        "lead>pump/bore change",
    ]


def test_between_lines_of_one_bore_a_reducer_still_has_two_ends() -> None:
    layout = reduced()
    one, other = (replace(layout.runs[name], bore=metres(0.06)) for name in ("riser", "lead"))
    part = layout.fittings["reducer"]
    assert {bore_at(part, one, other), bore_at(part, other, one)} == {0.05, 0.08}


@pytest.mark.parametrize("names", [("a", "b"), ("b", "a")])
def test_between_lines_of_one_bore_a_reducer_lies_as_drawn_whatever_they_are_called(
    names: tuple[str, str],
) -> None:
    """It was turned round by the names of its lines, and another name was another margin."""
    part = reduced().fittings["reducer"]
    one, other = (
        run(name, *way, bore=0.06)
        for name, way in zip(names, (("strainer", "reducer"), ("reducer", "pump")), strict=True)
    )
    assert (bore_at(part, one, other), bore_at(part, other, one)) == (0.08, 0.05)
    turned = replace(one, start="reducer", end="strainer"), replace(other, start="pump", end="reducer")
    assert (bore_at(part, *turned), bore_at(part, *reversed(turned))) == (0.05, 0.08)


# Valves by a flow coefficient


def test_kv_is_the_flow_at_one_bar_of_water() -> None:
    assert lost(by_kv(30.0), 30 / 3600, 1000.0, 1e-6) == pytest.approx(1e5, rel=0.01)


@pytest.mark.parametrize("kv", [5.0, 12.0, 30.0, 60.0, 100.0])
@pytest.mark.parametrize("viscosity", [1e-6, 1e-5, 46e-6, 3e-4, 1e-3, 1e-2, 0.1])
def test_slow_flow_through_a_valve_follows_iec_60534(kv: float, viscosity: float) -> None:
    """From a quarter below to a third above the factor of the standard, and in the end equal to it."""
    flow, density, bore = 118 / 60000, 870.0, 50.0
    reynolds = control_valve.Reynolds_valve(viscosity, flow * 3600, bore, 0.9, 0.46, kv)
    full = kv / bore**2 >= 0.0134
    factor = min(control_valve.Reynolds_factor(0.9, kv, bore, reynolds, full), 1.0)
    standard = 1e5 * density / 1000 * (flow * 3600 / (kv * factor)) ** 2
    ratio = lost(by_kv(kv), flow, density, viscosity) / standard
    assert 0.74 < ratio < 1.34
    if reynolds < 0.5:
        assert ratio == pytest.approx(1.0, abs=0.03)


# A maker's curve


def curve(*points: tuple[str, str]) -> Curve:
    drops = tuple((quantity(q, Kind.FLOW), quantity(p, Kind.PRESSURE)) for q, p in points)
    return Curve(drops, quantity("32 cSt", Kind.VISCOSITY), quantity("870 kg/m^3", Kind.DENSITY))


@pytest.mark.parametrize("kind", ["maker's curve", "foot valve", "globe valve", "flexible connector"])
def test_any_device_loses_by_its_maker_s_curve(kind: str) -> None:
    part = replace(
        fitting("d", (0.0, 0.0), kind=kind), curve=curve(("50 L/min", "1 kPa"), ("100 L/min", "3 kPa"))
    )
    assert lost(part, 50 / 60000, 870.0, 32e-6) == pytest.approx(1000.0)
    assert lost(part, 100 / 60000, 870.0, 32e-6) == pytest.approx(3000.0)
    (row,) = rows.fitting_rows(part)
    assert row.source == "the maker's points"


def test_a_curve_is_carried_to_another_fluid_by_its_two_coefficients() -> None:
    """Δp = a μ Q + b ρ Q² by hand: 1 and 3 kPa at 50 and 100 L/min are half viscous at 50."""
    part = replace(
        fitting("d", (0.0, 0.0), kind="maker's curve"),
        curve=curve(("50 L/min", "1 kPa"), ("100 L/min", "3 kPa")),
    )
    thick = lost(part, 50 / 60000, 870.0, 64e-6)
    assert thick == pytest.approx(500.0 * 2 + 500.0)
    heavy = lost(part, 50 / 60000, 1740.0, 16e-6)
    assert heavy == pytest.approx(500.0 + 500.0 * 2)


def test_points_that_no_two_coefficients_meet_say_so() -> None:
    odd = screens.from_points(*_given(("50 L/min", "1 kPa"), ("75 L/min", "9 kPa"), ("100 L/min", "3 kPa")))
    assert "met within" in odd[2]
    assert screens.from_points(*_given(("50 L/min", "1 kPa"), ("100 L/min", "3 kPa")))[2] == ""


def _given(*points: tuple[str, str]):
    maker_curve = curve(*points)
    return maker_curve.drops, maker_curve.viscosity, maker_curve.density


def test_points_need_their_fluid() -> None:
    with pytest.raises(FittingError, match="viscosity and density"):
        screens.from_points(curve(("50 L/min", "1 kPa")).drops, None, None)
    with pytest.raises(FittingError, match="above nothing"):
        screens.from_points((), *_given(("50 L/min", "1 kPa"))[1:])


# The rest


def test_an_intake_may_be_a_foot_valve_with_its_strainer() -> None:
    (bare,) = rows.intake_rows(intake(kind="foot valve"))
    assert (bare.element, bare.kind) == ("entrance", "entrance")
    assert bare.k_inf == coefficients.fitting_k("foot valve", BORE_2, 0.05).k_inf
    assert "with its strainer" in bare.source
