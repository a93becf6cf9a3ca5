"""The losses of a suction line once more, from handbooks: nothing of the solver is used here.

Constants are typed anew from their sources: Darby (2001), Hooper (1981, 1988), Rennels and Hudson (2012),
Crane TP-410, Armour and Cannon (1968), Colebrook (1939), Churchill (1977), U.S. Standard Atmosphere 1976,
ASTM D341. What has no source, as the blends between laminar and turbulent flow, is as DEVELOPERS.md says.
"""

from __future__ import annotations

import math
from dataclasses import dataclass
from itertools import pairwise
from typing import Any

G = 9.80665
SEA = 101325.0


def blend(reynolds: float, end: float) -> float:
    x = min(max((reynolds - 2000) / (end - 2000), 0.0), 1.0)
    return x * x * (3 - 2 * x)


def colebrook(reynolds: float, ratio: float) -> float:
    root = 8.0
    for _ in range(60):
        root = -2 * math.log10(ratio / 3.7 + 2.51 * root / reynolds)
    return root**-2


def churchill(reynolds: float, ratio: float) -> float:
    a = (2.457 * math.log(1 / ((7 / reynolds) ** 0.9 + 0.27 * ratio))) ** 16
    return 8 * ((8 / reynolds) ** 12 + (a + (37530 / reynolds) ** 16) ** -1.5) ** (1 / 12)


def friction(reynolds: float, ratio: float) -> float:
    if reynolds <= 2000:
        return 64 / reynolds
    w = blend(reynolds, 3000)
    f = math.exp((1 - w) * math.log(64 / reynolds) + w * math.log(colebrook(reynolds, ratio)))
    if reynolds >= 5000:
        return f
    gone = min(max((reynolds - 4000) / 1000, 0.0), 1.0)
    return max(f, (0.995 - 0.035 * gone**2 * (3 - 2 * gone)) * churchill(reynolds, ratio))


@dataclass
class Stream:
    """What flows through one bore."""

    flow: float
    bore: float
    density: float
    viscosity: float

    @property
    def velocity(self) -> float:
        return self.flow / (math.pi / 4 * self.bore**2)

    @property
    def reynolds(self) -> float:
        return self.velocity * self.bore / self.viscosity

    @property
    def q(self) -> float:
        return self.density * self.velocity**2 / 2

    @property
    def alpha(self) -> float:
        return 2 - 0.95 * blend(self.reynolds, 4000)

    def at(self, bore: float) -> Stream:
        return Stream(self.flow, bore, self.density, self.viscosity)

    def k(self, k_inf: float, k_re: float) -> float:
        return (k_inf + k_re / self.reynolds) * self.q

    def straight(self, length: float, roughness: float) -> float:
        return friction(self.reynolds, roughness / self.bore) * length / self.bore * self.q


DARBY = {
    "gate valve": (300, 0.037, 3.9),
    "ball valve": (300, 0.017, 3.5),
    "plug valve": (300, 0.084, 3.9),
    "globe valve": (1500, 1.70, 3.6),
    "angle valve": (1000, 0.69, 4.0),
    "diaphragm valve": (1000, 0.69, 4.9),
    "swing check": (1500, 0.46, 4.0),
    "lift check": (2000, 2.85, 3.8),
    "threaded elbow": (800, 0.14, 4.0),
    "mitre": (1000, 0.27, 4.0),
}
HOOPER = {"butterfly valve": (800, 0.25), "tilting-disc check": (1000, 0.5)}
ENTRANCES = {"plain end": 1.0, "wall nozzle": 0.5, "strainer": 0.5, "bell-mouth": 0.04}


SCHEDULE_40 = (
    (0.5, 0.622), (0.75, 0.824), (1, 1.049), (1.25, 1.38), (1.5, 1.61), (2, 2.067), (2.5, 2.469), (3, 3.068),
    (3.5, 3.548), (4, 4.026), (5, 5.047), (6, 6.065), (8, 7.981), (10, 10.02), (12, 11.938),
)  # fmt: skip
"""Nominal size and bore of ASME B36.10M pipe [in]."""


def nominal(bore: float) -> float:
    """Of the schedule 40 pipe of equal bore, interpolated [m]."""
    inches = bore / 0.0254
    for (low, from_bore), (high, to_bore) in pairwise(SCHEDULE_40):
        if from_bore <= inches <= to_bore:
            return (low + (high - low) * (inches - from_bore) / (to_bore - from_bore)) * 0.0254
    raise ValueError(bore)


def darby(name: str, bore: float) -> tuple[float, float]:
    k1, ki, kd = DARBY[name]
    return ki * (1 + kd / (nominal(bore) / 0.0254) ** 0.3), k1


def crane(bore: float) -> float:
    return 0.25 / math.log10(0.0018 * 0.0254 / (3.7 * bore)) ** 2


