"""The order of work: what no change of the line can do is settled before anything is built."""

from __future__ import annotations

from dataclasses import replace

from solver.findings.judgement import judge
from solver.fixes.fixes import advise_all
from solver.fixes.overhead import ASK
from solver.layout.file import parse
from solver.layout.parts import Limit
from solver.quantities.units import Kind, System, quantity, typeset
from solver.report.choosing import JudgedDrawing
from solver.report.order_of_work import order_of_work
from solver.report.recommendation import NONE_ENOUGH, recommendation
from tests.drawings import SHIPPED
from tests.solver.fixes.test_overhead import advice, hungry

SI = System.SI


def test_where_no_change_is_enough_what_would_be_is_settled_first_and_told_once() -> None:
    """A pump that needs more at its port than the atmosphere has: a tank above it, or a charge pump."""
    now = judge(hungry(190e3))
    drawn = JudgedDrawing("", now, {"pump": advice()})
    needed = drawn.chosen["pump"].overhead
    assert needed is not None
    fix = drawn.chosen["pump"].fix
    assert fix is not None
    assert not fix.cures
    (text,) = recommendation(drawn, None, SI)
    steps = list(order_of_work(drawn, SI))
    assert NONE_ENOUGH in text
    assert needed.would_do(SI) in text
    assert f"Of what was tried, to {fix.text} {fix.buys(SI)}" in text
    (first,) = (number for number, step in enumerate(steps) if step.startswith("Settle first"))
    assert first == 0
    assert needed.in_short(SI) in steps[0]
    assert ASK in steps[0]
    assert not any(fix.text[1:] in step for step in steps), "what is not enough is no step"
    kept = f"{typeset(needed.thin, Kind.VACUUM, SI, 2)} of that is kept"
    assert kept in text
    assert not any(kept in step for step in steps)


def steps_of(name: str, alternative: str = "", *, advised: bool = False, **pump: object) -> list[str]:
    """The order of work of an example, its pumps changed."""
    drawing = parse(next(each for each in SHIPPED if each.stem == name).read_text())
    base = drawing.alternatives[alternative].layout if alternative else drawing.base
    layout = replace(base, pumps={key: replace(each, **pump) for key, each in base.pumps.items()})
    known = advise_all(layout) if advised else {}
    return list(order_of_work(JudgedDrawing("", judge(layout), known), SI))


def filling(name: str, alternative: str = "", **pump: object) -> str:
    """The order to fill an example's line, its pumps changed."""
    (order,) = (step for step in steps_of(name, alternative, **pump) if step.startswith("Fill "))
    return order


OIL = "High-VI oil, ISO VG 32"


def test_a_pump_that_draws_its_line_full_is_filled_alone_as_its_plan_has_it() -> None:
    """Its plan has the line stay empty, with nothing to hold it full."""
    assert (
        filling("winter-press", OIL) == "Fill press, which draws its empty line full, before the first start."
    )
    assert filling("winter-press", OIL, dry_lift=None) == "Fill line and pump before the first start."
    assert filling("over-the-bund-wall") == "Fill line and pump before the first start.", (
        "its valve holds it full"
    )


def test_a_pump_that_nothing_ordered_makes_fit_is_neither_filled_nor_read() -> None:
    """Filled, or read "with cold fluid", it would be started on the line that stops it."""
    steps = steps_of("winter-press")
    assert steps[-1].startswith("Do not start press on this line: ")
    assert not any(step.startswith(("Fill ", "Read ")) for step in steps)


def test_a_line_is_changed_first_then_filled_and_then_started() -> None:
    steps = steps_of("carriage-at-altitude", advised=True)
    change = next(at for at, step in enumerate(steps) if step.startswith("Put carriage beside tank"))
    start = next(at for at, step in enumerate(steps) if "Do not start" in step)
    assert change < start < len(steps) - 1
    assert steps[start] == (
        "Do not start carriage before that; then fill line and pump before the first start."
    )
    assert steps[-1].startswith("Read ")


def test_a_pump_that_does_not_draw_its_line_full_gets_what_its_priming_plan_has() -> None:
    steps = steps_of("shear-started-dry")
    fitted = steps.index("Fit a foot valve in the line of shear, and fill it by hand before every start.")
    assert steps[fitted + 1] == "Fill line and pump before the first start."
    tight = steps_of("shear-started-dry", limit=Limit("vacuum", ((None, quantity("21 kPa", Kind.VACUUM)),)))
    assert tight[-1].startswith("Do not start shear on this line: a foot valve would hold it full")
    assert not any(step.startswith(("Fill ", "Read ")) for step in tight)


def test_a_machine_that_was_read_running_has_had_its_first_start() -> None:
    assert filling("strainer-over-a-year").endswith(" before the first start after the line was opened.")
