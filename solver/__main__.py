"""The ledger in a terminal: text, JSON, CSV.

Exit status: 0 every pump within its budget in every case, 1 some pump over it, or its column of fluid broken,
in one, or a newest reading above what is allowed, 3 some case not judged, or with --readings
some reading not compared, and no pump over, 2 a drawing was refused, 70 the program itself failed, 130 it
was stopped by Ctrl+C. Of several files the first of 130, 70, 2, 1, 3, 0 that occurs.
"""

from __future__ import annotations

import argparse
import io
import sys
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import TYPE_CHECKING, Any

from solver import arguments
from solver.answers import ask
from solver.answers.answer import Answer
from solver.findings.judgement import Judgement, judge
from solver.findings.outlook import outlook, own_headline
from solver.layout.cases import AS_DRAWN
from solver.layout.file import (
    Drawing,
    LayoutErrors,
    Problem,
    case_problems,
    placed_problems,
    read,
    read_stream,
    reading_problems,
)
from solver.layout.parts import SHORT_CASE, Layout, Level
from solver.ledger.solve import Solution
from solver.network.build import NetworkError
from solver.newest import Newest, newest_readings, stop_first, stop_line
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text, fault, printable
from solver.refusals import Refusal, complain, not_solvable, refuse_catalogue, typed_wrong, unknown
from solver.report import appendices, records
from solver.report import text as report

if TYPE_CHECKING:
    from solver.fixes.fixes import Advice

WITHIN, OVER, REFUSED, NOT_JUDGED = 0, 1, 2, 3
STOPPED = 130  # what a shell has for Ctrl+C
FAILED = 70  # what sysexits.h has for a fault inside a program: no answer of any kind


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
    newest: Newest  # what the newest readings come to
    readings_status: int  # of what was read

    @property
    def solution(self) -> Solution | None:
        """The case that is shown, with the pumps that were asked for; None where it was not judged."""
        solution = self.judgement.cases[self.case].solution
        if solution is None or self.pump is None:
            return solution
        return replace(solution, pumps={n: p for n, p in solution.pumps.items() if n == self.pump})

    @property
    def status(self) -> int:
        """Of this file, by the pumps that were asked for."""
        places = [place for place in self.judgement.pumps_in_cases if self.pump in (None, place.pump)]
        if not all(place.ledger.sound for place in places):
            return OVER
        return _worst({self.readings_status, NOT_JUDGED if self.judgement.not_judged else WITHIN})


def main(typed: Sequence[str] | None = None) -> int:
    """Run the program. Returns the exit status."""
    try:
        return _run_all(typed)
    except Exception as error:
        sys.stderr.write(fault(error) + "\n")
        return FAILED


def _run_all(typed: Sequence[str] | None) -> int:
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    parser = arguments.parser()
    options = parser.parse_args(typed)
    if clash := arguments.clash(options):
        parser.error(clash)
    if options.html and isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")  # the page says so of itself, whatever the terminal knows
    if options.vary:
        return _vary(options, parser)
    results = [_run(file, options) for file in options.files]
    solved = [result for result in results if isinstance(result, Result)]
    refused = [result for result in results if isinstance(result, Refusal)]
    try:
        sys.stdout.write(_printed(solved, options))
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stdout = None  # the reader has left; nothing may be flushed on the way out
    passed_over = [typed_wrong(result.problems) for result in solved if result.problems]
    complain([*refused, *passed_over], as_json=options.json)
    return _worst({REFUSED if isinstance(result, Refusal) else result.status for result in results})


def _worst(statuses: set[int]) -> int:
    """The exit status of several."""
    return next(status for status in (REFUSED, OVER, NOT_JUDGED, WITHIN) if status in statuses)


def _vary(options: argparse.Namespace, parser: argparse.ArgumentParser) -> int:
    """Print the variants of every drawing."""
    from solver import vary
    from solver.answers.axes import AxisError, read_axis, size

    try:
        axes = [read_axis(typed) for typed in options.vary]
        size(axes)
    except AxisError as error:
        parser.error(f"argument --vary: {error}")
    chosen = [(file, _drawing(file, options)) for file in options.files]
    drawings = [(file, layout) for file, layout in chosen if isinstance(layout, Layout)]
    refused = [refusal for _, refusal in chosen if isinstance(refusal, Refusal)]
    form = vary.Form.JSON if options.json else vary.Form.CSV if options.csv else vary.Form.TEXT
    wanted = vary.Wanted(axes, form, Level(options.level), options.alternative, options.pump)
    with vary.interrupted() as stopped, vary.progress(size(axes) * len(drawings)) as advance:
        done = vary.write(drawings, wanted, sys.stdout.write, lambda count: advance(count) or not stopped)
    sys.stdout.flush()
    refused += [not_solvable(file, problems) for file, problems in done.refused]
    complain(refused, as_json=options.json)
    if stopped:
        sys.stderr.write(f"Stopped: {done.count} of {size(axes) * len(drawings)} variants were solved.\n")
        return STOPPED
    return REFUSED if refused else OVER if done.over else NOT_JUDGED if done.not_judged else WITHIN


