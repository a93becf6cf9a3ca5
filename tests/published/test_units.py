"""Units against the definitions of NIST and the viscosity scale of ASTM, as a file may hold them."""

from __future__ import annotations

import pytest

from solver.quantities.units import Kind, UnitError, quantity
from tests.published.comparing import Published

UNITS = [
    ("1 inHg", Kind.PRESSURE, 3386.389, "Pa"),
    ("1 mmHg", Kind.PRESSURE, 133.3224, "Pa"),
    ("1 psi", Kind.PRESSURE, 6894.757, "Pa"),
    ("1 gal", Kind.VOLUME, 0.003785411784, "m³"),
    ("62.4 lb/ft^3", Kind.DENSITY, 999.552, "kg/m³"),
    ("1 in^2/s", Kind.VISCOSITY, 645.16e-6, "m²/s"),
]


@pytest.mark.parametrize(("text", "kind", "si", "unit"), UNITS)
def test_units_of_nist(text: str, kind: Kind, si: float, unit: str, published: Published) -> None:
    """NIST SP 811, Appendix B, mercury at 0 °C: 0.003 %, and the gallon exactly."""
    published("NIST SP 811", text, si, quantity(text, kind).si, unit, rel=3e-5)


@pytest.mark.parametrize(
    ("one", "other", "ratio"),
    [
        ("1 psi", "1 inHg", 2.03602),
        ("1 atm", "1 inHg", 29.9213),
        ("1 bar", "1 inHg", 29.5300),
        ("1 kPa", "1 inHg", 0.295300),
    ],
)
def test_pressures_in_inches_of_mercury(one: str, other: str, ratio: float, published: Published) -> None:
    """NIST SP 811: last digits."""
    ours = quantity(one, Kind.PRESSURE).si / quantity(other, Kind.PRESSURE).si
    published("NIST SP 811", f"{one} in inHg", ratio, ours, "inHg", rel=3e-5)


D2161 = {
    4: 39.20,
    7: 48.79,
    10: 58.84,
    20: 97.82,
    32: 150.49,
    46: 214.19,
    68: 315.50,
    100: 463.46,
    216: 1000.64,
}


@pytest.mark.parametrize(("centistokes", "seconds"), D2161.items())
def test_saybolt_seconds(centistokes: float, seconds: float, published: Published) -> None:
    """ASTM D2161 at 100 °F (equation from memory, evaluated by another library): 0.02 %."""
    ours = quantity(f"{seconds} SUS", Kind.VISCOSITY).si * 1e6
    published("ASTM D2161", f"{seconds} SUS", centistokes, ours, "cSt", rel=2e-4)


def test_7500_saybolt_seconds(published: Published) -> None:
    """A gear pump's ceiling at the start (public page), 1619 cSt by D2161: 0.1 %."""
    ours = quantity("7500 SUS", Kind.VISCOSITY).si * 1e6
    published("ASTM D2161", "7500 SUS", 1619, ours, "cSt", rel=1e-3)


def test_esposito_2_12(published: Published) -> None:
    """Esposito, Fluid Power with Applications, Example 2-12 (public collection): 230 SUS is 50.0 cSt, by the
    text's short formula 0.220 t − 135/t. Tolerance 1.5 %: D2161 gives 232.6 s for 50 cSt."""
    ours = quantity("230 SUS", Kind.VISCOSITY).si * 1e6
    published("Esposito, Fluid Power", "Ex. 2-12 230 SUS", 50.0, ours, "cSt", rel=0.015)


@pytest.mark.parametrize(
    ("text", "kind"),
    [
        ("600 barrel/h", Kind.FLOW),
        ("600 bbl/h", Kind.FLOW),
        ("10 inHg_60F", Kind.PRESSURE),
        ("10 inH2O", Kind.PRESSURE),
    ],
)
def test_units_with_two_definitions_are_refused(text: str, kind: Kind) -> None:
    """A dry barrel is 28 % off a barrel of oil, which is how a published solution of Crane's Example 7-8 went
    wrong; mercury and water columns hang on a temperature."""
    with pytest.raises(UnitError):
        quantity(text, kind)
