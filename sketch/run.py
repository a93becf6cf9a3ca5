"""What the command line asks for, once Qt is known to load."""

from __future__ import annotations

import argparse
import logging
import signal
import sys
from collections.abc import Callable, Iterable, Sequence
from functools import partial
from pathlib import Path
from types import TracebackType

from PySide6.QtCore import (
    QCoreApplication,
    QEventLoop,
    QMessageLogContext,
    QSize,
    QTimer,
    QtMsgType,
    qInstallMessageHandler,
)
from PySide6.QtGui import QFontDatabase
from PySide6.QtWidgets import QApplication

from sketch.look.appearance import ThemeChoice
from sketch.model.cycles import Cycles
from sketch.model.document import Document
from sketch.model.worker import Worker
from sketch.page.paper import written_files_text
from sketch.page.sheet_parts import HOW_TO_WRITE_READINGS, NO_READINGS, SheetWish
from sketch.window.main_window import Window, make_window, settings
from sketch.window.sheet_writing import write_sheet_of
from solver.findings.kinds import Severity
from solver.layout.cases import AS_DRAWN, cases_of
from solver.layout.file import LayoutErrors
from solver.layout.parts import SHORT_CASE, Level
from solver.quantities.units import System
from solver.quantities.wording import printable

LOG = logging.getLogger(__name__)
SYSTEMS = {"us": System.US, "si": System.SI}
REFUSED = 2


def application() -> QApplication:
    """The application, under the name that its state is kept by."""
    QCoreApplication.setOrganizationName("liftledger")
    QCoreApplication.setApplicationName("liftledger")
    QCoreApplication.setApplicationVersion("0.1.0")
    existing = QApplication.instance()
    running = existing if isinstance(existing, QApplication) else QApplication(sys.argv[:1])
    if running.findChild(Cycles) is None:
        Cycles(running)
    return running


def window(args: argparse.Namespace) -> int:
    """Open the window and stay until it is closed."""
    running = application()
    try:
        kept = settings()
    except OSError:
        kept = None  # a home that cannot be written is no reason not to draw
    main_window = make_window(running, kept, ThemeChoice(args.theme) if args.theme else None)
    sys.excepthook = partial(report_error, main_window)
    if args.file is not None and main_window.files.read(args.file):
        problem = _choose(main_window.document, args)
        if problem:
            main_window.notice.show_message(problem, severity=Severity.CAUTION)
    elif args.file is None:
        main_window.files.offer_recoveries()
    if args.tab:
        main_window.workspace.show_tab(args.tab)
    main_window.show()
    signal.signal(signal.SIGINT, signal.SIG_DFL)  # Qt's loop would never let Python see the key
    return running.exec()


def report_error(
    main_window: Window, kind: type[BaseException], error: BaseException, trace: TracebackType | None
) -> None:
    """Say in the window what would otherwise be seen in the terminal alone."""
    LOG.error("an error inside the program", exc_info=(kind, error, trace))
    if isinstance(error, Exception):
        text = f"Something went wrong inside the program ({kind.__name__}: {error})."
        main_window.notice.show_message(
            f"{text} The drawing is as it was; save it before you go on.", severity=Severity.STOP
        )


def sheet(args: argparse.Namespace) -> int:
    """Write the page and say so."""

    def report_omitted(titles: Sequence[str]) -> None:
        have = "one page has" if args.pages == 1 else f"{args.pages} pages have"
        if titles:
            print(f"Left out, as {have} no room for it: {', '.join(titles)}.", file=sys.stderr)

    parts: list[str] = []

    def report_pages(count: int, begin: Sequence[tuple[str, int]]) -> None:
        if count > 1:
            parts.append(pages_in_words(count, begin))

    def write(document: Document) -> tuple[Path, ...]:
        wish = _wish(document, args)
        paths = write_sheet_of(
            document, args.sheet, wish, args.date, report_omitted=report_omitted, report_pages=report_pages
        )
        if "readings" in args.parts and not document.drawing.base.readings:
            print(f"Readings: {NO_READINGS} {HOW_TO_WRITE_READINGS}", file=sys.stderr)
        return paths

    status = _written(args, args.sheet, write)
    print("\n".join(parts), end="\n" if parts else "")
    return status


def pages_in_words(count: int, begin: Sequence[tuple[str, int]]) -> str:
    """How many pages a sheet has, and on which each of its parts begins, those of one page together."""
    on_page: dict[int, list[str]] = {}
    for title, page in begin:
        on_page.setdefault(page, []).append(title)
    behind = [f"{', '.join(titles)}, page {page}" for page, titles in sorted(on_page.items()) if page > 1]
    listed = f"; behind the first: {'; '.join(behind)}" if behind else ""
    return f"{count} pages{listed}."


def card(args: argparse.Namespace) -> int:
    """Write the card for the machine and say so."""
    from sketch.page.machine_card import write_card_of

    return _written(args, args.card, lambda document: write_card_of(document, args.card, args.paper))


def dxf(args: argparse.Namespace) -> int:
    """Write the drawing to scale and say so."""
    from sketch.page.dxf import write_dxf_of

    return _written(args, args.dxf, lambda document: write_dxf_of(document, args.dxf))


