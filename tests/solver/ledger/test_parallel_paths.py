"""Lines in parallel with the walk to a pump: each element is told once, with the pressure it has."""

from __future__ import annotations

import re
from dataclasses import replace

import pytest

from solver.findings.checks import check
from solver.findings.judgement import alone
from solver.layout.parts import Layout, Screen
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.solve import solve
from solver.quantities.units import Kind, System, quantity
from solver.report.text import WIDTH, report
from tests.drawings import drawing, fitting, intake, pump, run, tank, tee

WIDE = tank(size=(4.0, 0.7))


def mesh(**more: object) -> Screen:
    return Screen(
        mesh=quantity("100 per inch", Kind.WIRES),
        wire=quantity("0.0045 in", Kind.BORE),
        area=quantity("0.001 m^2", Kind.AREA),
        **more,
    )


def twin(**second: object) -> Layout:
    """Two strainers into one header; what is given differs in the second."""
    return drawing(
        WIDE,
        intake("first", (0.5, 0.12), kind="strainer", screen=mesh()),
        replace(intake("second", (1.5, 0.12), kind="strainer", screen=mesh()), **second),
        tee("header", (1.0, 1.2)),
        run("left", "first", "header", via=[(0.5, 1.2)]),
        run("right", "second", "header", via=[(1.5, 1.2)]),
        run("up", "header", "pump"),
        pump(at=(1.0, 2.0), flow=0.002),
    )


def test_each_element_is_told_once() -> None:
    solution = solve(twin())
    ledger = solution.pumps["pump"]
    told = [e.key for e in (*ledger.entries, *ledger.parallel_entries)]
    assert len(told) == len(set(told))
    assert set(told) == {*(row.key for row in solution.network.rows), "pump/port"}
    assert {e.part for e in ledger.parallel_entries} <= {"first", "left", "second", "right", "header"}


def test_equal_lines_have_equal_pressures() -> None:
    ledger = solve(twin()).pumps["pump"]
    walked = {e.element: e for e in ledger.entries if e.part in ("left", "right")}
    others = {e.element: e for e in ledger.parallel_entries if e.part in ("left", "right")}
    assert walked.keys() == others.keys()
    for element, entry in others.items():
        assert entry.pressure == pytest.approx(walked[element].pressure)
        assert entry.share == pytest.approx(walked[element].share)


def test_a_line_from_another_tank_has_that_tank_s_surface_over_it() -> None:
    far = tank("far", (3.0, -1.0), size=(1.2, 2.0), normal=1.6, minimum=1.5)
    layout = drawing(
        tank(size=(1.2, 0.7)),
        far,
        intake("near", (1.2, 0.12), kind="wall nozzle"),
        intake("other", (3.0, 0.12), kind="wall nozzle", reservoir="far"),
        tee("mid", (2.0, 0.12)),
        run("a", "near", "mid"),
        run("b", "other", "mid"),
        run("down", "mid", "pump"),
        pump(at=(2.0, -0.5), flow=0.004),
    )
    ledger = solve(layout).pumps["pump"]
    both = (*ledger.entries, *ledger.parallel_entries)
    ends = {e.part: e for e in both if e.kind == "entrance"}
    assert ends.keys() == {"near", "other"}
    whole = {e.part: e for e in both if e.part == "mid"}
    assert len(whole) == 1
    for entry in ends.values():
        assert entry.pressure == pytest.approx(ledger.atmosphere, abs=5e3)


def test_a_tree_has_nothing_beside() -> None:
    layout = drawing(run("riser", "strainer", "pump"))
    assert solve(layout).pumps["pump"].parallel_entries == ()


def named(layout: Layout, finding: str) -> dict[str, object]:
    return {f.part: f for f in check(solve(layout)) if f.finding == finding}


def test_both_of_two_strainers_are_looked_at() -> None:
    dear = named(twin(), "strainer drop")
    assert dear.keys() == {"first", "second"}


def test_a_bypass_that_opens_beside_the_walk_is_found() -> None:
    open_there = named(twin(screen=mesh(blocked=0.9, bypass=quantity("1 kPa", Kind.PRESSURE))), "bypass open")
    assert open_there.keys() == {"second"}


