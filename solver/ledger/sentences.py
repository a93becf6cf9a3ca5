"""A pump's margin in words: every sentence about one is made here."""

from __future__ import annotations

import math
from collections.abc import Iterable

from solver.formulas.flow import GRAVITY
from solver.ledger.limit import RESERVOIR_PRESSURE
from solver.ledger.rounding import RoundedLedger, judged_figures, port_figures, shown_pressure
from solver.ledger.solve import Balance, BudgetLine, PumpLedger
from solver.quantities.adding import PLACES
from solver.quantities.units import Kind, System, number, typeset
from solver.quantities.wording import (
    ESTIMATED,
    allowance,
    broken,
    capitalised,
    compared,
    gauge_reading,
    in_psi,
    is_none,
    ledger_absolute,
    ledger_pressure,
    margin_words,
    text_above_zero,
)

NO_LIFT = "No lift works here"
"""How a verdict begins where there is no budget."""

HIGHEST_TANK = 3.0
"""Of a lowest fluid level over a port [m]: a tank that stands higher is out of reach; common practice, no
source."""


def verdict(ledger: Balance, system: System) -> str:
    """One sentence: within or over, and by how much.

    Parameters: `ledger`; `system`, in whose units. A limit given as NPSH is judged in head, any other as
    the vacuum that a gauge at the port shows.
    """
    if ledger.breaks and (ledger.budget > 0 or ledger.within):
        return capitalised(trouble(ledger, system))
    if not ledger.within:
        return _without_budget(ledger, system) if ledger.budget <= 0 else capitalised(trouble(ledger, system))
    if ledger.npsh_required is not None:
        return f"Within: {against_limit(ledger, system)}{_barely(ledger, system)}"
    vacuum, limit, _, kind = judged_figures(ledger, system)
    at_rest = is_none(vacuum, kind, system, PLACES)
    if vacuum >= 0 and not at_rest:
        if ledger.vacuum > ledger.allowed_vacuum:
            return _with_more_air(ledger, system)
        spent, allowed = number(vacuum, kind, system, PLACES), ledger_pressure(limit, system)
        return f"Within: {spent} of {allowed} allowed here{_barely(ledger, system)}"
    reading = gauge_reading(vacuum, system, PLACES) + (" at the port" if at_rest else "")
    if ledger.allowed_vacuum < 0:
        return f"Within: {reading}, {ledger_pressure(-limit, system)} needed here"
    allowed = text_above_zero(limit, kind, system, places=PLACES)
    return f"Within: {reading}, {allowed} of vacuum allowed here"


def _barely(ledger: Balance, system: System) -> str:
    """What is left, where figure and limit are rounded to the same."""
    figure, limit, _, kind = judged_figures(ledger, system)
    alike = number(figure, kind, system, PLACES) == number(limit, kind, system, PLACES)
    return f", {left(ledger, system)}" if alike else ""


def _with_more_air(ledger: Balance, system: System) -> str:
    """Within, though the reading is past the maker's: the air presses with more than the standard."""
    vacuum, limit, _, kind = judged_figures(ledger, system)
    reading, air = gauge_reading(vacuum, system, PLACES), ledger_absolute(ledger.atmosphere, system)
    allowed = text_above_zero(limit, kind, system, places=PLACES)
    return f"Within at {air} of air: {reading}, where {allowed} is allowed with the standard atmosphere"


def trouble(ledger: Balance, system: System) -> str:
    """What is wrong with a pump that is not sound, as the end of a sentence: "over by 1.20 inHg"."""
    if ledger.breaks:
        at_port = ledger.inlet <= ledger.vapor_pressure
        where = "before the port" if at_port else "on the way"
        shown = shown_pressure(ledger.inlet if at_port else ledger.lowest, ledger, system)
        return f"the column of fluid breaks {where}: {broken(shown, ledger.vapor_pressure, system)}"
    return shortage(ledger, system)


def shortage(ledger: Balance, system: System) -> str:
    """How far a pump is past its budget, as the end of a sentence, whether its column holds or not."""
    if ledger.budget <= 0:
        return f"{text_above_zero(-ledger.margin, Kind.VACUUM, system, places=PLACES)} short of what it needs"
    _, limit, spare, kind = judged_figures(ledger, system)
    lacking = text_above_zero(-spare, kind, system, places=PLACES)
    if kind is Kind.HEAD:
        return f"{lacking} short of the {typeset(limit, kind, system, PLACES)} of NPSH required"
    return f"over by {lacking}"


def _without_budget(ledger: Balance, system: System) -> str:
    """What it takes, as one figure that can be built: with a lower port the line would change too."""
    pressure = text_above_zero(ledger.shortfall, Kind.VACUUM, system, places=PLACES)
    surface, floor = (ledger_absolute(each, system) for each in (ledger.surface, ledger.floor))
    least = -ledger.budget / (ledger.density * GRAVITY)  # of fluid over the port, if no loss were left
    flooded = ", or a port deep enough under the fluid and less loss" if least < HIGHEST_TANK else ""
    return (
        f"{NO_LIFT}: {surface} on the fluid, {floor} needed at the port; it takes {pressure} more on the "
        f"reservoir{flooded}"
    )


