"""The views below the drawing, by the names that the menus and the command line know them by.

Nothing here imports Qt: the command line must be read where Qt cannot load.
"""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple


class Tab(NamedTuple):
    """What stands on the tab, what the menu calls it, and what the menu says of it."""

    text: str
    menu: str
    tip: str


TABS: Mapping[str, Tab] = {
    "ledger": Tab("Ledger", "&Ledger", "What each element takes from the inlet budget"),
    "profile": Tab("Pressure profile", "&Pressure profile", "Absolute pressure along the line"),
    "findings": Tab("Findings", "F&indings", "What to look at before this line is built"),
    "working": Tab("Working", "&Working", "How each figure came about: formula, numbers, source"),
    "alternatives": Tab("Alternatives", "&Alternatives", "The drawing and its alternatives side by side"),
    "reach": Tab("Reach", "R&each", "How far each thing may go before the margin is spent"),
    "card": Tab("Part card", "Pa&rt card", "The figures of the part that is selected, to be typed anew"),
}
"""In the order in which they stand, and are reached by Ctrl+1, Ctrl+2 and on."""

OLD_NAMES: Mapping[str, str] = {"limits": "reach"}
"""What a view was called before, and is still understood as on the command line."""
