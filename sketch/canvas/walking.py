"""The parts one after the other, as the fluid passes them, for whoever goes by keys. No Qt here."""

from __future__ import annotations

import math
from itertools import pairwise

from sketch.drawing.view import XY
from sketch.editing import reshape, selection
from sketch.model.document import Document
from solver.layout.parts import Layout


def flow_order(document: Document) -> tuple[str, ...]:
    """Every part: those on the way to the pump that is shown from the tank on, then all others."""
    layout, ledger = document.layout, document.ledger
    way = [entry.part for entry in (*ledger.entries, *ledger.parallel_entries)] if ledger is not None else []
    tanks = [layout.intakes[name].reservoir for name in way if name in layout.intakes]
    known = set(selection.everything(layout))
    return tuple(
        name for name in dict.fromkeys((*tanks, *way, *selection.everything(layout))) if name in known
    )


def walk(document: Document, *, back: bool) -> bool:
    """Select the part after the one that was selected last, or before it; False past either end.

    False too where nothing is selected, so that Esc lets the keyboard leave the sheet.
    """
    order = flow_order(document)
    if document.selected_part not in order:
        return False
    at = order.index(document.selected_part) + (-1 if back else 1)
    if not 0 <= at < len(order):
        return False
    document.select(order[at])
    return True


def begin(document: Document, *, back: bool) -> bool:
    """Select the first part, or with `back` the last one; False where there is none."""
    order = flow_order(document)
    document.select(order[-1 if back else 0] if order else "")
    return bool(order)


def middle(layout: Layout, name: str) -> XY:
    """Where a part is worked on by keys: the middle of a line's longest straight, or of a tank [m]."""
    if name in layout.runs:
        a, b = max(pairwise(reshape.points(layout, name)), key=lambda ends: math.dist(*ends))
        return (a[0] + b[0]) / 2, (a[1] + b[1]) / 2
    if name in layout.reservoirs:
        xs, ys = zip(*((x.si, y.si) for x, y in layout.reservoirs[name].outline), strict=True)
        return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2
    joint = layout.joint(name)
    return joint.at[0].si, joint.at[1].si
