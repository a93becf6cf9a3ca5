"""A tank stood higher than its pump, where no line beside it could have enough fluid over the port."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.findings.criteria import criteria_of
from solver.fixes import relaid
from solver.fixes.candidate import Candidate, FixKind, NoRoomError, rewritten, with_case_figure
from solver.fixes.judging import Judged
from solver.formulas.symbols import GRAVITY
from solver.geometry import reservoirs
from solver.layout.parts import Layout, Level, Point, Reservoir
from solver.quantities.units import Kind, Quantity, System, typeset

HEIGHTS = (1.0, 1.5, 2.0)
"""Of a tank's lowest level over the port, as tanks are commonly stood; common practice, no source [m]."""

FOR_LOSSES = 1000.0
"""What a short, wide line takes, about: less than that left beside the tank is too little [Pa]; ours."""

PORT_OVER_GROUND = 0.20
"""Of a pump that stands on the ground under its tank [m]; ours."""

LEAST_DROP = 0.20
"""From a nozzle down to a port under it, so that the line has room for two bends [m]; ours."""

COST = (
    "a platform that carries the tank when it is full, longer return and drain lines, a wall nozzle, and an "
    "isolating valve locked open, for the tank's content stands over the pump"
)


def candidates(layout: Layout, now: Judged) -> Iterator[Candidate]:
    """The tank of a pump stood higher, with the pump beside its foot.

    Nothing where a short line beside the tank as it stands could be enough, or other pumps draw from it.
    """
    ledger = now.ledger
    tank = layout.reservoirs[ledger.reservoir]
    chain = relaid.chain_of(layout, ledger)
    if chain is None or _draws_elsewhere(layout, tank.name, chain):
        return
    try:
        beside = _lowest_level(tank) - relaid.nozzle_place(layout, tank.name, ledger.pump, chain)[1]
    except NoRoomError:
        return
    if not _too_low(now, beside):
        return

    def edit(drawing: Layout, height: float) -> Layout:
        pump = drawing.pumps[ledger.pump]
        port = reservoirs.ground(drawing) + PORT_OVER_GROUND
        higher = _moved_up(drawing, tank.name, port + height - _lowest_level(drawing.reservoirs[tank.name]))
        return relaid.with_line(higher, pump.name, tank.name, chain, port, LEAST_DROP)

    def describe(height: float, system: System) -> str:
        over = typeset(height, Kind.LENGTH, system)
        return (
            f"stand {tank.name} higher, its lowest level {over} over the port of {ledger.pump}, "
            "flooded through its wall"
        )

    screened = any(name in layout.intakes and layout.intakes[name].screen is not None for name in chain)
    cost = COST + relaid.other_valves(layout, chain) + (relaid.NO_STRAINER if screened else "")
    yield Candidate(FixKind.RAISED, tank.name, edit, describe, cost, sizes=HEIGHTS)


def _too_low(now: Judged, beside: float) -> bool:
    """Whether in some case the fluid over a port beside the tank, so much of it [m], is not enough."""
    for solution in now.solutions.values():
        ledger, held = solution.pumps[now.pump], criteria_of(solution.layout)
        thin = max(held.thin_pressure, held.thin_margin * max(ledger.budget, 0.0))
        needed = max(ledger.floor, ledger.vapor_pressure) + thin + FOR_LOSSES - ledger.surface
        if needed > ledger.density * GRAVITY * beside:
            return True
    return False


def _draws_elsewhere(layout: Layout, tank: str, chain: tuple[str, ...]) -> bool:
    return any(each.reservoir == tank and name not in chain for name, each in layout.intakes.items())


def _lowest_level(tank: Reservoir) -> float:
    return min(tank.minimum_level.si, reservoirs.level(tank, Level.DRAWN_DOWN))


def _moved_up(layout: Layout, name: str, by: float) -> Layout:
    """The drawing with a tank, and what lies in it, higher [m]. Raises NoRoomError where it is that high."""
    if by <= 0:
        raise NoRoomError(f"{name} stands that high already")

    def up(typed: Quantity) -> Quantity:
        return rewritten(typed, typed.si + by)

    def moved(at: Point) -> Point:
        return at[0], up(at[1])

    tank = layout.reservoirs[name]
    baffle = tank.baffle
    if baffle is not None:
        bottom = None if baffle.bottom is None else up(baffle.bottom)
        baffle = replace(baffle, top=up(baffle.top), bottom=bottom)
    higher = replace(
        tank,
        outline=tuple(map(moved, tank.outline)),
        normal_level=up(tank.normal_level),
        minimum_level=up(tank.minimum_level),
        return_at=None if tank.return_at is None else moved(tank.return_at),
        baffle=baffle,
        level=None if tank.level is None else up(tank.level),
    )
    drawn = replace(layout, reservoirs={**layout.reservoirs, name: higher})
    path = ("levels", name)
    for case in layout.cases:
        figure = layout.cases[case].figures.get(path)
        if isinstance(figure, Quantity):
            drawn = with_case_figure(drawn, case, path, rewritten(figure, figure.si + by, Kind.ELEVATION))
    return drawn
