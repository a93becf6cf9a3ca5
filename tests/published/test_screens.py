"""Wire cloth, screens and flow coefficients against published figures."""

from __future__ import annotations

import math

import numpy as np
import pytest
from fluids.filters import round_edge_screen
from scipy.optimize import nnls

from solver.formulas import flow as formulas
from solver.network import screens
from tests.published.comparing import Published

INCH = 0.0254
MESH_100 = (100 / INCH, 0.0045 * INCH)


@pytest.mark.parametrize(
    ("mesh", "wire", "micrometres", "open_area"),
    [
        (30, 0.012, 541.9, 41.0),
        (40, 0.010, 381.0, 36.0),
        (60, 0.0075, 232.8, 30.3),
        (80, 0.0055, 177.8, 31.4),
        (100, 0.0045, 139.7, 30.3),
        (200, 0.0021, 73.7, 33.6),
    ],
)
def test_market_grade_wire_cloth(
    mesh: int, wire: float, micrometres: float, open_area: float, published: Published
) -> None:
    """Opening 1/mesh − wire, open area (opening · mesh)²: public mesh glossaries; wires from memory. 0.3 %:
    last digits."""
    opening = float(formulas.screen_opening(mesh / INCH, wire * INCH))
    source = "Market-grade wire cloth"
    published(source, f"{mesh} mesh, opening", micrometres, opening * 1e6, "µm", rel=3e-3)
    share = 100 * (opening * mesh / INCH) ** 2
    published(source, f"{mesh} mesh, open area", open_area, share, "%", rel=3e-3)


def test_armour_and_cannon_100_mesh(published: Published) -> None:
    """Armour and Cannon (1968), AIChE J. 14, 415: 100 mesh of 0.1143 mm wire, 20 gpm of 46 cSt, 854 kg/m³,
    0.05 m²: void 0.612, a 13 563 1/m, Re 0.0213, 958 Pa (f and Re read, geometry terms from memory)."""
    wires, wire = MESH_100
    porosity = formulas.screen_porosity(wires, wire)
    surface = formulas.screen_surface(wires, wire)
    source = "Armour and Cannon (1968)"
    published(source, "100 mesh, void", 0.612, float(porosity), abs=1e-3)
    published(source, "100 mesh, surface", 13563, float(surface), "1/m", rel=1e-4)
    flow, density, viscosity = 20 * 231 * INCH**3 / 60, 854.0, 46e-6
    opening = formulas.screen_opening(wires, wire)
    reynolds = float(flow / 0.05 / (viscosity * surface**2 * opening))
    published(source, "100 mesh, Re in oil", 0.0213, reynolds, abs=5e-5)
    viscous, inertial, note = screens.wire_cloth(wires, wire, 0.05)
    loss = viscous * viscosity * density * flow + inertial * density * flow**2
    assert loss == pytest.approx(958, rel=1e-3)
    assert note == ""


@pytest.mark.parametrize("reynolds", [0.1, 1.0, 10.0, 100.0, 1000.0])
@pytest.mark.parametrize(("mesh", "wire"), [(60, 0.0075), (100, 0.0045), (200, 0.0021)])
def test_armour_and_cannon_over_their_range(reynolds: float, mesh: float, wire: float) -> None:
    """f = 8.61/Re + 0.52 with f = Δp φ² d/(B ρ V²) and Re = ρ V/(μ a² d), each written out by hand."""
    n, w = mesh / INCH, wire * INCH
    crimp = math.hypot(w, 1 / n)
    thickness, opening = 2 * w, 1 / n - w
    porosity = 1 - math.pi / 2 * w * w * n * n * crimp / thickness
    surface = 2 * math.pi * w * n * n * crimp / thickness
    density, mu, area = 870.0, 0.03, 0.05
    speed = reynolds * mu * surface**2 * opening / density
    f = 8.61 / reynolds + 0.52
    exact = f * thickness * density * speed**2 / (porosity**2 * opening)
    viscous, inertial, _ = screens.wire_cloth(n, w, area)
    flow = speed * area
    assert viscous * mu * flow + inertial * density * flow**2 == pytest.approx(exact, rel=1e-12)


def test_usual_screen_tables_are_of_no_use_in_oil() -> None:
    """Blevins's table as `fluids` has it is frozen below Re 20: 3.5 Pa where creeping flow gives 958 Pa."""
    speed = 0.02524
    table = 0.5 * 854 * speed**2 * round_edge_screen(0.303, speed * 139.7e-6 / 46e-6)
    assert table == pytest.approx(3.5, abs=0.1)
    viscous, _, _ = screens.wire_cloth(*MESH_100, 0.05)
    assert viscous * 46e-6 * 854 * speed * 0.05 > 200 * table


def test_creeping_flow_is_of_the_order_of_sampsons_orifices() -> None:
    """Sampson (1891): Δp = 24 μ Q/d³ for a round hole in a thin plate: 440 Pa for the holes alone, so the
    whole cloth is above that and within three times of it."""
    speed, mu, hole = 0.02524, 46e-6 * 854, 139.7e-6
    sampson = 24 * mu * (speed / 0.303 * math.pi / 4 * hole**2) / hole**3
    assert sampson == pytest.approx(440, rel=0.01)
    viscous, _, _ = screens.wire_cloth(*MESH_100, 0.05)
    assert sampson < viscous * mu * speed * 0.05 < 3 * sampson


def test_screen_against_blevins_where_both_hold() -> None:
    """At wire Reynolds numbers of 100 to 400 the two independent correlations are within a factor of two."""
    wires, wire = 60 / INCH, 0.0075 * INCH
    opening = formulas.screen_opening(wires, wire)
    share = (opening * wires) ** 2
    viscosity, density = 1e-6, 998.0
    viscous, inertial, _ = screens.wire_cloth(wires, wire, 1.0)
    for reynolds in (100.0, 400.0):
        speed = reynolds * viscosity / opening
        ours = viscous * viscosity * density * speed + inertial * density * speed**2
        theirs = 0.5 * density * speed**2 * round_edge_screen(share, reynolds)
        assert 0.5 < ours / theirs < 2


@pytest.mark.parametrize("seed", range(20))
def test_points_against_scipys_nonnegative_least_squares(seed: int) -> None:
    """scipy.optimize.nnls on the same equations."""
    rng = np.random.default_rng(seed)
    flow, drop = np.sort(rng.uniform(2e-4, 5e-3, 5)), np.sort(rng.uniform(100, 2e4, 5))
    mu, density = 0.03, 870.0
    columns = np.column_stack([mu * flow, density * flow**2])
    scale = columns.max(axis=0)
    theirs, _ = nnls(columns / scale, drop)
    fitted = screens.fit(list(zip(flow.tolist(), drop.tolist(), strict=True)), mu, density)
    np.testing.assert_allclose(fitted, theirs / scale, rtol=1e-6, atol=1e-6)


def test_flow_coefficients_by_their_definitions(published: Published) -> None:
    """IEC 60534: Kv in m³/h at 1 bar, Cv in gallons a minute at 1 psi, of water; Cv = 1.156 Kv."""
    kv = screens.flow_coefficient(kv=10 / 3600)
    assert kv * 999.1 * (10 / 3600) ** 2 == pytest.approx(1e5, rel=1.5e-3)
    cv = screens.flow_coefficient(cv=10 * screens.GALLON / 60)
    assert cv * 999.0 * (10 * screens.GALLON / 60) ** 2 == pytest.approx(6894.757, rel=1.5e-3)
    published("IEC 60534", "Cv/Kv", 1.156, math.sqrt(cv / kv), rel=1e-3)
