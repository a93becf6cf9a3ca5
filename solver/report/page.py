"""A judged drawing as one HTML page: verdicts, ledgers, cases, findings and reach, then the working."""

from __future__ import annotations

import html
from collections.abc import Iterable, Iterator, Mapping, Sequence
from dataclasses import replace

from solver.answers.answer import Answer, how_far, unnamed
from solver.findings.criteria import Finding, held_in
from solver.findings.judgement import Judgement
from solver.findings.kinds import Severity
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.ledger.solve import PumpLedger, Solution
from solver.quantities.units import Kind, System, typeset, unit
from solver.quantities.wording import ledger_absolute, printable
from solver.report import text
from solver.report.assumptions import assumptions
from solver.working import working
from solver.working.text import paragraph
from solver.working.working import title_lines


def page(
    judgement: Judgement,
    case: str = AS_DRAWN,
    alternative: str | None = None,
    answers: Mapping[str, Iterable[Answer]] | None = None,
    pump: str | None = None,
    base: Layout | None = None,
    first: str = "",
    date: str = "",
) -> str:
    """The page of a drawing, in its own units, that needs nothing beside it.

    Parameters: `case`, the one whose ledgers are shown and worked out; `alternative`, the name of the one
    that was solved; `answers` by pump, how far each thing may go; `pump`, the only one that is shown;
    `base`, the drawing that the alternative is laid over; `first`, a sentence that stands before all else;
    `date`, that of the page where the title block has none.
    """
    block = judgement.layout.title_block
    block = replace(block, date=block.date or date)
    system, solution = judgement.layout.units, judgement.cases[case].solution
    if solution is None:
        why = f"{case}: not judged, {judgement.cases[case].why(system)}."
        return _without_ledger(judgement, f"{first} {why}".strip(), title_lines(block), pump, system)
    shown = replace(
        solution,
        layout=replace(solution.layout, title_block=block),
        pumps={name: each for name, each in solution.pumps.items() if pump in (None, name)},
    )
    changed = text.differences_text(judgement, base) if alternative is not None else ""
    parts = [
        *([paragraph(changed)] if changed else []),
        *(_ledger(shown, ledger, system) for ledger in shown.pumps.values()),
        *_resting(shown, system),
        *_rest(judgement, pump, system),
        *(_reach(name, pump_answers) for name, pump_answers in (answers or {}).items() if pump_answers),
        *_list("Assumptions", assumptions(shown, system)),
        *_list("Reservations", text.reservations(shown)),
    ]
    return working.as_html(shown, system, alternative or "", case, judgement, "".join(parts), first)


def _without_ledger(
    judgement: Judgement, why: str, block: tuple[str, ...], pump: str | None, system: System
) -> str:
    """The page where the case asked for has no ledger: why, and what the others come to.

    block: what the title block says.
    """
    title = html.escape(judgement.layout.title or "Ledger")
    body = "".join([paragraph(why), *map(paragraph, block), *_rest(judgement, pump, system)])
    head = (
        f'<!DOCTYPE html>\n<html lang="en">\n<head>\n<meta charset="utf-8">\n<title>{title}</title>\n'
        f"</head>\n<body>\n<h1>{title}</h1>\n{body}</body>\n</html>\n"
    )
    return printable(head, keep="\n")


def _rest(judgement: Judgement, pump: str | None, system: System) -> Iterator[str]:
    """Cases and findings."""
    if len(judgement.cases) > 1:
        yield from _list("Cases, the worst first", text.cases_in_words(judgement, pump, system))
    yield _findings(judgement.findings, len(judgement.cases))


def _ledger(solution: Solution, ledger: PumpLedger, system: System) -> str:
    """What there is, what spends it, and what it comes to."""
    what = f"{typeset(ledger.flow, Kind.FLOW, system)}" + (
        f" at {typeset(ledger.speed, Kind.SPEED, system)}" if ledger.speed is not None else ""
    )
    figures = RoundedLedger(ledger, system)
    return "".join(
        (
            f"<h2>{html.escape(f'Ledger of {ledger.pump}')}</h2>\n",
            paragraph(f"It takes in {what}."),
            _budget(ledger, figures, system),
            _entries(ledger, figures, system),
            *map(paragraph, text.outcome(solution, ledger, system)),
            paragraph(text.how_to_read(ledger)),
        )
    )


