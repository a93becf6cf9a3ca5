"""What was solved of drawings, as text, JSON, CSV or a page, as the command line asks for it."""

from __future__ import annotations

import argparse
import datetime
import textwrap
from collections.abc import Iterable
from dataclasses import dataclass, replace
from typing import TYPE_CHECKING, Any

from solver.answers.answer import Answer
from solver.findings.judgement import Judgement
from solver.findings.outlook import outlook, own_headline
from solver.layout.file import Problem
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution
from solver.newest import NewestInWords, first_line, read_first
from solver.quantities.wording import printable
from solver.report import appendices, records
from solver.report import text as report

if TYPE_CHECKING:
    from solver.fixes.fixes import Advice


@dataclass(frozen=True, slots=True)
class Result:
    """One file judged in every case, the case that is shown, and what was asked."""

    file: str
    judgement: Judgement
    case: str
    pump: str | None  # the only one that was asked for
    answers: dict[str, tuple[Answer, ...]]
    advice: dict[str, Advice]  # by pump, where it was asked
    base: Layout  # what an alternative is laid over
    alternatives: dict[str, Judgement | str]  # by name, where they are asked for: judged, or why not
    problems: tuple[Problem, ...]  # what keeps cases and readings from holding, with its place in the file
    newest: NewestInWords  # what the newest readings come to
    readings_status: int  # of what was read

    @property
    def solution(self) -> Solution | None:
        """The case that is shown, with the pumps that were asked for; None where it was not judged."""
        solution = self.judgement.cases[self.case].solution
        if solution is None or self.pump is None:
            return solution
        return replace(solution, pumps={n: p for n, p in solution.pumps.items() if n == self.pump})


def printed(results: list[Result], options: argparse.Namespace) -> str:
    """What was solved, as the command line asks for it."""
    if options.json:
        return _as_json(results, options) if results else ""
    if options.csv:
        return _tables(results, options) if results else ""
    if options.brief:
        return "".join(map(_brief, results))
    if options.html:
        return "".join(_page(result, options) for result in results)
    if options.working:
        texts = [text for result in results for text in _workings(result, options)]
    else:
        texts = [_report(result, options) for result in results]
    return ("\n" + "=" * report.WIDTH + "\n\n").join(texts)


def _tables(results: list[Result], options: argparse.Namespace) -> str:
    """Every entry of the case that was asked for, of every case where none was; or how far each may go, or
    what each line is built from."""
    if options.parts:
        return appendices.parts_table(each for result in results for each in _listed(result, options))
    if options.reach:
        answered = (records.reach_table(r.answers, r.file, options.alternative) for r in results)
        return "".join([records.heading(records.REACH_COLUMNS), *answered])
    one = options.case is not None or options.cold
    rows = (
        records.table(r.judgement, r.file, options.alternative, {r.case} if one else None, r.pump)
        for r in results
    )
    return "".join([records.heading(), *rows])


def _listed(result: Result, options: argparse.Namespace) -> Iterable[tuple[str, str, Judgement]]:
    """What a parts list is made of: the drawing that was asked for, and every alternative of it."""
    yield result.file, options.alternative or "", result.judgement
    for name, judgement in result.alternatives.items():
        if not isinstance(judgement, str):
            yield result.file, name, judgement


def _brief(result: Result) -> str:
    """One line: the file, and how it stands in every case; under it each change, where asked."""
    judgement, system = result.judgement, result.judgement.layout.units
    if result.pump is not None:
        headline = f"{result.pump}: {own_headline(judgement, result.pump, system)}"
    else:
        headline = outlook(judgement, system).headline
    lines = [f"{result.file}: {read_first(result.newest, headline)}"]
    if result.advice:
        from solver.report import changes

        lines += [
            f"  {line}"
            for each in result.advice.values()
            for line in changes.brief_lines(each, system, result.newest.as_read)
        ]
    return "".join(printable(line) + "\n" for line in lines)


def _workings(result: Result, options: argparse.Namespace) -> Iterable[str]:
    from solver.working import working

    solution, judgement = result.solution, result.judgement
    system = judgement.layout.units
    if solution is None:
        yield _not_judged(result)
        return
    for pump in solution.pumps:
        yield working.as_text(solution, pump, system, options.alternative or "", result.case, judgement)


