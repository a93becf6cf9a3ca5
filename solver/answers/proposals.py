"""Cases that are offered ready made: tables for a drawing, never judged until they are taken."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from typing import Any

from solver.geometry import reservoirs
from solver.layout.parts import SHORT_CASE, Layout
from solver.properties.atmosphere import LOW_PRESSURE_DAY


@dataclass(frozen=True, slots=True)
class CaseProposal:
    """One case that is offered."""

    name: str
    table: dict[str, Any]  # as it would stand in the file
    asked: tuple[str, ...] = ()  # key paths of figures that the drawing does not hold, and nobody can assume
    assumed: tuple[str, ...] = ()  # key paths of figures that are common practice, without a source
    hot: bool = False  # the fluid that is asked for is the hottest, else the coldest


def proposals(layout: Layout) -> tuple[CaseProposal, ...]:
    """The ready-made cases that a drawing can have and has not."""
    every = (*_of_the_fluid(layout), *_of_the_line(layout), *_of_the_pumps(layout), *_worst(layout))
    return tuple(each for each in every if each.name not in layout.cases)


def _of_the_fluid(layout: Layout) -> Iterator[CaseProposal]:
    if layout.fluid.coldest_start is None:
        yield CaseProposal(SHORT_CASE, {}, asked=("fluid.temperature",))
    yield CaseProposal("hottest hour", {}, asked=("fluid.temperature",), hot=True)


def _of_the_line(layout: Layout) -> Iterator[CaseProposal]:
    blocked = _blocked(layout)
    if blocked:
        yield CaseProposal("strainer due", blocked, assumed=_paths(blocked))
    if any(tank.draw_down is not None for tank in layout.reservoirs.values()):
        yield CaseProposal("cylinders out", {"level": "drawn down"})
    weather = _weather(layout)
    asked_paths = () if weather else ("site.weather_allowance",)
    yield CaseProposal("low-pressure day", weather, asked_paths, _paths(weather))


def _of_the_pumps(layout: Layout) -> Iterator[CaseProposal]:
    if len(layout.pumps) > 1:
        for name in layout.pumps:
            others = {other: {"at_rest": True} for other in layout.pumps if other != name}
            yield CaseProposal(f"{name} alone", {"pumps": others})
    yield CaseProposal(
        "coming on stroke", {}, asked=tuple(f"pumps.{name}.flow_rise" for name in layout.pumps)
    )


def _lowest(layout: Layout) -> dict[str, Any]:
    """Every fluid at its minimum, or drawn down where that is lower."""
    tanks = layout.reservoirs.values()
    if not any(reservoirs.drawn_down(tank) < tank.minimum_level.si for tank in tanks):
        return {"level": "minimum"}
    higher = [tank for tank in tanks if reservoirs.drawn_down(tank) > tank.minimum_level.si]
    own = {"levels": {tank.name: tank.minimum_level.text for tank in higher}} if higher else {}
    return {"level": "drawn down", **own}


def _worst(layout: Layout) -> Iterator[CaseProposal]:
    """Everything unfavourable that comes together in the cold, and in the heat."""
    blocked = _blocked(layout)
    table: dict[str, Any] = {**_lowest(layout), **_weather(layout), **blocked}
    assumed = _paths({**_weather(layout), **blocked})
    coldest = layout.fluid.coldest_start
    rises = tuple(f"pumps.{name}.flow_rise" for name in layout.pumps)
    if coldest is None:
        yield CaseProposal("worst cold", table, ("fluid.temperature", *rises), assumed)
    else:
        yield CaseProposal("worst cold", {**table, "fluid": {"temperature": coldest.text}}, rises, assumed)
    yield CaseProposal("worst hot", table, ("fluid.temperature",), assumed, hot=True)


BLOCKED = "50 %"
"""Taken for a strainer that is due for cleaning; common practice, no source."""

LOW_PRESSURE = f"{LOW_PRESSURE_DAY / 100.0:g} mbar"
"""Taken for a low-pressure day, in place of a smaller allowance."""


def _blocked(layout: Layout) -> dict[str, Any]:
    """Every screen blocked as when it is due, unless the drawing has it worse."""
    table: dict[str, Any] = {}
    for group in ("intakes", "fittings"):
        for name, part in getattr(layout, group).items():
            if part.screen is not None and part.screen.blocked < 0.5:
                table.setdefault(group, {})[name] = {"screen": {"blocked": BLOCKED}}
    return table


def _weather(layout: Layout) -> dict[str, Any]:
    """The allowance of a low-pressure day; nothing where the drawing has one that is no smaller."""
    own = layout.site.weather_allowance
    enough = own is not None and own.si >= LOW_PRESSURE_DAY
    return {} if enough else {"site": {"weather_allowance": LOW_PRESSURE}}


def _paths(table: dict[str, Any], before: str = "") -> tuple[str, ...]:
    """The key paths of all figures in a table."""
    paths: list[str] = []
    for key, value in table.items():
        path = f"{before}.{key}" if before else key
        paths += _paths(value, path) if isinstance(value, dict) else [path]
    return tuple(paths)
