"""Valves by their flow coefficient, and what a fitting loses."""

from __future__ import annotations

import math
from dataclasses import replace

import numpy as np

from solver.layout.parts import Fitting
from solver.network import rows
from solver.network.build import columns
from solver.network.losses import drop
from solver.quantities.units import Quantity
from tests.drawings import fitting


def by_kv(kv: float, bore: float = 0.05, **more: object) -> Fitting:
    given = Quantity(f"{kv} m^3/h", kv / 3600.0)
    return replace(fitting("v", (0.0, 0.0), bore=bore, kind="flow coefficient"), kv=given, **more)


def lost(part: Fitting, flow: float, density: float, viscosity: float) -> float:
    row_list = rows.fitting_rows(part, density)
    return float(drop(columns(row_list), np.full(len(row_list), flow), density, viscosity).loss.sum())


def crane_friction(bore: float) -> float:
    """f_T of Crane TP-410 (2009), by its equation for fully turbulent flow in clean commercial steel of
    0.0018 in; bore [m]."""
    return float(0.25 / math.log10(0.0018 * 0.0254 / bore / 3.7) ** 2)
