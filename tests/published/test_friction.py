"""Friction against the exact root of Colebrook's equation and against worked examples.

The textbook examples were read in public collections of worked solutions, as each test says by book and
number; where a book is at hand, the book wins.
"""

from __future__ import annotations

from decimal import Decimal, getcontext
from typing import Any

import numpy as np
import pytest

from solver import formulas, losses

PSI, FOOT, INCH, GPM = 6894.757293, 0.3048, 0.0254, 231 * 0.0254**3 / 60


def _exact(reynolds: float, ratio: float) -> float:
    """Colebrook's equation solved to 40 digits by fixed point."""
    getcontext().prec = 40
    re, e, ln10 = Decimal(reynolds), Decimal(ratio), Decimal(10).ln()
    x = Decimal(8)
    for _ in range(100):
        new = -2 * ((e / Decimal("3.7") + Decimal("2.51") * x / re).ln() / ln10)
        if abs(new - x) < Decimal("1e-25"):
            break
        x = new
    return float(1 / x**2)


def _drop(
    *, flow: float, bore: float, density: float, viscosity: float, **row: float
) -> tuple[float, float, float]:
    """Loss [Pa], Reynolds number and friction factor of one element."""
    plain: dict[str, float] = dict.fromkeys(
        ("length", "roughness", "k_inf", "k_re", "viscous", "inertial", "fixed"), 0.0
    )
    columns: dict[str, Any] = {
        name: np.array([value]) for name, value in (plain | row | {"bore": bore, "cap": np.inf}).items()
    }
    drops = losses.drop(columns, np.array([flow]), density, viscosity)
    return float(drops.loss[0]), float(drops.reynolds[0]), float(drops.friction_factor[0])


REFERENCE = [
    (4000, 0, 0.0399070140556), (4000, 0.001, 0.0409103898628), (1e4, 0, 0.0308829503535),
    (1e4, 0.001, 0.0323818063631), (1e4, 0.01, 0.0431265847068), (1e5, 0, 0.0179897730843),
    (1e5, 0.0001, 0.0185138660775), (1e5, 0.001, 0.0221745359445), (1e5, 0.01, 0.0385035435273),
    (1e5, 0.05, 0.0717809294411), (1e6, 0, 0.0116450409980), (1e6, 0.0001, 0.0134414376925),
    (1e6, 0.001, 0.0199434658405), (1e7, 0.0001, 0.0121660809589), (1e8, 0.000001, 0.0064325565197),
]  # fmt: skip


@pytest.mark.parametrize(("reynolds", "ratio", "factor"), REFERENCE)
def test_colebrook_reference_values(reynolds: float, ratio: float, factor: float) -> None:
    """Colebrook (1939) with 3.7 and 2.51, computed outside to 30 digits."""
    assert formulas.colebrook(reynolds, ratio, 1.0) == pytest.approx(factor, rel=1e-11)


def test_colebrook_against_its_exact_root() -> None:
    """Re 4e3 to 1e8, roughness 0 to 0.05: to 1e-12 of the root, as Clamond (2009) promises."""
    reynolds = np.geomspace(4e3, 1e8, 25)
    ratios = np.array([0.0, *np.geomspace(1e-6, 0.05, 14)])
    found, _ = formulas.colebrook_steps(*np.meshgrid(reynolds, ratios, indexing="ij"))
    exact = np.array([[_exact(r, e) for e in ratios] for r in reynolds])
    np.testing.assert_allclose(found, exact, rtol=1e-12)


@pytest.mark.parametrize("reynolds", [100.0, 500.0, 1000.0, 2000.0])
def test_laminar_is_64_over_re(reynolds: float) -> None:
    """Hagen and Poiseuille."""
    f, _ = losses.friction(np.array([reynolds]), np.array([0.001]))
    assert f[0] == pytest.approx(64 / reynolds, rel=1e-14)


