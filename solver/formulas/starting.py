"""The formulas of a pump that starts, or comes on stroke: what it takes to set the fluid in motion."""

from __future__ import annotations

from solver.formulas import symbols as s
from solver.formulas.formula import Formula

RIGID_COLUMN = (
    "Newton's second law for a rigid column of fluid; Wylie and Streeter, Fluid Transients in Systems "
    "(unverified)"
)

steepest_rise = Formula(
    "steepest rise of the flow",
    s.Q_rise,
    (s.Q, s.rise_time),
    s.Q / s.rise_time,
    "definition of the time in which a flow rises, as typed",
)
row_rise = Formula(
    "rise in one row",
    s.row_rise,
    (s.L, s.D, s.Q_rise),
    4 * s.L * s.Q_rise / (s.pi * s.D**2),
    RIGID_COLUMN,
)
loss = Formula(
    "acceleration of the column", s.dp, (s.rho, s.column_rise), s.rho * s.column_rise, RIGID_COLUMN
)
shortest = Formula(
    "shortest rise of a rigid column",
    s.rise_time,
    (s.L,),
    10 * s.L / s.celerity,
    "ten lengths of the line at the speed of a pressure wave; common practice, no source",
)
