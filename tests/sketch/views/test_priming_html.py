"""The three panes of the Priming view say what the terminal says, and nothing of a drawing is markup."""

from __future__ import annotations

from dataclasses import replace

from sketch.model.pins import PinKind
from sketch.views.priming_html import page
from solver.field import air, plan, priming
from solver.findings.judgement import alone
from solver.layout import file
from solver.ledger.solve import solve
from solver.quantities.units import System
from tests.drawings import SHIPPED

LAYOUTS = {path.stem: file.read(path).base for path in SHIPPED}


def test_every_step_and_joint_of_the_plan_stands_there() -> None:
    solution = solve(LAYOUTS["over-the-bund-wall"])
    shown = page(alone(solution, ()), solution, "transfer", System.SI, "#000000")
    steps = plan.steps(
        priming.priming(solution, "transfer", System.SI), alone(solution, ()), solution, System.SI
    )
    assert shown.work.count("<li>") == len(steps)
    assert "Caution:" in shown.work
    joints = air.air(solution, "transfer").joints
    assert shown.air.count("<a href") == len(joints) == len(shown.parts)
    numbered = [pin.text for pin in shown.pins if pin.kind is PinKind.JOINT]
    assert numbered == [str(number + 1) for number in range(len(joints))]
    assert any(pin.kind is PinKind.POCKET and "19.3" in pin.text for pin in shown.pins)


def test_names_out_of_a_drawing_are_no_markup() -> None:
    layout = LAYOUTS["carriage-at-altitude"]
    pump = replace(layout.pumps["carriage"], name="<b>x</b>")
    run = replace(layout.runs["lead"], end="<b>x</b>")
    renamed = replace(layout, pumps={"<b>x</b>": pump}, runs={**layout.runs, "lead": run})
    solution = solve(renamed)
    shown = page(alone(solution, ()), solution, "<b>x</b>", System.SI, "#000000")
    for text in (shown.facts, shown.work, shown.air):
        assert "<b>" not in text
