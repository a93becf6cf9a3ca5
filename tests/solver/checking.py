"""Lines to check, and what a check finds in them, for tests."""

from dataclasses import replace

from solver.findings.checks import CHECKS, Criteria, check
from solver.layout.parts import Case, Layout, Limit, Screen
from solver.ledger.solve import solve
from solver.network.build import build
from solver.quantities.units import Kind, Quantity, quantity
from tests.drawings import drawing, intake, pump, run

HAIR = 1e-6


def lifted(*more, z=1.2, lead=0.6, flow=0.002, bore=0.05, port=0.05, **strainer):
    return drawing(
        intake(bore=bore, **strainer),
        pump(at=(0.9 + lead, z), bore=port, flow=flow),
        run("riser", "strainer", "pump", via=[(0.9, z)], bore=bore),
        *more,
    )


def over_the_wall(flow=0.002, fall=1.4):
    top = 1.6
    return drawing(
        intake(),
        pump(at=(2.4, top - fall), flow=flow),
        run(
            "crossing", "strainer", "pump", via=[(0.9, top), (1.9, top), (1.9, top - fall)], bend_radius=0.025
        ),
    )


def with_pump(layout, **changes):
    return replace(layout, pumps={"pump": replace(layout.pumps["pump"], **changes)})


def with_floor(layout, pressure):
    return with_pump(layout, limit=Limit("pressure", ((None, Quantity("typed", pressure)),)))


def with_fluid(layout, **changes):
    return replace(layout, fluid=replace(layout.fluid, **changes))


def with_screen(layout, **keys):
    held = replace(layout.intakes["strainer"], kind="strainer", screen=Screen(**keys))
    return replace(layout, intakes={"strainer": held})


def mesh(area=0.02, **keys):
    wires, wire = quantity("100 per inch", Kind.WIRES), quantity("0.0045 in", Kind.BORE)
    return {"mesh": wires, "wire": wire, "area": Quantity("typed", area), **keys}


def found(layout, name, level="minimum", **criteria):
    assert name in {row.finding for row in CHECKS}
    findings = check(solve(layout, level), replace(Criteria(), **criteria))
    return [finding for finding in findings if finding.finding == name]


def only(layout, name, level="minimum", **criteria):
    (one,) = found(layout, name, level, **criteria)
    return one


def ledger(layout, level="minimum"):
    return solve(layout, level).pumps["pump"]


START = Quantity("5 degC", 278.15)
"""How cold a drawing starts whose start is cold."""


def cold(layout):
    return with_fluid(layout, coldest_start=START)


def with_case(layout, name, **figures):
    """The layout with a case of its own; figures by key path, two underscores between its keys."""
    paths = {tuple(path.split("__")): value for path, value in figures.items()}
    return replace(layout, cases={**layout.cases, name: Case({}, paths)})


def laminar_resistance(layout: Layout, pump: str) -> float:
    """What K takes of a line without branches in laminar flow [Pa], without what falls with Re."""
    ledger, rows = solve(layout).pumps[pump], build(layout).rows
    entries = {entry.key: entry for entry in ledger.entries}
    assert all((entries[row.key].reynolds or 0.0) < 2000.0 for row in rows)
    assert any(row.k_slow is not None for row in rows)
    return sum(
        (row.k_inf if row.k_slow is None else row.k_slow)
        * ledger.density * entries[row.key].velocity ** 2 / 2.0
        for row in rows
    )  # fmt: skip
