"""What goes with parts that are taken out: lines that end on them, and figures of lines that become one."""

from __future__ import annotations

import re
from collections.abc import Collection, Iterator

from sketch.editing.end_sizes import of_run
from solver.geometry.followed import bend_count
from solver.layout import keys
from solver.layout.parts import Layout, Run
from solver.quantities.units import Quantity

FIGURES = {
    "material": "material",
    "roughness": "roughness",
    "bend": "bends",
    "bend_radius": "bend radius",
    "own_part": "own part",
}
"""Of a run besides its size, by what they are called."""


def with_text(before: Layout, after: Layout, names: Collection[str]) -> str:
    """Which other parts went than those named, as the end of an undo text; "" for none."""
    joined = {run.name for run, _ in _joined(before, after)}
    groups = [(getattr(before, group), getattr(after, group)) for group in keys.PARTS]
    others = [each for old, new in groups for each in old if each not in new]
    gone = [each for each in others if each not in names and each not in joined]
    return f", with {_listed(gone)}" if gone else ""


def joined_text(before: Layout, after: Layout) -> str:
    """Which lines have become one with others that have other figures, names of their own or a bend where a
    part sat; "" for none."""
    pairs = tuple(_joined(before, after))
    texts = [_joined_run(run, before.runs[into], into) for run, into in pairs]
    for into in dict.fromkeys(into for _, into in pairs):
        pieces = [before.runs[into], *(run for run, name in pairs if name == into)]
        more = bend_count(after, after.runs[into]) - sum(bend_count(before, each) for each in pieces)
        texts += [f"{into} has {more} bend{'s' * (more > 1)} more now."] if more > 0 else []
    return " ".join(filter(None, texts))


def _joined_run(run: Run, into: Run, name: str) -> str:
    own, kept = of_run(run), of_run(into)
    lost = [f"in {kept.text}, not {own.text}"] if kept.text != own.text else []
    lost += [
        f"{called} {_shown(getattr(into, key))}, not {_shown(getattr(run, key))}"
        for key, called in FIGURES.items()
        if getattr(run, key) != getattr(into, key)
    ]
    if not lost and _stem(run.name) == _stem(name):
        return ""
    return f"{run.name} is one with {name} now{', ' if lost else ''}{'; '.join(lost)}."


def _shown(figure: object) -> str:
    if figure is None:
        return "as its size has it"
    return figure.text if isinstance(figure, Quantity) else str(figure)


def _stem(name: str) -> str:
    return re.sub(r" \d+$", "", name)


def _joined(before: Layout, after: Layout) -> Iterator[tuple[Run, str]]:
    """Each run that is gone, with the one that goes on in its place where parts between the two went."""
    for run in before.runs.values():
        if run.name not in after.runs and (into := _goes_on_as(before, after, run)):
            yield run, into


def _goes_on_as(before: Layout, after: Layout, run: Run) -> str:
    """The run that is left of those between which parts were taken out, and that covers this one; or ""."""
    chain, ahead = {run.name}, [run.start, run.end]
    while ahead:
        joint = ahead.pop()
        if joint not in before.fittings and joint not in before.tees:
            continue
        if joint in after.fittings or joint in after.tees:
            continue
        for each in before.runs.values():
            if joint in (each.start, each.end) and each.name not in chain:
                chain.add(each.name)
                ahead += [each.start, each.end]
    left = [name for name in before.runs if name in chain and name in after.runs]
    return left[0] if len(left) == 1 and _reaches_on(before, after, left[0]) else ""


def _reaches_on(before: Layout, after: Layout, name: str) -> bool:
    old, new = before.runs[name], after.runs[name]
    return {old.start, old.end} != {new.start, new.end}


def _listed(names: list[str]) -> str:
    return " and ".join(filter(None, (", ".join(names[:-1]), names[-1])))
