"""Random drawings, the machine that was really built, and what a gauge shows on it.

The machine differs from its drawing by amounts that nobody is told: viscosity, the K of every part,
roughness, level and temperature at each reading, and flow; and by one fault, two, none, or one that is on no
list. A gauge is off by one amount in all its readings, and repeats within another.
"""

from __future__ import annotations

from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace

import numpy as np

from solver.answers import inputs
from solver.field import places, prediction, weighing
from solver.field.causes import Cause, CauseKind, causes, changed, thicker
from solver.field.explain import distinct
from solver.field.gauges import Band, Gauge, Tube
from solver.field.places import Place
from solver.field.prediction import ReadingNetworks
from solver.field.states import Reading
from solver.formulas.flow import GRAVITY
from solver.formulas.screens import READ_DENSITY, READ_VISCOSITY
from solver.layout.parts import Layout, Level, Screen
from solver.ledger.solve import solve, solve_network
from solver.network.build import Network, build, columns, pump_flow
from solver.network.rows import Row
from solver.network.ways import Rows
from solver.quantities.units import Kind, Quantity, quantity
from tests import drawings

CLASS, RANGE = 0.01, 60e3
"""Of the gauges: class 1.0, 60 kPa."""

WITHIN = 3.0
"""Standard deviations within which another cause gives the noiseless readings: then no reading tells them
apart."""

PLANS = {
    "port": (("port", 0.0, 1.0),),
    "port and tap": (("port", 0.0, 1.0), ("tap", 0.0, 1.0)),
    "two speeds": (("port", 0.0, 1.0), ("port", 0.0, 0.6)),
    "two temperatures": (("port", 0.0, 1.0), ("port", 18.0, 1.0)),
    "port and tap, two temperatures": (
        ("port", 0.0, 1.0), ("tap", 0.0, 1.0), ("port", 18.0, 1.0), ("tap", 18.0, 1.0),
    ),
}  # fmt: skip
"""What is read: place, how much colder [K], share of the flow."""

RICHEST = "port and tap, two temperatures, at rest"

FAULTS = (
    *2 * (CauseKind.SCREEN,), CauseKind.BORE, CauseKind.RESISTANCE, CauseKind.AS_BUILT, CauseKind.FLUID,
    CauseKind.LEVEL, CauseKind.OFFSET, CauseKind.SURFACE, CauseKind.LESS_FLOW,
)  # fmt: skip
"""Single faults, one as often as another, the screen twice."""

NONE, TWO, OTHER = "nothing wrong", "two causes", "not on the list"


@dataclass(frozen=True)
class Truth:
    """One machine: what was really wrong, and how much."""

    sort: str  # a kind of cause, or NONE, TWO, OTHER
    faults: tuple[tuple[Cause, float], ...]


@dataclass(frozen=True)
class Case:
    """One machine with its readings, as the explainer has them, and as they would be without any noise."""

    plan: str
    truth: Truth
    readings: tuple[Reading, ...]
    noiseless: np.ndarray

    @property
    def names(self) -> set[tuple[CauseKind, str]]:
        """Every fault there is, as kind and part."""
        return {(cause.kind, cause.part) for cause, _ in self.truth.faults}


def plan_names() -> list[str]:
    """Every plan, without and with a reading at rest."""
    return [f"{plan}{rest}" for plan in PLANS for rest in ("", ", at rest")]


def drawing(random: np.random.Generator) -> Layout:
    """A pump over its tank behind a strainer and a valve: everything else at random."""
    bore = float(random.choice([0.041, 0.0525, 0.0627, 0.0779]))
    flow = float(random.uniform(0.5, 1.2)) * np.pi / 4 * bore**2
    top = float(random.uniform(0.8, 1.5))
    drawn = drawings.stand(port_height=top, level=0.5)
    width = quantity(f"{bore * 1e3:.2f} mm", Kind.BORE)
    screen = Screen(
        mesh=quantity("100 per inch", Kind.WIRES),
        wire=quantity("0.11 mm", Kind.LENGTH),
        area=quantity(f"{flow * 30:.5f} m^2", Kind.AREA),
    )
    if random.random() < 0.5:
        screen = replace(
            screen,
            bypass=quantity("0.2 bar", Kind.PRESSURE),
            bypass_flow=quantity(f"{flow * 60e3:.1f} L/min", Kind.FLOW),
            bypass_drop=quantity("0.22 bar", Kind.PRESSURE),
            bypass_viscosity=quantity("46 cSt", Kind.VISCOSITY),
        )
    sized = {
        group: {name: replace(part, bore=width) for name, part in getattr(drawn, group).items()}
        for group in ("intakes", "fittings", "runs", "pumps")
    }
    sized["intakes"]["strainer"] = replace(sized["intakes"]["strainer"], screen=screen)
    taken_in = Quantity(f"{flow!r} m^3/s", flow)
    sized["pumps"]["press"] = replace(sized["pumps"]["press"], flow=taken_in)
    grade = random.choice(["32", "46", "68"])
    warm = float(random.uniform(35.0, 55.0)) + 273.15
    oil = replace(drawn.fluid, name=f"Mineral oil, ISO VG {grade}", temperature=Quantity(f"{warm!r} K", warm))
    return replace(drawn, fluid=oil, **sized)


