"""Friction and kinetic factors against their definitions. Worked examples of lines: see test_lines."""

from __future__ import annotations

from decimal import Decimal, getcontext

import numpy as np
import pytest

from solver.formulas import flow
from solver.network import losses
from tests.published.comparing import Published


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


REFERENCE = [
    (4000, 0, 0.0399070140556), (4000, 0.001, 0.0409103898628), (1e4, 0, 0.0308829503535),
    (1e4, 0.001, 0.0323818063631), (1e4, 0.01, 0.0431265847068), (1e5, 0, 0.0179897730843),
    (1e5, 0.0001, 0.0185138660775), (1e5, 0.001, 0.0221745359445), (1e5, 0.01, 0.0385035435273),
    (1e5, 0.05, 0.0717809294411), (1e6, 0, 0.0116450409980), (1e6, 0.0001, 0.0134414376925),
    (1e6, 0.001, 0.0199434658405), (1e7, 0.0001, 0.0121660809589), (1e8, 0.000001, 0.0064325565197),
]  # fmt: skip


@pytest.mark.parametrize(("reynolds", "ratio", "factor"), REFERENCE)
def test_colebrook_reference_values(
    reynolds: float, ratio: float, factor: float, published: Published
) -> None:
    """Colebrook (1939) with 3.7 and 2.51, computed outside to 30 digits, of which 12 are given."""
    ours = float(flow.colebrook(reynolds, ratio, 1.0))
    published("Colebrook (1939)", f"Re {reynolds:g}, ε/D {ratio:g}", factor, ours, rel=1e-11)


def test_colebrook_against_its_exact_root() -> None:
    """Re 4e3 to 1e8, roughness 0 to 0.05: to 1e-12 of the root, as Clamond (2009) promises."""
    reynolds = np.geomspace(4e3, 1e8, 25)
    ratios = np.array([0.0, *np.geomspace(1e-6, 0.05, 14)])
    ours, _ = flow.colebrook_steps(*np.meshgrid(reynolds, ratios, indexing="ij"))
    exact = np.array([[_exact(r, e) for e in ratios] for r in reynolds])
    np.testing.assert_allclose(ours, exact, rtol=1e-12)


@pytest.mark.parametrize("reynolds", [100.0, 500.0, 1000.0, 2000.0])
def test_laminar_is_64_over_re(reynolds: float, published: Published) -> None:
    """Hagen and Poiseuille: exact."""
    f, _ = losses.friction(np.array([reynolds]), np.array([0.001]))
    published("Hagen and Poiseuille", f"f at Re {reynolds:g}", 64 / reynolds, float(f[0]), rel=1e-14)


@pytest.mark.parametrize(("n", "alpha"), [(6, 1.0768), (7, 1.0584), (10, 1.0306)])
def test_turbulent_kinetic_factor_is_that_of_the_power_law(
    n: int, alpha: float, published: Published
) -> None:
    """α = (n+1)³(2n+1)³/(4n⁴(n+3)(2n+3)) of the 1/n power profile. Ours is 1.05 for any turbulent flow, near
    that of the 1/7 power; 1/6 and 1/10 are the ends, 0.03 off."""
    exact = (n + 1) ** 3 * (2 * n + 1) ** 3 / (4 * n**4 * (n + 3) * (2 * n + 3))
    assert exact == pytest.approx(alpha, abs=1e-4)
    published(
        "Power-law profile", f"α of the 1/{n} power", alpha, float(losses.kinetic_factor(1e5)), abs=0.03
    )


def test_laminar_kinetic_factor_by_quadrature(published: Published) -> None:
    """∫ (2(1 − r²))³ 2r dr over the bore: exactly 2."""
    r = (np.arange(20000) + 0.5) / 20000
    quadrature = float(np.mean((2 * (1 - r**2)) ** 3 * 2 * r))
    published("Hagen and Poiseuille", "α laminar", quadrature, float(losses.kinetic_factor(500.0)), rel=1e-6)