def _written(args: argparse.Namespace, path: Path, write: Callable[[Document], tuple[Path, ...]]) -> int:
    """Open the drawing, write files of it and say so."""
    running = application()
    document = Document(running, keeps=False)
    problem = _no_fonts() or _open(document, args)
    if problem or document.outcome.judgement is None:
        return _refuse(problem or _reasons(document))
    try:
        paths = write(document)
    except KeyError as error:
        return _refuse(
            f'There is no alternative "{error.args[0]}". There are: {_list(document.alternatives)}'
        )
    except (OSError, ValueError) as error:
        return _refuse(f"{path} was not written: {error}")
    print(f"Wrote {written_files_text(paths)}")
    return 0


def _wish(document: Document, args: argparse.Namespace) -> SheetWish:
    return SheetWish(
        paper=args.paper,
        upright=args.upright,
        compare=_compared(document, args),
        other=_other(document, args),
        parts=frozenset([*args.parts, *(["working"] if args.working else [])]),
        pages=args.pages,
        pump=args.pump,
        replace=args.replace,
        case="" if args.case == AS_DRAWN and not args.cold else document.case,
    )


def _other(document: Document, args: argparse.Namespace) -> Path | None:
    """The file of another drawing to set beside this one; an alternative of such a name goes first."""
    name = args.compare or ""
    is_file = name.lower().endswith(".toml") and name not in document.alternatives
    return Path(name) if is_file else None


def _compared(document: Document, args: argparse.Namespace) -> tuple[str, ...] | None:
    """The alternatives to set beside the drawing; None where it was not asked for."""
    if args.alone or _other(document, args):
        return ()
    if args.compare is None:
        return None
    return (args.compare,) if args.compare else document.alternatives


def _without_remark(kind: QtMsgType, context: QMessageLogContext, text: str) -> None:
    """What Qt has to say, but for a remark on every window that is opened where there is no screen."""
    if "propagateSizeHints" not in text:
        sys.stderr.write(f"{text}\n")


LONGEST_WAIT_MS = 10_000
"""For what is worked out on another thread, before a picture is made without it."""


def picture(args: argparse.Namespace) -> int:
    """Save a picture of the window, dressed light unless asked otherwise, as nobody has ever arranged it."""
    running = application()
    before = qInstallMessageHandler(_without_remark)
    try:
        return _picture(running, args)
    finally:
        qInstallMessageHandler(before)


def _picture(running: QApplication, args: argparse.Namespace) -> int:
    main_window = make_window(running, None, ThemeChoice(args.theme or "light"), keeps=False)
    problem = _no_fonts() or _open(main_window.document, args)
    if problem:
        return _refuse(problem)
    main_window.resize(QSize(*args.size))
    main_window.workspace.show_tab(args.tab or "ledger")
    main_window.show()
    settle(running, main_window)
    if not main_window.grab().save(str(args.picture), "PNG"):
        return _refuse(f"{args.picture} was not written: is its folder there, and may it be written?")
    print(f"Wrote {args.picture}")
    main_window.close()
    return 0


def settle(running: QApplication, main_window: Window) -> None:
    """Let everything that is worked out in idle moments appear."""
    _wait(400)
    asked = main_window.document.findChildren(Worker)
    for _ in range(LONGEST_WAIT_MS // 50):
        if not any(each.busy for each in asked):
            break
        _wait(50)
    main_window.workspace.elevation.fit()
    running.processEvents()


def _wait(milliseconds: int) -> None:
    """Run the loop that long; Qt's own wait for tests would keep Python's other threads from running."""
    loop = QEventLoop()
    QTimer.singleShot(milliseconds, loop.quit)
    loop.exec()


def _no_fonts() -> str:
    if QFontDatabase.families():
        return ""
    return "There are no fonts to write with. On Debian or Ubuntu: sudo apt-get install fonts-dejavu-core"


def _open(document: Document, args: argparse.Namespace) -> str:
    """Open the drawing; what went wrong, or ""."""
    try:
        document.open(args.file)
    except LayoutErrors as error:
        return "\n".join(str(problem) for problem in error.problems)
    except OSError as error:
        return f"{args.file}: {error.strerror or error}"
    return _choose(document, args)


def _choose(document: Document, args: argparse.Namespace) -> str:
    """Show what the command line names; what it names wrongly, or ""."""
    try:
        if args.alternative:  # else the one that the drawing was left at
            document.show_alternative(args.alternative)
    except KeyError:
        return f'There is no alternative "{args.alternative}". There are: {_list(document.alternatives)}'
    try:
        if args.pump:
            document.show_pump(args.pump)
    except KeyError:
        return f'There is no pump "{args.pump}". There are: {_list(document.layout.pumps)}'
    try:
        document.set_level(Level(args.level))
    except ValueError:
        return f'There is no level "{args.level}" in this drawing. There are: {_list(document.levels)}'
    case, cases = (SHORT_CASE if args.cold else args.case), cases_of(document.layout)
    if case not in cases:
        return f'There is no case "{case}" in this drawing. There are: {_list(cases)}'
    document.set_case(case)
    if args.units:
        document.set_system(SYSTEMS[args.units])
    return ""


def _list(names: Iterable[str]) -> str:
    listed = ", ".join(f'"{name}"' for name in names)
    return listed or "none"


def _reasons(document: Document) -> str:
    return "\n".join(f"{part}: {text}" for part, text in document.refusal)


def _refuse(text: str) -> int:
    print("\n".join(map(printable, text.split("\n"))), file=sys.stderr)
    return REFUSED
