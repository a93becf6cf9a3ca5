"""Sentences as they are set: a figure never parts from its unit at the end of a line."""

from __future__ import annotations

import re
from functools import lru_cache
from html import escape

from solver.quantities import units
from solver.quantities.units import Kind, System

NO_BREAK = "\N{NO-BREAK SPACE}"
JOINER = "\N{WORD JOINER}"  # as wide as nothing; a line may end behind the stroke of m/s without it
_BESIDES = ("bores", "minutes", "mm²/s", "cm", "bar", "mbar", "h")  # typed, or counted in; no display units


_HYPHEN = re.compile(rf"(?<![\w-])-(?=\d[\d.]*(?:{NO_BREAK}| to ))")  # of a figure, not of a size: hose -20


@lru_cache(maxsize=1)
def _gap() -> re.Pattern[str]:
    """A unit after its figure, with the space between."""
    shown = {units.unit(kind, system) for kind in Kind for system in System} - {""}
    longest_first = sorted({*shown, *_BESIDES}, key=len, reverse=True)
    names = "|".join(re.escape(name) for name in longest_first)
    return re.compile(rf"(?<=\d) (?:{names})(?!\w)")


_NAMED = re.compile(r"\b(?:schedule|NPS|DN|VG|Re|pages?|p\.) (?=\d)")
"""What a figure behind it numbers, with the space between."""


_STEP = re.compile(r"(?<!\S)\d{1,2}\. (?=[A-Z])")
"""The number of a step, with the space before the step."""


def unbroken(text: str) -> str:
    """The text in which no line ends between a figure and its unit or within that, for whatever wraps it;
    nor between a figure and what it numbers, as a schedule, a page or a step."""
    joined = _gap().sub(lambda unit: unit[0].replace(" ", NO_BREAK).replace("/", f"/{JOINER}"), text)
    for numbered in (_NAMED, _STEP):
        joined = numbered.sub(lambda name: name[0].replace(" ", NO_BREAK), joined)
    return joined


def typographic(text: str) -> str:
    """The text unbroken, with a minus sign where a figure has a hyphen."""
    return _HYPHEN.sub(units.MINUS, unbroken(text))


_DEGREES, _POWER = re.compile(r"\bdeg ?([CF])\b"), re.compile(r"(?<=[a-z])\^([23])(?!\d)")
_RAISED = {"2": "\N{SUPERSCRIPT TWO}", "3": "\N{SUPERSCRIPT THREE}"}


def with_signs(text: str) -> str:
    """A typed figure with degrees and powers by their signs, as they are written everywhere on the screen."""
    return _POWER.sub(lambda power: _RAISED[power[1]], _DEGREES.sub("\N{DEGREE SIGN}\\1", text))


def whole_bands(text: str) -> str:
    """A text of figures in which no line ends within a band such as 7.1 to 8.3 kPa."""
    return text.replace(" to ", f"{NO_BREAK}to{NO_BREAK}")


def tooltip(text: str) -> str:
    """A text for a tooltip, which Qt wraps only where it is HTML; "" stays no tooltip at all."""
    return "".join(f"<p>{escape(unbroken(part))}</p>" for part in text.splitlines() if part)


def without_no_break(text: str) -> str:
    """The text with ordinary spaces again, for whatever is searched or copied."""
    return text.replace(NO_BREAK, " ").replace(JOINER, "")


@lru_cache(maxsize=256)  # of a sentence that is set in several widths
def pieces(text: str) -> tuple[str, ...]:
    """What a text may be broken between: its words, a figure and its unit being one."""
    return tuple([without_no_break(piece) for piece in re.split(r"[ \t\n]+", unbroken(text)) if piece])
