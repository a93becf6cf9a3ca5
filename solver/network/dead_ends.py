"""What closed valves cut off, and what of the line stands still behind them."""

from __future__ import annotations

from collections.abc import Iterable
from typing import NamedTuple

from solver.layout.parts import Layout, Run


class LineSection(NamedTuple):
    """Runs that no reservoir reaches, with what bounds them. Nothing passes through a pump."""

    runs: tuple[str, ...]
    closed: tuple[str, ...]  # the closed fittings on them
    pumps: tuple[str, ...]


def is_closed(layout: Layout, part: str) -> bool:
    """Whether a part lets nothing pass."""
    return part in layout.fittings and layout.fittings[part].closed


def sections(layout: Layout, left: Iterable[str]) -> list[LineSection]:
    """The runs named in `left`, in sections: within one, fluid could pass from each run to each other."""
    runs = [layout.runs[name] for name in left]
    if not runs:
        return []
    import networkx as nx  # only where something is cut off: the import takes a tenth of a second

    joined = nx.Graph()
    for run in runs:
        joined.add_node(("run", run.name))
        for end in (run.start, run.end):
            if end not in layout.pumps and not is_closed(layout, end):
                joined.add_edge(("run", run.name), ("part", end))
    return [
        _section(layout, [run for run in runs if ("run", run.name) in together])
        for together in nx.connected_components(joined)
    ]


def _section(layout: Layout, runs: list[Run]) -> LineSection:
    ends = dict.fromkeys(end for run in runs for end in (run.start, run.end))
    closed = tuple(end for end in ends if is_closed(layout, end))
    pumps = tuple(end for end in ends if end in layout.pumps)
    return LineSection(tuple(run.name for run in runs), closed, pumps)


def seed(section: LineSection, reached: Iterable[str]) -> str | None:
    """Where to begin drawing a section that closed valves cut off; None where it is no such section.

    reached: the parts that fluid reaches. A pump that has another line is begun at, so that no row of the
    section leads to it.
    """
    fed = [pump for pump in section.pumps if pump in set(reached)]
    if not section.closed or len(section.pumps) > 1 or len(fed) < len(section.pumps):
        return None
    return fed[0] if fed else section.closed[0]


def dead_runs(layout: Layout, runs: Iterable[str]) -> frozenset[str]:
    """The runs, of some by name, in which the fluid stands still, as they lead to closed valves alone."""
    live: dict[str, set[str]] = {}
    still: list[str] = []
    for name in runs:
        ends = (layout.runs[name].start, layout.runs[name].end)
        for end in ends:
            live.setdefault(end, set()).add(name)
        if any(is_closed(layout, end) for end in ends):
            still.append(name)
    dead = set(still)
    for name in still:
        for end in (layout.runs[name].start, layout.runs[name].end):
            live[end].discard(name)
            if len(live[end]) == 1 and (end in layout.fittings or end in layout.tees):
                (last,) = live[end]
                if last not in dead and not is_closed(layout, end):
                    dead.add(last)
                    still.append(last)
    return frozenset(dead)


def closed_fittings_text(layout: Layout, pump: str, left: Iterable[str]) -> str:
    """The closed fittings between a pump and the fluid, as the end of a sentence; "" where there are none."""
    closed = [name for section in sections(layout, left) if pump in section.pumps for name in section.closed]
    if not closed:
        return ""
    verb = "is" if len(closed) == 1 else "are"
    return f": {' and '.join(dict.fromkeys(closed))} {verb} closed"
