"""What is past anything that can be built is refused where it is typed, with what is allowed."""

from pathlib import Path

import pytest

from solver.layout.file import LayoutErrors, parse
from solver.ledger.solve import solve
from solver.network.build import NetworkError

SHIPPED = Path(__file__).resolve().parents[3] / "layouts" / "baler-flooded.toml"
TEXT = SHIPPED.read_text("utf-8")

PAST = [
    ('elevation = "40 m"', 'barometer = "10000 bar"', "site.barometer", "from 100 to 2000 mbar"),
    ('elevation = "40 m"', 'barometer = "1 mbar"', "site.barometer", "from 100 to 2000 mbar"),
    ('displacement = "63 cm^3/rev"', 'flow = "1e12 L/min"', "pumps.baler.flow", "1000 m^3/s"),
    ('displacement = "63 cm^3/rev"', 'displacement = "1e6 m^3/rev"', "pumps.baler.displacement", "100 m^3"),
    ('speed = "1480 rpm"', 'speed = "1e9 rpm"', "pumps.baler.speed", "600000 rpm"),
    ('bore = "42 mm"', 'bore = "1e-9 m"', "pumps.baler.bore", "from 0.1 mm to 20 m"),
    ('bore = "42 mm"', 'bore = "30 m"', "pumps.baler.bore", "from 0.1 mm to 20 m"),
    ('depth = "0.6 m"', 'depth = "0.6 m"\npressure = "-2 bar"', "reservoirs.tank.pressure", "vacuum"),
    ('start_viscosity = "1000 cSt"', 'start_viscosity = "1e18 cSt"', "pumps.baler.start_viscosity", "cSt"),
    ('start_viscosity = "1000 cSt"', 'start_viscosity = "1e-9 cSt"', "pumps.baler.start_viscosity", "cSt"),
    ('depth = "0.6 m"', 'depth = "1e9 m"', "reservoirs.tank.depth", "100 km"),
]


@pytest.mark.parametrize(("stood", "typed", "key", "allowed"), PAST)
def test_past_anything_built(stood, typed, key, allowed):
    assert stood in TEXT
    with pytest.raises(LayoutErrors) as refused:
        parse(TEXT.replace(stood, typed, 1))
    assert any(each.key == key and allowed in each.allowed for each in refused.value.problems)


@pytest.mark.parametrize(
    "typed", ['pressure = "-1 bar"', 'pressure = "-0.99 bar"'], ids=["below a vacuum", "nearly"]
)
def test_a_surface_below_a_perfect_vacuum_is_no_surface(typed):
    """At 40 m the standard atmosphere is 1.0085 bar, less the 0.03 bar allowed for weather."""
    drawing = parse(TEXT.replace('depth = "0.6 m"', f'depth = "0.6 m"\n{typed}', 1))
    with pytest.raises(NetworkError, match="perfect vacuum") as refused:
        solve(drawing.base)
    assert refused.value.problems[0][0] == "tank"
