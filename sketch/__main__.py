"""Opens the window; writes a sheet or a picture of the window where there is no display."""

from __future__ import annotations

import argparse
import datetime
import os
import re
import sys
from collections.abc import Sequence
from pathlib import Path

from sketch import startup
from sketch.page.sheet_parts import OPTIONAL, PAPERS
from sketch.views.tabs import OLD_NAMES, TABS
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import SHORT_CASE, Level
from solver.quantities.wording import fault

REFUSED = 2
FAILED = 70  # as `python -m solver` has it


def main(argv: Sequence[str] | None = None) -> int:
    """The exit status: 0 when done, 2 when something kept it from being done.

    Without a display, the status of `python -m solver` for the same drawing. 70 where the program failed.
    """
    args = _parser().parse_args(argv)
    try:
        return _run(args)
    except Exception as error:
        print(fault(error), file=sys.stderr)
        return FAILED


def _run(args: argparse.Namespace) -> int:
    windowless = bool(args.sheet or args.picture or args.card or args.dxf)
    if lost := _without_sheet(args):
        return _refuse(f"{lost} is of a sheet: add --sheet OUT.pdf")
    if windowless:
        os.environ["QT_QPA_PLATFORM"] = "offscreen"
        if args.file is None:
            return _refuse("Name the drawing: python -m sketch FILE --sheet OUT.pdf")
    problem = startup.installed_pair_problem()
    # Whoever has no display has no use for the libraries that a window on it would need.
    no_display = "" if problem else startup.display_problem(os.environ)
    if no_display:
        return _in_the_terminal(no_display, args)
    problem = problem or startup.plugin_problem(os.environ)
    if problem:
        return _refuse(problem) if windowless else _in_the_terminal(problem, args)
    try:
        from sketch import run
    except ImportError as error:
        problem = startup.missing_library(error) or f"The window cannot open: {error}."
        return _refuse(problem) if windowless else _in_the_terminal(problem, args)
    if args.sheet:
        return run.sheet(args)
    if args.card or args.dxf:
        return run.card(args) if args.card else run.dxf(args)
    return run.picture(args) if args.picture else run.window(args)


def _parser() -> argparse.ArgumentParser:
    parser = argparse.ArgumentParser(
        prog="python -m sketch",
        description="Draws a pump's suction line with what each element takes from the inlet budget.",
        epilog="--sheet, --card, --dxf and --picture need no display.",
    )
    parser.add_argument("file", nargs="?", type=Path, metavar="FILE", help="a drawing, ending in .toml")
    parser.add_argument("--alternative", default="", metavar="NAME", help="show this alternative")
    parser.add_argument("--pump", default="", metavar="NAME", help="show the ledger of this pump")
    levels = [level.value for level in Level]
    parser.add_argument(
        "--level", choices=levels, default=levels[0], help="where the fluid stands in cases that name none"
    )
    shown = parser.add_mutually_exclusive_group()
    shown.add_argument("--case", default=AS_DRAWN, metavar="NAME", help="show this case")
    shown.add_argument("--cold", action="store_true", help=f'short for --case "{SHORT_CASE}"')
    parser.add_argument("--units", choices=("us", "si"), help="units of the results; else the drawing's own")
    parser.add_argument("--theme", choices=("light", "dark", "desktop"), help="colours of the window")
    parser.add_argument(
        "--tab", type=lambda name: OLD_NAMES.get(name, name), choices=tuple(TABS),
        help="the table in front (default: as last left)",
    )  # fmt: skip
    _add_writing(parser)
    picture = parser.add_argument_group("a picture of the window")
    picture.add_argument("--picture", type=Path, metavar="OUT.png", help="write the window as a picture")
    picture.add_argument(
        "--size", type=_size, default=(1366, 768), metavar="WxH", help="its size in pixels; default: 1366x768"
    )
    return parser