def test_esposito_4_1_and_4_3() -> None:
    """Esposito, Fluid Power with Applications: 100 cSt, SG 0.9, 10 ft/s, 100 ft of 1 in: Re 774, 60 psi.

    The book rounds; 62.4 lb/ft³ for water.
    """
    flow = 10 * FOOT * np.pi / 4 * INCH**2
    loss, reynolds, _ = _drop(flow=flow, bore=INCH, density=0.9 * 999.55, viscosity=100e-6, length=100 * FOOT)
    assert reynolds == pytest.approx(774, rel=3e-3)
    assert loss / PSI == pytest.approx(60, rel=5e-3)


def test_esposito_4_2_and_4_4() -> None:
    """Esposito: ν 0.001 m²/s, 5 m/s, 50 m of 50 mm, 8800 N/m³: Re 250, 28.7 bar."""
    loss, reynolds, _ = _drop(
        flow=5 * np.pi / 4 * 0.05**2, bore=0.05, density=8800 / 9.80665, viscosity=0.001, length=50.0
    )
    assert reynolds == pytest.approx(250, rel=1e-12)
    assert loss / 1e5 == pytest.approx(28.7, rel=3e-3)


def test_sullivan_5_2() -> None:
    """Sullivan, Fluid Power: Theory and Applications, 4th ed., Example 5.2: 15 gpm, SG 0.85, 0.08 in²/s,
    400 ft of 1 in: Re 919, 71.7 psi (the text's constants round by 0.25 %)."""
    loss, reynolds, _ = _drop(
        flow=15 * GPM, bore=INCH, density=850.0, viscosity=0.08 * INCH**2, length=400 * FOOT
    )
    assert reynolds == pytest.approx(919, rel=2e-3)
    assert loss / PSI == pytest.approx(71.7, rel=5e-3)


def test_munson_8_2() -> None:
    """Munson, Young and Okiishi, Example 8.2: μ 0.40 Pa·s, 900 kg/m³, 20 mm, 2e-5 m³/s, 10 m: 20.4 kPa."""
    loss, reynolds, _ = _drop(flow=2e-5, bore=0.02, density=900.0, viscosity=0.4 / 900, length=10.0)
    assert reynolds == pytest.approx(2.86, abs=0.01)
    assert loss / 1e3 == pytest.approx(20.4, abs=0.05)


def test_munson_8_3() -> None:
    """Munson Example 8.3: corn syrup, 0.0038 lb·s/ft², 2.05 slug/ft³, 0.5 ft³/s, 6 ft of 3 in: 119 lb/ft²."""
    density = 2.05 * 515.3788
    loss, reynolds, _ = _drop(
        flow=0.5 * FOOT**3,
        bore=0.25 * FOOT,
        density=density,
        viscosity=0.0038 * 47.88026 / density,
        length=6 * FOOT,
    )
    assert reynolds == pytest.approx(1374, rel=2e-3)
    assert loss / 47.88026 == pytest.approx(119, rel=2e-3)


def test_cengel_8_1() -> None:
    """Cengel and Cimbala, Example 8-1: glycerin, 1252 kg/m³, 0.3073 Pa·s, 3 m/s, 70 m of 40 mm: 1291 kPa."""
    loss, reynolds, _ = _drop(
        flow=3 * np.pi / 4 * 0.04**2, bore=0.04, density=1252.0, viscosity=0.3073 / 1252, length=70.0
    )
    assert reynolds == pytest.approx(489, rel=1e-3)
    assert loss / 1e3 == pytest.approx(1291, rel=1e-3)


def test_cengel_8_3() -> None:
    """Cengel and Cimbala, Example 8-3: water, 0.006 m³/s, 60 m of 50 mm, ε 0.002 mm: f 0.0172, 96.4 kPa."""
    loss, _, f = _drop(
        flow=0.006, bore=0.05, density=999.0, viscosity=1.138e-3 / 999, length=60.0, roughness=2e-6
    )
    assert f == pytest.approx(0.0172, rel=3e-3)
    assert loss / 1e3 == pytest.approx(96.4, rel=3e-3)


