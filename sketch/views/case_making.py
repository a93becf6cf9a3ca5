"""Cases made, renamed, ordered, changed and dropped in the open drawing, each as one undo step."""

from __future__ import annotations

from collections.abc import Mapping
from copy import deepcopy
from itertools import count
from math import ceil, floor
from typing import Any

from sketch.editing import cases
from sketch.editing.cases import CaseFigure
from sketch.editing.edits import EditError
from sketch.look.words import with_signs
from sketch.model import alternatives
from sketch.model.document import Document
from sketch.model.drawing_state import State, trouble_of_alternatives, with_case_figure
from solver.answers.proposals import CaseProposal
from solver.field.put_in import PutIn, merged
from solver.findings.judgement import START_NOT_COUNTED
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.parts import Case, Layout
from solver.quantities import units
from solver.quantities.spelling import with_unit
from solver.quantities.units import Kind, System

TEMPERATURE = ("fluid", "temperature")
"""Where a case has how warm its fluid is."""


def free_name(layout: Layout, name: str) -> str:
    """That name with the first number at which the drawing has no case yet."""
    names = cases_of(layout)
    return next(each for at in count(1) if (each := f"{name} {at}") not in names)


def in_unit_shown(text: str, kind: Kind, system: System) -> str:
    """What was typed; a bare number is in the unit shown."""
    return with_unit(text.strip(), units.unit(kind, system))


def asked_figures(layout: Layout, proposal: CaseProposal) -> tuple[CaseFigure, ...]:
    """The figures that a case offered ready tables still lacks."""
    return tuple(figure for figure in cases.figures(layout) if _key(figure) in proposal.asked)


EXAMPLES: Mapping[Kind, tuple[str, str]] = {
    Kind.TIME: ("0.2 s", "0.2 s"),
    Kind.VACUUM: ("2 kPa", "0.6 inHg"),
}
"""How a figure may be typed, in SI and in US units: no value that is usual."""

COLD = 278.15
HOTTER, COLDER = 15.0, 10.0
"""How warm an example of a cold or hot case is: cold, and so much beside the drawing at least [K]. No values
that are usual."""


def _example(document: Document, figure: CaseFigure, proposal: CaseProposal | None) -> str:
    """How a figure may be typed: one that the case could have, in the units shown; "" for none."""
    system = document.system
    if figure.kind is not Kind.TEMPERATURE:
        examples = EXAMPLES.get(figure.kind) if figure.kind is not None else None
        return examples[system is System.US] if examples else ""
    if proposal is None:
        return (
            ""  # of a case of one's own nobody knows which way it goes; the field begins with the drawing's
        )
    drawn = document.layout.fluid.temperature.si
    si = drawn + HOTTER if proposal.hot else min(COLD, drawn - COLDER)
    whole = 10 * (ceil if proposal.hot else floor)(units.to_display(si, Kind.TEMPERATURE, system) / 10)
    return f"{whole} {'degF' if system is System.US else 'degC'}"


def question(document: Document, figure: CaseFigure, case: str, proposal: CaseProposal | None = None) -> str:
    """What is asked for a figure of a case: its unit, how it may be typed, and whether it may be left out."""
    words = figure.words.strip()
    if figure.kind is None:
        return f'{words}, in the case "{case}":'
    unit = units.unit(figure.kind, document.system)
    example = _example(document, figure, proposal)
    example = f"; such as {with_signs(example)}" if example else ""
    unknown = ""
    if proposal is not None and may_lack(proposal, figure):
        unknown = f"\nLeave it empty if it is not known: the verdict then says {START_NOT_COUNTED}."
    return f'For the case "{case}", {words} ({unit}{example}):{unknown}'


def may_lack(proposal: CaseProposal, figure: CaseFigure) -> bool:
    """Whether a case is worth having without a figure that it asks for: it has others, or asks for others."""
    return figure.path[-1] == "flow_rise" and bool(proposal.table)


def add_proposal(document: Document, proposal: CaseProposal, answers: Mapping[CaseFigure, str]) -> None:
    """Make a case that is offered ready tables; its note says what is assumed, typed and not known in it.

    answers: what was typed for each of `asked_figures`, "" for what is not known. Raises EditError.
    """
    table: dict[str, Any] = deepcopy(dict(proposal.table))
    assumed = [
        f"{figure.words} {with_signs(text)}"
        for figure in cases.figures(document.layout)
        if _key(figure) in proposal.assumed and (text := _text(table, figure))
    ]
    typed, unknown = [], [figure.words for figure, text in answers.items() if not text.strip()]
    for figure, text in answers.items():
        if not text.strip():
            continue
        written = in_unit_shown(text, figure.kind, document.system) if figure.kind else text
        typed.append(f"{figure.words} {with_signs(written)}")
        *tables, key = map(str, figure.path)
        inner = table
        for step in tables:
            inner = inner.setdefault(step, {})
        inner[key] = in_unit_shown(text, figure.kind, document.system) if figure.kind else text.strip()
    parts = (("Assumed, common practice", assumed), ("Typed", typed), ("Not known and not counted", unknown))
    note = " ".join(f"{said}: {'; '.join(words)}." for said, words in parts if words)
    if note:
        table = {"note": note, **({"start_not_counted": True} if unknown else {}), **table}
    add(document, proposal.name, table)


def _key(figure: CaseFigure) -> str:
    return ".".join(map(str, figure.path))


def _text(table: Any, figure: CaseFigure) -> str:
    for step in figure.path:
        table = table.get(step, {}) if isinstance(table, Mapping) else {}
    return table if isinstance(table, str) else ""