def _budget(ledger: PumpLedger, figures: RoundedLedger, system: System) -> str:
    absolute = unit(Kind.ABSOLUTE, system)
    rows, left = text.budget_cells(ledger, figures, system)
    budget = ("inlet budget, at the fluid surface less the floor", "", in_writing(figures.budget))
    return _table(
        (f"What there is, {absolute}", "step", "total"),
        [*rows, ("What must remain at the port", "", ""), *left],
        [budget],
    )


def _entries(ledger: PumpLedger, figures: RoundedLedger, system: System) -> str:
    units = text.heading_units(system)
    named = (f"{name}, {each}" if each else name for name, each in zip(text.HEADINGS, units, strict=True))
    level = f"fluid surface, {typeset(ledger.fluid_level, Kind.LENGTH, system)} in {ledger.reservoir}"
    entries, parallel = text.entry_rows(ledger, figures, system)
    if parallel:
        parallel = [(text.BESIDE, *[""] * len(units)), *parallel]
    rows = [(level, *[""] * (len(units) - 1), in_writing(figures.surface)), *entries, *parallel]
    return _table(("Where the budget goes", *named), rows, list(text.sum_cells(ledger, figures, system)))


def _table(headings: Sequence[str], rows: Iterable[Sequence[str]], sums: Iterable[Sequence[str]]) -> str:
    head = _cells("th", headings)
    lines = [_row(row, "") for row in rows] + [_row(row, ' class="sum"') for row in sums]
    return f'<table class="figures">\n<tr>{head}</tr>\n{"".join(lines)}</table>\n'


def _row(cells: Sequence[str], style: str) -> str:
    return f"<tr{style}>{_cells('td', cells)}</tr>\n"


def _cells(tag: str, texts: Sequence[str]) -> str:
    """The first of them stands to the left, as a name; the others are figures."""
    styles = (' class="left"', *[""] * (len(texts) - 1))
    pairs = zip(styles, texts, strict=True)
    return "".join(f"<{tag}{style}>{html.escape(text)}</{tag}>" for style, text in pairs)


def _resting(solution: Solution, system: System) -> Iterator[str]:
    for port in solution.resting.values():
        pressure = ledger_absolute(port.inlet, system)
        yield paragraph(f"{port.pump}: at rest, {pressure} at its port. {text.AT_REST}")


def _findings(findings: Sequence[Finding], cases: int) -> str:
    """Every finding: what was found, in which cases, why it matters, what to try."""
    parts = ["<h2>Findings</h2>\n"]
    for each in findings:
        style = "stop" if each.severity == Severity.STOP else "caution"
        parts.append(
            f'<p><span class="{style}">{each.severity.capitalize()}:</span> {html.escape(each.text)}<br>'
        )
        lines = [f"{held}."] if (held := held_in(each, cases)) else []
        lines += [each.why, each.advice, f"Source: {each.source}." if each.source else ""]
        parts.append(
            f'<span class="small">{html.escape(" ".join(line for line in lines if line))}</span></p>\n'
        )
    return "".join(parts if findings else [*parts, paragraph("None.")])


def _reach(pump: str, answers: Iterable[Answer]) -> str:
    given = tuple(answers)
    heading = f"{how_far(given)}: {pump}"
    return "".join(_list(heading, (*(each.whole_text for each in given), unnamed(given))))


def _list(heading: str, lines: Iterable[str]) -> Iterator[str]:
    items = "".join(f"<li>{html.escape(line)}</li>\n" for line in lines)
    if items:
        yield f"<h2>{html.escape(heading)}</h2>\n<ul>\n{items}</ul>\n"
