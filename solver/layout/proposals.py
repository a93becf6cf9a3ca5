"""Cases offered ready made for a drawing, with what each would have to be told before it can be judged.

Offered, never judged until one is taken. A figure that the drawing does not hold is asked for; one that is
assumed says so in the note of the case.
"""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from dataclasses import dataclass, field
from typing import Any

from solver.layout.cases import cases_of
from solver.layout.parts import SHORT_CASE, Layout, Level
from solver.layout.reading import Path
from solver.quantities.units import Kind

HALF_BLOCKED = "50 %"
"""How much of a screen is taken to be blocked when it is due for cleaning: common practice, no source."""

HOTTEST = "hottest hour"
STRAINER = "strainer due"
CYLINDERS = "cylinders out"
LOW_PRESSURE = "low-pressure day"
ON_STROKE = "coming on stroke"
WORST_COLD = "worst cold"
WORST_HOT = "worst hot"


@dataclass(frozen=True, slots=True)
class Asked:
    """A figure that a case needs and the drawing does not hold."""

    paths: tuple[Path, ...]  # of the case, all of which take the figure
    what: str
    kind: Kind


@dataclass(frozen=True, slots=True)
class Proposal:
    """A case that a drawing may take: the table a file would have, and the figures still asked for."""

    name: str
    table: Mapping[str, Any]
    asks: tuple[Asked, ...] = ()

    def with_answers(self, answers: Mapping[Asked, str]) -> dict[str, Any]:
        """The table of the case with every figure that was asked for, each as typed."""
        table = _copied(self.table)
        for asked, text in answers.items():
            for path in asked.paths:
                _put(table, path, text)
        return table


@dataclass(slots=True)
class _Parts:
    """What a proposal is put together from."""

    table: dict[str, Any] = field(default_factory=dict)
    asks: list[Asked] = field(default_factory=list)
    notes: list[str] = field(default_factory=list)

    def proposal(self, name: str) -> Proposal:
        note = {"note": " ".join(self.notes)} if self.notes else {}
        return Proposal(name, {**note, **self.table}, tuple(self.asks))


def proposals(layout: Layout) -> tuple[Proposal, ...]:
    """The cases that suit a drawing and that it does not have yet, by the names they would get."""
    taken = cases_of(layout)
    return tuple(each for each in _suitable(layout) if each.name not in taken)


def _suitable(layout: Layout) -> Iterator[Proposal]:
    yield _cold(layout).proposal(SHORT_CASE)
    yield _hot().proposal(HOTTEST)
    blocked = _blocked(layout)
    if blocked.table:
        yield blocked.proposal(STRAINER)
    if _draws_down(layout):
        yield _drawn_down().proposal(CYLINDERS)
    yield from _alone(layout)
    yield _low_pressure().proposal(LOW_PRESSURE)
    if layout.pumps:
        yield _on_stroke(layout).proposal(ON_STROKE)
    yield _together(_cold(layout), *_low_and_blocked(layout)).proposal(WORST_COLD)
    yield _together(_hot(), *_low_and_blocked(layout)).proposal(WORST_HOT)


def _low_and_blocked(layout: Layout) -> Iterator[_Parts]:
    yield _blocked(layout)
    yield _drawn_down() if _draws_down(layout) else _Parts({"level": str(Level.MINIMUM)})


def _together(*parts: _Parts) -> _Parts:
    """All of them in one case."""
    table: dict[str, Any] = {}
    for each in parts:
        for key, value in each.table.items():
            table[key] = {**table[key], **value} if isinstance(value, dict) and key in table else value
    asks = [asked for each in parts for asked in each.asks]
    return _Parts(table, asks, [note for each in parts for note in each.notes])


def _cold(layout: Layout) -> _Parts:
    start = layout.fluid.coldest_start
    if start is not None:
        return _Parts({"fluid": {"temperature": start.text}})
    return _temperature("The coldest the fluid is when the pump starts")


def _hot() -> _Parts:
    return _temperature("The hottest the fluid gets")


def _temperature(what: str) -> _Parts:
    return _Parts(asks=[Asked((("fluid", "temperature"),), what, Kind.TEMPERATURE)])


def _blocked(layout: Layout) -> _Parts:
    """Every screen half blocked, but for one that is drawn as blocked at least as far."""
    table: dict[str, Any] = {}
    for group in ("intakes", "fittings"):
        for name, part in getattr(layout, group).items():
            if part.screen is not None and part.screen.blocked < 0.5:
                table.setdefault(group, {})[name] = {"screen": {"blocked": HALF_BLOCKED}}
    note = f"Assumed: {HALF_BLOCKED} of each screen is blocked when it is due for cleaning."
    return _Parts(table, notes=[note] if table else [])


def _draws_down(layout: Layout) -> bool:
    return any(tank.draw_down is not None for tank in layout.reservoirs.values())


def _drawn_down() -> _Parts:
    return _Parts({"level": str(Level.DRAWN_DOWN)})


def _alone(layout: Layout) -> Iterator[Proposal]:
    if len(layout.pumps) < 2:
        return
    for name in layout.pumps:
        others = {other: {"at_rest": True} for other in layout.pumps if other != name}
        yield Proposal(f"{name} alone", {"pumps": others})


def _low_pressure() -> _Parts:
    """The station pressure of a bad day in the place of the allowance for weather, not on top of it."""
    asked = Asked((("site", "barometer"),), "The lowest station pressure at this site", Kind.PRESSURE)
    return _Parts({"site": {"weather_allowance": "0 mbar"}}, [asked])


def _on_stroke(layout: Layout) -> _Parts:
    parts = _Parts()
    for name, pump in layout.pumps.items():
        if pump.flow_rise is not None:
            parts.table.setdefault("pumps", {})[name] = {"flow_rise": pump.flow_rise.text}
        else:
            what = f"{name}: its full flow divided by the flow's steepest rise"
            parts.asks.append(Asked((("pumps", name, "flow_rise"),), what, Kind.TIME))
    return parts


def _copied(table: Mapping[str, Any]) -> dict[str, Any]:
    return {key: _copied(value) if isinstance(value, Mapping) else value for key, value in table.items()}


def _put(table: dict[str, Any], path: Path, text: str) -> None:
    *tables, key = map(str, path)
    for step in tables:
        table = table.setdefault(step, {})
    table[key] = text