def figure_and_limit(ledger: Balance) -> tuple[float, float, Kind]:
    """What a pump is judged by: the figure at its port, that of the limit here, and what both measure."""
    if ledger.npsh_required is not None:
        return ledger.npsh_available, ledger.npsh_required, Kind.HEAD
    return ledger.vacuum, ledger.allowed_vacuum, Kind.VACUUM


def against_limit(ledger: Balance, system: System) -> str:
    """The figures that a pump is judged by, in words."""
    figure, limit, _, kind = judged_figures(ledger, system)
    if kind is Kind.HEAD:
        available, required = (typeset(each, kind, system, PLACES) for each in (figure, limit))
        return f"{available} of NPSH, {required} required"
    return compared(figure, limit, system, PLACES)


def at_port(ledger: Balance, system: System) -> tuple[str, str]:
    """What a gauge at the port shows, and what is allowed there, in words."""
    vacuum, allowed, _ = port_figures(ledger, system)
    return gauge_reading(vacuum, system, PLACES), allowance(allowed, system, PLACES)


def npsh_text(ledger: Balance, system: System) -> str:
    """The head above the vapour pressure at the port, in words."""
    if math.isnan(ledger.npsh_available):
        return "not known: no vapour pressure is typed"
    return typeset(ledger.npsh_available, Kind.HEAD, system, PLACES) if ledger.npsh_available > 0 else "none"


def npsh_sentence(ledger: Balance, system: System) -> str:
    """What NPSH there is, and what is required where the limit is given so."""
    required = ledger.npsh_required
    required_text = (
        f"; required: {typeset(required, Kind.HEAD, system, PLACES)}" if required is not None else ""
    )
    return f"NPSH available: {npsh_text(ledger, system)}{required_text}"


def budget_step(line: BudgetLine, system: System) -> str:
    """The name of a step of the budget; pressure on the reservoir in US units also in psi."""
    pressed = line.name == RESERVOIR_PRESSURE and line.value > 0
    return line.name + (in_psi(line.value, system) if pressed else "")


def left(ledger: Balance, system: System) -> str:
    """What a pump that is within its budget has left, as the end of a sentence."""
    _, _, spare, kind = judged_figures(ledger, system)
    text = text_above_zero(spare, kind, system, places=PLACES)
    return f"{text} of NPSH left" if kind is Kind.HEAD else f"{text} left"


def limit_unknown(ledger: Balance) -> bool:
    """Whether a pump's limit is an estimate too far from what its maker has stated."""
    return not ledger.limit_reaches and not ledger.breaks


def out_of_reach(ledger: Balance, system: System, whose: str = "the") -> str:
    """That a limit is not known, as the end of a sentence; `whose` limit: "the", "carriage's"."""
    speed = "its speed" if ledger.speed is None else typeset(ledger.speed, Kind.SPEED, system)
    owner = "of the limit" if whose == "the" else f"of {whose} limit"
    return f"no estimate {owner} reaches {speed}"


def brief(ledger: Balance, system: System, less: str = "less than ") -> str:
    """How a pump stands, where there is room for a few words; `less` as in `margin_words`."""
    if ledger.breaks and (ledger.budget > 0 or ledger.within):
        return "column breaks"
    if ledger.budget <= 0 and not ledger.within:
        return "no budget here"
    return margin_text(ledger, system, less) + (ESTIMATED if ledger.limit_estimated else "")


def margin_text(ledger: Balance, system: System, less: str = "less than ") -> str:
    """A margin in a few words."""
    return margin_words(ledger.margin, system, less)


def clause(ledger: Balance, system: System) -> str:
    """How a pump stands, as the end of a sentence: "within, margin 0.6 inHg", "over by 1.2 inHg"."""
    if limit_unknown(ledger):
        return out_of_reach(ledger, system)
    estimated = " (limit estimated)" if ledger.limit_estimated and not ledger.breaks else ""
    within = f"within, {margin_text(ledger, system)}"
    return (within if ledger.sound else trouble(ledger, system)) + estimated


def sentence_of_pump(ledger: Balance, system: System) -> str:
    """How a pump stands, with its name: "main is over by 1.2 inHg", "in main the column of fluid breaks"."""
    text = clause(ledger, system)
    return f"in {ledger.pump} {text}" if ledger.breaks else f"{ledger.pump} is {text}"


def rounding_note(ledgers: Iterable[PumpLedger], system: System) -> str:
    """That an entry which is alike in two ledgers is rounded otherwise in one; "" where none is."""
    printed: dict[tuple[str, float, float], tuple[float, float]] = {}
    for ledger in ledgers:
        rounded = RoundedLedger(ledger, system)
        for entry in ledger.entries:
            lift, loss, *_ = rounded.entry(entry)
            alike = entry.key, round(entry.lift, 3), round(entry.loss, 3)
            if printed.setdefault(alike, (lift, loss)) != (lift, loss):
                step = f"{10.0**-PLACES:.{PLACES}f}"
                return f" Each ledger adds up as shown: what is alike in two of them may differ by {step}."
    return ""