def _drawing(file: str, options: argparse.Namespace) -> Layout | Refusal:
    """The drawing of a file, or its alternative that was asked for."""
    try:
        return _chosen(_read(file), options, file)
    except LayoutErrors as error:
        return typed_wrong(error.problems)


def _read(file: str) -> Drawing:
    """The drawing in a file, or on standard input. Raises LayoutErrors."""
    if file == arguments.STANDARD_INPUT:
        return read_stream(sys.stdin.buffer, "standard input")
    refuse_catalogue(file)
    return read(Path(file))


def _run(file: str, options: argparse.Namespace) -> Result | Refusal:
    try:
        drawing = _read(file)
    except LayoutErrors as error:
        return typed_wrong(error.problems)
    layout = _chosen(drawing, options, file)
    return layout if isinstance(layout, Refusal) else _solved(file, layout, drawing, options)


def _solved(file: str, layout: Layout, drawing: Drawing, options: argparse.Namespace) -> Result | Refusal:
    level = Level(options.level)
    if options.pump is not None and options.pump not in layout.pumps:
        return unknown(file, "pump", options.pump, layout.pumps)
    try:
        judgement = judge(layout, level)
        case = _case(judgement, options)
        if case not in judgement.cases:
            return unknown(file, "case", case, judgement.cases)
        solution = judgement.cases[case].solution
        names = [n for n in (solution.pumps if solution else ()) if options.pump in (None, n)]
        answers = {n: ask.ask_all(layout, n, level) for n in names} if options.reach or options.html else {}
        advice, judgement = _advised(judgement, options)
        others = _alternatives(drawing, options) if _lists_alternatives(options) else {}
        wrong = case_problems(drawing, options.alternative or "", file).values()
        misread = reading_problems(drawing, file)
        problems = (*(each for problems in wrong for each in problems), *misread)
        newest = newest_readings(judgement.layout, options.pump, options.alternative or "")
        doubtful = options.readings and (misread or newest.not_compared)
        status = OVER if newest.stop else NOT_JUDGED if doubtful else WITHIN
        return Result(
            file,
            judgement,
            case,
            options.pump,
            answers,
            advice,
            drawing.base,
            others,
            problems,
            newest,
            status,
        )
    except NetworkError as error:
        return not_solvable(file, error.problems)
    except FluidError as error:
        return not_solvable(file, ((error.part, error.text_in(layout.units)),))


def _lists_alternatives(options: argparse.Namespace) -> bool:
    """JSON always does, text where the drawing itself is asked for."""
    other = options.csv or options.working or options.html or options.brief
    return bool(options.json or not (other or options.alternative))


def _alternatives(drawing: Drawing, options: argparse.Namespace) -> dict[str, Judgement | str]:
    """Every alternative of a drawing by name: judged, or why it cannot be."""
    judgements: dict[str, Judgement | str] = {}
    for name, each in drawing.alternatives.items():
        layout = _in_units(each.layout, options)
        try:
            judgements[name] = judge(layout, Level(options.level))
        except (NetworkError, FluidError) as error:
            judgements[name] = error_text(error, layout.units)
    for name, broken in drawing.broken.items():
        judgements[name] = broken.why
    return judgements


def _advised(judgement: Judgement, options: argparse.Namespace) -> tuple[dict[str, Advice], Judgement]:
    """The fixes for each pump where they are asked for, and the judgement with what to try."""
    if options.csv or options.working or (options.brief and not options.fixes):
        return {}, judgement
    solvable = any(each.unsolved for findings in judgement.found.values() for each in findings)
    if not options.fixes and not solvable:
        return {}, judgement.worded  # a tenth of the start is saved where there is nothing to advise
    from solver.fixes import fixes, remedies

    level = Level(options.level)
    advice = fixes.advise_all(judgement.layout, level) if options.fixes else None
    chosen = {name: each for name, each in (advice or {}).items() if options.pump in (None, name)}
    return chosen, remedies.with_remedies(judgement, level, advice)


