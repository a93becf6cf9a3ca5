"""A solution as text in at most 100 columns."""

from __future__ import annotations

import textwrap
from collections.abc import Iterable, Iterator, Mapping
from typing import TYPE_CHECKING

from solver.answers.answer import Answer, in_brief, reach_lines
from solver.findings.criteria import held_in, place_in_words
from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.findings.outlook import outlook, own_headline, unsound_pumps
from solver.layout.cases import AS_DRAWN
from solver.layout.differences import differences
from solver.layout.parts import Layout
from solver.ledger.path import HeadEntryKind
from solver.ledger.rounding import RoundedLedger, in_writing, shown_pressure
from solver.ledger.sentences import against_limit, at_port, budget_step, npsh_sentence, trouble, verdict
from solver.ledger.solve import BudgetLine, Entry, PumpLedger, Solution
from solver.quantities.units import Kind, System, rounded, to_display, typeset, unit
from solver.quantities.wording import broken, capitalised, ledger_absolute, printable, uncapitalised
from solver.report.assumptions import assumptions
from solver.report.conditions import conditions

if TYPE_CHECKING:
    from solver.field.as_read import AsRead
    from solver.fixes.fixes import Advice

WIDTH = 100

CAUTION = (
    "The pump maker's own figures for this pump, fluid and speed come first, then local codes and the "
    "judgement of a licensed engineer. Figures marked as estimates are ours. Release the pressure, lock out "
    "the drive and mind hot fluid before opening any line."
)


PRESSURES = (
    "Pressure is static, at the end of each element, its own velocity head taken off. Above the fluid level "
    "it falls by lift and loss; below the level the fluid that stands over the element counts in."
)

ROUNDED = "Figures are rounded so that lift, loss and budget add up: one may be off by its last digit."

FLOODED = (
    "A flooded head has no pressure of its own: it is what the fluid over the port adds on the way down."
)

LENGTHS = "Length is that of straights alone: bends and fittings are entries of their own, without one."

HEADINGS = ("bore", "length", "velocity", "Re", "lift", "loss", "share", "pressure")

AT_REST = "A check valve in its outlet is assumed."

_RESERVED = {PumpState.THIN: "; thin", PumpState.UNFIT: "; not fit to run, see the findings"}
"""What stands behind a pump that is within its budget, and yet not well."""

BESIDE = "in parallel with this path, so not in the sums:"


def report(
    judgement: Judgement,
    case: str = AS_DRAWN,
    alternative: str | None = None,
    answers: Mapping[str, Iterable[Answer]] | None = None,
    pump: str | None = None,
    advice: Mapping[str, Advice] | None = None,
    base: Layout | None = None,
    alternatives: Mapping[str, Judgement | str] | None = None,
    *,
    readings_first: bool = False,
    as_read: AsRead | None = None,
) -> str:
    """The ledgers of one case of a drawing, the verdicts by all of them first and last, in its own units.

    Parameters: `case`, the one whose ledgers are shown; `alternative`, the name of the one that was solved;
    `answers` and `advice` by pump, where they were asked; `pump`, the only one that is shown; `base`, the
    drawing that the alternative is laid over; `alternatives` of the drawing, judged, or why not;
    `readings_first`, whether what was read stands before it, so that the verdicts are marked as those of
    the drawing; `as_read`, the drawing with its screens as read, where one is past what is allowed or due.
    """
    system = judgement.layout.units
    shown = judgement.cases[case]
    lines = [*_wrap(judgement.layout.title)]
    if alternative is not None:
        lines += _wrap(f"Alternative: {alternative}")
        lines += _wrap(changed) if (changed := differences_text(judgement, base)) else []
    if len(judgement.cases) > 1:
        lines += _wrap(f"Case shown: {case}" + (f". {shown.note}" if shown.note else ""), "", "  ")
    verdicts = list(_verdicts(judgement, case, pump, system, readings_first))
    lines += verdicts
    if shown.solution is not None:
        lines += ["", *_ledgers(shown.solution, pump, answers or {}, system)]
    for each in (advice or {}).values():
        lines += ["", *_changes(each, system, as_read)]
    lines += ["", *_cases(judgement, pump, system)] if len(judgement.cases) > 1 else []
    lines += ["", *_alternatives(alternatives, pump, system)] if alternatives else []
    lines += ["", *_findings(judgement)]
    lines += _reservations(shown.solution, system) if shown.solution is not None else []
    lines += ["", *_wrap(CAUTION), "", *verdicts]
    return printable("\n".join(lines), keep="\n") + "\n"


def differences_text(judgement: Judgement, base: Layout | None) -> str:
    """How an alternative differs from its base, in the words of the parts; "" without a base."""
    if base is None:
        return ""
    return f"It changes: {'; '.join(differences(base, judgement.layout)) or 'nothing that matters'}."


