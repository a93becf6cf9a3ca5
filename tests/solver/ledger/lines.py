"""A line up to a pump, and one down to it, solved."""

from dataclasses import replace

from solver.layout.parts import Limit
from solver.ledger.solve import solve
from solver.quantities.units import Kind, quantity
from tests.drawings import drawing, fitting, intake, pump, run

INHG = 3386.389


def lift_line(z=1.5, length=0.5, bore=0.05, flow=0.002, blocked=None):
    """A riser from the tank, a valve, a bend, a lead to the port."""
    return drawing(
        intake(bore=bore),
        fitting("isolator", (0.9, 0.9), bore=bore),
        pump(at=(0.9 + length, z), bore=bore, flow=flow),
        run("riser", "strainer", "isolator", bore=bore),
        run("lead", "isolator", "pump", via=[(0.9, z)], bore=bore, bend_radius=0.04),
    )


def flooded_line(z=0.12, flow=0.002):
    return drawing(
        intake("nozzle", (1.2, 0.12), kind="wall nozzle"),
        pump(at=(2.2, z), flow=flow),
        run("lead", "nozzle", "pump", via=[] if z == 0.12 else [(1.7, 0.12), (1.7, z)], bend_radius=0.03),
    )


def with_limit(layout, form, text, kind=Kind.PRESSURE):
    limited = replace(layout.pumps["pump"], limit=Limit(form, ((None, quantity(text, kind)),)))
    return replace(layout, pumps={**layout.pumps, "pump": limited})


def ledger(layout, level="minimum"):
    return solve(layout, level).pumps["pump"]
