"""Parts -> rows: each element with its coefficients and where it is drawn."""

from __future__ import annotations

import math
from dataclasses import dataclass, replace
from enum import StrEnum
from typing import Any

from solver.formulas.flow import dynamic_viscosity
from solver.formulas.screens import READ_DENSITY, READ_VISCOSITY
from solver.geometry.outline import Joint, Piece, bend_radius, bore, nominal, outline, position
from solver.geometry.outline import ends as both_ends
from solver.layout.parts import (
    CHECK_KINDS,
    REDUCER_KINDS,
    VALVE_KINDS,
    Fitting,
    Intake,
    Layout,
    Run,
    Screen,
    Tee,
)
from solver.network import losses
from solver.properties import sizes
from solver.quantities import columns
from solver.quantities.units import Quantity


class RowKind(StrEnum):
    """What sort of element a row is."""

    ENTRANCE = "entrance"
    SCREEN = "screen"
    STRAIGHT = "straight"
    BEND = "bend"
    CORNER = "corner"
    BORE_CHANGE = "bore change"
    VALVE = "valve"
    DEVICE = "device"
    TEE = "tee"


@dataclass(frozen=True, slots=True)
class Row:
    """One element, oriented from `start` to `end` along the expected flow.

    `key` is "part/element" and unique: "riser/straight 1", "riser/bend 1", "strainer/screen",
    "strainer/entrance", "isolator/ball valve", "isolator>lead/bore change", "header/run 1".
    """

    key: str
    part: str  # the part a click on it selects
    element: str  # unique in its part
    kind: RowKind
    start: str  # node
    end: str  # node
    z_in: float  # [m]
    z_out: float  # [m]
    bore: float  # [m]
    length: float = 0.0  # developed, with its share of out_of_plane [m]
    roughness: float = 0.0  # [m]
    k_inf: float = 0.0
    k_re: float = 0.0
    viscous: float = 0.0  # [1/m³]: drop = viscous · μ · Q
    inertial: float = 0.0  # [1/m⁴]: drop = inertial · ρ · Q²
    read_drop: float = 0.0  # of a device known by one drop [Pa]
    read_flow: float = math.nan  # at which it was read [m³/s]; nan: the same at any flow
    read_mu: float = math.inf  # dynamic viscosity with which it was read [Pa·s]
    read_density: float = math.inf  # [kg/m³]
    cap: float = math.inf  # bypass opening pressure [Pa]
    bypass_viscous: float = math.nan  # [1/m³]: what the open bypass adds = this · μ · Q; nan: not known
    k_slow: float | None = None  # in the place of k_inf in laminar flow; None: k_inf
    k_inf_back: float | None = None  # the same for flow from end to start, where it differs
    k_re_back: float | None = None
    k_slow_back: float | None = None
    path: tuple[tuple[float, float], ...] = ()  # centre line as drawn, (x, y) [m]; one point for a part
    arc: float = 0.0  # length of a bend along its centre line, whose friction is in its coefficients [m]
    note: str = ""  # a reservation the user should read ("mitre of 30°: Darby's 45° row in proportion")
    source: str = ""  # where the coefficients come from
    lacks: str = (
        ""  # a figure without which the loss may be more than it says, where `losses.at_least` says so
    )


NO_LAMINAR_PART = "its K has no laminar part (k_re)"
NO_BYPASS_POINT = "no point of its open bypass is given"
"""What a row may lack."""

SAME_BORE = 1e-3
"""Bores that differ by less than this share of themselves are one bore."""

INTO_STILL_FLUID = 1.0
"""k_inf of an intake through which fluid runs back: all its velocity head is lost (Borda and Carnot)."""

_FOOT_VALVES = ("foot valve", "poppet foot valve")


