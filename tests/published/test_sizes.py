"""Bores of pipe, tube and hose, and wall roughness, against published tables.

Pipe: ASME B36.10M, schedules 40 and 80, inside diameters in inches (from memory, high confidence); walls of
schedules 10 to 160 as the Hydraulic Institute's Engineering Data Library has them (welded and seamless
wrought steel pipe, read in its public repository on 2026-11-27); and independently the metric table of
`fluids.piping`, which is rounded to 0.01 mm of wall and 0.1 mm of outside diameter. Hose: SAE J517, bore in
sixteenths of an inch (read in a public hose selection guide). Tube: SAE J524/J525 and EN 10305, bore =
outside diameter − 2 walls (sizes from memory).
"""

from __future__ import annotations

import pytest
from fluids import piping

from solver.properties import sizes
from tests.published.comparing import Published

INCH = 0.0254

SCHEDULE_40 = {"1/2": 0.622, "3/4": 0.824, "1": 1.049, "1-1/4": 1.380, "1-1/2": 1.610, "2": 2.067,
               "2-1/2": 2.469, "3": 3.068, "4": 4.026, "5": 5.047, "6": 6.065}  # fmt: skip
SCHEDULE_80 = {"1/2": 0.546, "3/4": 0.742, "1": 0.957, "1-1/4": 1.278, "1-1/2": 1.500, "2": 1.939,
               "2-1/2": 2.323, "3": 2.900, "4": 3.826, "5": 4.813, "6": 5.761}  # fmt: skip


@pytest.mark.parametrize(("nps", "inches"), SCHEDULE_40.items())
def test_b36_10_schedule_40(nps: str, inches: float, published: Published) -> None:
    """Exact: outside diameter less two walls, in inches."""
    size = f"NPS {nps} schedule 40"
    published("ASME B36.10M", size, inches, sizes.bore(size) / INCH, "in", abs=1e-9)


@pytest.mark.parametrize(("nps", "inches"), SCHEDULE_80.items())
def test_b36_10_schedule_80(nps: str, inches: float, published: Published) -> None:
    """Exact: outside diameter less two walls, in inches."""
    size = f"NPS {nps} schedule 80"
    published("ASME B36.10M", size, inches, sizes.bore(size) / INCH, "in", abs=1e-9)


# Outside diameter, then walls of schedules 10, 40, 80 and 160 [in]; None where the table or ours has none.
WALLS = {
    "1/8": (0.405, 0.049, 0.068, 0.095, None), "1/4": (0.540, 0.065, 0.088, 0.119, None),
    "3/8": (0.675, 0.065, 0.091, 0.126, None), "1/2": (0.840, 0.083, 0.109, 0.147, 0.188),
    "3/4": (1.050, 0.083, 0.113, 0.154, 0.219), "1": (1.315, 0.109, 0.133, 0.179, 0.250),
    "1-1/4": (1.66, 0.109, 0.140, 0.191, 0.250), "1-1/2": (1.9, 0.109, 0.145, 0.200, 0.281),
    "2": (2.375, 0.109, 0.154, 0.218, 0.344), "2-1/2": (2.875, 0.120, 0.203, 0.276, 0.375),
    "3": (3.5, 0.120, 0.216, 0.300, 0.438), "3-1/2": (4.0, 0.120, 0.226, 0.318, None),
    "4": (4.5, 0.120, 0.237, 0.337, 0.531), "5": (5.563, 0.134, 0.258, 0.375, 0.625),
    "6": (6.625, 0.134, 0.280, 0.432, 0.719), "8": (8.625, 0.148, 0.322, 0.500, 0.906),
    "10": (10.75, 0.165, 0.365, 0.594, None),
}  # fmt: skip


@pytest.mark.parametrize("nps", WALLS)
def test_walls_of_steel_pipe(nps: str, published: Published) -> None:
    """Exact: the table's outside diameter less two of its walls, in inches."""
    outside, *walls = WALLS[nps]
    for schedule, wall in zip((10, 40, 80, 160), walls, strict=True):
        if wall is not None:
            size = f"NPS {nps} schedule {schedule}"
            bore = sizes.bore(size) / INCH
            published("Hydraulic Institute, Data Library", size, outside - 2 * wall, bore, "in", abs=1e-9)


@pytest.mark.parametrize("name", [name for name in sizes.names() if name.startswith("NPS")])
def test_pipe_against_the_rounded_metric_table(name: str) -> None:
    size = sizes.find(name)
    nps, bore, _, _ = piping.nearest_pipe(NPS=round(size.nominal / INCH, 3), schedule=name.rsplit(" ", 1)[1])
    assert nps == pytest.approx(size.nominal / INCH)
    # Outside diameter to 0.1 mm and wall to 0.01 mm: at most 0.05 + 2 · 0.005, and B36.10M rounds
    # 10.75 in to 273.0 and 8.625 in to 219.1.
    assert size.bore * 1000 == pytest.approx(bore * 1000, abs=0.065)


@pytest.mark.parametrize(
    ("dash", "inches"),
    [(8, 0.5), (12, 0.75), (16, 1.0), (20, 1.25), (24, 1.5), (32, 2.0), (40, 2.5), (48, 3.0)],
)
def test_j517_dash_sizes(dash: int, inches: float, published: Published) -> None:
    """Exact: sixteenths of an inch."""
    published("SAE J517", f"hose -{dash}", inches, sizes.bore(f"hose -{dash}") / INCH, "in", abs=1e-9)


@pytest.mark.parametrize(
    ("tube", "millimetres"),
    [
        ("tube 1 x 0.065 in", 0.870 * 25.4),
        ("tube 1.25 x 0.083 in", 1.084 * 25.4),
        ("tube 1.5 x 0.083 in", 1.334 * 25.4),
        ("tube 2 x 0.083 in", 1.834 * 25.4),
        ("tube 28 x 2 mm", 24.0),
        ("tube 35 x 2 mm", 31.0),
        ("tube 42 x 3 mm", 36.0),
    ],
)
def test_tube_bore_is_outside_less_two_walls(tube: str, millimetres: float, published: Published) -> None:
    """Exact."""
    published("SAE J524, EN 10305", tube, millimetres, sizes.bore(tube) * 1000, "mm", abs=1e-6)


@pytest.mark.parametrize(
    ("material", "millimetres"),
    [
        ("commercial steel", 0.0457),
        ("drawn tubing", 0.00152),
        ("galvanised steel", 0.152),
        ("cast iron", 0.259),
        ("asphalted cast iron", 0.122),
    ],
)
def test_moody_roughness(material: str, millimetres: float, published: Published) -> None:
    """Moody (1944), Fig. 1, converted from feet (from memory; any fluid mechanics text prints them). 0.5 %:
    three digits."""
    published("Moody (1944)", material, millimetres, sizes.ROUGHNESS[material] * 1000, "mm", rel=0.005)


@pytest.mark.parametrize(
    ("material", "millimetres"),
    [
        ("rusted steel", 2.0),
        ("rubber hose", 0.01),
        ("stainless steel", 0.002),
        ("copper or brass", 0.002),
        ("plastic", 0.0015),
    ],
)
def test_white_roughness(material: str, millimetres: float, published: Published) -> None:
    """White, Fluid Mechanics, recommended roughness of commercial ducts: rusted steel 2.0 mm, smoothed rubber
    0.01, stainless 0.002, drawn brass 0.002, drawn plastic 0.0015 (two public copies)."""
    ours = sizes.ROUGHNESS[material] * 1000
    published("White, Fluid Mechanics", material, millimetres, ours, "mm", rel=0.005)
