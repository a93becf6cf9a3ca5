"""A reading of more pressure than the tank can press with is asked for again, whichever way it was typed."""

from __future__ import annotations

import pytest

from solver.field.compared import compare
from solver.field.sign_read import STOP_UNTIL_CLEAR
from solver.layout import file
from solver.quantities.units import System
from tests.drawings import RISER, SHIPPED

GAUGE = 'gauge = { over_port = "0 m", tube = "empty", class = 1.0, zero = "0 kPa" }'
FLOODED = next(path for path in SHIPPED if path.stem == "baler-flooded").read_text(encoding="utf-8")


def said(figure: str, text: str = RISER, pump: str = "carriage", gauge: str = GAUGE) -> str:
    head = text.replace("format = 1", "format = 2").partition("[alternatives")[0]
    table = (
        f'[[readings]]\nwhen = "2026-03-04"\npump = "{pump}"\nstate.level = "minimum"\n{figure}\n{gauge}\n'
    )
    return compare(file.parse(f"{head}\n{table}").base)[0].words(System.SI)[0]


@pytest.mark.parametrize(
    ("typed", "asked"),
    [
        ('vacuum = "-20 kPa"', 'Is it a vacuum? Then type vacuum = "20 kPa".'),
        ('rest_vacuum = "-20 kPa"', 'Is it a vacuum? Then type rest_vacuum = "20 kPa".'),
        ('pressure = "0.2 bar"', 'Is it a vacuum? Then type vacuum = "0.2 bar".'),
        ('pressure = "800 mbar"', 'Is it an absolute pressure? Then type pressure = "800 mbar abs".'),
        ('pressure = "20 psia"', "Does that gauge show absolute pressure at all?"),
    ],
)
def test_a_sign_or_a_reference_that_cannot_be_is_asked_for(typed: str, asked: str) -> None:
    words = said(typed)
    assert words.startswith("Not compared: ")
    assert asked in words
    assert STOP_UNTIL_CLEAR in words


def test_what_the_tank_may_press_with_is_compared() -> None:
    """A flooded port shows pressure over the atmosphere: with the tank full to the brim, and no more."""
    assert said('pressure = "4 kPa"', FLOODED, "baler").startswith("Read 4.0 kPa above the atmosphere")
    words = said('pressure = "40 kPa"', FLOODED, "baler")
    assert "tank, full to the brim, presses there with no more than" in words
    assert said('pressure = "1 kPa"').startswith("Read ")  # within what its gauge may err by
    wide = 'gauge = { class = 10.0, range = "2 bar" }'
    assert said('pressure = "20 kPa"', gauge=wide).startswith("Read ")


def test_a_sealed_tank_whose_pressure_nobody_states_may_press_with_anything() -> None:
    sealed = FLOODED.replace("[reservoirs.tank]", "[reservoirs.tank]\nsealed = true", 1)
    assert not said('pressure = "40 kPa"', sealed, "baler").startswith("Not compared: pressure")
