"""A pump beside its tank on a line laid anew, or off the header it shared."""

from __future__ import annotations

from dataclasses import replace

import pytest

from solver.fixes import relaid
from solver.fixes.candidate import Candidate, FixKind, NoRoomError
from solver.layout import file
from solver.layout.kinds import FittingKind
from solver.layout.parts import Fitting, Layout
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import SHIPPED, drawing, fitting, metres, pump, run, tank
from tests.solver.fixes.examples import line, of_kind, riser


def found(layout: Layout, kind: FixKind) -> list[Candidate]:
    return of_kind(list(relaid.candidates(layout, line(layout))), kind)


def beside(layout: Layout) -> Candidate:
    return next(e for e in found(layout, FixKind.PLACE) if "beside" in e.describe(1.0, System.SI))


def test_beside_its_tank_a_pump_is_flooded_through_a_wall_nozzle() -> None:
    layout = riser()
    after = beside(layout).edit(layout, 1.0)
    (nozzle,) = after.intakes.values()
    assert nozzle.kind == "wall nozzle"
    assert nozzle.at[0].si in (pytest.approx(0.0), pytest.approx(1.2)), "in a wall of the tank"
    assert [part.kind for part in after.fittings.values()] == ["ball valve"], "an isolating valve"
    ledger = line(after)
    assert ledger.fluid_level > ledger.entries[-1].z
    assert ledger.margin > line(layout).margin


TWO, SLIM, THREE = (f"NPS {number} schedule 40" for number in ("2", "1-1/2", "3"))


def lifted(last: str = SLIM, cone: tuple[Fitting, ...] = (), valve: str = TWO) -> Layout:
    """A tank on legs, a pump over it, a gate valve in a line of two inches, and what leads on to the port."""
    runs = [run("riser", "strainer", "gate"), run("lead", "gate", "cone" if cone else "pump")]
    runs += [run("tail", "cone", "pump")] if cone else []
    widths = [TWO, *([TWO] if cone else []), last]
    lines = [replace(each, size=size, bore=None) for each, size in zip(runs, widths, strict=True)]
    gate = replace(fitting("gate", (0.6, 1.2), kind=FittingKind.GATE_VALVE), size=valve, bore=None)
    port = replace(pump(at=(0.6, 2.4)), size=last, bore=None)
    return drawing(tank(size=(1.2, 1.0), normal=0.8, minimum=0.7), port, *lines, gate, *cone)


def reducer(name: str = "cone") -> Fitting:
    cone = fitting(name, (0.6, 1.8), kind=FittingKind.CONCENTRIC_REDUCER)
    return replace(cone, size=TWO, bore=None, other_size=SLIM)


@pytest.mark.parametrize("height", [None, -0.6], ids=["beside", "under"])
@pytest.mark.parametrize("cone", [(), (reducer(),)], ids=["without", "with a reducer"])
@pytest.mark.parametrize("valve", [TWO, SLIM, THREE])
def test_a_line_keeps_its_larger_size_and_its_valves_have_it(
    height: float | None, cone: tuple[Fitting, ...], valve: str
) -> None:
    layout = lifted(cone=cone, valve=valve)
    chain = relaid.chain_of(layout, line(layout))
    assert chain is not None
    after = relaid.with_line(layout, "pump", "tank", chain, height)
    assert file.check(after) == ()
    (nozzle,) = after.intakes.values()
    assert [nozzle.size, after.fittings["gate"].size] == [TWO, TWO]
    last = next(each for each in after.runs.values() if each.end == "pump")
    assert [each.size for each in after.runs.values() if each is not last] == [TWO] * 2
    assert (last.size, last.via, last.start) == (SLIM, (), cone[0].name if cone else "reducer")
    part = after.fittings[last.start]
    assert (part.kind, part.size, part.other_size) == ("eccentric reducer", TWO, SLIM)
    assert not [row for row in solve(after).network.rows if row.kind == "bore change"]


def test_a_valve_that_has_to_be_another_is_named_in_what_it_costs() -> None:
    assert "; gate in NPS 2 schedule 40" in beside(lifted(valve=SLIM)).cost
    assert "gate" not in beside(lifted()).cost


def test_a_line_of_one_size_gets_no_reducer_and_a_valve_with_its_makers_curve_stays() -> None:
    layout = lifted(last=TWO)
    chain = relaid.chain_of(layout, line(layout))
    assert chain is not None
    assert list(relaid.with_line(layout, "pump", "tank", chain, None).fittings) == ["gate"]
    points = ((metres(0.0), metres(0.0)),)
    given = replace(lifted(valve=THREE).fittings["gate"], curve=points)  # type: ignore[arg-type]
    layout = replace(layout, fittings={"gate": given})
    assert relaid.with_line(layout, "pump", "tank", chain, None).fittings["gate"].size == THREE


def test_a_shallow_tank_has_no_room_for_a_nozzle() -> None:
    shallow = drawing(
        tank(size=(1.2, 0.7), normal=0.3, minimum=0.2), pump(), run("riser", "strainer", "pump")
    )
    with pytest.raises(NoRoomError, match="too shallow"):
        beside(shallow).edit(shallow, 1.0)


def test_a_pump_that_is_flooded_already_stays() -> None:
    layout = drawing(pump(at=(2.0, 0.12)), run("lead", "strainer", "pump"))
    assert not any("beside" in each.describe(1.0, System.SI) for each in found(layout, FixKind.PLACE))


(HEADER,) = (file.read(path).base for path in SHIPPED if path.stem == "header-two-pumps")


def own_line(pump: str, where: str) -> Candidate:
    ledger = solve(HEADER).pumps[pump]
    return next(
        each for each in relaid.candidates(HEADER, ledger) if f" {where} " in each.describe(1.0, System.US)
    )


@pytest.mark.parametrize("name", ["main", "pilot"])
@pytest.mark.parametrize("where", ["beside", "under"])
def test_a_pump_leaves_its_header_for_a_line_of_its_own_and_the_tee_heals(name: str, where: str) -> None:
    after = own_line(name, where).edit(HEADER, 1.0)
    assert file.check(after) == ()
    assert after.tees == {}
    assert len(after.intakes) == 2
    first, second = (each.at for each in after.intakes.values())
    width = 0.0525
    assert abs(first[0].si - second[0].si) > 0.05 or abs(first[1].si - second[1].si) > 4 * width, "apart"
    before, then = solve(HEADER).pumps, solve(after).pumps
    for each in ("main", "pilot"):
        assert then[each].margin > before[each].margin, "the header carries one pump's flow"
    other = "pilot" if name == "main" else "main"
    shared = {entry.part for entry in then[name].entries} & {entry.part for entry in then[other].entries}
    assert shared <= {"tank"}


def test_a_second_pump_cannot_leave_a_header_that_is_gone() -> None:
    after = own_line("main", "beside").edit(HEADER, 1.0)
    with pytest.raises(NoRoomError, match="no header"):
        own_line("pilot", "beside").edit(after, 1.0)


def test_lines_of_two_sizes_go_on_by_a_reducer() -> None:
    """The header in two inches and the pilot's leg in one and a half meet where the tee was."""
    after = own_line("main", "beside").edit(HEADER, 1.0)
    (reducer,) = (part for part in after.fittings.values() if "reducer" in part.kind)
    assert {reducer.size, reducer.other_size} == {"NPS 2 schedule 40", "NPS 1-1/2 schedule 40"}
    assert "reducer" not in {
        part.kind for part in own_line("pilot", "beside").edit(HEADER, 1.0).fittings.values()
    }