def change(stream: Stream, d_in: float, d_out: float, length: float | None = None) -> float:
    """A step between two bores, or a cone of a length between them."""
    if length is None and abs(d_in - d_out) <= 1e-3 * max(d_in, d_out):
        return 0.0
    slim, wide = min(d_in, d_out), max(d_in, d_out)
    local, beta = stream.at(slim), slim / wide
    reynolds = local.reynolds
    smooth = colebrook(1e5, 0.0)
    angle = math.pi if length is None else 2 * math.atan((wide - slim) / (2 * length))
    half = math.sin(angle / 2)
    wall = 0.0 if length is None else smooth * (1 - beta**4) / (8 * half)
    wall_slow = 0.0 if length is None else 64 * length * (1 - beta**3) / (3 * (wide - slim))
    if d_out < d_in:
        factor = 1.6 * half if angle <= math.pi / 4 else math.sqrt(half)
        jet = 1 + 0.622 * (angle / math.pi) ** 0.8 * (1 - 0.215 * beta**2 - 0.785 * beta**5)
        rennels = 0.0696 * half * (1 - beta**5) * jet**2 + (jet - 1) ** 2 + wall
        fast = max(rennels, factor * (0.6 + 0.48 * 0.0461) * (1 - beta**2))
        slow = max(fast, factor * 1.2 * (1 - beta**4))
        k_re = max(factor * 160 * (1 - beta**4) / beta, wall_slow)
        end = 2500 / beta
        return local.k(max(fast, slow * min(end / reynolds, 1.0) ** 2), k_re)
    borda = (1 - beta**2) ** 2
    slow = min(2.6 * half, 1.0) * 2 * (1 - beta**4)
    degrees = math.degrees(angle)
    if length is None:
        fast = borda
    elif degrees <= 20:
        fast = 8.3 * math.tan(angle / 2) ** 1.75 * borda + wall
    elif degrees <= 60:
        narrow = 3.28 * max(0.0625 - beta**4, 0.0) * math.sqrt((degrees - 20) / 40)
        sine = math.sin(2 * math.radians(degrees - 15))
        fast = (1.366 * math.sqrt(sine) - 0.170 - narrow) * borda + wall
    else:
        narrow = 3.28 * max(0.0625 - beta**4, 0.0)
        fast = (1.205 - narrow - min(12.8 * beta**6, 0.2) * math.sqrt((degrees - 60) / 120)) * borda
    w = blend(reynolds, 4000)
    return local.k((1 - w) * slow + w * fast, wall_slow)


def right_angle(stream: Stream, kind: str, radius: float, roughness: float) -> float:
    if kind in DARBY:
        return stream.k(*darby(kind, stream.bore))
    f, half, over = colebrook(1e5, roughness / stream.bore), math.sqrt(0.5), radius / stream.bore
    k_inf = f * math.pi / 2 * over + (0.10 + 2.4 * f) * half + 6.6 * f * (math.sqrt(half) + half) / over**2
    return stream.k(k_inf, max(800.0, 64 * math.pi / 2 * over))


def screen(stream: Stream, figures: dict[str, Any]) -> float:
    mu, rho, flow = stream.viscosity * stream.density, stream.density, stream.flow
    free = 1 - figures["blocked"]
    if "mesh" in figures:
        n, d = figures["mesh"], figures["wire"]
        crimp = math.sqrt(1 + (n * d) ** 2)
        porosity, surface = 1 - math.pi / 4 * n * d * crimp, math.pi * n * crimp
        opening, speed = 1 / n - d, flow / (figures["area"] * free)
        reynolds = rho * speed / (mu * surface**2 * opening)
        loss = (8.61 / reynolds + 0.52) * 2 * d * rho * speed**2 / (porosity**2 * opening)
    else:
        points, at_mu, at_rho = (
            figures["drops"],
            figures["viscosity"] * figures["density"],
            figures["density"],
        )
        if len(points) == 1:
            at, drop = points[0]
            laminar = Stream(at, stream.bore, at_rho, figures["viscosity"]).reynolds < 2000
            part = 1.0 if laminar else 0.5
            viscous, inertial = part * drop / (at_mu * at), (1 - part) * drop / (at_rho * at**2)
        else:  # a curve through two points
            (one, low), (two, high) = points
            inertial = (high / two - low / one) / (two - one) / at_rho
            viscous = (low / one - inertial * at_rho * one) / at_mu
        loss = viscous * mu * flow / free + inertial * rho * flow**2 / free**2
    opens = figures.get("bypass")
    if opens is None or loss <= opens:
        return loss
    over = 0.5 * opens * mu / (30e-6 * 870.0)
    return opens + over / (loss + over) * (loss - opens)


def tee_leg(whole: Stream, flow: float, branch_flow: float, turns: bool) -> float:
    """A leg by which flow leaves a tee of one bore."""
    leg = Stream(flow, whole.bore, whole.density, whole.viscosity)
    s, y = flow / whole.flow, branch_flow / whole.flow

    def curve(at: float) -> float:
        if turns:
            return (1 + 0.3 * at**2) ** 2
        return (2.0 if at <= 0.5 else 0.3) * (2 * at - 1) * at**2

    low = min(math.floor(y * 100), 99) / 100
    k = curve(low) + (y - low) * 100 * (curve(low + 0.01) - curve(low))
    k = max(k, (60 if turns else 20) * crane(whole.bore) * s**2)
    if turns:
        reynolds, w = whole.reynolds, blend(whole.reynolds, 4000)
        slow = (1 + min(0.9 + s, 1.8 - s / 2)) * (1 + s**2) + 150 / max(reynolds, 1000) - 800 * s / reynolds
        k = w * k + (1 - w) * max(k, slow, 2 * (1 - s**2))
    return k * whole.q + (800 if turns else 200) / leg.reynolds * leg.q


def station(elevation: float) -> float:
    height = 6356766.0 * elevation / (6356766.0 + elevation)
    return SEA * (1 - 0.0065 * height / 288.15) ** 5.25588


def walther(points: tuple[tuple[float, float], tuple[float, float]], kelvin: float) -> float:
    (t1, v1), (t2, v2) = points
    y1, y2 = (math.log10(math.log10(v * 1e6 + 0.7)) for v in (v1, v2))
    slope = (y1 - y2) / (math.log10(t2) - math.log10(t1))
    return (10**10 ** (y1 - slope * math.log10(kelvin / t1)) - 0.7) * 1e-6
