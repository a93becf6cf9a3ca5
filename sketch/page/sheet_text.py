"""What the client's page says in words and figures: budget, ledger, assumptions, cautions."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import replace

from sketch.air_column.notes import reading
from sketch.page.blocks import Block, Heading, Paragraph
from sketch.page.columns import Columns
from sketch.page.sheet_basis import limit_words
from sketch.page.sheet_frame import Panel, Sheet, case_name
from sketch.page.table import Row, Table
from solver.ledger.rounding import RoundedLedger, allowed_figure, in_writing
from solver.ledger.sentences import npsh_text
from solver.ledger.solve import PumpLedger, Solution
from solver.properties.fluid import FluidState
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, typeset, unit
from solver.quantities.wording import capitalised, figures_in, ledger_absolute, ledger_pressure, uncapitalised
from solver.report.assumptions import particular
from solver.report.budget_words import weather_in_words
from solver.report.cautions import what_runs_out
from solver.report.defaults import defaults
from solver.report.uncertainty import varied

METHOD = (
    "Steady flow. Friction after Darcy and Weisbach: laminar below a Reynolds number of 2000, Colebrook "
    "from 3000, or Churchill if more, the unfavourable side up to 4000, where it is uncertain. Fittings and "
    "entrances at the Reynolds number they really have (2-K and 3-K methods), as thick fluids flow laminar.",
    "Lift is charged above the fluid level only: below it the fluid outside the pipe balances the fluid "
    "inside. Pressures are absolute unless they are called a vacuum, which is counted down from the "
    "atmosphere here.",
)

CAUTIONS = (
    "This is a calculation, not a release for work. The pump maker's figures, local codes and a licensed "
    "engineer's judgement come before it.",
    "Check the limit with the maker for this fluid and speed. Read a vacuum gauge at the port, with warm and "
    "with cold fluid, before relying on these figures.",
    "An isolating valve in a suction line must be locked open or interlocked: a pump started against a "
    "closed valve can be destroyed in seconds.",
    "Before opening a suction line lock out the drive, let the pressure off and drain it: fluid may be hot, "
    "and a flooded line runs until its reservoir is empty.",
    "Catalogue figures of a fluid are typical of its family. The supplier's sheet for the fluid in use "
    "replaces them. What is marked unverified is a typical value, not checked against its source.",
)


SCALED = (
    "drawings are true to the scale named, but for symbols and the thinnest pipes; what lies out of the "
    "plane is not drawn"
)


NOT_SHOWN = "Of the drawing and its alternatives, which this sheet does not show."
"""Of notes that speak of alternatives, on a sheet of the drawing alone."""


def key_figures(ledger: PumpLedger, system: System, highest: str) -> tuple[tuple[str, str], ...]:
    """The handful of numbers a client asks for, (name, figure); what is left adds up as shown."""
    figures = RoundedLedger(ledger, system)
    budget, spent, margin = map(in_writing, (figures.budget, figures.spent, figures.margin))
    vacuum = unit(Kind.VACUUM, system)
    required = ledger.npsh_required
    needed = () if required is None else (("NPSH required", typeset(required, Kind.HEAD, system, PLACES)),)
    return (
        ("At the port", reading(ledger, system)),
        ("Allowed here", _allowed(ledger, system)),
        ("Inlet budget", f"{budget} {vacuum}"),
        ("Spent", f"{spent} {vacuum}"),
        ("Margin", f"{margin} {vacuum}"),
        ("NPSH available", npsh_text(ledger, system).partition(":")[0]),
        *needed,
        ("Highest port", highest or "\N{EN DASH}"),
    )


def _allowed(ledger: PumpLedger, system: System) -> str:
    """The largest vacuum allowed, in short; a plus is pressure that must stand above the atmosphere."""
    allowed = allowed_figure(ledger, system)
    if ledger.allowed_vacuum < 0.0:
        return f"none: +{ledger_pressure(-allowed, system)}"
    return f"{ledger_pressure(allowed, system)} vac."


def assumption_part(sheet: Sheet) -> Iterator[Block]:
    """The issues of the drawing, what the figures are based on, notes and cautions."""
    yield from _revisions(sheet)
    yield Heading("Assumptions and sources")
    runs_out = [_text(text) for text in what_runs_out(sheet.built.judgement, sheet.system)]
    further: tuple[Block, ...] = (Heading("Cautions for any calculation"), *map(_text, CAUTIONS), *runs_out)
    yield Columns((*_stands_on(sheet), *_what_is_varied(sheet), *_note_blocks(sheet), *further))


def _what_is_varied(sheet: Sheet) -> Iterator[Block]:
    """In which figures the trials of the first page differ, and how far."""
    if sheet.trials:
        over = (
            f"{panel.option.title} in {each.trials.trials_over}"
            for panel, each in zip(sheet.panels, sheet.trials, strict=False)
        )
        counted = f"Over the budget: {', '.join(over)}"
        yield _text(f"{varied(sheet.trials, sheet.system)}. {counted}.", "How sure it is:")


def _text(text: str, lead: str = "") -> Paragraph:
    """Running text that may end in the next column."""
    return Paragraph(text, lead, tears=True)


def _revisions(sheet: Sheet) -> Iterator[Block]:
    """Those of the drawing, and those of another drawing that is set beside it."""
    other = [
        (panel.option.title, panel.judgement.layout.title_block)
        for panel in sheet.panels[1:]
        if panel.judgement.layout.title_block != sheet.title_block
    ]
    own = sheet.drawn.inside
    listed = [(own, sheet.title_block)] if sheet.title_block.revisions else []
    if listed or other:
        yield Heading("Revisions")
    for name, block in (*listed, *other):
        if not block.revisions:
            none = f"revision {block.revision}; it lists none." if block.revision else "it names no revision."
            yield Paragraph(none, f"{name}:")
            continue
        if other:
            yield Paragraph(f"Of {name}.", quiet=True, keep=True)
        rows = tuple(Row((each.name, each.date, each.text)) for each in block.revisions)
        yield Table(("Revision", "Date", "What changed"), rows, frozenset((0, 1, 2)), dense=True)


def _stands_on(sheet: Sheet) -> Iterator[Block]:
    """All that the drawing assumes, and what the alternative beside it assumes differently."""
    first = tuple(_based_on(sheet.panels[0], sheet.system))
    case = sheet.panels[0].place.case
    yield Paragraph(f"Figures of {sheet.panels[0].pump}, {case_name(case)}.", quiet=True, keep=True)
    untyped = [tuple(defaults(panel.solution, sheet.system)) for panel in sheet.panels]
    common = [text for text in untyped[0] if all(text in each for each in untyped)]
    for lead, text in first:
        yield replace(_text(text, lead), close=True)
    if common:
        yield _text("; ".join(common) + ".", "Usual values assumed:")
    for panel, texts in zip(sheet.panels, untyped, strict=True):
        whose = f"{panel.option.title}, {case_name(panel.place.case)}"
        known = sheet.panels[0].solution.tank_fluid
        based = zip(_based_on(panel, sheet.system), _based_on(panel, sheet.system, known), strict=True)
        for in_full, (lead, text) in based:
            if in_full not in first:
                yield _text(text, f"{whose}, {uncapitalised(lead)}")
        if others := [text for text in texts if text not in common]:
            yield _text("; ".join(others) + ".", f"{whose}, usual values assumed:")
    for text in (*METHOD, f"{capitalised(SCALED)}."):
        yield _text(text)
    rows = [row for panel in sheet.panels for row in panel.solution.network.rows]
    for note in dict.fromkeys(f"{row.key}: {row.note}" for row in rows if row.note):
        yield Paragraph(f"{note}.", "Reservation:")
    sources = dict.fromkeys(row.source for row in rows if row.source)
    if sources:
        yield Paragraph("; ".join(sources) + ".", "Coefficients from:", quiet=True, tears=True)


def _based_on(panel: Panel, system: System, known: FluidState | None = None) -> Iterator[tuple[str, str]]:
    """known: the fluid whose sources stand further up, and are not written out again."""
    for text in limit_words(panel, system):
        yield "Limit:", f"{capitalised(text)}."
    for text in weather_in_words(panel.judgement, panel.pump, system):
        yield "Weather:", f"{text}."
    yield from _assumptions(panel.solution, panel.pump, system, known)


def _assumptions(
    solution: Solution, pump: str, system: System, known: FluidState | None = None
) -> Iterator[tuple[str, str]]:
    ledger = solution.pumps[pump]
    air = ledger_absolute(ledger.atmosphere, system)
    place = "" if solution.elevation is None else f" at {typeset(solution.elevation, Kind.ELEVATION, system)}"
    yield "Site:", f"atmosphere {air}{place}."
    for text in particular(solution, system):
        yield "Assumed:", f"{text}."
    level = typeset(ledger.fluid_level, Kind.LENGTH, system)
    yield "Fluid level:", f"the {solution.level} level of every reservoir, {ledger.reservoir} at {level}."
    yield (
        "Flow:",
        f"{typeset(ledger.flow, Kind.FLOW, system)} into {pump}"
        + ("." if ledger.speed is None else f" at {typeset(ledger.speed, Kind.SPEED, system)}."),
    )
    tank, line = solution.tank_fluid, solution.fluid
    yield "Fluid:", f"{tank.name} at {_properties(tank, system, known)}"
    if line is not tank:
        yield "In the line:", f"at {_properties(line, system, known)}"


def _properties(fluid: FluidState, system: System, known: FluidState | None) -> str:
    as_known = known is not None and fluid.sources == known.sources
    vapor = fluid.known_vapor_pressure
    figures = (
        ("density", typeset(fluid.density, Kind.DENSITY, system)),
        ("viscosity", typeset(fluid.viscosity, Kind.VISCOSITY, system)),
        ("vapor_pressure", "" if vapor is None else typeset(vapor, Kind.ABSOLUTE, system)),
    )
    sources = "; ".join(
        f"{name.replace('vapor_', 'vapour ')} {figure}"
        f"{'' if as_known else _source(fluid.sources, name, system)}"
        for name, figure in figures
    )
    above = "; sources as above" if as_known else ""
    return f"{typeset(fluid.temperature, Kind.TEMPERATURE, system)}: {sources}{above}."


def _source(sources: Mapping[str, str], name: str, system: System) -> str:
    return f" ({figures_in(sources[name], system)})" if sources.get(name) else ""


def _note_blocks(sheet: Sheet) -> Iterator[Block]:
    """What the drawing says of itself."""
    if sheet.notes.strip():
        yield Heading("Notes")
        if len(sheet.options) == 1 and "alternative" in sheet.notes.casefold():
            yield Paragraph(NOT_SHOWN, quiet=True, keep=True)
    for paragraph in sheet.notes.strip().split("\n\n"):
        if paragraph.strip():
            yield _text(" ".join(paragraph.split()))
