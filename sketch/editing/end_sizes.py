"""Which size a new line or reducer takes from the parts it lies between, and which of them do not fit it."""

from __future__ import annotations

from typing import NamedTuple

from solver.geometry import outline
from solver.layout.kinds import REDUCER_KINDS
from solver.layout.parts import Fitting, Intake, Layout, Pump, Run, Tee
from solver.properties import sizes
from solver.quantities.units import Quantity

ALIKE = 0.01
"""Difference of two bores that pass for one, as those of pipe and tube of one nominal size."""

Joint = Intake | Fitting | Tee | Pump


class Size(NamedTuple):
    """What is typed of an inside diameter: the name of a size, or a bore."""

    size: str | None
    bore: Quantity | None

    @property
    def width(self) -> float:
        """The inside diameter [m]. Raises SizeError."""
        return self.bore.si if self.bore is not None else sizes.bore(self.size or "")

    @property
    def text(self) -> str:
        """How a sentence has it."""
        return f"a bore of {self.bore.text}" if self.bore is not None else self.size or ""


def free_end(layout: Layout, name: str) -> Size:
    """The size of a part where the next line is joined to it: of a reducer that of the end left free."""
    part = layout.joint(name)
    one, two = _ends(part)
    run = next((run for run in layout.runs.values() if name in (run.start, run.end)), None)
    if run is None or one == two:
        return one
    return two if outline.bore_at(part, run, None) == one.width else one


def end_at(layout: Layout, run: Run, name: str) -> Size:
    """The size of the part of that name where a run joins it; a reducer's ends differ."""
    part = layout.joint(name)
    one, two = _ends(part)
    others = (each for each in layout.runs.values() if name in (each.start, each.end))
    other = next((each for each in others if each.name != run.name), None)
    return one if one == two or outline.bore_at(part, run, other) == one.width else two


def _ends(part: Joint) -> tuple[Size, Size]:
    one = Size(part.size, part.bore)
    reduces = isinstance(part, Fitting) and part.kind in REDUCER_KINDS
    return one, Size(part.other_size, part.other_bore) if reduces and isinstance(part, Fitting) else one


def of_run(run: Run) -> Size:
    """The size of a run."""
    return Size(run.size, run.bore)


def are_alike(one: Size, other: Size) -> bool:
    """Whether two sizes go together without a reducer: of one bore, or a hose and what it is nearest to."""
    if abs(one.width - other.width) <= ALIKE * max(one.width, other.width):
        return True
    hoses = [each for each in (one, other) if each.size is not None and sizes.family(each.size) == "hose"]
    return len(hoses) == 1 and sizes.hose_of_bore((other if hoses[0] is one else one).width) == hoses[0].size


def named(layout: Layout, name: str) -> str:
    """What of a part has the size: a pump's is that of its port."""
    return f"the port of {name}" if name in layout.pumps else name


def misfits(layout: Layout, run: Run) -> str:
    """Which ends of a run have another size, as the middle of a sentence; "" where both fit."""
    ends = ((name, end_at(layout, run, name)) for name in (run.start, run.end))
    others = [f"{named(layout, name)} is {end.text}" for name, end in ends if not are_alike(of_run(run), end)]
    return " and ".join(others)


class OtherEnd(NamedTuple):
    """The end of a run at which something has another size than it."""

    part: str
    size: Size


def other_end(layout: Layout, run: Run) -> OtherEnd | None:
    """The end of a run whose part has another size, that towards a pump first; None for neither."""
    ends = (run.end, run.start) if _leads_to_pump(layout, run) else (run.start, run.end)
    sized = (OtherEnd(name, end_at(layout, run, name)) for name in ends)
    return next((each for each in sized if not are_alike(of_run(run), each.size)), None)


def reducer_text(layout: Layout, reducer: str, line: Run, between: str) -> str:
    """What is said of a reducer put into a line, `between` being the run from it to what has another size."""
    own, other = of_run(line).text, other_end(layout, line)
    if other is None:
        both = f"{reducer} is {own} on both sides, as {line.name} is and the parts at its ends are"
        return f"{both}: type its other size, and that of the line beyond it."
    text = f"{reducer} put in from {own} to {other.size.text}, as {named(layout, other.part)} is; {between}, "
    return f"{text}between them, is {other.size.text} now."


def _leads_to_pump(layout: Layout, run: Run) -> bool:
    """Whether a run leads to a pump by its end, or by neither of its ends alone."""
    at_start, at_end = (_reaches_pump(layout, end, run.name) for end in (run.start, run.end))
    return at_end or not at_start


def _reaches_pump(layout: Layout, joint: str, without: str) -> bool:
    seen, ahead = {joint}, [joint]
    while ahead:
        at = ahead.pop()
        for run in layout.runs.values():
            if run.name != without and at in (run.start, run.end):
                beyond = {run.start, run.end} - seen
                seen |= beyond
                ahead += beyond
    return not seen.isdisjoint(layout.pumps)