def _ledgers(
    solution: Solution, pump: str | None, answers: Mapping[str, Iterable[Answer]], system: System
) -> Iterator[str]:
    for name, text in conditions(solution, system):
        yield from _wrap(f"{name:<6} {text}", "", " " * 7)
    for ledger in solution.pumps.values():
        if pump not in (None, ledger.pump):
            continue
        yield from ["", *_pump(solution, ledger, system)]
        for text, depth in reach_lines(in_brief(answers.get(ledger.pump, ()))):
            yield from _wrap(text, "  " * depth, "  " * (depth + (depth > 1))) if text else [""]
    for port in solution.resting.values():
        pressure = ledger_absolute(port.inlet, system)
        text = f"{port.pump}: at rest, {pressure} at its port. {AT_REST}"
        yield from ["", *_wrap(text, "", "  ")]


def _changes(advice: Advice, system: System, as_read: AsRead | None) -> Iterator[str]:
    from solver.report import changes

    for text, depth in changes.lines(advice, system, as_read):
        yield from _wrap(text, "  " * depth, "  " * depth + "  " * (depth == 1))


def _verdicts(
    judgement: Judgement, case: str, pump: str | None, system: System, readings_first: bool
) -> Iterator[str]:
    drawn = ", as drawn" if readings_first else ""
    names = dict.fromkeys(place.pump for place in judgement.pumps_in_cases)
    for name in [name for name in judgement.layout.pumps if pump in (None, name)]:
        yield from _wrap(f"{name}{drawn}: {own_headline(judgement, name, system, case)}", "", "  ")
    for name, problem in unsound_pumps(judgement, system):
        if name in names and pump not in (None, name):
            yield from _wrap(f"Not shown here: {problem}", "", "  ")


def _cases(judgement: Judgement, pump: str | None, system: System) -> list[str]:
    lines = ["Cases, the worst first"]
    for each in cases_in_words(judgement, pump, system):
        lines += _wrap(f"  {each}", "", "    ")
    return lines


def _alternatives(alternatives: Mapping[str, Judgement | str], pump: str | None, system: System) -> list[str]:
    """Every alternative with how it stands in all its cases, or why it is not judged."""
    lines = ["Alternatives"]
    for name, each in alternatives.items():
        if isinstance(each, str):
            state = f"not calculated: {each}"
        elif pump is None:
            state = outlook(each, system).headline
        elif pump in each.layout.pumps:
            state = f"{pump}: {own_headline(each, pump, system)}"
        else:
            state = f"{pump} is not in it"
        lines += _wrap(f"  {name}: {state}", "", "    ")
    return lines


def cases_in_words(judgement: Judgement, pump: str | None, system: System) -> Iterator[str]:
    """How every pump stands in every case, the worst first, and why a case was not judged."""
    for place in judgement.pumps_in_cases:
        if pump in (None, place.pump):
            yield f"{place.case}: {place.pump}, {_state_text(place, system)}"
    for case in judgement.cases.values():
        if not case.judged:
            yield f"{case.name}: not judged, {case.why(system)}"
        if case.passed_over:
            listed = ", ".join(case.passed_over)
            yield f"{case.name}: passed over, as no such part is drawn: {listed}"


def _state_text(place: PumpInCase, system: System) -> str:
    """How a pump stands in a case, as the end of a sentence."""
    ledger = place.ledger
    if ledger.sound:
        text = uncapitalised(verdict(ledger, system)).replace("within:", "within,")
        return text + _RESERVED.get(place.pump_state, "")
    figures = "" if ledger.breaks else f" ({against_limit(ledger, system)})"
    return trouble(ledger, system) + figures


def _pump(solution: Solution, ledger: PumpLedger, system: System) -> Iterator[str]:
    turning = f" at {typeset(ledger.speed, Kind.SPEED, system)}" if ledger.speed is not None else ""
    yield f"{ledger.pump}: takes in {typeset(ledger.flow, Kind.FLOW, system)}{turning}"
    yield ""
    figures = RoundedLedger(ledger, system)
    yield from _budget(ledger, figures, system)
    yield ""
    yield from _entries(ledger, figures, system)
    yield ""
    yield from _outcome(solution, ledger, system)


