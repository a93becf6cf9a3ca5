"""Dimensions that are edited where they stand: what each sets, and what may be typed. No widgets."""

from __future__ import annotations

import math
import re
from collections.abc import Callable, Sequence
from dataclasses import dataclass, replace
from textwrap import shorten

from sketch.card.typed_size import choice_text, sizes_beside, sizes_meant
from sketch.drawing.labels import Label, LabelKind
from sketch.editing import edits, remarks, reshape
from sketch.editing.edits import EditError, read_typed
from sketch.model.document import Document
from solver.layout.parts import Layout, Level, Run
from solver.properties import sizes
from solver.properties.sizes import SizeError
from solver.quantities import units
from solver.quantities.spelling import with_unit
from solver.quantities.units import Kind, System

LEVELS = (Level.MINIMUM, Level.NORMAL)
LONGEST_QUOTED = 40  # characters of a text of one's own in the undo list


@dataclass(frozen=True, slots=True)
class Dimension:
    """A figure on the sheet. `set` makes the drawing that has what was typed; it raises EditError."""

    label: Label
    name: str  # what the undo menu calls the change
    text: str  # what stands in the field to begin with
    kind: Kind | None  # of a bare number; None of words
    set: Callable[[Layout, str], Layout]
    pump: str = ""  # whose port it moves; "" for none
    means: Callable[[str], str] = str  # what is typed in full

    def undo_text(self, typed: str, system: System) -> str:
        """What the undo menu calls the change, with what was typed; a bare number with the unit it is in."""
        figure = " ".join(self.means(typed).split())
        if self.kind is None:
            return f'Change a text to "{shorten(figure, LONGEST_QUOTED, placeholder="…")}"'
        return f"{self.name} to {with_unit(figure, units.unit(self.kind, system))}"


def dimension_at(labels: Sequence[Label], document: Document, x: float, y: float) -> Dimension | None:
    """The dimension under a device point, if it is one that can be typed."""
    for label in labels:
        if label.box.holds(x, y):
            return dimension_of(label, document)
    return None


def dimension_of(label: Label, document: Document) -> Dimension | None:
    """What a label sets; None for one that only tells."""
    if label.kind == LabelKind.LIFT:
        return _lift(label, document)
    if label.kind == LabelKind.LEVEL and label.key in document.layout.reservoirs:
        return _level(label, document)
    if label.kind == LabelKind.BORE and label.key in document.layout.runs:
        return _bore(label, document)
    if label.kind == LabelKind.TEXT:
        return _own_text(label)
    if label.kind == LabelKind.SLOPE:
        return _slope(label, document)
    return None


def _lift(label: Label, document: Document) -> Dimension | None:
    """The port so much above the fluid, or so much under it."""
    ledger = document.ledger
    if ledger is None or document.pump not in document.layout.pumps:
        return None
    level, pump, system = ledger.fluid_level, document.pump, document.system
    height = document.layout.pumps[pump].at[1].si - level
    side = 1.0 if height >= 0 else -1.0
    where = "above" if height >= 0 else "under"

    def set_to(layout: Layout, text: str) -> Layout:
        return edits.set_port_height(layout, pump, level + side * read_typed(text, Kind.LENGTH, system).si)

    name = f"Height of {pump}'s port {where} the level"
    return Dimension(label, name, units.show(abs(height), Kind.LENGTH, system), Kind.LENGTH, set_to, pump)


def _level(label: Label, document: Document) -> Dimension | None:
    which = next((each for each in LEVELS if label.text.startswith(each)), None)
    if which is None:
        return None
    name, system = label.key, document.system
    tank = document.layout.reservoirs[name]
    now = tank.minimum_level if which == Level.MINIMUM else tank.normal_level

    def set_to(layout: Layout, text: str) -> Layout:
        return edits.set_level(layout, name, which, read_typed(text, Kind.LENGTH, system))

    return Dimension(label, f"{which.capitalize()} level of {name}", now.text, Kind.LENGTH, set_to)


def _own_text(label: Label) -> Dimension:
    number = int(label.key.rpartition(" ")[2])

    def set_to(layout: Layout, text: str) -> Layout:
        return remarks.set_text(layout, number, text)

    return Dimension(label, "Text", label.text, None, set_to)


def _slope(label: Label, document: Document) -> Dimension:
    """A straight at another slope, falling or rising as it does now."""
    whole = label.key in document.layout.runs
    run, _, element = (label.key, "", "") if whole else label.key.rpartition("/")
    stretch = (
        int(element.rpartition(" ")[2]) - 1 if element else 0
    )  # a line that is not solved is one stretch
    verb, _, now = label.text.partition(" ")
    sign = -1.0 if verb == "falls" else 1.0

    def set_to(layout: Layout, text: str) -> Layout:
        return reshape.set_slope(layout, run, stretch, sign * slope_of(text))

    return Dimension(label, f"Slope of {run}", now, Kind.SHARE, set_to)


def slope_of(text: str) -> float:
    """A slope as typed, up over across: 1:48, 2 % or 30 deg; a bare number is in %. Raises EditError."""
    match = _SLOPE.fullmatch(text.strip())
    number = float(match[2]) if match is not None else 0.0
    steep = match is not None and match[3] in ("deg", "\N{DEGREE SIGN}")
    if match is None or number == 0.0 or (steep and number >= 90.0):
        raise EditError("a slope is typed as 1:48, 2 % or 30\N{DEGREE SIGN}")
    if match[1]:
        return 1.0 / number
    return math.tan(math.radians(number)) if steep else number / 100.0


_SLOPE = re.compile(r"(1\s*:\s*)?(\d+(?:\.\d+)?)\s*(%|deg|\N{DEGREE SIGN})?")


def _bore(label: Label, document: Document) -> Dimension:
    run, system = document.layout.runs[label.key], document.system
    now = run.size if run.size is not None else run.bore.text if run.bore is not None else ""

    def set_to(layout: Layout, text: str) -> Layout:
        return set_size(layout, run.name, text, system)

    def means(text: str) -> str:
        return _size_meant(text, run, document.layout)

    return Dimension(label, f"Size of {run.name}", now, Kind.BORE, set_to, means=means)


def _size_meant(text: str, run: Run, layout: Layout) -> str:
    """What is typed, a nominal size alone as the one of the list of the present one. Raises EditError where
    it may be several."""
    meant = sizes_meant(text, run.size, sizes_beside(layout, run.name))
    if len(meant) > 1:
        raise EditError(choice_text(text, meant))
    return meant[0] if meant else text.strip()


def set_size(layout: Layout, name: str, text: str, system: System) -> Layout:
    """A run with a standard size by its name, or with a bore. Raises EditError for neither."""
    run = layout.runs[name]
    text = _size_meant(text, run, layout)
    try:
        sizes.bore(text)
        new = replace(run, size=text, bore=None)
    except SizeError as error:
        try:
            bore = read_typed(text, Kind.BORE, system)
        except EditError:
            raise EditError(str(error)) from None
        if bore.si <= 0:
            raise EditError("a bore must be above zero") from None
        new = replace(run, size=None, bore=bore)
    return layout if new == run else replace(layout, runs={**layout.runs, name: new})