def case(seed: int, plan: str, sort: str = "", drawn: Layout | None = None) -> Case:
    """One machine of that number with the readings of a plan; of one sort or drawing, if asked for."""
    random = np.random.default_rng(seed)
    drawn = drawing(random) if drawn is None else drawn
    readings = list(_asked(drawn, plan, random))
    truth = _truth(drawn, readings, random, sort)
    if any(cause.kind is CauseKind.OFFSET for cause, _ in truth.faults):  # nobody has vented it
        readings = [replace(each, gauge=replace(each.gauge, zero=None)) for each in readings]
    noiseless = np.array([shown(reading.layout, reading, truth, _as_drawn) for reading in readings])
    machine = _machine(random)
    elsewhere = _elsewhere(readings, random)
    off = random.uniform(-1.0, 1.0) * CLASS * RANGE / (1.0 if readings[0].gauge.zero is None else 2.0)
    left = float(np.random.default_rng([seed, 2]).uniform())  # of what a plugged breather took, at rest
    read = []
    for reading, other in zip(readings, elsewhere, strict=True):
        state = _state(reading.layout, random)
        vacuum = shown(state, reading, truth, machine) + off + random.normal(0.0, reading.gauge.scatter)
        vacuum += random.normal(0.0, prediction.LEVEL) * GRAVITY * 860.0
        vacuum += other if truth.sort == OTHER else 0.0
        vacuum += left * sum(cause.may_last(size, reading) for cause, size in truth.faults if cause.may_last)
        read.append(replace(reading, band=Band(float(vacuum), float(vacuum))))
    return Case(plan, truth, tuple(read), noiseless)


def with_unknown_bypass(seed: int) -> Layout:
    """A drawing of that number whose strainer has a bypass without its maker's point."""
    drawn = drawing(np.random.default_rng([seed, 1]))
    screen = drawn.intakes["strainer"].screen
    assert screen is not None
    capped = replace(
        screen,
        bypass=quantity("5 kPa", Kind.PRESSURE),
        bypass_flow=None,
        bypass_drop=None,
        bypass_viscosity=None,
    )
    return inputs.screen_put(drawn, "strainer", capped)


def _elsewhere(readings: Sequence[Reading], random: np.random.Generator) -> np.ndarray:
    """What a fault on no list adds to each reading [Pa]: anything, or a drop in the cold alone."""
    warmest = max(reading.layout.fluid.temperature.si for reading in readings)
    cold = [reading.layout.fluid.temperature.si < warmest - 1.0 for reading in readings]
    if not any(cold) or random.random() < 0.67:
        return random.uniform(4e3, 12e3, len(readings)) * random.choice([-1.0, 1.0], len(readings))
    return random.uniform(4e3, 12e3) * np.array(cold, dtype=float)


def _asked(drawn: Layout, plan: str, random: np.random.Generator) -> Sequence[Reading]:
    zero = 0.0 if random.random() < 0.5 else None
    gauge = Gauge("A", tube=Tube.EMPTY, accuracy=CLASS, range=RANGE, zero=zero)
    port, tap = Place("press"), Place("press", "riser", 0.1)
    readings = []
    for where, colder, speed in PLANS[plan.removesuffix(", at rest")]:
        layout = inputs.temperature(drawn, ("",), drawn.fluid.temperature.si - colder, Level.MINIMUM)
        flow = pump_flow(layout.pumps["press"]) * speed
        layout = inputs.flow(layout, ("press",), flow, Level.MINIMUM)
        place = port if where == "port" else tap
        readings.append(Reading(layout, Level.MINIMUM, place, Band(0.0, 0.0), gauge))
    if plan.endswith(", at rest"):
        readings.append(replace(readings[0], resting=True))
    return readings


def _truth(drawn: Layout, readings: Sequence[Reading], random: np.random.Generator, sort: str = "") -> Truth:
    listed = tuple(causes(drawn, solve(drawn).pumps["press"], readings))
    if sort == CauseKind.SCREEN:  # in any size, so that a bypass may be open
        screen = next(each for each in listed if each.kind is CauseKind.SCREEN)
        return Truth(sort, ((screen, 1.0 - float(np.exp(random.uniform(np.log(0.01), np.log(0.3))))),))
    chance = random.random()
    if chance < 0.10 or sort == NONE:
        return Truth(NONE, ((listed[0], 0.0),))
    if chance < 0.17:
        return Truth(OTHER, ())
    kinds = random.choice(np.array(FAULTS, dtype=object), 2 if chance < 0.25 else 1, replace=False)
    faults = tuple(_fault(drawn, readings[0], listed, kind, random) for kind in dict.fromkeys(kinds))
    return Truth(TWO if len(faults) == 2 else str(kinds[0]), faults)


