"""What the elevation says in words: beside the pointer during a drag, and to those who do not see it."""

from __future__ import annotations

from sketch.canvas.gestures import Proposal
from sketch.canvas.handles import Handle, Hold
from sketch.canvas.overlay import Line
from sketch.look.colours import Theme
from sketch.model.document import Document
from solver.ledger.sentences import brief, trouble
from solver.quantities import units
from solver.quantities.units import Kind
from solver.quantities.wording import capitalised, degrees


def lines(document: Document, held: Handle, proposal: Proposal, theme: Theme) -> list[Line]:
    """Where the held thing is, why it did not follow any further, and what is left."""
    ledger = document.ledger
    shown = [(place_text(document, held, proposal), theme.ink)]
    if proposal.trouble:
        shown.append((proposal.trouble, theme.stop))
    shown.append((margin_text(document), theme.ink if ledger and ledger.sound else theme.stop))
    cold = document.solution.cold(document.pump) if document.solution else None
    if cold is not None and not cold.sound:
        shown.append((cold_start_text(document), theme.stop))
    return shown


def cold_start_text(document: Document) -> str:
    """What is wrong with the pump that is shown at the coldest start; "" where nothing is."""
    solution = document.solution
    cold = solution.cold(document.pump) if solution is not None else None
    if solution is None or solution.cold_start is None or cold is None or cold.sound:
        return ""
    start = degrees(solution.cold_start.temperature, document.system)
    return f"at the {start} start {trouble(cold, document.system)}"


def place_text(document: Document, held: Handle, proposal: Proposal) -> str:
    """Where the held thing is: the figures it can be moved in."""
    height = units.show(proposal.y, Kind.LENGTH, document.system)
    if held.hold is Hold.LEVEL:
        return f"{held.which} level {height}"
    along = f"x {units.show(proposal.x, Kind.LENGTH, document.system)}"
    if held.hold is Hold.STRETCH:
        return along if held.upright else f"height {height}"
    return f"height {height}, {along}"


def margin_text(document: Document) -> str:
    """The margin of the pump that is shown, or why there is none."""
    ledger, system = document.ledger, document.system
    if ledger is None:
        part, text = next(iter(document.refusal), ("", "nothing to calculate"))
        return f"{part}: {text}" if part else text
    return brief(ledger, system)


def description(document: Document) -> str:
    """The drawing in a sentence."""
    title = document.layout.title or "Untitled drawing"
    if document.solution is None:
        problems = "; ".join(f"{part}: {text}" if part else text for part, text in document.refusal)
        return f"{title}. Not calculated: {problems}"
    sentences = (title, margin_text(document), cold_start_text(document))
    return " ".join(f"{capitalised(text)}." for text in sentences if text)
