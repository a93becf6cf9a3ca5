"""Variants of drawings for the terminal: solved piece by piece, and written as they come."""

from __future__ import annotations

import signal
import sys
from collections.abc import Callable, Iterator, Mapping, Sequence
from contextlib import contextmanager
from dataclasses import dataclass, field
from enum import StrEnum

from solver.answers.axes import Axis, pieces
from solver.answers.sweep import SweepError
from solver.layout.cases import cases_of
from solver.layout.parts import Layout, Level
from solver.network.build import NetworkError
from solver.quantities.wording import printable
from solver.report import variants

LARGE = 20_000
"""Variants from which on a bar shows how far they are."""

Problems = tuple[tuple[str, str], ...]
"""What is wrong, by part."""


class Form(StrEnum):
    """How variants are written."""

    TEXT = "text"
    CSV = "csv"
    JSON = "json"


@dataclass(frozen=True)
class VaryRequest:
    """What is varied, and how it is written."""

    axes: Sequence[Axis]
    form: Form
    level: Level = Level.MINIMUM
    alternative: str | None = None
    pump: str | None = None  # None: every one


@dataclass
class VaryResult:
    """What writing variants came to, as far as it went."""

    count: int = 0  # variants solved
    over: bool = False  # whether a pump is over, or its column broken, in one of them
    not_judged: bool = False  # whether one of them could not be judged
    refused: list[tuple[str, Problems]] = field(default_factory=list)  # by file


def write(
    drawings: Sequence[tuple[str, Layout]],
    wanted: VaryRequest,
    out: Callable[[str], object],
    go_on: Callable[[int], bool] = lambda count: True,
) -> VaryResult:
    """Write the variants of every drawing.

    drawings: (file, drawing). out: takes the text, piece by piece. go_on: is given the number of variants
    solved so far after each piece; False ends the work, with a text that is whole so far.
    """
    done = VaryResult()
    out({Form.JSON: "[", Form.CSV: variants.csv_heading(wanted.axes)}.get(wanted.form, ""))
    before = "\n"
    for file, layout in drawings:
        try:
            before = _drawing(file, layout, wanted, out, go_on, done, before)
        except SweepError as error:
            done.refused.append((file, ((error.varied or "--vary", str(error)),)))
        except NetworkError as error:
            done.refused.append((file, error.problems))
        except _StoppedError:
            break
    out("\n]\n" if wanted.form == Form.JSON else "")
    return done


class _StoppedError(Exception):
    """The work is to end."""


def _drawing(
    file: str,
    layout: Layout,
    wanted: VaryRequest,
    out: Callable[[str], object],
    go_on: Callable[[int], bool],
    done: VaryResult,
    before: str,
) -> str:
    """Write the variants of one drawing; what is to stand before the next row."""
    if wanted.pump is not None and wanted.pump not in layout.pumps:
        listed = ", ".join(f'"{name}"' for name in layout.pumps) or "none"
        done.refused.append((file, ((wanted.pump, f"there is no such pump; there are: {listed}"),)))
        return before
    system, first = layout.units, True
    for piece in pieces(layout, wanted.axes, wanted.level):
        rows = list(variants.rows(piece, wanted.pump))
        if wanted.form == Form.CSV:
            out("".join(variants.csv_line(row, file, wanted.alternative) for row in rows))
        elif wanted.form == Form.JSON:
            for row in rows:
                out(f"{before}{variants.json_row(row, wanted.axes, file, wanted.alternative)}")
                before = ",\n"
        else:
            out(_title(file, layout, wanted, piece.unread) if first else "")
            out("".join(variants.text_line(row, wanted.axes, system) for row in rows))
        first = False
        done.over = done.over or any(row.over for row in rows)
        done.not_judged = done.not_judged or not all(row.judged for row in rows)
        done.count += piece.count
        if not go_on(done.count):
            raise _StoppedError
    return before


def _title(file: str, layout: Layout, wanted: VaryRequest, unread: Mapping[str, str]) -> str:
    name = f", alternative {wanted.alternative}" if wanted.alternative else ""
    lines = [f"{layout.title} ({file}{name})"]
    varied = " and ".join(axis.label for axis in wanted.axes)
    if len(cases_of(layout)) > 1:
        lines.append(f"Every case has the {varied} of its row, in the place of a figure of its own.")
    lines += [f"Not judged: the case {case}, {why}" for case, why in unread.items()]
    return "".join(f"{printable(line)}\n" for line in lines) + variants.text_heading(wanted.axes)


@contextmanager
def interrupted() -> Iterator[list[int]]:
    """A list that is no longer empty once Ctrl+C was pressed; pressed again it ends the program."""
    pressed: list[int] = []

    def press(number: int, frame: object) -> None:
        pressed.append(number)
        signal.signal(signal.SIGINT, signal.default_int_handler)

    before = signal.signal(signal.SIGINT, press)
    try:
        yield pressed
    finally:
        signal.signal(signal.SIGINT, before)


@contextmanager
def progress(total: int) -> Iterator[Callable[[int], None]]:
    """A bar on stderr, where there is a person to see it and much to wait for."""
    if total < LARGE or not sys.stderr.isatty():
        yield lambda count: None
        return
    from rich.console import Console
    from rich.progress import Progress

    with Progress(console=Console(stderr=True), transient=True, redirect_stdout=False) as bar:
        task = bar.add_task("variants", total=total)
        yield lambda count: bar.update(task, completed=count)