def intake_rows(intake: Intake) -> list[Row]:
    """An intake's screen, if it has one, then the entrance to its line. Raises FittingError."""
    tank, inside, out = f"reservoir:{intake.reservoir}", f"{intake.name}/inside", f"{intake.name}/out"
    k = (
        losses.fitting_k(intake.kind, nominal(intake), bore(intake))
        if intake.kind in _FOOT_VALVES
        else losses.entrance_k(intake.kind)
    )
    rows = []
    if intake.screen is not None:
        rows.append(_screen_row(intake, intake.screen, tank, inside))
    start = inside if rows else tank
    entrance = _at_part(intake, "entrance", RowKind.ENTRANCE, start, out, **k._asdict())
    return [*rows, replace(entrance, k_inf_back=INTO_STILL_FLUID)]


def fitting_rows(fitting: Fitting, ends: tuple[float, float] | None = None) -> tuple[Row, ...]:
    """What the fluid meets in a fitting: its screen, if it has one, and the fitting itself.

    ends: bores on the way in and on the way out [m], which differ in a reducer alone; None: as typed.
    Raises FittingError.
    """
    bores = ends if ends is not None else both_ends(fitting)
    way_in, inside, out = f"{fitting.name}/in", f"{fitting.name}/inside", f"{fitting.name}/out"
    if fitting.kind == "filter":
        if fitting.screen is None:
            raise losses.FittingError("a filter needs its screen")
        return (_screen_row(fitting, fitting.screen, way_in, out),)
    if fitting.screen is None:
        return (_fitting_row(fitting, bores, way_in, out),)
    screened = _fitting_row(fitting, bores, inside, out)
    return _screen_row(fitting, fitting.screen, way_in, inside), screened


def _fitting_row(fitting: Fitting, ends: tuple[float, float], start: str, end: str) -> Row:
    """A valve or device by its kind's table, or by the figure given for it."""
    kind = RowKind.VALVE if fitting.kind in (*VALVE_KINDS, *CHECK_KINDS) else RowKind.DEVICE
    found = _fitting_figures(fitting, ends)
    row = _at_part(fitting, fitting.kind, kind, start, end, **found)
    if fitting.kind not in REDUCER_KINDS:
        return row
    if fitting.curve is not None:
        return replace(row, bore=columns.least(*ends))
    return _with_back(
        replace(row, bore=columns.least(*ends)), losses.reducer_k(*ends[::-1], _optional(fitting.length))
    )


def _fitting_figures(fitting: Fitting, ends: tuple[float, float]) -> dict[str, Any]:
    """The coefficients of a fitting, what a reader should know of them, and where they come from."""
    width = bore(fitting)
    if fitting.curve is not None:
        curve = fitting.curve
        viscous, inertial, note = losses.from_points(curve.drops, curve.viscosity, curve.density, width)
        return {"viscous": viscous, "inertial": inertial, "note": note, "source": "the maker's points"}
    if fitting.opening is not None:
        return _by_coefficient(fitting.opening.kv, fitting.opening.cv, width)
    if fitting.kind == "flow coefficient":
        return _by_coefficient(fitting.kv, fitting.cv, width)
    if fitting.kind == "known K":
        k_inf = _given(fitting, fitting.k, "k")
        lacks = NO_LAMINAR_PART if fitting.k_re is None else ""
        return {"k_inf": k_inf, "k_re": fitting.k_re or 0.0, "source": "as given", "lacks": lacks}
    if fitting.kind == "known drop":
        return _by_drop(fitting)
    if fitting.kind in REDUCER_KINDS:
        return _reduced(fitting, ends)
    if fitting.kind == "flexible connector" and fitting.length is not None:
        return losses.connector_k(fitting.length.si / width)._asdict()
    return losses.fitting_k(fitting.kind, nominal(fitting), width)._asdict()


def _by_coefficient(kv: Quantity | None, cv: Quantity | None, width: float) -> dict[str, Any]:
    given = {"kv": _optional(kv), "cv": _optional(cv)}
    return {
        "viscous": losses.slow_flow_coefficient(width, **given),
        "inertial": losses.flow_coefficient(**given),
        "source": "IEC 60534, with the slow flow of a common valve",
    }


