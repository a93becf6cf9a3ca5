"""Two lines that join in a tee: their split from handbooks alone, beside the program's own."""

from __future__ import annotations

import random
from dataclasses import dataclass

import pytest
from scipy.optimize import brentq

from solver.layout import file
from solver.ledger.solve import solve
from tests.solver.ledger.handbook import ENTRANCES, Stream, blend, crane, darby, right_angle

DENSITY = 880.0


@dataclass
class Feed:
    """One of two lines from the tank to the tee: an entrance, a valve, a corner, and what the tee takes."""

    kind: str
    valve: str
    hidden: float

    def loss(self, stream: Stream, drawn: float, corners: int) -> float:
        """Up to the tee, of lines as long as drawn [m]."""
        bends = corners * right_angle(stream, "mitre", 0.0, 45e-6)
        friction = stream.straight(drawn + self.hidden, 45e-6)
        return (
            stream.k(ENTRANCES[self.kind], 160) + stream.k(*darby(self.valve, stream.bore)) + bends + friction
        )


def joined(whole: Stream, flow: float, branch_flow: float, turns: bool) -> float:
    """What a leg takes by which flow joins in a tee of one bore, no leg of it near rest."""
    leg = Stream(flow, whole.bore, whole.density, whole.viscosity)
    s, y = flow / whole.flow, branch_flow / whole.flow

    def curve(at: float) -> float:
        if turns:
            return (0.9 * (1 - at) if at <= 0.4 else 0.55) * (1 + at**2 - 2 * (1 - at) ** 2)
        return 1.55 * at - at**2

    low = int(y * 100) / 100
    k = curve(low) + (y - low) * 100 * (curve(low + 0.01) - curve(low))
    if not turns or s > 0.4:
        k = max(k, (60 if turns else 20) * crane(whole.bore) * s**2)
    if turns:
        w = blend(whole.reynolds, 4000)
        slow = 2 * k + 150 / max(whole.reynolds, 1000) - 800 * s / whole.reynolds
        k = w * k + (1 - w) * max(k, slow)
    return k * whole.q + (800 if turns else 200) / leg.reynolds * leg.q


class Lines:
    """A drawing at random of two lines into one header."""

    def __init__(self, seed: int) -> None:
        dice = random.Random(seed)
        self.whole = Stream(
            dice.uniform(30, 300) / 6e4, dice.uniform(0.03, 0.08), DENSITY, 10 ** dice.uniform(-6, -3.3)
        )
        kinds, valves = ["plain end", "bell-mouth"], ["gate valve", "globe valve", "swing check"]
        self.on, self.round = (
            Feed(dice.choice(kinds), dice.choice(valves), dice.uniform(0, 4)) for _ in range(2)
        )
        self.port = dice.uniform(0.6, 1.5)

    def difference(self, share: float) -> float:
        """By how much more the line straight on takes with a share of the flow than the other [Pa]."""
        on, branch = (share * self.whole.flow, (1 - share) * self.whole.flow)
        one, two = (Stream(flow, self.whole.bore, DENSITY, self.whole.viscosity) for flow in (on, branch))
        of_one = self.on.loss(one, self.port - 0.1 + 2.5, 1) + joined(self.whole, on, branch, False)
        of_two = self.round.loss(two, self.port + 0.9 + 4.0, 2)
        of_two += joined(self.whole, branch, branch, True)
        return of_one - of_two

    @property
    def share(self) -> float:
        return float(brentq(self.difference, 0.04, 0.96, xtol=1e-12))

    @property
    def text(self) -> str:
        bore = f'bore = "{self.whole.bore!r} m"'
        z, wall = self.port, 'roughness = "45e-6 m"\nbend = "mitre"'
        parts = [
            'format = 1\ntitle = "Two lines"\n[site]\nelevation = "0 m"\n[fluid]\nname = "Test fluid"',
            f'temperature = "40 degC"\ndensity = "{DENSITY} kg/m^3"\nvapor_pressure = "0 Pa"',
            f'viscosity = "{self.whole.viscosity!r} m^2/s"\ndissolved_air = 0\n[reservoirs.tank]',
            'depth = "2 m"\nnormal_level = "0.55 m"\nminimum_level = "0.5 m"',
            'outline = [["0 m", "0 m"], ["2 m", "0 m"], ["2 m", "0.6 m"], ["0 m", "0.6 m"]]',
            f'[tees.tee]\nat = ["4 m", "{z!r} m"]\n{bore}\n[pumps.pump]\nat = ["5 m", "{z!r} m"]\n{bore}',
            f'type = "gear"\nflow = "{self.whole.flow!r} m^3/s"\nlimit = {{ pressure = "1 kPa" }}',
            f'[runs.lead]\nfrom = "tee"\nto = "pump"\n{bore}\n{wall}',
        ]
        for name, feed, x, height in (("on", self.on, 1.5, z), ("round", self.round, 1.0, z + 1)):
            via = f'["{x} m", "{height!r} m"]'
            down = f'["4 m", "{height!r} m"]' if name == "round" else ""
            parts += [
                f'[intakes.{name}]\nreservoir = "tank"\nat = ["{x} m", "0.1 m"]\n{bore}',
                f'kind = "{feed.kind}"',
                f'[fittings."{name} valve"]\nat = ["3 m", "{height!r} m"]\nkind = "{feed.valve}"\n{bore}',
                f'[runs."{name} rise"]\nfrom = "{name}"\nto = "{name} valve"\nvia = [{via}]\n{bore}\n{wall}',
                f'[runs."{name} header"]\nfrom = "{name} valve"\nto = "tee"\nvia = [{down}]\n{bore}\n{wall}',
                f'out_of_plane = "{feed.hidden!r} m"',
            ]
        return "\n".join(parts)


def check(seed: int) -> bool:
    lines = Lines(seed)
    if lines.difference(0.04) * lines.difference(0.96) > 0:
        return False  # nearly all of it comes by one line
    solution = solve(file.parse(lines.text, f"two lines {seed}").base)
    rows = {row.part: abs(flow) for row, flow in zip(solution.network.rows, solution.flows, strict=True)}
    assert rows["on header"] / lines.whole.flow == pytest.approx(lines.share, abs=1e-6), seed
    return True


def test_a_split_between_two_random_lines_is_that_of_handbooks() -> None:
    assert check(2)


@pytest.mark.random
def test_splits_between_hundreds_of_random_lines_are_those_of_handbooks() -> None:
    assert sum(check(seed) for seed in range(400)) > 250
