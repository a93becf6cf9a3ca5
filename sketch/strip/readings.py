"""What the strip says of the margin: as it is, in the worst case, against the saved one; in few words."""

from __future__ import annotations

from sketch.model.document import Document
from solver.ledger.sentences import brief
from solver.ledger.solve import PumpLedger
from solver.quantities import units
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, is_none, text_above_zero

LESS = "<"
"""Before a figure that would read as nothing: there is no room for words."""


def margin_text(ledger: PumpLedger | None, system: System) -> str:
    """How a pump stands."""
    if ledger is None:
        return "Not calculated"
    return capitalised(brief(ledger, system, LESS))


def case_text(ledger: PumpLedger, system: System) -> str:
    """How it stands in a case, in few words."""
    return brief(ledger, system, LESS)


def short_text(words: str) -> str:
    """A case's words in less room: "5.8 inHg over" for "over by 5.8 inHg", "6.9 kPa left" for a margin."""
    for long, short in (("over by ", "over"), ("margin ", "left")):
        before, cut, figure = words.partition(long)
        if cut and figure[:1].isdigit():
            amount, comma, rest = figure.partition(",")
            return f"{before}{amount} {short}{comma}{rest}"
    return words


def change_text(document: Document) -> str:
    """How far the margin is from that of the drawing as saved, or as it began where it never was."""
    now, saved = document.ledger, document.saved_ledger
    if now is None or saved is None:
        return ""
    before = "saved" if document.path is not None else "at first"
    if document.layout == document.saved_layout:
        return f"as {before}"
    gained, system = now.margin - saved.margin, document.system
    shown = [units.number(each.margin, Kind.VACUUM, system) for each in (now, saved)]
    if is_none(gained, Kind.VACUUM, system) and shown[0] == shown[1]:
        return f"same margin as {before}"
    figure = text_above_zero(abs(gained), Kind.VACUUM, system, LESS)
    return f"{figure} {'better' if gained > 0 else 'worse'} than {before}"
