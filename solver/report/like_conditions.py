"""Drawings judged under different conditions: what differs, and one judged under those of the other."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

from solver.findings.judgement import Judgement
from solver.layout.differences import differences
from solver.layout.parts import FluidChoice, Layout
from solver.quantities.units import Quantity, System
from solver.quantities.wording import degrees
from solver.report.choosing import judged_alike, missing_cases, under_site_and_cases_of

SITE = "site: "
"""How a difference of the site begins."""


def harder_conditions(drawn: Layout, built: Layout, system: System) -> tuple[str, ...]:
    """Under what an alternative is judged and the drawing is not: another site, colder fluid.

    Warmer fluid is none of these: that is provided, by a heater.
    """
    return *_colder(drawn.fluid, built.fluid, system), *_site(drawn, built, system)


def _colder(old: FluidChoice, new: FluidChoice, system: System) -> Iterator[str]:
    for text, was, now in (
        ("the fluid at", old.temperature, new.temperature),
        ("a start at", _start(old), _start(new)),
    ):
        if now.si < was.si:
            yield f"{text} {degrees(now.si, system)} in place of {degrees(was.si, system)}"


def _site(drawn: Layout, built: Layout, system: System) -> Iterator[str]:
    yield from (text for text in differences(drawn, built, system) if text.startswith(SITE))


def _start(fluid: FluidChoice) -> Quantity:
    return fluid.coldest_start or fluid.temperature


def under_those_of(other: Judgement, asked: Judgement, drawn: Layout) -> Judgement | None:
    """An alternative judged on the site, in the cases and with the cold of the one asked for; itself where it
    was, and None where it cannot be or has not every case of it.

    drawn: the drawing of both; what either keeps warmer than that is its own.
    """
    layout = under_site_and_cases_of(asked.layout, other.layout)
    layout = replace(layout, fluid=_as_cold(other.layout.fluid, asked.layout.fluid, drawn.fluid))
    alike = other if layout == other.layout else judged_alike(layout, other)
    return None if alike is None or missing_cases(asked, alike) else alike


def at_conditions_of(other: Judgement, asked: Judgement) -> Judgement | None:
    """The line of another file on the site, in the cases and at the temperatures of the one asked for; itself
    where those are alike, and None where it cannot be judged so or has not every case of it.

    Warmer fluid is no gain of its line either: no heater is known of another file.
    """
    layout = under_site_and_cases_of(asked.layout, other.layout)
    own = asked.layout.fluid
    fluid = replace(
        layout.fluid,
        temperature=own.temperature,
        coldest_start=own.coldest_start,
        line_temperature=own.line_temperature,
    )
    layout = replace(layout, fluid=fluid)
    alike = other if layout == other.layout else judged_alike(layout, other)
    return None if alike is None or missing_cases(asked, alike) else alike


def _as_cold(own: FluidChoice, asked: FluidChoice, drawn: FluidChoice) -> FluidChoice:
    """The fluid as cold as it is asked for, but for what is kept warm."""
    temperature = _colder_of(own.temperature, asked.temperature, drawn.temperature)
    start = _colder_of(_start(own), _start(asked), _start(drawn))
    no_start = own.coldest_start is None and asked.coldest_start is None
    return replace(own, temperature=temperature, coldest_start=None if no_start else start)


def _colder_of(own: Quantity, asked: Quantity, drawn: Quantity) -> Quantity:
    least = min(own if own.si == drawn.si else drawn, asked, key=lambda each: each.si)
    return own if own.si > drawn.si or own.si == least.si else least
