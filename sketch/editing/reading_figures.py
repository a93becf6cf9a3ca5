"""What a hand showed, as typed: one figure, or the two that it swung between, in any usual way of writing."""

from __future__ import annotations

import re
from collections.abc import Iterator

from sketch.editing.edits import EditError
from solver.quantities import units
from solver.quantities.spelling import is_number
from solver.quantities.units import Kind, System, UnitError

_FIRST_WORD = re.compile(r"(?:from|between)\s+", re.IGNORECASE)
_BETWEEN = re.compile(
    r"\s*(?:\.{2,3}|…)\s*"
    r"|\s*[;/]\s*"
    r"|\s*,\s+(?=[-+−.\d])"  # with no space after it a comma is one of decimals
    r"|\s*\b(?:to|and|till|until)\b\s*"
    r"|\s*(?<=[\w.%])\s*[-–—−]\s*(?=[-+−.\d])",
    re.IGNORECASE,
)
_DASH = re.compile(r"\s*[-–—−]\s*")
_SIGNED = re.compile(r"[-−]")
_UNIT = re.compile(r"^[-+−]?[.\d]+(?:[eE][-+]?\d+)?\s*")


def figures(text: str, kind: Kind, system: System) -> tuple[str, ...]:
    """The one or two figures in a text, each with its unit: what cannot be parted is left whole.

    A unit that stands at one of them holds for both; at none, that of `system`. Raises EditError where a dash
    may be a sign as well.
    """
    text = text.strip()
    if _reads(text):
        return (_whole(text, kind, system),)
    inner = _FIRST_WORD.sub("", text, count=1) if _FIRST_WORD.match(text) else text
    for first, between, second in _parted(inner):
        if not (_reads(first) and _reads(second)):
            continue
        if _DASH.fullmatch(between) and _SIGNED.match(first) and not _SIGNED.match(second):
            raise EditError(
                'found "{text}", in which the second minus may be a sign or a dash; allowed: '
                "{first} to {second}, or {first} to -{second}",
                text=text, first=first, second=second,
            )  # fmt: skip
        return tuple(_whole(each, kind, system) for each in _with_units(first, second))
    return (text,)


def _parted(text: str) -> Iterator[tuple[str, str, str]]:
    for match in _BETWEEN.finditer(text):
        yield text[: match.start()].strip(), match.group(), text[match.end() :].strip()


def _reads(text: str) -> bool:
    """Whether a text is a number, with or without the unit of a pressure, an absolute one too."""
    if is_number(text):
        return True
    try:
        units.quantity(text, Kind.PRESSURE)
    except UnitError:
        return False
    return True


def _with_units(first: str, second: str) -> tuple[str, str]:
    """Both with the unit of the other, where one has none."""
    if is_number(first) and not is_number(second):
        return f"{first} {_UNIT.sub('', second)}", second
    if is_number(second) and not is_number(first):
        return first, f"{second} {_UNIT.sub('', first)}"
    return first, second


def _whole(text: str, kind: Kind, system: System) -> str:
    return f"{text} {units.unit(kind, system)}" if is_number(text) else text
