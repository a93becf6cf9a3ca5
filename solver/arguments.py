"""What the command line of the solver takes."""

from __future__ import annotations

import argparse
import sys

from solver.layout.parts import SHORT_CASE, Level
from solver.quantities.units import System
from solver.report.records import PROGRAM

STANDARD_INPUT = "-"

UNITS = {"us": System.US, "si": System.SI}


class _Version(argparse.Action):
    """Print the version, which is looked for only when it is asked for."""

    def __call__(self, parser: argparse.ArgumentParser, *rest: object) -> None:
        from importlib.metadata import version

        sys.stdout.write(f"{PROGRAM} {version(PROGRAM.lower())}\n")
        parser.exit()


class _Schema(argparse.Action):
    """Print the schema of the drawing file."""

    def __call__(self, parser: argparse.ArgumentParser, *rest: object) -> None:
        from json import dumps

        from solver.layout.schema import drawing_schema

        sys.stdout.write(dumps(drawing_schema(), indent=1, ensure_ascii=False) + "\n")
        parser.exit()


def parser() -> argparse.ArgumentParser:
    """What the command line takes."""
    arguments = argparse.ArgumentParser(
        prog="python -m solver",
        description="Where the inlet budget of a pump goes, from its drawing.",
        epilog="Exit status: 0 every pump within its budget in every case; 1 some pump over it, or its "
        "column of fluid broken, in one, also while its line is not as warm as its tank, with its screens "
        "as blocked as they were read, or a newest reading past what is allowed there; 3 some case not "
        "judged and no pump over; 2 a drawing was refused; 70 the program itself failed; 130 stopped by "
        "Ctrl+C. Of several files the first of 130, 70, 2, 1, 3, 0 that occurs. With --readings it is also "
        "3 when a reading could not be compared.",
    )
    add = arguments.add_argument
    add("files", nargs="+", metavar="FILE", help="a drawing (.toml); - reads one from standard input")
    add("--version", action=_Version, nargs=0, help="print the version of the program and end")
    add("--schema", action=_Schema, nargs=0, help="print the JSON Schema of the drawing file and end")
    form = arguments.add_mutually_exclusive_group()
    form.add_argument(
        "--json", action="store_true", help="print one JSON object, in SI; of several files a list"
    )
    form.add_argument("--csv", action="store_true", help="print every entry as one line of CSV, in SI")
    form.add_argument(
        "--working", action="store_true", help="print every figure with its formula, numbers and source"
    )
    form.add_argument("--html", action="store_true", help="print all of it as an HTML page, of one drawing")
    form.add_argument("--brief", action="store_true", help="print one line a drawing: how it stands")
    add("--units", choices=UNITS, help="units of the text, instead of the drawing's own")
    levels = [level.value for level in Level]
    add("--level", choices=levels, default=levels[0], help="where the fluid stands in cases that name none")
    shown = arguments.add_mutually_exclusive_group()
    shown.add_argument("--case", metavar="NAME", help="show this case; all of them decide the exit status")
    shown.add_argument("--cold", action="store_true", help=f'short for --case "{SHORT_CASE}"')
    add("--alternative", metavar="NAME", help="solve this alternative of the drawing")
    add("--pump", metavar="NAME", help="only this pump; it alone decides the exit status")
    _add_questions(arguments)
    return arguments


_QUESTIONS = {
    "--reach": "also say how far each thing may go before the margin is spent",
    "--fixes": "also say what could be changed, and what each change buys",
    "--parts": "also list what the line is built from; with --csv that list alone",
    "--priming": "say how to fill each pump and its line before a first start, instead of the ledger",
    "--readings": "say what would explain the readings in the drawing, and what to look at next, "
    "instead of the "
    "ledger, which follows with --case, --cold, --reach or --fixes",
    "--uncertainty": "also say how sure each margin is, by many trials of what is not known",
}


def _add_questions(arguments: argparse.ArgumentParser) -> None:
    add = arguments.add_argument
    for option, answer in _QUESTIONS.items():
        add(option, action="store_true", help=answer)
    add(
        "--vary",
        action="append",
        metavar="KEY=FROM..TO[/COUNT]",
        help="solve the drawing over a range of one figure, in every case, such as "
        "'temperature=10 degC..60 degC/6' or 'bore of riser=40 mm..80 mm'; given again, every combination",
    )
    add("--limits", action="store_true", dest="reach", help=argparse.SUPPRESS)  # its name before


_NOT_IN: dict[str, tuple[str, ...]] = {
    "fixes": ("csv", "working", "html"),
    "parts": ("working", "html", "brief"),
    "priming": ("csv", "working", "html", "brief"),
    "readings": ("csv", "working", "html", "brief"),
}
"""By question: the forms that have no place for its answer."""

_NOT_VARIED = (
    *("working", "html", "brief", "case", "cold", "reach", "fixes"),
    *("parts", "priming", "readings", "uncertainty"),
)


def clash(options: argparse.Namespace) -> str:
    """Why options that were typed do not go together, in one sentence; "" where they do."""
    for question, without in _NOT_IN.items():
        form = next((each for each in without if getattr(options, question) and getattr(options, each)), "")
        if form:
            having = [f"--{each}" for each in ("json", "csv", "brief") if each not in without]
            others = " or ".join(having)
            return f"argument --{question}: not with --{form}; leave --{form} out, or print {others} instead"
    if options.parts and options.csv and options.reach:
        return "argument --parts: with --csv it is a table of its own, as --reach is; ask for one of them"
    if options.html and len(options.files) > 1:
        return f"argument --html: makes a page of one drawing, not of {len(options.files)}"
    form = next((each for each in _NOT_VARIED if options.vary and getattr(options, each)), "")
    if form:
        return f"argument --vary: not with --{form}; it solves every case, and prints text, --csv or --json"
    return ""
