"""What lies under a point of the elevation. The glyphs are made once for a drawing and a view."""

from __future__ import annotations

import math
from collections.abc import Collection, Iterable, Iterator, Mapping
from functools import cached_property

from sketch.drawing.glyphs import Glyph, distance, glyphs, pump_circle
from sketch.drawing.labels import Box
from sketch.drawing.memory import Memory
from sketch.drawing.view import View
from sketch.drawing.ways import shares
from solver.layout.parts import Layout
from solver.ledger.solve import Solution

POINTING_REACH = 10.0
"""Logical pixels from an element within which it is pointed at."""


class Targets:
    """Everything that can be pointed at. Points are device points."""

    def __init__(
        self,
        layout: Layout,
        solution: Solution | None,
        view: View,
        pump: str,
        before: Targets | None = None,
    ) -> None:
        """`before` are those of an earlier drawing: glyphs that are still the same are its very objects."""
        self.layout, self.solution, self.view, self.pump = layout, solution, view, pump
        self.memory: Memory = Memory(before.memory if before is not None else None)
        self.glyphs = glyphs(layout, solution, view, pump, self.memory)
        if before is not None:
            self.glyphs = _as_before(self.glyphs, before.glyphs)

    # A frame of a drag is not pointed at.

    @cached_property
    def _known(self) -> Collection[str]:
        """The keys of the pump's entries."""
        return shares(self.solution, self.pump) if self.solution is not None else ()

    @cached_property
    def _entries(self) -> tuple[Glyph, ...]:
        return tuple(glyph for glyph in self.glyphs if glyph.key in self._known)

    @cached_property
    def _port(self) -> str:
        key = f"{self.pump}/port"
        return key if self.pump in self.layout.pumps and key in self._known else ""

    @cached_property
    def _pumps(self) -> Mapping[str, tuple[float, float, float]]:
        return {name: pump_circle(self.layout, name, self.view) for name in self.layout.pumps}

    def are_of(self, layout: Layout, solution: Solution | None, view: View, pump: str) -> bool:
        """Whether they were made for this."""
        same = layout is self.layout and solution is self.solution
        return same and view == self.view and pump == self.pump

    def key_at(self, x: float, y: float) -> str:
        """The key of the pump's entry drawn nearest, "" for none within reach. A pump stands for its port."""
        glyph = self._nearest(self._entries, x, y)
        if glyph is not None:
            return glyph.key
        return self._port if self._port and self._in_pump(self.pump, x, y) else ""

    def part_at(self, x: float, y: float) -> str:
        """The part drawn nearest, within reach, or the reservoir round the point; "" for none."""
        for name in self._pumps:
            if self._in_pump(name, x, y):
                return name
        glyph = self._nearest(self.glyphs, x, y)
        if glyph is not None:
            return glyph.part
        return next((name for name, box in _tank_boxes(self.layout, self.view) if box.holds(x, y)), "")

    def _in_pump(self, name: str, x: float, y: float) -> bool:
        cx, cy, radius = self._pumps[name]
        return math.hypot(x - cx, y - cy) <= radius

    def _nearest(self, among: Iterable[Glyph], x: float, y: float) -> Glyph | None:
        """The glyph nearest to a point, none out of reach. Symbols lie on top of the pipes they join."""
        dot = self.view.dot
        best, least = None, POINTING_REACH * dot
        for glyph in among:
            away = distance(glyph, x, y, dot) - (0.0 if glyph.is_pipe else 0.5 * dot)
            if away < least:
                best, least = glyph, away
        return best


def _as_before(glyphs: tuple[Glyph, ...], before: tuple[Glyph, ...]) -> tuple[Glyph, ...]:
    """The glyphs, those that were the same before as the very objects."""
    if len(glyphs) == len(before):  # in their order, as in every move but a few
        return tuple([old if now == old else now for now, old in zip(glyphs, before, strict=True)])
    known = set(map(id, before))
    new = [glyph for glyph in glyphs if id(glyph) not in known]
    if not new:
        return glyphs
    wanted = {(glyph.part, glyph.key, glyph.kind): glyph for glyph in new}
    old = ((glyph, wanted.get((glyph.part, glyph.key, glyph.kind))) for glyph in before)
    same = {id(now): glyph for glyph, now in old if now == glyph}
    return tuple([same.get(id(glyph), glyph) for glyph in glyphs])


def _tank_boxes(layout: Layout, view: View) -> Iterator[tuple[str, Box]]:
    for name, tank in layout.reservoirs.items():
        corners = [view.device(px.si, py.si) for px, py in tank.outline]
        left, top = min(px for px, _ in corners), min(py for _, py in corners)
        right, low = max(px for px, _ in corners), max(py for _, py in corners)
        yield name, Box(left, top, right - left, low - top)