def _budget(ledger: PumpLedger, figures: RoundedLedger, system: System) -> Iterator[str]:
    """Two sums, and what the one has over the other: each total is that of its own sum."""
    there_is, must_remain = budget_cells(ledger, figures, system)
    yield f"  {f'What there is, {unit(Kind.ABSOLUTE, system)}':<60}{'step':>12}{'total':>12}"
    yield from (_budget_line(*cells) for cells in there_is)
    yield "  What must remain at the port"
    yield from (_budget_line(*cells) for cells in must_remain)
    surface, floor = in_writing(figures.surface), in_writing(figures.floor)
    name = f"inlet budget: {surface} at the fluid surface, less the floor of {floor}"
    yield f"    {name:<70}{in_writing(figures.budget):>12}"


def _budget_line(name: str, step: str, total: str) -> str:
    return f"    {name:<58}{step:>12}{total:>12}"


BudgetCells = list[tuple[str, str, str]]
"""The steps of a sum: the name of each, what it adds, and the sum so far."""


def budget_cells(
    ledger: PumpLedger, figures: RoundedLedger, system: System
) -> tuple[BudgetCells, BudgetCells]:
    """The steps to what there is at the fluid surface, and to what must remain at the port."""

    def cells(line: BudgetLine, step: float, total: float) -> tuple[str, str, str]:
        name = budget_step(line, system) + (" (estimate)" if line.estimated else "")
        return name, f"{'+' * (step > 0)}{in_writing(step)}", in_writing(total)

    sums = (ledger.surface_lines, figures.surface_steps), (ledger.floor_lines, figures.floor_steps)
    there_is, must_remain = ([cells(line, *each) for line, each in zip(*each, strict=True)] for each in sums)
    return there_is, must_remain


def _entries(ledger: PumpLedger, figures: RoundedLedger, system: System) -> Iterator[str]:
    headings = (heading if ledger.budget > 0 or heading != "share" else "" for heading in HEADINGS)
    yield "  " + _columns("Where the budget goes", *headings)
    yield "  " + _columns("", *heading_units(system))
    level = f"{typeset(ledger.fluid_level, Kind.LENGTH, system)} in {ledger.reservoir}"
    yield "  " + _columns(f"  fluid surface, {level}", *[""] * 7, in_writing(figures.surface))
    walked, beside = entry_rows(ledger, figures, system)
    for name, *cells in walked:
        yield "  " + _columns(f"  {name}", *cells)
    if beside:
        yield f"    {BESIDE}"
    for name, *cells in (*beside, *sum_cells(ledger, figures, system)):
        yield "  " + _columns(f"  {name}", *cells)
    yield from _wrap(how_to_read(ledger), "  ")


def how_to_read(ledger: PumpLedger) -> str:
    """What the figures under a ledger's headings are."""
    flooded = any(entry.kind == HeadEntryKind.FLOODED for entry in ledger.entries)
    return " ".join([LENGTHS, PRESSURES, ROUNDED, *([FLOODED] if flooded else [])])


def heading_units(system: System) -> tuple[str, ...]:
    """The unit under each of `HEADINGS`; empty where there is none."""
    kinds = (Kind.BORE, Kind.LENGTH, Kind.VELOCITY, None, Kind.VACUUM, Kind.VACUUM, None, Kind.ABSOLUTE)
    return tuple("" if kind is None else unit(kind, system) for kind in kinds)


def sum_cells(ledger: PumpLedger, figures: RoundedLedger, system: System) -> Iterator[tuple[str, ...]]:
    """What is spent, and what is left: a name and a cell for each of `HEADINGS`."""
    lift, loss, spent = (in_writing(each) for each in (figures.lift, figures.loss, figures.spent))
    inlet = _static(ledger.inlet, ledger.vapor_pressure, figures.inlet)
    share, left = (
        _percent(part / ledger.budget) if ledger.budget > 0 else "" for part in (ledger.spent, ledger.margin)
    )
    yield f"spent: {spent} {unit(Kind.VACUUM, system)}", *[""] * 4, lift, loss, share, inlet
    reaching = "to the estimated floor" if ledger.limit_estimated else "down to the floor"
    margin, floor = in_writing(figures.margin), in_writing(figures.floor)
    yield f"margin, {reaching}", *[""] * 5, margin, left, floor


def entry_rows(ledger: PumpLedger, figures: RoundedLedger, system: System) -> list[list[tuple[str, ...]]]:
    """The entries walked and those beside, each as its name and a cell for each of `HEADINGS`."""
    some = (ledger.entries, ledger.parallel_entries)
    return [[_entry(entry, ledger.vapor_pressure, figures, system) for entry in each] for each in some]


