"""What the elevation says in words: beside the pointer during a drag, and to those who do not see it."""

from __future__ import annotations

from sketch.canvas import gestures
from sketch.canvas.gestures import Proposal
from sketch.canvas.handles import REMARKS, Handle, Hold
from sketch.canvas.overlay import Line
from sketch.look.colours import Theme
from sketch.model.document import Document
from solver.ledger.sentences import brief, trouble
from solver.quantities.wording import capitalised

NAMES = {Hold.CORNER: "bend", Hold.STRETCH: "straight", Hold.OUTLINE: "corner"}
"""Sorts of handle, where one has another name than its sort's."""


def lines(
    document: Document, held: Handle, proposal: Proposal, theme: Theme, followed: str = ""
) -> list[Line]:
    """Where the held thing is, what else its lines have done, why it did not follow any further, and what is
    left."""
    ledger = document.ledger
    shown = [(place_text(document, held, proposal), theme.ink)]
    if followed:
        shown.append((followed, theme.caution))
    if proposal.trouble:
        shown.append((proposal.trouble, theme.stop))
    shown.append((margin_text(document), theme.ink if ledger and ledger.sound else theme.stop))
    if other := in_other_cases(document):
        shown.append((other, theme.stop))
    return shown


def in_other_cases(document: Document) -> str:
    """What is wrong with the pump that is shown in the worst of the other cases; "" where nothing is."""
    place = document.outcome.worst_elsewhere(document.pump)
    if place is None or place.ledger.sound:
        return ""
    return f'in "{place.case}" {trouble(place.ledger, document.system)}'


def place_text(document: Document, held: Handle, proposal: Proposal) -> str:
    """Where the held thing is: the figures it can be moved in."""
    place = gestures.place_text(held, proposal, document.system)
    return f"{held.which} level {place.removeprefix('height ')}" if held.hold is Hold.LEVEL else place


def handle_text(document: Document, handle: Handle) -> str:
    """What of its part a handle is, and where it stands."""
    number = f" {handle.corner + 1}" if handle.corner >= 0 else ""
    sort = f"{NAMES.get(handle.hold, handle.hold)}{number}"
    what = sort if handle.which is None else f"{handle.which} level"
    figure = place_text(document, handle, Proposal(document.layout, handle.x, handle.y))
    if handle.hold in REMARKS:
        return f"{capitalised(what)}{f' {handle.own.text}' if handle.own else ''}, {figure}"
    return f"{what.capitalize()} of {handle.name}, {figure.removeprefix(f'{handle.which} level ')}"


def margin_text(document: Document) -> str:
    """The margin of the pump that is shown, or why there is none."""
    ledger, system = document.ledger, document.system
    if ledger is None:
        part, text = next(iter(document.refusal), ("", "nothing to calculate"))
        return f"{part}: {text}" if part else text
    return brief(ledger, system)


def verdict_text(document: Document) -> str:
    """How the pump that is shown stands, here and in the worst of the other cases, or why not."""
    if document.solution is None:
        problems = "; ".join(f"{part}: {text}" if part else text for part, text in document.refusal)
        return f"Not calculated: {problems}."
    texts = (margin_text(document), in_other_cases(document))
    return " ".join(f"{capitalised(text)}." for text in texts if text)


def description(document: Document) -> str:
    """The drawing in a sentence or two."""
    return f"{document.layout.title or 'Untitled drawing'}. {verdict_text(document)}"
