"""What the Priming view shows as HTML: what the plan stands on, the work, where air may come in. No Qt."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass, replace
from html import escape

from sketch.look.words import typographic
from sketch.model.pins import Pin, PinKind
from solver.field import air, plan, priming
from solver.field.air import Air
from solver.field.priming import Priming
from solver.findings.judgement import Judgement
from solver.findings.kinds import Severity
from solver.ledger.solve import Solution
from solver.quantities.units import Kind, System
from solver.quantities.units import typeset as figure
from solver.report.priming import LOW_JOINTS, NO_JOINT

STYLE = """
body {{ color: {ink}; }}
p {{ margin: 0 0 6px 0; }}
h4 {{ margin: 0 0 6px 0; }}
td {{ padding: 2px 12px 4px 0; }}
ol {{ margin: 0 0 6px 0; }}
li {{ margin: 0 0 6px 0; }}
.name {{ color: {quiet}; }}
.note {{ color: {quiet}; font-weight: bold; }}
.caution {{ color: {caution}; font-weight: bold; }}
.stop {{ color: {stop}; font-weight: bold; }}
"""

FACTS, WORK, AIR = "In figures", "Order of work", "Where air may come in"


@dataclass(frozen=True, slots=True)
class Page:
    """The three panes, and the marks on the drawing that go with them."""

    facts: str
    work: str
    air: str
    pins: tuple[Pin, ...]
    parts: tuple[str, ...]  # that the links of the third pane select, by their number


def page(judgement: Judgement, solution: Solution, pump: str, system: System, accent: str) -> Page:
    """The page of one pump in a solved state; `accent`, the colour of links. Raises KeyError."""
    shown = replace(solution, layout=replace(solution.layout, units=system))
    primed, held = priming.priming(shown, pump, system), air.air(shown, pump)
    return Page(
        facts=f"<h4>{FACTS}</h4>{_facts(primed, judgement, shown, system)}",
        work=f"<h4>{WORK}</h4>{_work(primed, judgement, shown, system)}",
        air=f"<h4>{AIR}</h4>{''.join(_air(held, shown, system, accent))}",
        pins=pins(primed, held, system),
        parts=tuple(joint.part for joint in held.joints),
    )


def pins(primed: Priming, held: Air, system: System) -> tuple[Pin, ...]:
    """Joints below the atmosphere by their number, and the places where air stays, for the drawing."""
    joints = (
        Pin(joint.x, joint.z, str(number), PinKind.JOINT, joint.key)
        for number, joint in enumerate(held.joints, start=1)
    )
    pockets = (
        Pin(each.x, each.z, f"up to {figure(each.volume, Kind.VOLUME, system)} of air", PinKind.POCKET)
        for each in primed.pockets
    )
    return (*joints, *pockets)


def _text(words: str) -> str:
    return escape(typographic(words))


def _facts(primed: Priming, judgement: Judgement, solution: Solution, system: System) -> str:
    rows = "".join(
        f'<tr><td class="name">{_text(name)}</td><td>{_text(value)}</td></tr>'
        for name, value in plan.facts(primed, solution, system, judgement.layout)
    )
    return f'<table width="99%" cellspacing="0">{rows}</table>'


def _work(primed: Priming, judgement: Judgement, solution: Solution, system: System) -> str:
    steps = "".join(f"<li>{_text(step)}</li>" for step in plan.steps(primed, judgement, solution, system))
    return f'<ol>{steps}</ol><p><span class="caution">Caution:</span> {_text(plan.CAUTION)}</p>'


def _air(held: Air, solution: Solution, system: System, accent: str) -> Iterator[str]:
    yield f"<p>{_text(LOW_JOINTS if held.joints else NO_JOINT)}</p>"
    if held.joints:
        style = f"color: {accent}; text-decoration: none"
        joints = (
            f'<li><a href="{number}" style="{style}">{_text(air.joint_text(joint, held, system))}</a></li>'
            for number, joint in enumerate(held.joints)
        )
        yield f"<ol>{''.join(joints)}</ol>"
    seal = air.seal_text(held, system)
    if seal:
        yield f"<p>And the {_text(seal)}.</p>"
    for remark in air.air_notes(held, solution.layout, system):
        yield f"<p>{_lead(remark.severity)}{_text(remark.text)}</p>"


def _lead(severity: Severity | None) -> str:
    return f'<span class="{severity}">{severity.capitalize()}:</span> ' if severity is not None else ""