def _entry(entry: Entry, vapor_pressure: float, figures: RoundedLedger, system: System) -> tuple[str, ...]:
    moving = entry.velocity > 0
    lift, loss, _, pressure = figures.entry(entry)
    element = "velocity head" if entry.kind == HeadEntryKind.PORT else entry.element
    return (
        f"{entry.part}, {element}",
        f"{to_display(entry.bore, Kind.BORE, system):.2f}" if entry.bore else "",
        f"{to_display(entry.length, Kind.LENGTH, system):.2f}" if entry.length else "",
        f"{to_display(entry.velocity, Kind.VELOCITY, system):.2f}" if moving else "",
        rounded(entry.reynolds, 0) if moving and entry.reynolds is not None else "",
        in_writing(lift) if entry.lift else "",
        in_writing(loss) if entry.loss else "",
        "" if entry.share is None else _percent(entry.share),
        "" if entry.kind == HeadEntryKind.FLOODED else _static(entry.pressure, vapor_pressure, pressure),
    )


def _static(pressure: float, vapor_pressure: float, shown: float) -> str:
    """A static pressure as shown, where fluid can have it."""
    return in_writing(shown) if pressure > vapor_pressure else "breaks"


_WIDTHS = (8, 8, 9, 8, 8, 8, 8, 9)


def _columns(name: str, *cells: str) -> str:
    room = WIDTH - 2 - sum(_WIDTHS)
    label = name if len(name) <= room else name[: room - 1] + "…"
    figures = "".join(f" {cell:>{width - 1}}" for cell, width in zip(cells, _WIDTHS, strict=True))
    return f"{label:<{room}}{figures}".rstrip()


def _lowest_place(solution: Solution, ledger: PumpLedger) -> str:
    entries = (*ledger.entries, *ledger.parallel_entries)
    return next(place_in_words(solution.layout, each) for each in entries if each.key == ledger.lowest_at)


def _outcome(solution: Solution, ledger: PumpLedger, system: System) -> Iterator[str]:
    for each in outcome(solution, ledger, system):
        yield from _wrap(each, "  ")


def outcome(solution: Solution, ledger: PumpLedger, system: System) -> Iterator[str]:
    """What the port, the line and the pump come to, in sentences."""
    shown, allowed = at_port(ledger, system)
    if not ledger.breaks:
        yield f"A gauge at the port shows {shown}; {allowed}."
    else:
        yield f"{capitalised(trouble(ledger, system))}."
        yield f"{capitalised(allowed)}."
    place = _lowest_place(solution, ledger)
    least = shown_pressure(ledger.lowest, ledger, system)
    lowest = f"{ledger_absolute(least, system)} at {place}"
    if ledger.breaks:
        why = broken(least, ledger.vapor_pressure, system)
        lowest = f"the column of fluid breaks at {place}: {why}"
    yield f"Lowest pressure: {lowest}."
    yield f"{npsh_sentence(ledger, system)}."
    if ledger.limit_estimated:
        yield "The floor is an estimate: the maker's figure was corrected for this fluid or speed."


def _findings(judgement: Judgement) -> list[str]:
    lines = ["Findings"]
    for finding in judgement.findings:
        label = f"  {finding.severity:<9}"
        lines += _wrap(finding.text, label, " " * 11)
        if held := held_in(finding, len(judgement.cases)):
            lines += _wrap(held, " " * 11)
        lines += _wrap(f"Why: {finding.why}", " " * 11)
        lines += _wrap(f"Try: {finding.advice}", " " * 11) if finding.advice else []
        lines += _wrap(f"Source: {finding.source}", " " * 11)
    return lines if len(lines) > 1 else [*lines, "  none"]


def _reservations(solution: Solution, system: System) -> list[str]:
    assumed = [line for each in assumptions(solution, system) for line in _wrap(each, "  ", "    ")]
    lines = [line for each in reservations(solution) for line in _wrap(each, "  ", "    ")]
    heads = (("Assumptions", assumed), ("Reservations", lines))
    return [line for head, each in heads if each for line in ("", head, *each)]


def reservations(solution: Solution) -> Iterator[str]:
    """What the coefficients of the elements on the ways do not cover."""
    network = solution.network
    walked = dict.fromkeys(
        entry.key
        for ledger in solution.pumps.values()
        for entry in (*ledger.entries, *ledger.parallel_entries)
        if entry.key in network.index
    )
    noted = [(key, network.rows[network.index[key]].note) for key in walked]
    yield from (f"{key}: {note}" for key, note in noted if note)


def _wrap(text: str, first: str = "", rest: str | None = None) -> list[str]:
    following = first if rest is None else rest
    return textwrap.wrap(
        printable(text, keep="\n\t"),
        WIDTH,
        initial_indent=first,
        subsequent_indent=following,
        break_on_hyphens=False,
    ) or [""]


def _percent(share: float) -> str:
    """In whole per cent; past four digits it says nothing any more."""
    if not abs(share) < 99.995:
        return "—"
    text = f"{share * 100:.0f} %"
    return text.replace("-0 %", "0 %").replace("-", "−")
