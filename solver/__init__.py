"""Suction lines of pumps: a drawing goes in, a ledger of the inlet budget comes out.

>>> import solver
>>> drawing = solver.read("layouts/carriage-at-altitude.toml")
>>> ledger = solver.solve(drawing).pumps["carriage"]
>>> f"{ledger.margin:.0f} Pa, {ledger.margin.to('inHg'):.1f}"
'-2905 Pa, -0.9 inch_Hg'
"""

from __future__ import annotations

import importlib
from typing import TYPE_CHECKING, Any

if TYPE_CHECKING:
    from solver.answers.answer import Answer
    from solver.answers.sweep import SweepError
    from solver.findings.checks import Finding
    from solver.layout.file import Alternative, Drawing, LayoutErrors, Problem, parse, read, write
    from solver.layout.parts import Layout
    from solver.network.build import NetworkError
    from solver.properties.fluid import FluidError
    from solver.public import Entry, Figure, Ledger, Solution, ask, check, solve, sweep

    __version__: str

__all__ = [
    "Alternative",
    "Answer",
    "Drawing",
    "Entry",
    "Figure",
    "Finding",
    "FluidError",
    "Layout",
    "LayoutErrors",
    "Ledger",
    "NetworkError",
    "Problem",
    "Solution",
    "SweepError",
    "__version__",
    "ask",
    "check",
    "parse",
    "read",
    "solve",
    "sweep",
    "write",
]

_HOME = {
    "Alternative": "layout.file",
    "Answer": "answers.answer",
    "Drawing": "layout.file",
    "Finding": "findings.checks",
    "FluidError": "properties.fluid",
    "Layout": "layout.parts",
    "LayoutErrors": "layout.file",
    "NetworkError": "network.build",
    "Problem": "layout.file",
    "SweepError": "answers.sweep",
    "parse": "layout.file",
    "read": "layout.file",
    "write": "layout.file",
}
"""Where a public name lives; those not listed are in `public`."""


def __getattr__(name: str) -> Any:
    """Load a public name on first use, so that a program that needs one module loads no other."""
    if name == "__version__":
        from importlib.metadata import version

        return version("liftledger")
    if name in __all__:
        return getattr(importlib.import_module(f"solver.{_HOME.get(name, 'public')}"), name)
    raise AttributeError(f"module 'solver' has no attribute {name!r}")


def __dir__() -> list[str]:
    return sorted({*globals(), *__all__})
