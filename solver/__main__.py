"""The ledger in a terminal: text, JSON, CSV.

Exit status: 0 every pump within its budget in every case, 1 some pump over it, or its column of fluid broken,
in one, also with its screens as blocked as they were read, or a newest reading past what is allowed, 3 some
case not judged, or with --readings some reading not compared, and no pump over, 2 a drawing was refused, 70
the program itself failed, 130 it was stopped by Ctrl+C. Of several files the first of 130, 70, 2, 1, 3, 0
that occurs.
"""

from __future__ import annotations

import argparse
import gc
import io
import sys
from collections.abc import Sequence
from dataclasses import replace
from pathlib import Path
from typing import TYPE_CHECKING

from solver import arguments
from solver.findings.judgement import Judgement, judge
from solver.findings.outlook import over_for_a_moment
from solver.layout.cases import AS_DRAWN
from solver.layout.file import (
    Drawing,
    LayoutErrors,
    case_problems,
    placed_problems,
    read,
    read_stream,
    reading_problems,
)
from solver.layout.parts import SHORT_CASE, Layout, Level
from solver.network.build import NetworkError
from solver.newest import newest_readings
from solver.output import Result, printed, with_ledger
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import error_text, fault
from solver.refusals import Refusal, complain, not_solvable, refuse_catalogue, typed_wrong, unknown

if TYPE_CHECKING:
    from solver.answers.answer import Answer
    from solver.fixes.fixes import Advice

WITHIN, OVER, REFUSED, NOT_JUDGED = 0, 1, 2, 3
STOPPED = 130  # what a shell has for Ctrl+C
FAILED = 70  # what sysexits.h has for a fault inside a program: no answer of any kind

CYCLES_AFTER = 50_000
"""New objects after which cycles are looked for. Python does so every 700, a fiftieth of a start, and
finds few: no run was measured to need 3 MB more."""


def start() -> int:
    """Run the program in a process of its own. Returns the exit status."""
    gc.freeze()  # modules stay to the end: looking for cycles among them takes a twentieth of a start
    gc.set_threshold(CYCLES_AFTER)
    return main()


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
        sys.stdout.write(printed(solved, options))
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stdout = None  # the reader has left; nothing may be flushed on the way out
    passed_over = [typed_wrong(result.problems) for result in solved if result.problems]
    complain([*refused, *passed_over], as_json=options.json)
    return _worst({REFUSED if isinstance(result, Refusal) else _status(result) for result in results})


def _status(result: Result) -> int:
    """The exit status of one file, by the pumps that were asked for."""
    places = [place for place in result.judgement.pumps_in_cases if result.pump in (None, place.pump)]
    if not all(place.ledger.sound for place in places) or over_for_a_moment(result.judgement, result.pump):
        return OVER
    return _worst({result.readings_status, NOT_JUDGED if result.judgement.not_judged else WITHIN})


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
    wanted = vary.VaryRequest(axes, form, Level(options.level), options.alternative, options.pump)
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
        answers = _answers(layout, names, level, _only(options)) if options.reach or options.html else {}
        drawn = drawing.base if options.alternative else None
        advice, judgement = _advised(judgement, options, drawn)
        others = _alternatives(drawing, options) if _lists_alternatives(options) else {}
        wrong = case_problems(drawing, options.alternative or "", file).values()
        misread = reading_problems(drawing, file)
        problems = (*(each for problems in wrong for each in problems), *misread)
        newest = newest_readings(judgement.layout, options.pump, options.alternative or "", level, drawn)
        doubtful = options.readings and (misread or newest.not_compared)
        status = OVER if newest.stop or newest.over_as_read else NOT_JUDGED if doubtful else WITHIN
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


def _answers(layout: Layout, names: list[str], level: Level, case: str) -> dict[str, tuple[Answer, ...]]:
    """How far each figure may go, for each pump of those names; in a case alone that was asked for."""
    from solver.answers import ask

    return {name: ask.ask_all(layout, name, level, case) for name in names}


def _lists_alternatives(options: argparse.Namespace) -> bool:
    """JSON always does, text and the table of parts where the drawing itself is asked for."""
    other = (options.csv and not options.parts) or options.working or options.html or options.brief
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


def _advised(
    judgement: Judgement, options: argparse.Namespace, drawn: Layout | None
) -> tuple[dict[str, Advice], Judgement]:
    """The fixes for each pump where they are asked for, and the judgement with what to try.

    drawn: the drawing itself, of an alternative.
    """
    alone = not (options.json or options.html or with_ledger(options))
    if options.csv or options.working or alone or (options.brief and not options.fixes):
        return {}, judgement
    solvable = any(each.unsolved for findings in judgement.findings_by_case.values() for each in findings)
    if not options.fixes and not solvable:
        return {}, judgement.worded  # a tenth of the start is saved where there is nothing to advise
    from solver.fixes import fixes, remedies

    level = Level(options.level)
    advice = fixes.advise_all(judgement.layout, level, drawn) if options.fixes else None
    chosen = {name: each for name, each in (advice or {}).items() if options.pump in (None, name)}
    return chosen, remedies.with_remedies(judgement, level, advice, drawn)


def _case(judgement: Judgement, options: argparse.Namespace) -> str:
    """The case to be shown: the one asked for, else the drawing as it stands, or the first judged.

    A page without one asked for is of the case that its headline names.
    """
    if only := _only(options):
        return only
    worst = judgement.worst(options.pump) if options.html else None
    if worst is not None:
        return worst.case
    judged = [name for name, case in judgement.cases.items() if case.judged]
    return AS_DRAWN if AS_DRAWN in judged or not judged else judged[0]


def _only(options: argparse.Namespace) -> str:
    """The case that was asked for; "" where none was."""
    return str(options.case or SHORT_CASE) if options.case is not None or options.cold else ""


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


if __name__ == "__main__":
    sys.exit(start())
