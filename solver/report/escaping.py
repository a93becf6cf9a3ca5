"""Text of a drawing made harmless to the program that reads it: JSON, and cells of a table."""

from __future__ import annotations

import json
import re

from solver.quantities.wording import is_control, printable

_FORMULA = re.compile(r"[=+\-@\t\r\n\uff1d\uff0b\uff0d\uff20]")
"""What a spreadsheet may take a cell for a formula by, when it stands first; the wide forms too."""


def printable_json(text: str) -> str:
    """JSON with its control characters as JSON's own escapes; a program reads the same from it."""
    if text.isprintable():
        return text
    return "".join(json.dumps(each)[1:-1] if each != "\n" and is_control(each) else each for each in text)


def cell(value: object) -> object:
    """A value for a table that a spreadsheet opens: text never begins a formula, numbers stay numbers."""
    if not isinstance(value, str):
        return value
    shown = printable(value)
    return f"'{shown}" if _FORMULA.match(value) else shown
