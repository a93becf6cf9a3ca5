"""A suction line drawn at random as plain figures, written as a drawing file, and calculated by itself."""

from __future__ import annotations

import math
import random
from dataclasses import dataclass, field
from itertools import pairwise
from typing import Any

from tests.solver.ledger.handbook import (
    DARBY,
    ENTRANCES,
    HOOPER,
    SEA,
    G,
    Stream,
    change,
    crane,
    darby,
    nominal,
    right_angle,
    screen,
    station,
    tee_leg,
    walther,
)

VALVES = tuple(row for row in DARBY if row not in ("threaded elbow", "mitre", "angle valve"))


@dataclass
class Line:
    """One line drawn at random: its tables as text, and what they come to."""

    seed: int
    tables: list[str] = field(default_factory=list)
    taken: list[tuple[str, float]] = field(default_factory=list)  # by what, in walking order [Pa]

    def __post_init__(self) -> None:
        self.dice = random.Random(self.seed)
        dice = self.dice
        self.of_fluid()
        self.of_tank()
        self.flow, self.branch_flow = dice.uniform(20, 200) / 6e4, 0.0
        self.tee = dice.random() < 0.35
        if self.tee:
            self.branch_flow = self.flow * dice.uniform(0.05, 3.0)
        whole = self.flow + self.branch_flow
        # 0.2 to 2.5 m/s in the line
        self.bore = math.sqrt(whole / dice.uniform(0.2, 2.0) / (math.pi / 4))
        self.stream = Stream(whole, self.bore, self.density, self.viscosity)
        self.port, self.joined = dice.uniform(-0.3, 1.8), None
        self.of_line()
        self.of_pump()

    def takes(self, what: str, loss: float) -> None:
        self.taken.append((what, loss))

    def of_fluid(self) -> None:
        dice = self.dice
        self.density, self.vapor = dice.uniform(780, 1250), dice.choice([0.0, dice.uniform(0, 8000)])
        self.kelvin = dice.uniform(294.15, 343.15)
        if dice.random() < 0.5:
            thick = 10 ** dice.uniform(-5.2, -4)
            points = ((313.15, thick), (373.15, thick**0.6 * 1e-6**0.4))
            self.viscosity = walther(points, self.kelvin)
            typed = "[" + ", ".join(f'["{t - 273.15!r} degC", "{v * 1e6!r} cSt"]' for t, v in points) + "]"
        else:
            self.viscosity = 10 ** dice.uniform(-6, -3)
            typed = f'"{self.viscosity!r} m^2/s"'
        self.tables.append(
            f'[fluid]\nname = "Test fluid"\ntemperature = "{self.kelvin - 273.15!r} degC"\n'
            f'density = "{self.density!r} kg/m^3"\nviscosity = {typed}\n'
            f'vapor_pressure = "{self.vapor!r} Pa"\ndissolved_air = 0'
        )

    def of_tank(self) -> None:
        dice = self.dice
        elevation, weather = dice.uniform(-200, 3500), dice.choice([0.0, dice.uniform(0, 2500)])
        self.atmosphere = station(elevation) - weather
        self.level, normal, rim = dice.uniform(0.25, 0.5), dice.uniform(0.5, 0.65), dice.uniform(0.75, 0.9)
        gauge, typed = 0.0, ""
        kind = dice.choice(["open", "open", "breather", "charged", "closed"])
        if kind == "breather":
            gauge = -dice.uniform(0, 3000)
            typed = f'breather_drop = "{-gauge!r} Pa"'
        elif kind == "charged":
            gauge = dice.uniform(0, 60e3)
            typed = f'pressure = "{gauge!r} Pa"'
        elif kind == "closed":
            held = dice.uniform(0, 60e3)
            typed = f'pressure = "{held!r} Pa"\nsealed = true'
            gauge = (self.atmosphere + held) * (rim - normal) / (rim - self.level) - self.atmosphere
        self.surface = self.atmosphere + gauge
        self.tables.insert(
            0,
            f'format = 1\ntitle = "Line {self.seed}"\n[site]\nelevation = "{elevation!r} m"\n'
            f'weather_allowance = "{weather!r} Pa"\n[reservoirs.tank]\ndepth = "0.6 m"\n'
            f'outline = [["0 m", "0 m"], ["1 m", "0 m"], ["1 m", "{rim!r} m"], ["0 m", "{rim!r} m"]]\n'
            f'normal_level = "{normal!r} m"\nminimum_level = "{self.level!r} m"\n{typed}',
        )

    def screen(self) -> dict[str, Any]:
        dice = self.dice
        figures: dict[str, Any] = {"blocked": dice.choice([0.0, dice.uniform(0, 0.7)])}
        if dice.random() < 0.5:
            figures |= {
                "mesh": dice.choice([60, 80, 100]) / 0.0254,
                "wire": 0.11e-3,
                "area": dice.uniform(0.02, 0.1),
            }
        else:
            one, drop = dice.uniform(20, 60) / 6e4, dice.uniform(300, 2000)
            two = one * dice.uniform(1.5, 3)
            points = [(one, drop), (two, drop * (two / one) ** dice.uniform(1.05, 1.95))]
            figures |= {"drops": points[: dice.choice([1, 2])], "viscosity": 32e-6, "density": 870.0}
        if dice.random() < 0.4:
            figures["bypass"] = dice.uniform(2000, 20000)
        return figures

    def typed_screen(self, figures: dict[str, Any]) -> str:
        keys = [f"blocked = {figures['blocked']!r}"]
        if "mesh" in figures:
            keys += [f'mesh = "{figures["mesh"]!r} per m"', f'wire = "{figures["wire"]!r} m"']
            keys += [f'area = "{figures["area"]!r} m^2"']
        else:
            points = ", ".join(f'["{q!r} m^3/s", "{p!r} Pa"]' for q, p in figures["drops"])
            keys += [f"drops = [{points}]", 'viscosity = "32 cSt"', 'density = "870 kg/m^3"']
        if "bypass" in figures:
            keys += [f'bypass = "{figures["bypass"]!r} Pa"']
        return "screen = { " + ", ".join(keys) + " }"

    def of_line(self) -> None:
        """Intake, riser with its bends, one to three fittings, perhaps a tee, lead and port."""
        dice = self.dice
        width = self.intake(self.bore * dice.choice([1.0, 1.0, dice.uniform(0.8, 1.5)]))
        names = [f"f{i}" for i in range(dice.randint(1, 3))]
        place, near = 2.0, "mouth"
        for name in names:
            via = [(0.5, self.port)] if near == "mouth" else []
            length = (
                [(0.5, 0.1), *via, (place, self.port)]
                if via
                else [(place - 1, self.port), (place, self.port)]
            )
            run_bore = self.joined or self.bore * dice.choice([1.0, 1.0, dice.uniform(0.8, 1.3)])
            self.run(near, name, length, run_bore, (width, None))
            width = self.fitting(name, (place, self.port), run_bore)
            place, near = place + 1, name
        self.lead(near, place, width)

    def intake(self, bore: float) -> float:
        kind = self.dice.choice([*ENTRANCES, "foot valve", "poppet foot valve"])
        local, typed = self.stream.at(bore), ""
        if kind == "strainer":
            figures = self.screen()
            typed = self.typed_screen(figures)
            self.takes("screen", screen(local, figures))
        if kind in ENTRANCES:
            self.takes("entrance", local.k(ENTRANCES[kind], 160))
        else:
            times, slow = (75, 1500) if kind == "foot valve" else (420, 2000)
            self.takes("foot valve", local.k(times * crane(bore), slow))
        self.tables.append(
            f'[intakes.mouth]\nreservoir = "tank"\nat = ["0.5 m", "0.1 m"]\nkind = "{kind}"\n'
            f'bore = "{bore!r} m"\n{typed}'
        )
        return bore

    def run(
        self, near: str, far: str, places: list[tuple[float, float]], bore: float,
        ends: tuple[float, float | None], stream: Stream | None = None,
    ) -> None:  # fmt: skip
        dice = self.dice
        local = (stream or self.stream).at(bore)
        roughness = dice.choice([0.0, 45e-6, 0.25e-3])
        kind = dice.choice(["long radius", "short radius", "threaded elbow", "mitre", "typed"])
        radius = {"long radius": 1.5, "short radius": 1.0, "threaded elbow": 1.0, "mitre": 0.0}.get(
            kind, 0
        ) * nominal(bore)
        bend = f'bend = "{kind}"'
        if kind == "typed":
            radius = dice.uniform(0.8, 2.0) * bore
            bend = f'bend_radius = "{radius!r} m"'
        length = sum(math.dist(a, b) for a, b in pairwise(places))
        corners = places[1:-1]
        hidden = dice.choice([0.0, dice.uniform(0.1, 2)])
        self.takes(f"change to {far}", change(local, ends[0], bore))
        self.takes(
            f"straights to {far}", local.straight(length - 2 * radius * len(corners) + hidden, roughness)
        )
        for _ in corners:
            self.takes(f"bend to {far}", right_angle(local, kind, radius, roughness))
        if ends[1] is not None:
            self.takes(f"change at {far}", change(local, bore, ends[1]))
        via = ", ".join(f'["{x!r} m", "{y!r} m"]' for x, y in corners)
        self.tables.append(
            f'[runs.to_{far}]\nfrom = "{near}"\nto = "{far}"\nbore = "{bore!r} m"\n{bend}\nvia = [{via}]\n'
            f'roughness = "{roughness!r} m"\nout_of_plane = "{hidden!r} m"'
        )

    def fitting(self, name: str, at: tuple[float, float], near: float) -> float:
        """A fitting behind a run of a bore; returns the bore of its far end."""
        dice, typed = self.dice, ""
        bore = far = near * dice.choice([1.0, 1.0, dice.uniform(0.8, 1.2)])
        kind = dice.choice(
            [
                *VALVES, *HOOPER, "filter", "known K", "known drop", "flexible connector",
                "concentric reducer", "eccentric reducer",
            ]
        )  # fmt: skip
        if kind.endswith("reducer"):
            bore, far = near, near * dice.uniform(0.6, 1.5)
            self.joined = far  # the line goes on as wide, else there are two ways to put the reducer in
        else:
            self.joined = None
        local = self.stream.at(bore)
        self.takes(f"change at {name}", change(local, near, bore))
        if kind in DARBY:
            self.takes(f"{name} {kind}", local.k(*darby(kind, bore)))
        elif kind in HOOPER:
            k1, k = HOOPER[kind]
            self.takes(f"{name} {kind}", local.k(k * (1 + 0.0254 / bore), k1))
        elif kind == "filter":
            figures = self.screen()
            typed = self.typed_screen(figures)
            self.takes(f"{name} filter", screen(local, figures))
        elif kind == "known K":
            typed = "k = 1.7\nk_re = 350"
            self.takes(f"{name} K", local.k(1.7, 350))
        elif kind == "known drop":
            drop, at_flow = dice.uniform(100, 2000), dice.uniform(20, 100) / 6e4
            grown = max(1, self.viscosity * self.density / (30e-6 * 870), self.density / 870)
            share = local.flow / at_flow
            self.takes(f"{name} drop", drop * grown * (share if share <= 1 else share**2))
            typed = f'drop = "{drop!r} Pa"\nflow = "{at_flow!r} m^3/s"'
        elif kind == "flexible connector":
            long = dice.uniform(3, 12)
            self.takes(f"{name} connector", local.k(0.06 * long, 64 * long))
            typed = f'length = "{long * bore!r} m"'
        else:
            cone = dice.choice([None, dice.uniform(0.5, 6) * bore])
            self.takes(f"{name} {kind}", change(local, bore, far, cone))
            typed = f'other_bore = "{far!r} m"' + (f'\nlength = "{cone!r} m"' if cone else "")
        self.tables.append(
            f'[fittings.{name}]\nat = ["{at[0]!r} m", "{at[1]!r} m"]\nkind = "{kind}"\n'
            f'bore = "{bore!r} m"\n{typed}'
        )
        return far

    def lead(self, near: str, place: float, width: float) -> None:
        """To the port, through a tee to a second pump where there is one."""
        dice, stream = self.dice, self.stream
        start, end = (place - 1, self.port), (place, self.port)
        if self.tee:
            bore = self.joined or self.bore
            self.run(near, "tee", [start, end], bore, (width, bore))
            self.joined = None
            self.tables.append(f'[tees.tee]\nat = ["{place!r} m", "{self.port!r} m"]\nbore = "{bore!r} m"')
            self.turns = dice.random() < 0.5
            branch = self.flow if self.turns else self.branch_flow
            self.takes("tee", tee_leg(stream.at(bore), self.flow, branch, self.turns))
            stream = Stream(self.flow, bore, self.density, self.viscosity)
            other = (place + 1.0, self.port) if self.turns else (place, self.port + 1.0)
            self.tables.append(
                f'[pumps.other]\nat = ["{other[0]!r} m", "{other[1]!r} m"]\nbore = "{bore!r} m"\n'
                f'type = "gear"\nflow = "{self.branch_flow!r} m^3/s"\nlimit = {{ vacuum = "20 kPa" }}\n'
                f'[runs.to_other]\nfrom = "tee"\nto = "other"\nbore = "{bore!r} m"'
            )
            near, width, start = "tee", bore, end
            end = (place, self.port + 1.0) if self.turns else (place + 1.0, self.port)
            self.port = end[1]
        self.at = end
        self.port_bore = self.bore * dice.choice([1.0, dice.uniform(0.7, 1.1)])
        run_bore = self.joined or self.bore * dice.choice([1.0, dice.uniform(0.9, 1.2)])
        self.run(near, "pump", [start, end], run_bore, (width, self.port_bore), stream)
        self.at_port = stream.at(self.port_bore)

    def of_pump(self) -> None:
        dice, at_port = self.dice, self.at_port
        speed, rated = dice.uniform(10, 40), None
        keys = [f'displacement = "{self.flow / speed!r} m^3/rev"', f'speed = "{speed!r} rev/s"']
        factor = 1.0
        if dice.random() < 0.5:
            rated = speed / dice.uniform(0.7, 1.4)
            keys += [f'rated_speed = "{rated!r} rev/s"']
            factor = max(1.0, (speed / rated) ** 2)
        rated_density, own = 900 - min(max(self.density - 900, 0), 50), False
        form = dice.choice(["vacuum", "pressure", "npsh"])
        if dice.random() < 0.4:
            rated_density = dice.choice([self.density, dice.uniform(800, 1200)])
            keys += [f'rated_density = "{rated_density!r} kg/m^3"']
            own = rated_density >= 950 and abs(rated_density - self.density) <= 0.02 * self.density
        density = max(1.0, self.density / rated_density)
        if form == "npsh":
            head = dice.uniform(1, 5)
            typed = f'npsh = "{head!r} m"'
            self.floor = self.vapor + self.density * G * head * factor - at_port.q
        else:
            value = dice.uniform(10e3, 40e3) if form == "vacuum" else dice.uniform(60e3, 95e3)
            typed = f'{form} = "{value!r} Pa"'
            least = SEA - value if form == "vacuum" else value
            self.floor = self.vapor + max(least - (self.vapor if own else 0.0), 0) * density * factor
        self.tables.append(
            f'[pumps.pump]\nat = ["{self.at[0]!r} m", "{self.at[1]!r} m"]\nbore = "{self.port_bore!r} m"\n'
            f'type = "vane"\nlimit = {{ {typed} }}\n' + "\n".join(keys)
        )

    @property
    def text(self) -> str:
        return "\n".join(self.tables)

    @property
    def losses(self) -> float:
        return sum(loss for _, loss in self.taken)

    @property
    def inlet(self) -> float:
        lift = self.density * G * (self.port - self.level)
        return self.surface - lift - self.losses - self.at_port.alpha * self.at_port.q

    @property
    def budget(self) -> float:
        return self.surface - self.floor

    @property
    def margin(self) -> float:
        return self.inlet - self.floor

    @property
    def npsh_available(self) -> float:
        return (self.inlet + self.at_port.q - self.vapor) / (self.density * G)
