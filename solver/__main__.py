"""The ledger in a terminal: text, JSON, CSV.

Exit status: 0 every pump within its budget, at its working temperature and at the coldest start, 1 some pump
over it, or its column of fluid broken, 2 a drawing was refused, 70 the program itself failed.
"""

from __future__ import annotations

import argparse
import io
import sys
import traceback
from collections.abc import Iterable, Sequence
from dataclasses import dataclass, replace
from pathlib import Path
from typing import Any

from solver.answers import ask
from solver.findings.checks import Finding, check
from solver.findings.outlook import every_pump_sound
from solver.layout.file import Drawing, LayoutErrors, read
from solver.layout.parts import Layout, Level
from solver.ledger.solve import Solution, solve
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import printable
from solver.report import records
from solver.report import text as report

WITHIN, OVER, REFUSED = 0, 1, 2
FAILED = 70  # what sysexits.h has for a fault inside a program: no answer of any kind

UNITS = {"us": System.US, "si": System.SI}


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why one file gave no ledger: one dictionary a problem, and the same as lines of text."""

    problems: tuple[dict[str, Any], ...]
    lines: tuple[str, ...]


@dataclass(frozen=True, slots=True)
class Result:
    """One file's solution with what was found and asked."""

    file: str
    solution: Solution
    whole: Solution  # with the pumps that were not asked for
    findings: tuple[Finding, ...]
    answers: dict[str, tuple[ask.Answer, ...]]


def main(arguments: Sequence[str] | None = None) -> int:
    """Run the program. Returns the exit status."""
    try:
        return _run_all(arguments)
    except Exception as error:
        _report_fault(error)
        return FAILED


def _report_fault(error: Exception) -> None:
    """One sentence on a fault of the program, with all that is needed to find it."""
    place = traceback.extract_tb(error.__traceback__)[-1]
    sys.stderr.write(
        printable(
            f"The program failed and gives no answer: {type(error).__name__} ({error}) in "
            f"{Path(place.filename).name}, line {place.lineno}. "
            "Please report this sentence with the drawing and the command as you typed it."
        )
        + "\n"
    )


def _run_all(arguments: Sequence[str] | None) -> int:
    for stream in (sys.stdout, sys.stderr):
        if isinstance(stream, io.TextIOWrapper):
            stream.reconfigure(errors="replace")
    parser = _parser()
    options = parser.parse_args(arguments)
    if options.html and len(options.files) > 1:
        parser.error("argument --html: takes one drawing")
    if options.html and isinstance(sys.stdout, io.TextIOWrapper):
        sys.stdout.reconfigure(encoding="utf-8")  # the page says so of itself, whatever the terminal knows
    results = [_run(file, options) for file in options.files]
    solved = [result for result in results if isinstance(result, Result)]
    refused = [result for result in results if isinstance(result, Refusal)]
    try:
        sys.stdout.write(_printed(solved, options))
        sys.stdout.flush()
    except BrokenPipeError:
        sys.stdout = None  # the reader has left; nothing may be flushed on the way out
    _complain(refused, as_json=options.json)
    if refused:
        return REFUSED
    return WITHIN if all(every_pump_sound(result.solution) for result in solved) else OVER


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m solver",
        description="Where the inlet budget of a pump goes, from its drawing.",
        epilog="Exit status: 0 every pump within its budget, at its working temperature and at the coldest "
        "start; 1 some pump over it at either, or its column of fluid broken; 2 a drawing was refused; "
        "70 the program itself failed.",
    )
    add = parser.add_argument
    add("files", nargs="+", metavar="FILE", help="a drawing (.toml)")
    form = parser.add_mutually_exclusive_group()
    form.add_argument(
        "--json", action="store_true", help="print one JSON object, in SI; of several files a list"
    )
    form.add_argument("--csv", action="store_true", help="print every entry as one line of CSV, in SI")
    form.add_argument(
        "--working", action="store_true", help="print every figure with its formula, numbers and source"
    )
    form.add_argument("--html", action="store_true", help="print the same as an HTML page, of one drawing")
    add("--units", choices=UNITS, help="units of the text, instead of the drawing's own")
    levels = [level.value for level in Level]
    add("--level", choices=levels, default=levels[0], help="where the fluid stands")
    add("--cold", action="store_true", help="with the fluid at its coldest start, where one is given")
    add("--alternative", metavar="NAME", help="solve this alternative of the drawing")
    add("--pump", metavar="NAME", help="only this pump; it alone decides the exit status")
    add("--reach", action="store_true", help="also say how far each thing may go before the margin is spent")
    add("--limits", action="store_true", dest="reach", help=argparse.SUPPRESS)  # its name before
    return parser


