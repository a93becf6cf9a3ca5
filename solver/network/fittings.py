"""The coefficients of a fitting: by its kind's table, or by the figure given for it."""

from __future__ import annotations

from collections.abc import Sequence
from typing import Any

from solver.formulas import screens as formulas
from solver.formulas import symbols
from solver.formulas.flow import LAMINAR_END, point_dynamic_viscosity, point_nu
from solver.formulas.record import UNRECORDED, Calculator
from solver.geometry.outline import bore, nominal
from solver.layout.kinds import REDUCER_KINDS, FittingKind
from solver.layout.parts import Fitting
from solver.network import coefficients, screens
from solver.network.coefficients import CONNECTOR_BORES, FittingError
from solver.quantities.units import Quantity
from solver.quantities.wording import with_article

NO_LAMINAR_PART = "its K has no laminar part (k_re)"
NO_BYPASS_POINT = "no point of its open bypass is given"
NO_SECOND_POINT = "one point of its maker's does not tell viscous from inertial"
"""What a row may lack: it counts in laminar flow, where the bypass is open, and far from the one point."""

FAR_FROM_THE_POINT = 5.0 / 3.0
"""Viscous part over inertial part of a drop read half and half, or its inverse, past which it may take a
quarter more than is charged."""


UNIT_DENSITY = 1.0
"""Of the fluid in which a head that is lost is put down as a drop [kg/m³]: any fluid that flows is denser,
and the drop grows with its density."""


def takes_more(lack: str, reynolds: float, bypassed: bool, parts: float = 1.0) -> bool:
    """Whether a row takes more than is charged, for a figure that it lacks, at a Reynolds number.

    parts: the viscous part of its drop over the inertial part.
    """
    if lack == NO_BYPASS_POINT:
        return bypassed
    if lack == NO_SECOND_POINT:
        return not 1.0 / FAR_FROM_THE_POINT <= parts <= FAR_FROM_THE_POINT
    return lack == NO_LAMINAR_PART and reynolds < LAMINAR_END


def lacking_points(points: Sequence[object], inertial: float) -> tuple[str, ...]:
    """What a device of that many points lacks: a second one, where its one was read half and half.

    inertial: its inertial coefficient [1/m⁴].
    """
    return (NO_SECOND_POINT,) if len(points) == 1 and inertial > 0 else ()


def fitting_figures(
    fitting: Fitting, ends: tuple[float, float], calc: Calculator = UNRECORDED
) -> dict[str, Any]:
    """The coefficients of a fitting, what a reader should know of them, and where they come from."""
    width = bore(fitting)
    if fitting.curve is not None:
        viscous, inertial, _, note, _ = screens.maker_curve(fitting.curve, width, calc)
        lacks = lacking_points(fitting.curve.drops, inertial)
        source = "the maker's points"
        return {"viscous": viscous, "inertial": inertial, "note": note, "source": source, "lacks": lacks}
    if fitting.opening is not None:
        return _by_coefficient(fitting.opening.kv, fitting.opening.cv, width, calc)
    if fitting.kind == FittingKind.FLOW_COEFFICIENT:
        return _by_coefficient(fitting.kv, fitting.cv, width, calc)
    if fitting.kind == FittingKind.KNOWN_K:
        k_inf = calc.given(symbols.k_inf, _given(fitting, fitting.k, "k"), "as given")
        k_re = calc.given(symbols.k_re, fitting.k_re, "as given") if fitting.k_re is not None else 0.0
        lacks = (NO_LAMINAR_PART,) if fitting.k_re is None else ()
        return {"k_inf": k_inf, "k_re": k_re, "source": "as given", "lacks": lacks}
    if fitting.kind == FittingKind.KNOWN_DROP:
        return _by_drop(fitting, calc)
    if fitting.kind in REDUCER_KINDS:
        return _reduced(fitting, ends, calc)
    if fitting.kind == FittingKind.FLEXIBLE_CONNECTOR:
        return coefficients.connector_k(connector_length(fitting) / width, calc)._asdict()
    return coefficients.fitting_k(fitting.kind, nominal(fitting), width, calc)._asdict()


def connector_length(fitting: Fitting) -> float:
    """The length that the loss of a flexible connector counts, on top of the lines drawn up to it [m]."""
    return CONNECTOR_BORES * bore(fitting) if fitting.length is None else fitting.length.si


def _by_coefficient(
    kv: Quantity | None, cv: Quantity | None, width: float, calc: Calculator
) -> dict[str, Any]:
    given = {"kv": _optional(kv), "cv": _optional(cv)}
    inertial = screens.flow_coefficient(**given, calc=calc)
    return {
        "viscous": screens.slow_flow_coefficient(width, **given, calc=calc),
        "inertial": inertial,
        "source": "IEC 60534, with the slow flow of a common valve",
    }


def _by_drop(fitting: Fitting, calc: Calculator) -> dict[str, Any]:
    head, (viscosity, density) = _optional(fitting.head), read_with(fitting)
    flow = _optional(fitting.flow)
    if flow is not None and flow <= 0:
        raise FittingError("a known drop needs a flow above 0, or none")
    typed = fitting.viscosity is not None and (fitting.density is not None or head is not None)
    by = "as typed" if typed else "common practice, no source"
    calc.given(point_nu, viscosity, by)
    if head is None:
        heavier = f" and {density:.0f} kg/m³ ({by}); it grows with a thicker or heavier fluid"
        note = f"its drop is read with {viscosity * 1e6:.3g} mm²/s{heavier}, and no fluid makes it smaller"
        drop = calc.given(formulas.point_drop, _given(fitting, _optional(fitting.drop), "drop"), "as given")
        calc.given(formulas.point_rho, density, by)
    else:
        note = f"its head is read with {viscosity * 1e6:.3g} mm²/s ({by}); it grows with a thicker fluid"
        density = calc.given(formulas.point_rho, UNIT_DENSITY, "so that the head counts in what flows")
        drop = calc.work(formulas.head_drop, calc.given(formulas.head_lost, head, "as given"), density)
    return {
        "read_drop": drop,
        "read_flow": flow,
        "read_mu": calc.work(point_dynamic_viscosity, viscosity, density),
        "read_density": density,
        "note": note,
        "source": "as given",
    }


def read_with(fitting: Fitting) -> tuple[float, float]:
    """Viscosity [m²/s] and density [kg/m³] of the fluid with which a known drop was read."""
    viscosity, density = _optional(fitting.viscosity), _optional(fitting.density)
    return (
        formulas.READ_VISCOSITY if viscosity is None else viscosity,
        formulas.READ_DENSITY if density is None else density,
    )


def _reduced(fitting: Fitting, ends: tuple[float, float], calc: Calculator) -> dict[str, Any]:
    length = _optional(fitting.length)
    note = "" if length is not None else "no length is given: its change of bore is taken as a step"
    return {**coefficients.reducer_k(*ends, length, calc)._asdict(), "note": note}


def _optional(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def _given(fitting: Fitting, value: float | None, key: str) -> float:
    if value is None:
        raise FittingError(f"{with_article(fitting.kind)} needs its {key}")
    return value
