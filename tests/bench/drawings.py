"""Drawings of any size to measure with: a line that goes up and down in steps, a valve on every tread."""

from __future__ import annotations

import math

from solver.layout import file
from solver.layout.parts import Layout

HEAD = """
format = 1
title = "A line of {count} steps"
units = "SI"
[site]
elevation = "0 m"
[fluid]
name = "Mineral oil, ISO VG 46"
temperature = "45 degC"
[reservoirs.tank]
outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "2 m"], ["0 m", "2 m"]]
depth = "1 m"
normal_level = "1.5 m"
minimum_level = "1.2 m"
[intakes.mouth]
reservoir = "tank"
at = ["0.5 m", "0.5 m"]
kind = "strainer"
bore = "52.5 mm"
screen = {{ mesh = "60 per inch", wire = "0.19 mm", area = "0.06 m^2" }}
[pumps.pump]
at = ["{end:.3f} m", "{top:.3f} m"]
bore = "52.5 mm"
type = "vane"
flow = "{flow}"
limit = {{ vacuum = "30 kPa" }}
"""

VALVE = """
[fittings.v{i}]
at = ["{x:.3f} m", "{y:.3f} m"]
kind = "ball valve"
bore = "52.5 mm"
"""

RUN = """
[runs.r{i}]
from = "{near}"
to = "{far}"
via = [["{corner:.3f} m", "{y:.3f} m"]]
bore = "52.5 mm"
"""


def text(elements: int, flow: str = "30 L/min") -> str:
    """A drawing of about that many elements: strainer, then straight, bend, straight and valve by turns.

    At the flow it has of itself, a line of up to 200 elements is within its budget.
    """
    count = max(1, math.ceil((elements - 2) / 4))
    step, rise = 1.0, 0.3
    base = 2.3
    top = base + rise
    parts = [HEAD.format(count=count, end=0.5 + step * count, top=top, flow=flow)]
    near = "mouth"
    for i in range(count):
        y = top - rise * ((count - 1 - i) % 2)
        x = 0.5 + step * (i + 1)
        far = "pump" if i == count - 1 else f"v{i}"
        if far != "pump":
            parts.append(VALVE.format(i=i, x=x, y=y))
        parts.append(RUN.format(i=i, near=near, far=far, corner=0.5 + step * i, y=y))
        near = far
    return "\n".join(parts)


def layout(elements: int) -> Layout:
    return file.parse(text(elements), f"{elements} elements").base