def _run(file: str, options: argparse.Namespace) -> Result | Refusal:
    try:
        layout = _chosen(read(Path(file)), options, file)
    except LayoutErrors as error:
        return _typed_wrong(error)
    return layout if isinstance(layout, Refusal) else _solved(file, layout, options)


def _solved(file: str, layout: Layout, options: argparse.Namespace) -> Result | Refusal:
    try:
        chilled = layout.fluid.at_coldest() if options.cold else None
        layout = layout if chilled is None else replace(layout, fluid=chilled)
        solution = solve(layout, Level(options.level))
        if options.pump is not None and options.pump not in solution.pumps:
            return _unknown(file, "pump", options.pump, solution.pumps)
        kept = {n: p for n, p in solution.pumps.items() if options.pump in (None, n)}
        whole, solution = solution, replace(solution, pumps=kept)
        asked = {n: ask.ask_all(layout, n, Level(options.level)) for n in kept} if options.reach else {}
        return Result(file, solution, whole, check(solution), asked)
    except NetworkError as error:
        return _not_solvable(file, error.problems)
    except FluidError as error:
        return _not_solvable(file, ((error.part, error.text_in(System(layout.units))),))


def _chosen(drawing: Drawing, options: argparse.Namespace, file: str) -> Layout | Refusal:
    layout = drawing.base
    if options.alternative is not None:
        if options.alternative not in drawing.alternatives:
            return _unknown(file, "alternative", options.alternative, drawing.alternatives)
        layout = drawing.alternatives[options.alternative].layout
    return replace(layout, units=str(UNITS[options.units])) if options.units else layout


def _typed_wrong(error: LayoutErrors) -> Refusal:
    problems = tuple(
        {
            "file": p.file,
            "line": p.line,
            "column": p.column,
            "key": p.key,
            "found": p.found,
            "allowed": p.allowed,
        }
        for p in error.problems
    )
    return Refusal(problems, tuple(str(p) for p in error.problems))


def _not_solvable(file: str, found: Iterable[tuple[str, str]]) -> Refusal:
    problems = tuple({"file": file, "part": part, "text": text} for part, text in found)
    return Refusal(problems, tuple(f"{file}: {p['part']}: {p['text']}" for p in problems))


def _unknown(file: str, what: str, name: str, known: Iterable[str]) -> Refusal:
    listed = ", ".join(f'"{k}"' for k in known) or "none"
    return _not_solvable(file, ((name, f"there is no such {what}; there are: {listed}"),))


def _printed(results: list[Result], options: argparse.Namespace) -> str:
    if options.json:
        return _as_json(results, options) if results else ""
    if options.csv:
        heading = ",".join(records.CSV_COLUMNS) + "\n"
        rows = (records.table(r.solution, r.file, options.alternative) for r in results)
        return "".join([heading, *rows]) if results else ""
    if options.html:
        return "".join(_page(result, options) for result in results)
    if options.working:
        texts = [text for result in results for text in _workings(result, options)]
    else:
        texts = [_report(result, options) for result in results]
    return ("\n" + "=" * report.WIDTH + "\n\n").join(texts)


def _workings(result: Result, options: argparse.Namespace) -> Iterable[str]:
    from solver.working import working

    system = System(result.solution.layout.units)
    for pump in result.solution.pumps:
        yield working.as_text(result.solution, pump, system, options.alternative or "")


def _page(result: Result, options: argparse.Namespace) -> str:
    from solver.working import working

    system = System(result.solution.layout.units)
    return working.as_html(result.solution, system, options.alternative or "")


def _report(result: Result, options: argparse.Namespace) -> str:
    return report.report(result.solution, result.findings, options.alternative, result.answers, result.whole)


def _as_json(results: list[Result], options: argparse.Namespace) -> str:
    made = [records.record(r.solution, r.findings, options.alternative, r.answers) for r in results]
    several = [{"file": result.file, **one} for result, one in zip(results, made, strict=True)]
    whole: Any = several if len(options.files) > 1 else made[0]
    return records.dumped(whole) + "\n"


def _complain(refused: list[Refusal], *, as_json: bool) -> None:
    if not refused:
        return
    if as_json:
        whole = {"errors": [problem for refusal in refused for problem in refusal.problems]}
        sys.stderr.write(records.dumped(whole) + "\n")
        return
    for refusal in refused:
        sys.stderr.write("".join(f"{printable(line)}\n" for line in refusal.lines))


if __name__ == "__main__":
    sys.exit(main())
