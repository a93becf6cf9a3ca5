"""Affinity laws, through a layout file, the network and the ledger."""

from __future__ import annotations

from collections.abc import Callable

import pytest

from solver.layout.parts import Layout
from tests.drawings import fluid, plumb
from tests.published.comparing import Published
from tests.published.figures import FOOT, GPM, ledger

Read = Callable[[str], Layout]


def running(speed: str, rated: str, per_turn: float, required: str, *, credit: bool = True) -> str:
    """The text of a flooded pump at a speed, of a displacement [gal/rev] and the NPSH required as rated."""
    text = plumb(
        "ft", 0.0, level=40.0, mouth=30.0, site='elevation = "0 ft"', bore="12 in",
        fluid=fluid("62.4 lb/ft^3", "0.26 psi"), limit=f'{{ npsh = "{required}" }}',
    )  # fmt: skip
    turning = f'displacement = "{per_turn!r} gal/rev"\nspeed = "{speed}"\nrated_speed = "{rated}"'
    return text.replace('flow = "1 gpm"', f"{turning}\ncredit = {str(credit).lower()}")


def test_half_speed(read: Read, published: Published) -> None:
    """Affinity laws (closed form; 1750 rpm, 1000 gpm and 10 ft by Fox and McDonald, Example 10.8, read in a
    public collection): at half speed 500 gpm and 2.5 ft. Exact."""
    pump_ledger = ledger(read(running("875 rpm", "1750 rpm", 1000 / 1750, "10 ft")))
    source = "Affinity laws"
    published(source, "flow at half speed", 500, pump_ledger.flow / GPM, "gpm", rel=1e-9)
    published(source, "NPSH required at half speed", 2.5, pump_ledger.npsh_required / FOOT, "ft", rel=1e-9)


def test_no_credit_for_less_speed_unless_asked(read: Read) -> None:
    """The law tightens a maker's limit; it loosens it only where the drawing says so."""
    slow = ledger(read(running("875 rpm", "1750 rpm", 1000 / 1750, "10 ft", credit=False)))
    assert slow.npsh_required == pytest.approx(10 * FOOT)
    fast = ledger(read(running("2100 rpm", "1750 rpm", 1000 / 1750, "10 ft", credit=False)))
    assert fast.npsh_required == pytest.approx(10 * FOOT * (2100 / 1750) ** 2)


def test_crane_7_33(read: Read, published: Published) -> None:
    """Crane TP-410, Example 7-33 (public repository): 400 gpm and 126 ft at 3500 rpm become 194.3 gpm and
    29.73 ft at 1700 rpm. The program has the square law for the head a pump requires, not for the head it
    gives, and no power. Tolerance 0.1 %: last digits (29.726)."""
    pump_ledger = ledger(read(running("1700 rpm", "3500 rpm", 400 / 3500, "126 ft")))
    published("Crane TP-410", "Ex. 7-33 flow", 194.3, pump_ledger.flow / GPM, "gpm", rel=1e-3)
    published("Crane TP-410", "Ex. 7-33 head", 29.73, pump_ledger.npsh_required / FOOT, "ft", rel=1e-3)