def _add_writing(parser: argparse.ArgumentParser) -> None:
    sheet = parser.add_argument_group("to write")
    sheet.add_argument(
        "--sheet",
        type=Path,
        metavar="OUT",
        help="write the sheet: .pdf, .svg or .png; over an older sheet, but over no other file; its title "
        "block is [sheet] in FILE",
    )
    sheet.add_argument(
        "--paper", choices=PAPERS, default="", help="default: Letter for US customary units, A4 for SI"
    )
    sheet.add_argument("--upright", action="store_true", help="the sheet on upright paper")
    compared = sheet.add_mutually_exclusive_group()
    compared.add_argument(
        "--compare", nargs="?", const="", metavar="NAME",
        help="set this alternative beside the drawing, before and after, or another drawing, OTHER.toml: "
        "the drawing opened is before (rev-A.toml --compare rev-B.toml), the other after; "
        "default: the alternative whose worst case is best, with a table of all",
    )  # fmt: skip
    compared.add_argument(
        "--alone", action="store_true", help="the sheet of the drawing without its alternatives"
    )
    sheet.add_argument(
        "--pages",
        type=_count,
        default=0,
        metavar="N",
        help="at most N pages of the sheet; 1: the first alone, without the parts of --with",
    )
    sheet.add_argument(
        "--with", action="append", default=[], choices=OPTIONAL, dest="parts",
        help="this part in the sheet too, with --sheet; may be given again",
    )  # fmt: skip
    sheet.add_argument("--working", action="store_true", help="short for --with working")
    sheet.add_argument(
        "--replace",
        action="store_true",
        help="write over a single file of that name even if it is no sheet",
    )
    sheet.add_argument(
        "--date", type=_date, metavar="YYYY-MM-DD", help="the date on the sheet; default: today"
    )
    sheet.add_argument(
        "--card", type=Path, metavar="OUT", help="write the card for the machine: .pdf, .svg or .png"
    )
    sheet.add_argument(
        "--dxf", type=Path, metavar="OUT.dxf", help="write the drawing at its true size for a drawing program"
    )


def _without_sheet(args: argparse.Namespace) -> str:
    """An option that says what a sheet holds, where none is written; "" for none."""
    given = {
        "--with": args.parts,
        "--working": args.working,
        "--pages": args.pages,
        "--compare": args.compare is not None,
        "--alone": args.alone,
        "--date": args.date,
    }
    return "" if args.sheet else next((name for name, value in given.items() if value), "")


def _count(text: str) -> int:
    if not text.isascii() or not text.isdecimal() or not 1 <= int(text[:6]) <= 9999:
        raise argparse.ArgumentTypeError(f'"{text}" is no number of pages, from 1 to 9999')
    return int(text)


def _date(text: str) -> datetime.date:
    try:
        return datetime.date.fromisoformat(text)
    except ValueError:
        raise argparse.ArgumentTypeError(f'"{text}" is no date such as 2026-03-31') from None


def _size(text: str) -> tuple[int, int]:
    match = re.fullmatch(r"(\d{3,4})[xX](\d{3,4})", text)
    width, height = (int(match[1]), int(match[2])) if match else (0, 0)
    if not (320 <= width <= 8000 and 240 <= height <= 8000):
        raise argparse.ArgumentTypeError(f'"{text}" is no size such as 1366x768, from 320x240 to 8000x8000')
    return width, height


def _refuse(text: str) -> int:
    print(text, file=sys.stderr)
    return REFUSED


def _in_the_terminal(why: str, args: argparse.Namespace) -> int:
    """Where no window can open, the ledger is printed instead."""
    if args.file is None:
        return _refuse(f"{why}\nName a drawing to see its ledger here: python -m sketch FILE")
    from solver.__main__ import main as print_ledger

    print(f"{why} Here is the ledger instead.\n", file=sys.stderr, flush=True)
    status = print_ledger(_solver_arguments(args))
    print(f"\nTo draw it on a page: python -m sketch {args.file} --sheet OUT.pdf", file=sys.stderr)
    return status


def _solver_arguments(args: argparse.Namespace) -> list[str]:
    arguments = [str(args.file), "--level", args.level]
    arguments += ["--cold"] if args.cold else []
    arguments += ["--case", args.case] if args.case != AS_DRAWN else []
    for option in ("alternative", "pump", "units"):
        if getattr(args, option):
            arguments += [f"--{option}", getattr(args, option)]
    return arguments


if __name__ == "__main__":
    sys.exit(main())
