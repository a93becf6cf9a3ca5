"""A pump's margin in words: every sentence about one is made here."""

from __future__ import annotations

import math

from solver.formulas.flow import GRAVITY
from solver.ledger.limit import RESERVOIR_PRESSURE
from solver.ledger.solve import Balance, BudgetLine
from solver.quantities.adding import more_places
from solver.quantities.units import Kind, System, number, typeset
from solver.quantities.wording import (
    ESTIMATED,
    broken,
    capitalised,
    compared,
    gauge_reading,
    in_psi,
    is_none,
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
    more = decimals(ledger, system)
    at_rest = is_none(ledger.vacuum, Kind.VACUUM, system)
    if ledger.vacuum >= 0 and not at_rest:
        if ledger.vacuum > ledger.allowed_vacuum:
            return _with_more_air(ledger, system)
        spent = number(ledger.vacuum, Kind.VACUUM, system, more)
        allowed = typeset(ledger.allowed_vacuum, Kind.VACUUM, system, more)
        return f"Within: {spent} of {allowed} allowed here{_barely(ledger, system)}"
    reading = gauge_reading(ledger.vacuum, system, more) + (" at the port" if at_rest else "")
    if ledger.allowed_vacuum < 0:
        return f"Within: {reading}, {typeset(-ledger.allowed_vacuum, Kind.VACUUM, system, more)} needed here"
    allowed = text_above_zero(ledger.allowed_vacuum, Kind.VACUUM, system, more=more)
    return f"Within: {reading}, {allowed} of vacuum allowed here"


def _barely(ledger: Balance, system: System) -> str:
    """What is left, where figure and limit are rounded to the same."""
    value, limit, kind = figure_and_limit(ledger)
    more = decimals(ledger, system)
    alike = number(value, kind, system, more) == number(limit, kind, system, more)
    return f", {left(ledger, system)}" if alike else ""


def _with_more_air(ledger: Balance, system: System) -> str:
    """Within, though the reading is past the maker's: the air presses with more than the standard."""
    reading, air = gauge_reading(ledger.vacuum, system), typeset(ledger.atmosphere, Kind.ABSOLUTE, system)
    allowed = text_above_zero(ledger.allowed_vacuum, Kind.VACUUM, system)
    return f"Within at {air} of air: {reading}, where {allowed} is allowed with the standard atmosphere"


def trouble(ledger: Balance, system: System, alone: bool = False) -> str:
    """What is wrong with a pump that is not sound, as the end of a sentence: "over by 1.2 inHg".

    alone: as in `shortage`.
    """
    if ledger.breaks:
        at_port = ledger.inlet <= ledger.vapor_pressure
        where = "before the port" if at_port else "on the way"
        pressure = ledger.inlet if at_port else ledger.lowest
        return f"the column of fluid breaks {where}: {broken(pressure, ledger.vapor_pressure, system)}"
    return shortage(ledger, system, alone)


def shortage(ledger: Balance, system: System, alone: bool = False) -> str:
    """How far a pump is past its budget, as the end of a sentence, whether its column holds or not.

    alone: whether no figure stands beside it that it has to add up with.
    """
    if ledger.budget <= 0:
        return f"{text_above_zero(ledger.shortfall, Kind.VACUUM, system)} short of what it needs"
    more = 0 if alone else decimals(ledger, system)
    if ledger.npsh_required is not None:
        short = ledger.shortfall / (ledger.density * GRAVITY)
        required = typeset(ledger.npsh_required, Kind.HEAD, system, more)
        return (
            f"{text_above_zero(short, Kind.HEAD, system, more=more)} short of the {required} of NPSH required"
        )
    return f"over by {text_above_zero(ledger.shortfall, Kind.VACUUM, system, more=more)}"


def _without_budget(ledger: Balance, system: System) -> str:
    """What it takes, as one figure that can be built: with a lower port the line would change too."""
    pressure = text_above_zero(ledger.shortfall, Kind.VACUUM, system)
    surface, floor = (typeset(each, Kind.ABSOLUTE, system) for each in (ledger.surface, ledger.floor))
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


def decimals(ledger: Balance, system: System) -> int:
    """How many more than usual what a pump is judged by needs to add up as shown: its figure, that of the
    limit, and what is left or lacking."""
    value, limit, kind = figure_and_limit(ledger)
    if kind is Kind.HEAD:
        return more_places(kind, system, (value, -limit, limit - value))
    return more_places(kind, system, (limit, -value, -ledger.margin))


def against_limit(ledger: Balance, system: System) -> str:
    """The figures that a pump is judged by, in words."""
    value, limit, kind = figure_and_limit(ledger)
    more = decimals(ledger, system)
    if kind is Kind.HEAD:
        return f"{typeset(value, kind, system, more)} of NPSH, {typeset(limit, kind, system, more)} required"
    return compared(value, limit, system, more)


def npsh_text(ledger: Balance, system: System) -> str:
    """The head above the vapour pressure at the port, in words."""
    if math.isnan(ledger.npsh_available):
        return "not known: no vapour pressure is typed"
    return typeset(ledger.npsh_available, Kind.HEAD, system) if ledger.npsh_available > 0 else "none"


def npsh_sentence(ledger: Balance, system: System) -> str:
    """What NPSH there is, and what is required where the limit is given so."""
    required = ledger.npsh_required
    required_text = f"; required: {typeset(required, Kind.HEAD, system)}" if required is not None else ""
    return f"NPSH available: {npsh_text(ledger, system)}{required_text}"


def budget_step(line: BudgetLine, system: System) -> str:
    """The name of a step of the budget; pressure on the reservoir in US units also in psi."""
    pressed = line.name == RESERVOIR_PRESSURE and line.value > 0
    return line.name + (in_psi(line.value, system) if pressed else "")


def left(ledger: Balance, system: System) -> str:
    """What a pump that is within its budget has left, as the end of a sentence."""
    more = decimals(ledger, system)
    if ledger.npsh_required is None:
        return f"{text_above_zero(ledger.margin, Kind.VACUUM, system, more=more)} left"
    spare = ledger.npsh_available - ledger.npsh_required
    return f"{text_above_zero(spare, Kind.HEAD, system, more=more)} of NPSH left"


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
    """A margin in a few words, with as many decimals as beside the figures that it adds up with."""
    return margin_words(ledger.margin, system, less, margin_places(ledger, system))


def margin_places(ledger: Balance, system: System) -> int:
    """How many decimals more than usual a margin has beside the vacuum and what is allowed; what is over
    stands alone."""
    if ledger.margin < 0.0:
        return 0
    return more_places(Kind.VACUUM, system, (ledger.allowed_vacuum, -ledger.vacuum, -ledger.margin))


def clause(ledger: Balance, system: System) -> str:
    """How a pump stands, as the end of a sentence: "within, margin 0.6 inHg", "over by 1.2 inHg"."""
    if limit_unknown(ledger):
        return out_of_reach(ledger, system)
    estimated = " (limit estimated)" if ledger.limit_estimated and not ledger.breaks else ""
    within = f"within, {margin_text(ledger, system)}"
    return (within if ledger.sound else trouble(ledger, system, alone=True)) + estimated


def sentence_of_pump(ledger: Balance, system: System) -> str:
    """How a pump stands, with its name: "main is over by 1.2 inHg", "in main the column of fluid breaks"."""
    text = clause(ledger, system)
    return f"in {ledger.pump} {text}" if ledger.breaks else f"{ledger.pump} is {text}"
