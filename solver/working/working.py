"""Any figure of a ledger with its formula, its numbers and its source; and the whole calculation so.

    Working -> Step -> Line

Nothing is computed here that the solver does not compute: a step is one of its formulas at its values.
"""

from __future__ import annotations

import math
from collections.abc import Iterable
from dataclasses import replace

from solver.findings.judgement import Judgement, judge
from solver.findings.outlook import own_headline
from solver.formulas import flow, symbols
from solver.formulas.record import Recorder
from solver.formulas.steps import Step, Working, steps
from solver.formulas.sums import sum_of
from solver.layout.cases import AS_DRAWN
from solver.layout.title_block import TitleBlock
from solver.ledger.rounding import RoundedLedger, in_writing, port_figures
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, to_display, unit
from solver.working import text
from solver.working.budget import budget_steps
from solver.working.entry import PlacedEntry, entry_steps, placed_entries
from solver.working.fluid import fluid_steps
from solver.working.text import CAUTION, Part, Section

FLUID, BUDGET, OUTCOME = "fluid", "budget", "outcome"
"""Keys of what is no entry: the fluid's properties, what there is to spend, and what is left of it."""

IN_LEDGER = "in the ledger, whose figures are rounded so that they add up"
"""Of a figure that a ledger shows a digit away from what its own value is rounded to."""

OF_LEDGER = (
    symbols.lift,
    symbols.dp,
    symbols.p,
    symbols.all_lift,
    symbols.all_loss,
    symbols.spent,
    symbols.p_port,
    symbols.vacuum,
    symbols.budget,
    symbols.allowed,
)
"""Results that a ledger shows too."""


def working(solution: Solution, pump: str, key: str, system: System) -> Working:
    """The working of one thing of a pump's ledger.

    Parameters: `solution`; `pump`, its name; `key` of an entry, one of FLUID, BUDGET and OUTCOME, or the name
    of a budget line ("altitude", "maker's limit", "floor", "inlet budget", ...); `system`, in whose units.
    Raises KeyError for another pump or key.
    """
    ledger = solution.pumps[pump]
    if key in (FLUID, BUDGET, OUTCOME):
        return next(section for section in _frame(solution, ledger, system) if section.key == key)
    for placed in placed_entries(solution, ledger):
        if placed.entry.key == key:
            return _entry(placed, RoundedLedger(ledger, system), system)
    steps = tuple(step for step in _budget(solution, ledger, system) if step.line == key)
    if not steps:
        raise KeyError(key)
    return Working(key, key, "", steps)


def calculation(solution: Solution, pump: str, system: System) -> tuple[Working, ...]:
    """The whole calculation of one pump's inlet: fluid, budget, every entry in walking order, outcome.

    Parameters: as `working`. Raises KeyError for another pump.
    """
    ledger = solution.pumps[pump]
    fluid, budget, outcome = _frame(solution, ledger, system)
    figures = RoundedLedger(ledger, system)
    entries = (_entry(placed, figures, system) for placed in placed_entries(solution, ledger))
    return (fluid, budget, *entries, outcome)


def as_text(
    solution: Solution,
    pump: str,
    system: System,
    alternative: str = "",
    case: str = AS_DRAWN,
    judgement: Judgement | None = None,
) -> str:
    """The whole calculation in at most 100 columns of text.

    Parameters: as `calculation`; `alternative`, the name of the one that was solved; `case`, the name of the
    one that is worked out here; `judgement` by all cases, which the headline is of.
    """
    opening = _opening(solution, (pump,), system, alternative, case, judgement)
    return text.text(_title(solution), opening, calculation(solution, pump, system))


def as_html(
    solution: Solution,
    system: System,
    alternative: str = "",
    case: str = AS_DRAWN,
    judgement: Judgement | None = None,
    before: str = "",
    first: str = "",
) -> str:
    """The whole calculation of every pump that runs as one HTML page that needs nothing beside it.

    Parameters: `solution`; `system`, in whose units; `before`, HTML that stands before the working;
    `first`, a sentence that stands before all else; the others as in `as_text`.
    """
    pumps = tuple(solution.pumps)
    parts = [Part(pump, calculation(solution, pump, system)) for pump in pumps]
    if len(parts) > 1:  # the fluid is the same for all of them
        fluid = Part("Every pump", parts[0].workings[:1])
        parts = [fluid, *(Part(part.title, part.workings[1:]) for part in parts)]
    opening = _opening(solution, pumps, system, alternative, case, judgement)
    opening = (first, *opening) if first else opening
    title = solution.layout.title if before and solution.layout.title else _title(solution)
    return text.page(title, opening, parts, before)


def pages(solution: Solution, pump: str, system: System) -> tuple[Section, ...]:
    """The whole calculation as sections of rows of words, for a sheet to set. Parameters as `calculation`."""
    return text.sections(calculation(solution, pump, system))


def _title(solution: Solution) -> str:
    title = solution.layout.title
    return f"{title}: working" if title else "Working"