def test_cengel_8_8() -> None:
    """Cengel and Cimbala, Example 8-8: 89 m of 50 mm cast iron, minor losses 2.36, 0.006 m³/s, lift 4 m less:
    f 0.0315, upper level 31.8 m."""
    loss, _, f = _drop(
        flow=0.006,
        bore=0.05,
        density=999.7,
        viscosity=1.307e-3 / 999.7,
        length=89.0,
        roughness=0.26e-3,
        k_inf=0.5 + 2 * 0.3 + 0.2 + 1.06,
    )
    assert f == pytest.approx(0.0315, rel=2e-3)
    assert 4 + loss / (999.7 * 9.81) == pytest.approx(31.8, rel=2e-3)


def test_crane_7_1() -> None:
    """Crane TP-410M, Example 7-1: water in smooth 50 mm pipe, Re 100 600: f 0.0179."""
    f, _ = losses.friction(np.array([100600.0]), np.array([0.0]))
    assert f[0] == pytest.approx(0.0179, abs=1e-4)


def test_crane_7_8_oil() -> None:
    """Crane TP-410M, Example 7-8: 600 oil barrels an hour of SAE 30, 60 m of 200 mm schedule 40 and a globe
    valve of K 340 · 0.014: 6382 Pa."""
    loss, reynolds, _ = _drop(
        flow=600 * 0.158987294928 / 3600,
        bore=0.20274,
        density=869.2,
        viscosity=0.13 / 869.2,
        length=60.0,
        k_inf=340 * 0.014,
    )
    assert reynolds == pytest.approx(1113, rel=1e-3)
    assert loss == pytest.approx(6382, rel=2e-3)


def test_sullivan_5_5() -> None:
    """Sullivan, Example 5.5: 50 gpm of SG 0.91 oil in 1 in through minor losses of 16.505: 42.1 psi."""
    k = 0.78 + 1.0 + 10 + 4 * 0.9 + 0.75 + 0.375
    assert k == pytest.approx(16.505)
    loss, _, _ = _drop(flow=50 * GPM, bore=INCH, density=910.0, viscosity=40e-6, k_inf=k)
    assert loss / PSI == pytest.approx(42.1, rel=5e-3)


@pytest.mark.parametrize(
    ("k", "flow", "bore", "head"),
    [(10, 12.2 * FOOT * np.pi / 4 * INCH**2, INCH, 23.1 * FOOT), (0.19, 0.02, 0.05, 1.01)],
)
def test_esposito_4_6_and_4_7(k: float, flow: float, bore: float, head: float) -> None:
    """Esposito, Examples 4-6 and 4-7: a globe valve of K 10 at 30 gpm in 1 in, a gate valve of K 0.19.

    The book rounds 30 gpm in 1 in to 12.2 ft/s (12.26), and so do we here.
    """
    loss, _, _ = _drop(flow=flow, bore=bore, density=900.0, viscosity=100e-6, k_inf=k)
    assert loss / (900 * 9.80665) == pytest.approx(head, rel=7e-3)


@pytest.mark.parametrize(("n", "alpha"), [(6, 1.0768), (7, 1.0584), (10, 1.0306)])
def test_turbulent_kinetic_factor_is_that_of_the_power_law(n: int, alpha: float) -> None:
    """α = (n+1)³(2n+1)³/(4n⁴(n+3)(2n+3)); ours, 1.05, is near the 1/7 power's."""
    exact = (n + 1) ** 3 * (2 * n + 1) ** 3 / (4 * n**4 * (n + 3) * (2 * n + 3))
    assert exact == pytest.approx(alpha, abs=1e-4)
    assert losses.kinetic_factor(1e5) == pytest.approx(exact, abs=0.03)


def test_laminar_kinetic_factor_by_quadrature() -> None:
    """∫ (2(1 − r²))³ 2r dr over the bore: exactly 2."""
    r = (np.arange(20000) + 0.5) / 20000
    assert losses.kinetic_factor(500.0) == pytest.approx(np.mean((2 * (1 - r**2)) ** 3 * 2 * r), rel=1e-6)