def _fault(
    drawn: Layout, reading: Reading, listed: Sequence[Cause], kind: CauseKind, random: np.random.Generator
) -> tuple[Cause, float]:
    """A cause in the size that moves the port by an amount at random, or nearly as much as it can."""
    cause = random.choice(np.array([each for each in listed if each.kind is kind], dtype=object))
    effect = float(random.uniform(3e3, 14e3))
    sizes = [size for size in cause.sizes if size > 0.0]
    before = prediction.at(build(reading.layout), reading)
    moved = []
    for size in sizes:
        try:
            shown_with = prediction.at(cause.change(build(reading.layout), size), reading)
        except ValueError:
            break
        moved.append(abs(shown_with + cause.offset(size, reading) - before))
    size = float(np.interp(min(effect, 0.9 * moved[-1]), moved, sizes[: len(moved)]))
    return cause, -size if kind is CauseKind.OFFSET and random.random() < 0.5 else size


Machine = Callable[[Network], Network]


def _as_drawn(network: Network) -> Network:
    return network


def _machine(random: np.random.Generator) -> Machine:
    """What was built: K part by part, roughness, viscosity and flow, each off by its own amount."""
    viscosity, rough, flow = (
        float(np.exp(random.normal(0.0, sigma)))
        for sigma in (prediction.VISCOSITY, prediction.ROUGHNESS, prediction.FLOW)
    )
    numbers = np.exp(random.normal(0.0, prediction.RESISTANCE, 64))
    bypass = float(np.random.default_rng(int(numbers[0] * 1e9)).uniform())

    def changed(network: Network) -> Network:
        taken = pump_flow(network.layout.pumps["press"])
        rows = [
            replace(
                row,
                k_inf=row.k_inf * float(numbers[i % 64]),
                k_slow=None if row.k_slow is None else row.k_slow * float(numbers[i % 64]),
                roughness=row.roughness * rough,
                bypass_viscous=_bypass(row, bypass, taken),
            )
            for i, row in enumerate(network.rows)
        ]
        layout = thicker(network.layout, viscosity)
        layout = inputs.flow(layout, ("press",), pump_flow(layout.pumps["press"]) * flow, Level.MINIMUM)
        return replace(network, layout=layout, rows=Rows(rows), columns=columns(rows))

    return changed


def _bypass(row: Row, share: float, flow: float) -> float | None:
    """Viscous coefficient of a bypass [1/m³]; of one without a point a share of what a budget takes."""
    if row.bypass_viscous is not None or not np.isfinite(row.cap):
        return row.bypass_viscous
    return share * row.cap / 2.0 / (READ_VISCOSITY * READ_DENSITY) / flow


def _state(layout: Layout, random: np.random.Generator) -> Layout:
    """The state that the machine really was in: its temperature is another than was noted."""
    off = random.normal(0.0, 1.5)
    return inputs.temperature(layout, ("",), layout.fluid.temperature.si + off, Level.MINIMUM)


def shown(layout: Layout, reading: Reading, truth: Truth, machine: Machine) -> float:
    """Vacuum at the place of a reading on a machine with its faults [Pa]."""
    network = changed(build(layout), truth.faults)
    more = sum(cause.offset(size, reading) for cause, size in truth.faults)
    solution = solve_network(machine(network), Level.MINIMUM)
    vacuum = places.at_rest if reading.resting else places.vacuum
    return float(vacuum(solution, reading.place)) + more


def told_apart(case: Case) -> bool:
    """Whether no other cause, in any size, gives the noiseless readings within three standard deviations."""
    if len(case.truth.faults) != 1 or case.truth.sort == NONE:
        return False
    (name,) = case.names
    first = case.readings[0]
    listed = causes(first.layout, solve(first.layout).pumps["press"], case.readings)
    bench = ReadingNetworks(case.readings)
    weighed = distinct([weighing.weigh(each, bench) for each in listed])
    others = (each for each in weighed if (each.cause.kind, each.cause.part) != name)
    return all(_distance(each, case.noiseless) > WITHIN for each in others)


def _distance(weighed: weighing.Weighed, noiseless: np.ndarray) -> float:
    off = weighed.vacuum - noiseless
    solved = np.linalg.solve(weighed.covariances, off[:, :, None])[:, :, 0]
    return float(np.sqrt(np.einsum("ni,ni->n", off, solved).min(initial=np.inf)))