def _opening(
    solution: Solution,
    pumps: Iterable[str],
    system: System,
    alternative: str,
    case: str,
    judgement: Judgement | None,
) -> tuple[str, ...]:
    """What was solved, how the pumps stand, and what comes before any figure here."""
    whole = judgement if judgement is not None else judge(solution.layout, solution.level, system=system)
    lines = [f"Alternative: {alternative}"] if alternative else []
    lines += [f"Case worked out here: {case}"] if len(whole.cases) > 1 or case != AS_DRAWN else []
    lines += [f"{pump}: {own_headline(whole, pump, system, case)}." for pump in pumps]
    lines += [f"Fluid level: {solution.level}."]
    units = text.units_sentence(system)
    return (*title_lines(solution.layout.title_block), *lines, *([units] if units else []), CAUTION)


def title_lines(block: TitleBlock) -> tuple[str, ...]:
    """Whom a calculation is for, who made it and when; nothing for what is not in the title block."""
    dates = {each.name: f", {each.date}" for each in block.revisions if each.date}
    fields = (
        ("Client", block.client),
        ("Project", block.project),
        ("Site", block.site),
        ("Drawn by", block.drawn_by),
        ("Checked by", block.checked),
        ("Revision", f"{block.revision}{dates.get(block.revision, '')}" if block.revision else ""),
        ("Date", block.date),
        ("Company", ", ".join(block.company)),
    )
    text = ". ".join(f"{name}: {value}" for name, value in fields if value)
    return (f"{text}.",) if text else ()


def lines(solution: Solution, pump: str) -> tuple[str, ...]:
    """The keys of the budget lines of a pump, those that have a working."""
    steps = budget_steps(solution, solution.pumps[pump], System.SI)
    return tuple(dict.fromkeys(step.line for step in steps if step.line))


def _frame(solution: Solution, ledger: PumpLedger, system: System) -> tuple[Working, Working, Working]:
    state, pump = solution.fluid, ledger.pump
    return (
        Working(FLUID, f"Fluid: {state.name}", "", fluid_steps(solution.tank_fluid, state, system)),
        Working(BUDGET, "What there is to spend", "", _budget(solution, ledger, system)),
        Working(OUTCOME, f"Outcome at {pump}", pump, _outcome(solution, ledger, system)),
    )


def _entry(placed: PlacedEntry, figures: RoundedLedger, system: System) -> Working:
    entry = placed.entry
    lift, loss, _, pressure = figures.entry(entry)
    shown = [(entry.lift, lift), (entry.loss, loss), (entry.pressure, pressure)]
    steps = _as_in_ledger(entry_steps(placed, system), shown, system)
    return Working(entry.key, f"{entry.part}, {entry.element}", entry.part, steps)


def _as_in_ledger(
    written: Iterable[Step], shown: Iterable[tuple[float, float]], system: System
) -> tuple[Step, ...]:
    """Steps that say what the ledger shows where that is not what its own value is rounded to.

    shown: values of the ledger [Pa], each as the ledger has it [shown unit of a vacuum].
    """
    unlike = [
        (value, f"{in_writing(figure)} {unit(Kind.VACUUM, system)} {IN_LEDGER}")
        for value, figure in shown
        if in_writing(to_display(value, Kind.VACUUM, system)) != in_writing(figure)
    ]

    def with_figure(step: Step) -> Step:
        if step.result_symbol not in OF_LEDGER:
            return step
        said = [text for value, text in unlike if math.isclose(step.value, value, rel_tol=1e-9)]
        return replace(step, source="; ".join([step.source, *said[:1]]))

    return tuple(map(with_figure, written)) if unlike else tuple(written)


def _budget(solution: Solution, ledger: PumpLedger, system: System) -> tuple[Step, ...]:
    allowed = to_display(port_figures(ledger, system)[1], Kind.VACUUM, system)
    shown = [(ledger.budget, RoundedLedger(ledger, system).budget), (ledger.allowed_vacuum, allowed)]
    return _as_in_ledger(budget_steps(solution, ledger, system), shown, system)


def _outcome(solution: Solution, ledger: PumpLedger, system: System) -> tuple[Step, ...]:
    recorder = Recorder()
    lift, loss = ([getattr(entry, name) for entry in ledger.entries] for name in ("lift", "loss"))
    for symbol, term, values, name in (
        (symbols.all_lift, symbols.lift, lift, "lift of all entries"),
        (symbols.all_loss, symbols.dp, loss, "losses of all entries"),
    ):
        total = sum_of(symbol, term, values, name)
        if total is None:
            recorder.given(symbol, sum(values), "sum over the entries")
        else:
            recorder.add(total)
    recorder.work(flow.spent, sum(lift), sum(loss))
    recorder.work(flow.inlet_pressure, ledger.surface, ledger.spent)
    recorder.work(flow.inlet_vacuum, ledger.atmosphere, ledger.inlet)
    recorder.work(flow.margin, ledger.budget, ledger.spent)
    port, fluid = ledger.entries[-1], solution.fluid
    if "vapor_pressure" not in fluid.unknown:
        recorder.work(flow.npsh_available, ledger.inlet, fluid.density, port.velocity, fluid.vapor_pressure)
    figures = RoundedLedger(ledger, system)
    vacuum = to_display(port_figures(ledger, system)[0], Kind.VACUUM, system)
    shown = [
        (sum(lift), figures.lift),
        (sum(loss), figures.loss),
        (ledger.spent, figures.spent),
        (ledger.inlet, figures.inlet),
        (ledger.vacuum, vacuum),
    ]
    return _as_in_ledger(steps(recorder.steps, system), shown, system)