def add(document: Document, name: str, table: Mapping[str, Any]) -> None:
    """A new case in the drawing and its alternatives, which is then in view. Raises EditError."""
    name = name.strip()
    document.change_cases(f"New case {name}", lambda layout: cases.add(layout, name, table), name)


def keep_cause(document: Document, change: PutIn) -> str:
    """Keep a cause that was put in as a case, as an alternative where the line is another, or as both.

    Returns where it is kept, in words. Raises EditError.
    """
    wanted = change.name.replace("/", "-").replace(">", "-")
    if change.line is None and change.table is not None:
        tables = _cases_of_cause(document.layout, wanted, change.table)
        name, *others = tables
        document.change_cases(f"New case {name}", lambda layout: _with_cases(layout, tables), name)
        cold = "".join(f" So they do in the case {each}." for each in others)
        return f"Kept as the case {name}, which is shown: fixes count it too.{cold}{_left_out(change)}"
    line = change.line or change.layout
    tables = _cases_of_cause(line, wanted, change.table) if change.table is not None else {}
    line = _with_cases(line, tables)
    document.change_alternatives(
        f"Put in {change.name}", lambda state: alternatives.kept_and_shown(state, wanted, line)
    )
    name = document.alternative
    word = "case" if len(tables) == 1 else "cases"
    within = f", with the {word} {' and '.join(tables)} in it" if tables else ""
    return (
        f"Kept as the alternative {name}{within}, which is shown: its fixes are under Fixes."
        f"{_left_out(change)}"
    )


def _cases_of_cause(layout: Layout, wanted: str, table: Mapping[str, Any]) -> dict[str, Mapping[str, Any]]:
    """A cause as a case of the drawing as it stands, and of its coldest case, where it costs the most."""
    table = {"fault": True, **table}
    tables: dict[str, Mapping[str, Any]] = {_name_of(layout, wanted): table}
    colder = _colder_cases(layout)
    # A single viscosity holds at its own temperature alone.
    if colder and not isinstance(table.get("fluid", {}).get("viscosity"), str):
        name = min(colder, key=lambda each: colder[each].figures[TEMPERATURE].si)
        of_case = {key: value for key, value in colder[name].table.items() if key != "note"}
        tables[_name_of(layout, f"{name}, {wanted}")] = merged(of_case, table)
    return tables


def _colder_cases(layout: Layout) -> dict[str, Case]:
    """The cases that hold and are colder than the drawing, every pump running as it does there."""
    drawn = layout.fluid.temperature.si
    return {
        name: case
        for name, case in cases_of(layout).items()
        if TEMPERATURE in case.figures
        and case.figures[TEMPERATURE].si < drawn
        and not case.problems
        and not any(path[0] == "pumps" and path[-1] == "at_rest" for path in case.figures)
    }


def _with_cases(layout: Layout, tables: Mapping[str, Mapping[str, Any]]) -> Layout:
    for name, table in tables.items():
        layout = cases.add(layout, name, table)
    return layout


def _left_out(change: PutIn) -> str:
    return f" Left out, as a drawing has no figure for it: {change.left_out}." if change.left_out else ""


def _name_of(layout: Layout, cause: str) -> str:
    """A free name for the case of a cause, of no more characters than an alternative's."""
    most = alternatives.MOST_OF_NAME
    short = cause if len(cause) <= most else cause[: most - 1].rstrip() + "…"
    return free_name(layout, short) if short in cases_of(layout) else short


def rename(document: Document, case: str, wanted: str) -> None:
    """Another name for a case, in the drawing and all its alternatives. Raises EditError."""
    if wanted.strip() == case:
        return
    document.change_cases(
        f"Rename case {case}", lambda layout: cases.rename(layout, case, wanted), wanted.strip()
    )


def move(document: Document, case: str, step: int) -> None:
    """A case further up or down the list. Raises EditError."""
    names = [each for each in cases_of(document.layout) if each != AS_DRAWN]
    if case in names and 0 <= names.index(case) + step < len(names):
        document.change_cases(f"Move case {case}", lambda layout: cases.move(layout, case, step), case)


def remove(document: Document, case: str) -> None:
    """Drop a case from the drawing and all its alternatives; the drawing as it stands is then in view.

    Raises EditError.
    """
    document.change_cases(f"Delete case {case}", lambda layout: cases.remove(layout, case), AS_DRAWN)


def set_figure(
    document: Document, case: str, figure: CaseFigure, text: str, *, only_here: bool = False
) -> None:
    """A figure of a case; "" takes it off. Raises EditError.

    It is the drawing's, whatever alternative is shown: alternatives are compared case by case. With
    `only_here` it stands for the alternative that is shown alone, which may so have a milder case.
    """

    def change(layout: Layout) -> Layout:
        return cases.set_figure(layout, case, figure, text, document.system)

    label = f"{figure.words} in {case}"
    if only_here or not document.alternative:
        layout = change(document.layout)
        if trouble := document.trouble_with(layout):
            raise EditError(trouble)
        document.apply(label, layout)
        return

    def everywhere(state: State) -> State:
        after = with_case_figure(state, case, change)
        if trouble := trouble_of_alternatives(after.drawing):
            raise EditError(trouble)
        return after

    document.change_alternatives(label, everywhere)


def figures_of_alternative(document: Document, case: str) -> tuple[str, ...]:
    """The figures, in words, in which a case of the alternative shown is another than in the drawing."""
    base = document.drawing.base
    if not document.alternative or case not in cases_of(base):
        return ()
    own, drawn = (dict(cases.shown_figures(layout, case)) for layout in (document.layout, base))
    return tuple(each.words.strip() for each in {**own, **drawn} if own.get(each) != drawn.get(each))
