"""Drawings whose lines run in parallel, and their solutions."""

from __future__ import annotations

from solver.layout import file
from solver.ledger import solve
from solver.ledger.solve import Solution

HEAD = """
format = 1
title = "{title}"
units = "SI"
[site]
elevation = "500 m"
[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "45 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["2.2 m", "0 m"], ["2.2 m", "1 m"], ["0 m", "1 m"]]
depth = "1 m"
normal_level = "0.85 m"
minimum_level = "0.65 m"
"""

INTAKE = """
[intakes.{name}]
reservoir = "tank"
at = ["{x} m", "0.2 m"]
kind = "strainer"
bore = "52 mm"
screen = {{ mesh = "60 per inch", wire = "0.19 mm", area = "0.06 m^2", blocked = {blocked} }}
"""


def part(group: str, name: str, x: float, y: float, bore: str = "52 mm", more: str = "") -> str:
    return f'[{group}."{name}"]\nat = ["{x} m", "{y} m"]\nbore = "{bore}"\n{more}\n'


def pump(name: str, x: float, y: float, flow: str, vacuum: str = "24 kPa") -> str:
    more = f'type = "gear"\nflow = "{flow}"\nlimit = {{ vacuum = "{vacuum}" }}'
    return part("pumps", name, x, y, more=more)


def run(name: str, start: str, end: str, *via: tuple[float, float]) -> str:
    corners = ", ".join(f'["{x} m", "{y} m"]' for x, y in via)
    return f'[runs."{name}"]\nfrom = "{start}"\nto = "{end}"\nvia = [{corners}]\nbore = "52 mm"\n'


def twins(vacuum: str = "24 kPa", flow: str = "160 L/min") -> Solution:
    """Two strainers, the left one blocked, into one header; behind it a tee to a pilot pump."""
    return solved(
        HEAD.format(title="Twins"),
        INTAKE.format(name="left", x=0.5, blocked=0.3),
        INTAKE.format(name="right", x=1.5, blocked=0.0),
        part("tees", "join", 1.5, 1.4),
        part("tees", "split", 2.0, 1.4),
        pump("press", 3.0, 1.4, flow, vacuum),
        pump("pilot", 3.0, 0.7, "25 L/min"),
        run("left riser", "left", "join", (0.5, 1.4)),
        run("right riser", "right", "join"),
        run("header", "join", "split"),
        run("lead", "split", "press"),
        run("pilot leg", "split", "pilot", (2.0, 0.7)),
    )


CORNERS = (
    ("south west", 1.0, 1.5),
    ("north west", 1.0, 3.0),
    ("north east", 3.0, 3.0),
    ("south east", 3.0, 1.5),
)


def ring_text(vacuum: str = "40 kPa") -> str:
    """A square of four lines with a large pump at one corner, which is fed from both sides."""
    return "\n".join(
        (
            HEAD.format(title="Ring"),
            INTAKE.format(name="mouth", x=1.0, blocked=0.0),
            *(part("tees", name, x, y) for name, x, y in CORNERS),
            run("riser", "mouth", "south west"),
            run("west", "south west", "north west"),
            run("north", "north west", "north east"),
            run("east", "north east", "south east"),
            run("south", "south east", "south west"),
            run("to large", "north west", "large"),
            run("to small", "north east", "small"),
            run("to least", "south east", "least"),
            pump("large", 1.0, 4.0, "150 L/min", vacuum),
            pump("small", 3.0, 4.0, "5 L/min"),
            pump("least", 4.0, 1.5, "5 L/min"),
        )
    )


def ring(vacuum: str = "40 kPa") -> Solution:
    """The solution of `ring_text`."""
    return solved(ring_text(vacuum))


def solved(*pieces: str) -> Solution:
    return solve.solve(file.parse("\n".join(pieces), "loops").base)