def _case(judgement: Judgement, options: argparse.Namespace) -> str:
    """The case to be shown: the one asked for, else the drawing as it stands, or the first judged."""
    if options.case is not None or options.cold:
        return str(options.case or SHORT_CASE)
    judged = [name for name, case in judgement.cases.items() if case.judged]
    return AS_DRAWN if AS_DRAWN in judged or not judged else judged[0]


def _chosen(drawing: Drawing, options: argparse.Namespace, file: str) -> Layout | Refusal:
    layout, name = drawing.base, options.alternative
    if name in drawing.broken:
        return typed_wrong(placed_problems(drawing, drawing.broken[name].troubles, file))
    if name is not None:
        if name not in drawing.alternatives:
            return unknown(file, "alternative", name, drawing.alternatives)
        layout = drawing.alternatives[name].layout
    return _in_units(layout, options)


def _in_units(layout: Layout, options: argparse.Namespace) -> Layout:
    """The drawing in the units asked for; what a program reads is in SI throughout, its sentences too."""
    if options.units:
        return replace(layout, units=arguments.UNITS[options.units])
    return replace(layout, units=System.SI) if options.json or options.csv else layout


def _printed(results: list[Result], options: argparse.Namespace) -> str:
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
        return appendices.parts_table(((r.file, r.judgement) for r in results), options.alternative or "")
    if options.reach:
        answered = (records.reach_table(r.answers, r.file, options.alternative) for r in results)
        return "".join([records.heading(records.REACH_COLUMNS), *answered])
    one = options.case is not None or options.cold
    rows = (
        records.table(r.judgement, r.file, options.alternative, {r.case} if one else None, r.pump)
        for r in results
    )
    return "".join([records.heading(), *rows])


def _brief(result: Result) -> str:
    """One line: the file, and how it stands in every case; under it each change, where asked."""
    judgement, system = result.judgement, result.judgement.layout.units
    if result.pump is not None:
        headline = f"{result.pump}: {own_headline(judgement, result.pump, system)}"
    else:
        headline = outlook(judgement, system).headline
    lines = [f"{result.file}: {stop_first(result.newest, headline)}"]
    if result.advice:
        from solver.report import changes

        lines += [
            f"  {line}" for each in result.advice.values() for line in changes.brief_lines(each, system)
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

    first = stop_line(result.newest).strip()
    shown, line = result.judgement, options.alternative
    return page.page(shown, result.case, line, result.answers, result.pump, result.base, first)


def _report(result: Result, options: argparse.Namespace) -> str:
    text = report.report(
        result.judgement,
        result.case,
        options.alternative,
        result.answers,
        result.pump,
        result.advice,
        result.base,
        result.alternatives,
    )
    stop = printable(stop_line(result.newest), keep="\n")
    return stop + text + appendices.texts(_asked(result, options), _wanted(options))


def _wanted(options: argparse.Namespace) -> list[str]:
    """What is asked for behind the ledger."""
    return [name for name in appendices.NAMES if getattr(options, name)]


def _asked(result: Result, options: argparse.Namespace) -> appendices.AppendixInput:
    solution = result.judgement.cases[result.case].solution
    line, level = options.alternative or "", Level(options.level)
    return appendices.AppendixInput(result.judgement, solution, line, result.pump, level)


def _as_json(results: list[Result], options: argparse.Namespace) -> str:
    objects = [
        records.record(r.judgement, r.case, options.alternative, r.answers, r.pump, _fixes(r), r.alternatives)
        for r in results
    ]
    for result, one in zip(results, objects, strict=True):
        appendices.add_records(one, _asked(result, options), _wanted(options))
        one["headline"] = stop_first(result.newest, one["headline"])
    several = [{"file": result.file, **one} for result, one in zip(results, objects, strict=True)]
    whole: Any = several if len(options.files) > 1 else objects[0]
    return records.dumped(whole) + "\n"


def _fixes(result: Result) -> dict[str, list[dict[str, Any]]]:
    from solver.report import changes

    base = replace(result.base, units=result.judgement.layout.units)  # --units changes nothing that is drawn
    return {pump: changes.records(advice, base) for pump, advice in result.advice.items()}


if __name__ == "__main__":
    sys.exit(main())