def _by_drop(fitting: Fitting) -> dict[str, Any]:
    viscosity, density = read_with(fitting)
    flow = _optional(fitting.flow)
    if flow is not None and flow <= 0:
        raise losses.FittingError("a known drop needs a flow above 0, or none")
    typed = fitting.viscosity is not None and fitting.density is not None
    by = "as typed" if typed else "common practice, no source"
    note = (
        f"its drop is read with {viscosity * 1e6:.3g} mm²/s and {density:.0f} kg/m³ ({by}); it grows with a "
        "thicker or heavier fluid and shrinks with none"
    )
    return {
        "read_drop": _given(fitting, _optional(fitting.drop), "drop"),
        "read_flow": math.nan if flow is None else flow,
        "read_mu": dynamic_viscosity.scalar(viscosity, density),
        "read_density": density,
        "note": note,
        "source": "as given",
    }


def read_with(fitting: Fitting) -> tuple[float, float]:
    """Viscosity [m²/s] and density [kg/m³] of the fluid with which a known drop was read."""
    viscosity, density = _optional(fitting.viscosity), _optional(fitting.density)
    return READ_VISCOSITY if viscosity is None else viscosity, READ_DENSITY if density is None else density


def _reduced(fitting: Fitting, ends: tuple[float, float]) -> dict[str, Any]:
    length = _optional(fitting.length)
    note = "" if length is not None else "no length is given: its change of bore is taken as a step"
    return {**losses.reducer_k(*ends, length)._asdict(), "note": note}


def _optional(quantity: Quantity | None) -> float | None:
    return None if quantity is None else quantity.si


def _given(fitting: Fitting, value: float | None, key: str) -> float:
    if value is None:
        raise losses.FittingError(f"a {fitting.kind} needs its {key}")
    return value


def _screen_row(part: Intake | Fitting, screen: Screen, start: str, end: str) -> Row:
    viscous, inertial, cap, note, bypass_viscous = losses.screen(screen, bore(part))
    source = "the maker's points" if screen.drops else "Armour and Cannon (1968)"
    lacks = NO_BYPASS_POINT if math.isnan(bypass_viscous) else ""
    return _at_part(
        part, "screen", RowKind.SCREEN, start, end, viscous=viscous, inertial=inertial, cap=cap,
        bypass_viscous=bypass_viscous, note=note, source=source, lacks=lacks,
    )  # fmt: skip


def _at_part(
    part: Joint,
    element: str,
    kind: RowKind,
    start: str,
    end: str,
    k_inf: float = 0.0,
    k_re: float = 0.0,
    k_slow: float | None = None,
    viscous: float = 0.0,
    inertial: float = 0.0,
    note: str = "",
    source: str = "",
    lacks: str = "",
    **devices: float,
) -> Row:
    """A row that is drawn as the one point where its part stands."""
    at = position(part)
    return Row(
        key=f"{part.name}/{element}",
        part=part.name,
        element=element,
        kind=kind,
        start=start,
        end=end,
        z_in=at[1],
        z_out=at[1],
        bore=bore(part),
        k_inf=k_inf,
        k_re=k_re,
        k_slow=k_slow,
        viscous=viscous,
        inertial=inertial,
        path=(at,),
        note=note,
        source=source,
        lacks=lacks,
        **devices,
    )


def run_rows(layout: Layout, run: Run, forward: bool, start: str, end: str) -> tuple[Row, ...]:
    """A run's straights and bends, from node `start` to node `end`.

    forward: whether that is the way the run was drawn.
    Raises GeometryError and FittingError.
    """
    pieces = outline(layout, run)
    nodes = [start, *(f"{run.name}/{i}" for i in range(1, len(pieces))), end]
    width, rough = bore(run), roughness(run)
    radius = bend_radius(run) if any(piece.bend for piece in pieces) else 0.0
    ordered = pieces if forward else pieces[::-1]
    return tuple(
        _piece_row(run, piece, forward, nodes[i], nodes[i + 1], width, rough, radius)
        for i, piece in enumerate(ordered)
    )


