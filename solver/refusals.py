"""What a drawing was refused for, as lines of text and as data, and where it is said."""

from __future__ import annotations

import sys
from collections.abc import Iterable
from dataclasses import dataclass
from typing import Any

from solver.layout.file import Problem
from solver.quantities.wording import printable
from solver.report import records


@dataclass(frozen=True, slots=True)
class Refusal:
    """Why one file gave no ledger: one dictionary a problem, and the same as lines of text."""

    problems: tuple[dict[str, Any], ...]
    lines: tuple[str, ...]


def typed_wrong(typed: tuple[Problem, ...]) -> Refusal:
    """Problems with their places in a file."""
    problems = tuple(
        {
            "file": p.file,
            "line": p.line,
            "column": p.column,
            "key": p.key,
            "found": p.found,
            "allowed": p.allowed,
        }
        for p in typed
    )
    return Refusal(problems, tuple(str(p) for p in typed))


def refuse_catalogue(file: str) -> None:
    """Refuse a catalogue of one's own in the place of a drawing. Raises LayoutErrors."""
    if file.endswith(".parts.toml"):
        from solver.layout.own_parts import no_drawing

        raise no_drawing(file)


def not_solvable(file: str, troubles: Iterable[tuple[str, str]]) -> Refusal:
    """What speaks against parts of a drawing: each part with what does."""
    problems = tuple({"file": file, "part": part, "text": text} for part, text in troubles)
    return Refusal(problems, tuple(f"{file}: {p['part']}: {p['text']}" for p in problems))


def unknown(file: str, what: str, name: str, known: Iterable[str]) -> Refusal:
    """A name that the drawing has not, with those it has."""
    listed = ", ".join(f'"{k}"' for k in known) or "none"
    return not_solvable(file, ((name, f"there is no such {what}; there are: {listed}"),))


def complain(refused: Iterable[Refusal], *, as_json: bool) -> None:
    """Say on standard error what is wrong; nothing where nothing is."""
    refused = list(refused)
    if not refused:
        return
    if as_json:
        whole = {"errors": [problem for refusal in refused for problem in refusal.problems]}
        sys.stderr.write(records.dumped(whole) + "\n")
        return
    for refusal in refused:
        sys.stderr.write("".join(f"{printable(line)}\n" for line in refusal.lines))
