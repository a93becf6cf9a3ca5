"""What the elevation says in words: beside the pointer during a drag, and to those who do not see it."""

from __future__ import annotations

from sketch.canvas.gestures import Proposal
from sketch.canvas.handles import Handle, Hold
from sketch.canvas.overlay import Line
from sketch.colours import Theme
from sketch.document import Document
from solver import units
from solver.units import Kind


def lines(document: Document, held: Handle, proposal: Proposal, theme: Theme) -> list[Line]:
    """Where the held thing is, why it did not follow any further, and what is left."""
    ledger = document.ledger
    found = [(where(document, held, proposal), theme.ink)]
    if proposal.trouble:
        found.append((proposal.trouble, theme.stop))
    found.append((margin(document), theme.ink if ledger and ledger.within else theme.stop))
    return found


def where(document: Document, held: Handle, proposal: Proposal) -> str:
    """Where the held thing is: the figures it can be moved in."""
    height = units.show(proposal.y, Kind.LENGTH, document.system)
    if held.hold is Hold.LEVEL:
        return f"{held.which} level {height}"
    along = f"x {units.show(proposal.x, Kind.LENGTH, document.system)}"
    if held.hold is Hold.STRETCH:
        return along if held.upright else f"height {height}"
    return f"height {height}, {along}"


def margin(document: Document) -> str:
    """The margin of the pump that is shown, or why there is none."""
    ledger, system = document.ledger, document.system
    if ledger is None:
        part, text = next(iter(document.refusal), ("", "nothing to calculate"))
        return f"{part}: {text}" if part else text
    if ledger.budget <= 0:
        return "no budget here"
    if ledger.margin < 0:
        return f"over by {units.show(-ledger.margin, Kind.VACUUM, system)}"
    return f"margin {units.show(ledger.margin, Kind.VACUUM, system)}"


def description(document: Document) -> str:
    """The drawing in a sentence."""
    title = document.layout.title or "Untitled drawing"
    if document.solution is None:
        problems = "; ".join(f"{part}: {text}" if part else text for part, text in document.refusal)
        return f"{title}. Not calculated: {problems}"
    return f"{title}. {margin(document).capitalize()}."