def test_a_narrow_line_beside_the_walk_is_too_fast() -> None:
    """A long wide line carries more than a short narrow one, which is the faster."""
    layout = drawing(
        WIDE,
        intake("first", (0.5, 0.12), bore=0.06),
        intake("second", (1.5, 0.12), bore=0.035),
        tee("header", (1.0, 1.2), bore=0.08),
        run("left", "first", "header", via=[(0.5, 1.2)], bore=0.06, out_of_plane=12.0),
        run("right", "second", "header", via=[(1.5, 1.2)], bore=0.035),
        run("up", "header", "pump", bore=0.08),
        pump(at=(1.0, 2.0), flow=0.004),
    )
    ledger = solve(layout).pumps["pump"]
    assert any(e.part == "left" for e in ledger.entries)
    assert any(e.part == "right" for e in ledger.parallel_entries)
    assert list(named(layout, "suction velocity")) == ["right"]


def test_a_high_loop_beside_the_walk_holds_the_lowest_pressure() -> None:
    """The easier way is level; the other climbs 6 m and carries less."""
    layout = drawing(
        WIDE,
        intake("first", (0.5, 0.12)),
        tee("split", (0.5, 1.2)),
        tee("join", (2.5, 1.2)),
        run("riser", "first", "split"),
        run("level", "split", "join"),
        run("over", "split", "join", via=[(0.5, 7.0), (2.5, 7.0)], bore=0.03, bend_radius=0.045),
        run("on", "join", "pump"),
        pump(at=(3.5, 1.2), flow=0.002),
    )
    by_part = named(layout, "free air")
    assert list(by_part) == ["over"]
    ledger = solve(layout).pumps["pump"]
    assert min(e.pressure for e in ledger.parallel_entries) < ledger.lowest


def test_flow_against_a_check_valve_is_found() -> None:
    """The far tank stands higher, so fluid runs back through the near suction and its check."""

    def joined(low: float) -> Layout:
        return drawing(
            tank(size=(1.2, 2.7), normal=0.55, minimum=0.4),
            tank("far", (4.0, -low), size=(1.2, 2.7), normal=2.55, minimum=2.4),
            intake("near", (1.2, 0.2), kind="wall nozzle"),
            intake("other", (4.0, 0.2), kind="wall nozzle", reservoir="far"),
            fitting("check", (1.8, 0.2), kind="swing check"),
            tee("mid", (2.6, 0.2)),
            run("a", "near", "check"),
            run("b", "check", "mid"),
            run("c", "mid", "other"),
            run("down", "mid", "pump"),
            pump(at=(2.6, -0.5), flow=0.001),
        )  # fmt: skip

    by_part = named(joined(0.0), "flow against a check valve")
    assert list(by_part) == ["check"]
    assert by_part["check"].value < 0 == by_part["check"].threshold
    assert named(joined(2.0), "flow against a check valve") == {}
    shut = joined(0.0)
    valve = replace(shut.fittings["check"], state="closed")
    assert named(replace(shut, fittings={"check": valve}), "flow against a check valve") == {}


def test_the_report_tells_them_after_the_walk_and_leaves_them_out_of_the_sums() -> None:
    solution = solve(twin())
    ledger = solution.pumps["pump"]
    lines = report(alone(solution, ())).splitlines()
    heading = lines.index("    in parallel with this path, so not in the sums:")
    end = heading + 1 + len(ledger.parallel_entries)
    walked, beside = lines[heading - len(ledger.entries) : heading], lines[heading + 1 : end]
    for told, entries in ((walked, ledger.entries), (beside, ledger.parallel_entries)):
        for line, entry in zip(told, entries, strict=True):
            assert line.startswith(f"    {entry.part}, ")
            assert line.endswith(f" {entry.pressure / 1000:.2f}")
    assert lines[end].startswith(f"    spent: {in_writing(RoundedLedger(ledger, System.SI).spent)} kPa")
    assert ledger.spent == pytest.approx(sum(e.lift + e.loss for e in ledger.entries))
    assert max(map(len, lines)) <= WIDTH


def test_a_note_on_a_coefficient_beside_the_walk_is_a_reservation_too() -> None:
    fine = Screen(
        mesh=quantity("600 per inch", Kind.WIRES),
        wire=quantity("0.035 mm", Kind.BORE),
        area=quantity("0.0005 m^2", Kind.AREA),
    )
    solution = solve(twin(screen=fine))
    (key,) = (e.key for e in solution.pumps["pump"].parallel_entries if e.key == "second/screen")
    text = report(alone(solution, ()))
    assert re.search(rf"^  {key}: porosity .* is outside", text.partition("Reservations")[2], re.MULTILINE)


def test_without_lines_in_parallel_the_report_is_silent_about_them() -> None:
    assert "in parallel" not in report(alone(solve(drawing(run("riser", "strainer", "pump"))), ()))
