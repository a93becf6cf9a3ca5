"""What a copy of a part takes over from the part itself: its figures in the cases, and in alternatives."""

from __future__ import annotations

from collections.abc import Collection, Mapping
from dataclasses import replace
from typing import Any

from solver.layout import keys
from solver.layout.cases import PART_KEYS
from solver.layout.parts import Case, Layout, Reservoir

PLACES = ("name", "at", "outline", "return_at", "baffle", "reservoir", "start", "end", "via")
"""What a copy has of its own wherever it stands."""


def with_case_figures(layout: Layout, copies: Mapping[str, str]) -> Layout:
    """The layout whose cases put in every copy what they put in its original.

    copies: the names of the copies, by their originals'.
    """
    cases = {name: _copied(case, copies) for name, case in layout.cases.items()}
    return replace(layout, cases=cases) if cases != layout.cases else layout


def _copied(case: Case, copies: Mapping[str, str]) -> Case:
    table = {
        key: {**inner, **_of_copies(inner, copies)}
        if _names_parts(key) and isinstance(inner, dict)
        else inner
        for key, inner in case.table.items()
    }
    more = {
        (path[0], copies[path[1]], *path[2:]): value
        for path, value in case.figures.items()
        if _names_parts(path[0]) and path[1] in copies
    }
    return replace(case, table=table, figures={**case.figures, **more}) if more else case


def _of_copies(inner: Mapping[str, Any], copies: Mapping[str, str]) -> dict[str, Any]:
    return {copies[name]: value for name, value in inner.items() if name in copies}


def _names_parts(key: str) -> bool:
    return key in PART_KEYS or key == "levels"


def cases_without(layout: Layout, names: Collection[str]) -> tuple[str, ...]:
    """The cases that put figures in other parts of the kinds of the named ones, and none in these."""
    groups = {group for group in PART_KEYS if not set(names).isdisjoint(getattr(layout, group))}

    def of_kind(case: Case) -> set[str]:
        return {path[1] for path in case.figures if path[0] in groups}

    by_case = {name: of_kind(case) for name, case in layout.cases.items()}
    return tuple(name for name, parts in by_case.items() if parts and parts.isdisjoint(names))


def in_alternative(base: Layout, other: Layout, before: Layout, copies: Mapping[str, str]) -> Layout:
    """An alternative that follows its base, with the copies as it has their originals.

    A copy is as much another part there as its original, and left out where that is; a line without one of
    its ends goes as well. base, before: the drawing with the copies and without; copies as above.
    """
    changed: dict[str, dict[str, Any]] = {}
    for group in keys.PARTS:
        parts, drawn = dict(getattr(other, group)), getattr(before, group)
        for original, copy in copies.items():
            if original not in drawn or copy not in parts:
                continue
            if original not in parts:
                del parts[copy]
            elif parts[original] != drawn[original] and _may_differ(parts[original], drawn[original]):
                parts[copy] = _placed(parts[original], getattr(base, group)[copy])
        changed[group] = parts
    joints = {name for group in keys.PARTS if group != "runs" for name in changed[group]}
    changed["runs"] = {
        name: run
        for name, run in changed["runs"].items()
        if name not in copies.values() or {run.start, run.end} <= joints
    }
    return with_case_figures(replace(other, **changed), copies)  # type: ignore[arg-type]


def _may_differ(part: Any, drawn: Any) -> bool:
    """Whether what differs in a part can go with its copy: the levels of another tank go with its walls."""
    return not isinstance(part, Reservoir) or part.outline == drawn.outline


def _placed(part: Any, where: Any) -> Any:
    """A part under the name and in the place of another of its kind."""
    return replace(part, **{name: getattr(where, name) for name in PLACES if hasattr(part, name)})
