"""Parts as rows: which coefficients go where."""

from dataclasses import replace

import pytest

from solver.layout.parts import Screen
from solver.network import coefficients, rows
from solver.network.coefficients import FittingError
from solver.properties.sizes import ROUGHNESS
from solver.quantities.units import Quantity
from tests.drawings import drawing, fitting, intake, metres, run

POINTS = Screen(
    drops=((Quantity("100 L/min", 1 / 600), Quantity("0.02 bar", 2000.0)),),
    viscosity=Quantity("32 cSt", 32e-6),
    density=Quantity("870 kg/m^3", 870.0),
    bypass=Quantity("0.2 bar", 20000.0),
)


def test_a_screen_comes_before_the_entrance():
    screen, entrance = rows.intake_rows(intake(kind="strainer", screen=POINTS))
    assert (screen.key, entrance.key) == ("strainer/screen", "strainer/entrance")
    assert (screen.start, entrance.start) == ("reservoir:tank", screen.end)
    assert screen.cap == 20000.0
    drop = screen.viscous * 870 * 32e-6 / 600 + screen.inertial * 870 / 600**2
    assert drop == pytest.approx(2000.0)


def test_an_entrance_takes_its_kind():
    (plain,) = rows.intake_rows(intake(kind="plain end"))
    assert (plain.k_inf, plain.k_re) == coefficients.entrance_k("plain end")[:2]
    assert plain.start == "reservoir:tank"
    assert plain.path == ((0.9, 0.12),)


def test_a_valve_takes_its_table():
    (valve,) = rows.fitting_rows(fitting("isolator", (0.9, 0.9)))
    assert (valve.key, valve.kind) == ("isolator/ball valve", "valve")
    assert valve.k_re == 300


def test_figures_given_for_a_device():
    at = (0.9, 0.9)
    (known,) = rows.fitting_rows(replace(fitting("a", at, kind="known K"), k=2.5))
    assert (known.k_inf, known.k_re, known.kind) == (2.5, 0.0, "device")
    fixed = replace(fitting("a", at, kind="known drop"), drop=Quantity("0.1 bar", 1e4))
    (held,) = rows.fitting_rows(fixed)
    assert (held.read_drop, held.read_mu, held.read_density) == (1e4, pytest.approx(30e-6 * 870), 870.0)
    assert held.read_flow is None
    assert "30 mm²/s and 870 kg/m³ (common practice, no source)" in held.note
    typed = {"viscosity": Quantity("46 cSt", 46e-6), "density": Quantity("880 kg/m^3", 880.0)}
    (grows,) = rows.fitting_rows(replace(fixed, flow=Quantity("100 L/min", 1 / 600), **typed))
    assert (grows.read_flow, grows.read_mu) == (1 / 600, pytest.approx(46e-6 * 880))
    assert "46 mm²/s and 880 kg/m³ (as typed)" in grows.note
    valve = replace(fitting("a", at, kind="flow coefficient"), kv=Quantity("30 m^3/h", 30 / 3600))
    (by_kv,) = rows.fitting_rows(valve)
    assert by_kv.inertial * 999.0 * (30 / 3600) ** 2 == pytest.approx(1e5, rel=2e-3)


def test_a_filter_is_its_screen_and_a_foot_valve_has_both():
    (only,) = rows.fitting_rows(replace(fitting("filter", (0, 0), kind="filter"), screen=POINTS))
    assert (only.start, only.end, only.kind) == ("filter/in", "filter/out", "screen")
    screen, valve = rows.fitting_rows(replace(fitting("foot", (0, 0), kind="foot valve"), screen=POINTS))
    assert (screen.kind, screen.end, valve.kind) == ("screen", valve.start, "valve")


@pytest.mark.parametrize("kind", ["known K", "flow coefficient", "known drop", "filter", "no such thing"])
def test_a_device_without_its_figure_is_refused(kind):
    with pytest.raises(FittingError):
        rows.fitting_rows(fitting("a", (0, 0), kind=kind))


def test_a_run_takes_its_roughness():
    layout = drawing(run("riser", "strainer", "pump"))
    riser = layout.runs["riser"]
    assert rows.run_rows(layout, riser, True, "a", "b")[0].roughness == ROUGHNESS["commercial steel"]
    hose = replace(riser, material="rubber hose")
    assert rows.run_rows(layout, hose, True, "a", "b")[0].roughness == ROUGHNESS["rubber hose"]
    rough = replace(riser, roughness=metres(2e-3))
    assert rows.run_rows(layout, rough, True, "a", "b")[0].roughness == 2e-3


def test_a_bend_has_no_length_but_rises():
    layout = drawing(run("riser", "strainer", "pump", via=[(0.9, 1.0), (1.4, 1.0), (1.4, 1.4), (0.9, 1.4)]))
    row_list = rows.run_rows(layout, layout.runs["riser"], True, "a", "b")
    bends = [row for row in row_list if row.kind == "bend"]
    assert [row.length for row in bends] == [0.0] * 4
    assert bends[0].z_out - bends[0].z_in == pytest.approx(0.075)
    assert bends[0].k_inf > 0
    back = rows.run_rows(layout, layout.runs["riser"], False, "a", "b")
    assert [row.key for row in back] == [row.key for row in row_list][::-1]
    assert [row.z_in for row in back] == [row.z_out for row in row_list][::-1]


def test_equal_bores_make_no_row():
    layout = drawing(run("riser", "strainer", "pump"))
    args = ("strainer", "riser", layout.runs["riser"], layout.intakes["strainer"], ("a", "b"))
    assert rows.bore_change(*args, (0.05, 0.05001)) is None
    change = rows.bore_change(*args, (0.08, 0.05))
    assert (change.key, change.bore, change.kind) == ("strainer>riser/bore change", 0.05, "bore change")
    assert change.k_inf == coefficients.bore_change_k(0.08, 0.05).k_inf
    assert change.k_inf_back == coefficients.bore_change_k(0.05, 0.08).k_inf