def _not_judged(result: Result) -> str:
    system = result.judgement.layout.units
    return printable(f"{result.case}: not judged, {result.judgement.cases[result.case].why(system)}") + "\n"


def _page(result: Result, options: argparse.Namespace) -> str:
    from solver.report import page

    first = first_line(result.newest).strip()
    shown, line = result.judgement, options.alternative
    today = f"{datetime.date.today():%Y-%m-%d}"
    return page.page(shown, result.case, line, result.answers, result.pump, result.base, first, today)


FIRST = ("readings", "priming")
"""What is asked for beside the machine: it stands before all else, in the place of the ledger."""


def _report(result: Result, options: argparse.Namespace) -> str:
    """The ledger and what is asked for behind it; first what readings come to, and how the line is filled."""
    asked, wanted = _asked(result, options), _wanted(options)
    first = [name for name in FIRST if name in wanted]
    behind = appendices.texts(asked, [name for name in wanted if name not in first])
    read = _wrapped(first_line(result.newest))
    if not first:
        return read + _ledger(result, options) + behind
    title = "" if "readings" in first else _title(result, options)
    answers = "".join(appendices.texts(asked, [name]) for name in first)
    ledger = f"\n{_ledger(result, options)}" if with_ledger(options) else ""
    return f"{read}{title}{answers}".removeprefix("\n") + ledger + behind


def _wrapped(paragraph: str) -> str:
    """A paragraph that ends in an empty line; "" for none."""
    lines = textwrap.wrap(printable(paragraph.strip()), report.WIDTH, break_on_hyphens=False)
    return "".join(f"{line}\n" for line in [*lines, ""]) if lines else ""


def _title(result: Result, options: argparse.Namespace) -> str:
    """What is drawn, and in which case a line is filled where there are several."""
    lines = [result.judgement.layout.title]
    lines += [f"Alternative: {options.alternative}"] if options.alternative else []
    lines += [f"Case: {result.case}"] if len(result.judgement.cases) > 1 else []
    return "".join(printable(line) + "\n" for line in lines)


def with_ledger(options: argparse.Namespace) -> bool:
    """Whether the ledger is printed: not where readings or priming alone are asked for."""
    of_ledger = options.reach or options.fixes or options.cold or options.case is not None
    return bool(of_ledger or not any(getattr(options, name) for name in FIRST))


def _ledger(result: Result, options: argparse.Namespace) -> str:
    return report.report(
        result.judgement,
        result.case,
        options.alternative,
        result.answers,
        result.pump,
        result.advice,
        result.base,
        result.alternatives,
        readings_first=bool(result.newest.first),
        as_read=result.newest.as_read,
    )


def _wanted(options: argparse.Namespace) -> list[str]:
    """What is asked for behind the ledger."""
    return [name for name in appendices.NAMES if getattr(options, name)]


def _asked(result: Result, options: argparse.Namespace) -> appendices.AppendixInput:
    solution = result.judgement.cases[result.case].solution
    line, level = options.alternative or "", Level(options.level)
    return appendices.AppendixInput(
        result.judgement, solution, line, result.pump, level, result.newest.as_read
    )


def _as_json(results: list[Result], options: argparse.Namespace) -> str:
    objects = [
        records.record(r.judgement, r.case, options.alternative, r.answers, r.pump, _fixes(r), r.alternatives)
        for r in results
    ]
    for result, one in zip(results, objects, strict=True):
        appendices.add_records(one, _asked(result, options), _wanted(options))
        one["headline"] = read_first(result.newest, one["headline"])
    several = [{"file": result.file, **one} for result, one in zip(results, objects, strict=True)]
    whole: Any = several if len(options.files) > 1 else objects[0]
    return records.dumped(whole) + "\n"


def _fixes(result: Result) -> dict[str, list[dict[str, Any]]]:
    from solver.report import changes

    base = replace(result.base, units=result.judgement.layout.units)  # --units changes nothing that is drawn
    return {pump: changes.records(advice, base) for pump, advice in result.advice.items()}
