"""How thick a fluid may be against the one drawn: by its grade, and by what is known of its warmth."""

from __future__ import annotations

import math
from collections.abc import Sequence

from solver.field.states import IN_TANK, Reading
from solver.properties import fluid

GRADE = 1.5
"""How many times as thick a viscosity grade is as the one before it; ISO 3448, from memory."""

GRADES = 2
"""Grades by which a fluid is filled in by mistake, at most as a rule; common practice, no source."""

AMBIENT = 283.15
"""How cold a line may stand whose drawing names no coldest start [K]; common practice, no source."""

DOUBLES = 10.0
"""By how much an oil is colder that is twice as thick [K]; common practice, no source."""

OFF = 2.0
"""Standard deviations by which a temperature that was noted may be off and be no surprise."""


def thickest(readings: Sequence[Reading]) -> float:
    """How many times as thick as drawn a fluid may be in every state of some readings: another grade, and as
    cold as its line may have been where its temperature says little of that."""
    running = [reading for reading in readings if not reading.resting]
    return min((GRADE**GRADES * _colder(reading) for reading in running), default=math.inf)


def odds(size: float, most: float) -> float:
    """How often a fluid is so many times as thick, against one as thick as is plausible at most: half as
    often one grade beyond that. It falls slowly, as a drum of another fluid altogether is met too."""
    beyond = math.log(max(size / most, 1.0)) / math.log(GRADE)
    return 1.0 / (1.0 + beyond**2)


def _colder(reading: Reading) -> float:
    """How many times as thick as at the temperature of a reading the fluid in its line may have been."""
    drawn = reading.layout.fluid
    warm = drawn.temperature.si
    cold = warm - OFF * reading.temperature
    if reading.temperature > IN_TANK:  # nobody looked, or the line was not yet as warm as its tank
        cold = min(cold, AMBIENT if reading.coldest is None else reading.coldest)
    try:
        return fluid.state(drawn, cold).viscosity / fluid.state(drawn, warm).viscosity
    except ValueError:  # its figures do not reach so far
        return float(2.0 ** ((warm - cold) / DOUBLES))