def _piece_row(
    run: Run, piece: Piece, forward: bool, start: str, end: str, width: float, rough: float, radius: float
) -> Row:
    path = piece.path if forward else piece.path[::-1]
    k_inf, k_re, note, source = 0.0, 0.0, "", ""
    if piece.bend:
        kind = run.bend if run.bend_radius is None else "bent"
        found = losses.bend_k(kind, radius, piece.angle, width, nominal(run), rough)
        k_inf, k_re, note, source = found
    return Row(
        key=f"{run.name}/{piece.element}",
        part=run.name,
        element=piece.element,
        kind=RowKind.BEND if piece.bend else RowKind.STRAIGHT,
        start=start,
        end=end,
        z_in=path[0][1],
        z_out=path[-1][1],
        bore=width,
        length=piece.length,
        roughness=rough,
        k_inf=k_inf,
        k_re=k_re,
        path=path,
        arc=piece.arc,
        note=note,
        source=source,
    )


def corner_row(fitting: Fitting, runs: tuple[Run, Run], angle: float) -> Row:
    """What two runs that meet at a fitting out of line take, from the fitting's way in to its "turned".

    angle: by which they are out of line [rad]. A mitre in the slimmest of the three.
    """
    parts = (fitting, *runs)
    width = columns.least(columns.least(bore(runs[0]), bore(runs[1])), bore(fitting))
    named = columns.least(columns.least(nominal(parts[1]), nominal(parts[2])), nominal(fitting))
    k = losses.bend_k("mitre", 0.0, angle, width, named, 0.0)
    degrees = f"{math.degrees(columns.first(angle)):.0f}°"
    note = f"the lines at {fitting.name} are {degrees} out of line: charged as a mitre of that angle"
    row = _at_part(
        fitting, "corner", RowKind.CORNER, f"{fitting.name}/in", f"{fitting.name}/turned",
        k.k_inf, k.k_re, note=f"{note}; {k.note}" if k.note else note, source=k.source,
    )  # fmt: skip
    return replace(row, bore=width)


def roughness(run: Run) -> float:
    """Roughness of a run's wall [m]: as typed, of its material, or of what its size is made of."""
    if run.roughness is not None:
        return run.roughness.si
    hose = run.size is not None and sizes.family(run.size) == "hose"
    return sizes.ROUGHNESS[run.material or ("rubber hose" if hose else "commercial steel")]


def bore_change(
    before: str, after: str, run: Run, joint: Joint, nodes: tuple[str, str], bores: tuple[float, float]
) -> Row | None:
    """The change of bore from part `before` to part `after`, one the run and one the joint it ends on.

    None where the bores are the same. K is referred to the smaller bore.
    """
    d_in, d_out = bores
    same = abs(d_in - d_out) <= SAME_BORE * columns.largest(*bores)
    if columns.every(same):
        return None
    there, back = losses.bore_change_k(d_in, d_out), losses.bore_change_k(d_out, d_in)
    width = columns.least(*bores)
    if columns.some(same):  # of many variants; in these the row takes nothing and leaves the flow as it is
        there, back = (_none_where(same, k) for k in (there, back))
        width = columns.choose(same, d_in, width)
    at = position(joint)
    row = Row(
        key=f"{before}>{after}/bore change",
        part=run.name,
        element=f"bore change at {joint.name}",
        kind=RowKind.BORE_CHANGE,
        start=nodes[0],
        end=nodes[1],
        z_in=at[1],
        z_out=at[1],
        bore=width,
        k_inf=there.k_inf,
        k_re=there.k_re,
        k_slow=there.k_slow,
        path=(at,),
        source=there.source,
    )
    return _with_back(row, back)


def _none_where(same: bool, k: losses.K) -> losses.K:
    """No loss in the variants in which the bores are the same."""
    k_inf, k_re, k_slow = (columns.choose(same, 0.0, x) for x in (k.k_inf, k.k_re, losses.in_slow_flow(k)))
    return losses.K(k_inf, k_re, k.source, k_slow)


def _with_back(row: Row, back: losses.K) -> Row:
    """A row with what it takes of flow that runs from its end to its start."""
    return replace(row, k_inf_back=back.k_inf, k_re_back=back.k_re, k_slow_back=losses.in_slow_flow(back))


def tee_row(tee: Tee, leg: str, start: str, end: str, note: str) -> Row:
    """One leg of a tee. Its coefficients come from the flow split, which a row does not know."""
    return _at_part(tee, leg, RowKind.TEE, start, end, note=note)
