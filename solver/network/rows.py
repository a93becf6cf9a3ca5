"""Parts -> rows: each element with its coefficients and where it is drawn."""

from __future__ import annotations

import math
from collections.abc import Callable
from dataclasses import dataclass, field, replace
from enum import StrEnum
from functools import partial
from typing import Any

from solver.formulas import symbols
from solver.formulas.record import Calculator
from solver.geometry.outline import Joint, Piece, bend_radius, bore, corner_angle, nominal, outline, position
from solver.geometry.outline import ends as both_ends
from solver.layout.kinds import CHECK_KINDS, REDUCER_KINDS, VALVE_KINDS, Bend, FittingKind, IntakeKind
from solver.layout.parts import Fitting, Intake, Layout, Run, Screen, Tee
from solver.network import coefficients, screens
from solver.network.coefficients import FittingError, K
from solver.network.fittings import NO_BYPASS_POINT, fitting_figures, lacking_points
from solver.network.walls import roughness, roughness_source
from solver.quantities import columns

Recipe = Callable[[Calculator], object]
"""Computes the coefficients of a row once more, with a calculator that may record the steps."""


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


class Leg(StrEnum):
    """The legs of a tee."""

    RUN_1 = "run 1"
    RUN_2 = "run 2"
    BRANCH = "branch"


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
    read_flow: float | None = None  # at which it was read [m³/s]; None: the same at any flow
    read_mu: float = math.inf  # dynamic viscosity with which it was read [Pa·s]
    read_density: float = math.inf  # [kg/m³]
    cap: float = math.inf  # bypass opening pressure [Pa]
    bypass_viscous: float | None = None  # [1/m³]: what the open bypass adds = this · μ · Q; None: not known
    k_slow: float | None = None  # in the place of k_inf in laminar flow; None: k_inf
    slow_end: float = 0.0  # Reynolds number up to which k_slow holds; 0: as far as flow is laminar
    k_inf_back: float | None = None  # the same for flow from end to start, where it differs
    k_re_back: float | None = None
    k_slow_back: float | None = None
    slow_end_back: float | None = None
    path: tuple[tuple[float, float], ...] = ()  # centre line as drawn, (x, y) [m]; one point for a part
    arc: float = 0.0  # length of a bend along its centre line, whose friction is in its coefficients [m]
    bend_kind: Bend | None = None  # how a bend is made; None: no bend, or the pipe itself bent to a radius
    note: str = ""  # a reservation the user should read ("mitre of 30°: Darby's 45° row in proportion")
    source: str = ""  # where the coefficients come from
    lacks: tuple[str, ...] = ()  # figures without which the loss may be more than it says
    recipe: Recipe | None = field(default=None, compare=False, repr=False)  # None: nothing to compute
    recipe_back: Recipe | None = field(default=None, compare=False, repr=False)  # where the way back differs


SAME_BORE = 1e-3
"""Bores that differ by less than this share of themselves are one bore."""

INTO_STILL_FLUID = 1.0
"""k_inf of an intake through which fluid runs back: all its velocity head is lost (Borda and Carnot)."""

_FOOT_VALVES = (IntakeKind.FOOT_VALVE, IntakeKind.POPPET_FOOT_VALVE)


def intake_rows(intake: Intake) -> list[Row]:
    """An intake's screen, if it has one, then the entrance to its line. Raises FittingError."""
    tank, inside, out = f"reservoir:{intake.reservoir}", f"{intake.name}/inside", f"{intake.name}/out"
    if intake.kind in _FOOT_VALVES:
        recipe: Callable[..., K] = partial(coefficients.fitting_k, intake.kind, nominal(intake), bore(intake))
    else:
        recipe = partial(coefficients.entrance_k, intake.kind)
    k = recipe()
    rows = []
    if intake.screen is not None:
        rows.append(_screen_row(intake, intake.screen, tank, inside))
    start = inside if rows else tank
    entrance = _at_part(intake, "entrance", RowKind.ENTRANCE, start, out, **k._asdict(), recipe=recipe)
    back = partial(_into_still_fluid, k.k_re)
    return [*rows, replace(entrance, k_inf_back=INTO_STILL_FLUID, recipe_back=back)]


def _into_still_fluid(k_re: float, calc: Calculator) -> K:
    """An intake through which fluid runs back; in slow flow as on its way in."""
    source = "all its velocity head is lost: Borda and Carnot"
    k_inf = calc.given(symbols.k_inf, INTO_STILL_FLUID, source)
    return K(k_inf, calc.given(symbols.k_re, k_re, "taken as on the way in: no source"), source)


def fitting_rows(fitting: Fitting, ends: tuple[float, float] | None = None) -> tuple[Row, ...]:
    """What the fluid meets in a fitting: its screen, if it has one, and the fitting itself.

    ends: bores on the way in and on the way out [m], which differ in a reducer alone; None: as typed.
    Raises FittingError.
    """
    bores = ends if ends is not None else both_ends(fitting)
    way_in, inside, out = f"{fitting.name}/in", f"{fitting.name}/inside", f"{fitting.name}/out"
    if fitting.kind == FittingKind.FILTER:
        if fitting.screen is None:
            raise FittingError("a filter needs its screen")
        return (_screen_row(fitting, fitting.screen, way_in, out),)
    if fitting.screen is None:
        return (_fitting_row(fitting, bores, way_in, out),)
    screened = _fitting_row(fitting, bores, inside, out)
    return _screen_row(fitting, fitting.screen, way_in, inside), screened


def _fitting_row(fitting: Fitting, ends: tuple[float, float], start: str, end: str) -> Row:
    """A valve or device by its kind's table, or by the figure given for it."""
    kind = RowKind.VALVE if fitting.kind in (*VALVE_KINDS, *CHECK_KINDS) else RowKind.DEVICE
    recipe = partial(fitting_figures, fitting, ends)
    row = _at_part(fitting, fitting.kind, kind, start, end, **recipe(), recipe=recipe)
    if fitting.kind not in REDUCER_KINDS:
        return row
    if fitting.curve is not None:
        return replace(row, bore=columns.least(*ends))
    back = partial(coefficients.reducer_k, *ends[::-1], None if fitting.length is None else fitting.length.si)
    return _with_back(
        replace(row, bore=columns.least(*ends), recipe_back=lambda calc: back(calc=calc)), back()
    )


def _screen_row(part: Intake | Fitting, screen: Screen, start: str, end: str) -> Row:
    recipe = partial(screens.screen, screen, bore(part))
    viscous, inertial, cap, note, bypass_viscous = recipe()
    source = "the maker's points" if screen.drops else "Armour and Cannon (1968)"
    lacks = (*lacking_points(screen.drops, inertial), *((NO_BYPASS_POINT,) if bypass_viscous is None else ()))
    return _at_part(
        part, "screen", RowKind.SCREEN, start, end, viscous=viscous, inertial=inertial, cap=cap,
        bypass_viscous=bypass_viscous, note=note, source=source, lacks=lacks,
        recipe=lambda calc: recipe(calc=calc),
    )  # fmt: skip


def _at_part(
    part: Joint, element: str, kind: RowKind, start: str, end: str, width: float | None = None, **figures: Any
) -> Row:
    """A row that is drawn as the one point where its part stands.

    width: its bore [m]; None: the part's. figures: further fields of the row.
    """
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
        bore=bore(part) if width is None else width,
        path=(at,),
        **figures,
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
    bend_kind = run.bend if piece.bend and run.bend_radius is None else None

    def recipe(calc: Calculator) -> object:
        if piece.bend:
            return coefficients.bend(*bend, calc, wall=roughness_source(run))
        return calc.given(symbols.roughness, rough, roughness_source(run))

    if piece.bend:
        bend = bend_kind, radius, piece.angle, width, nominal(run), rough
        k_inf, k_re, note, source = coefficients.bend_k(*bend)
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
        bend_kind=bend_kind,
        note=note,
        source=source,
        recipe=recipe,
    )


def joint_rows(
    layout: Layout, fitting: Fitting, runs: tuple[Run, Run | None], own: tuple[Row, ...]
) -> tuple[Row, ...]:
    """The rows of a fitting, after that of the corner which the runs on its two sides make.

    runs: the one by which the fluid comes, and the other; None where there is none. own: of `fitting_rows`.
    Raises FittingError.
    """
    one, two = runs
    angle = corner_angle(layout, fitting, (one, two)) if two is not None else 0.0
    if two is None or not angle:
        return own
    corner = corner_row(fitting, (one, two), angle)
    return corner, replace(own[0], start=corner.end), *own[1:]


def corner_row(fitting: Fitting, runs: tuple[Run, Run], angle: float) -> Row:
    """What two runs that meet at a fitting out of line take, from the fitting's way in to its "turned".

    angle: by which they are out of line [rad]. A mitre in the slimmest of the three.
    """
    parts = (fitting, *runs)
    width = columns.least(columns.least(bore(runs[0]), bore(runs[1])), bore(fitting))
    named = columns.least(columns.least(nominal(parts[1]), nominal(parts[2])), nominal(fitting))
    bend = Bend.MITRE, 0.0, angle, width, named, 0.0
    k = coefficients.bend_k(*bend)
    degrees = f"{math.degrees(columns.first(angle)):.0f}°"
    note = f"the lines at {fitting.name} are {degrees} out of line: charged as a mitre of that angle"
    return _at_part(
        fitting, "corner", RowKind.CORNER, f"{fitting.name}/in", f"{fitting.name}/turned",
        k_inf=k.k_inf, k_re=k.k_re, note=f"{note}; {k.note}" if k.note else note, source=k.source,
        recipe=partial(coefficients.bend, *bend, turn="out of line"), width=width,
    )  # fmt: skip


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
    onward, back = coefficients.bore_change_k(d_in, d_out), coefficients.bore_change_k(d_out, d_in)
    width = columns.least(*bores)
    if columns.some(same):  # of many variants; in these the row takes nothing and leaves the flow as it is
        onward, back = (_none_where(same, k) for k in (onward, back))
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
        k_inf=onward.k_inf,
        k_re=onward.k_re,
        k_slow=onward.k_slow,
        slow_end=onward.slow_end,
        path=(at,),
        source=onward.source,
        recipe=lambda calc: coefficients.bore_change(d_in, d_out, calc=calc),
        recipe_back=lambda calc: coefficients.bore_change(d_out, d_in, calc=calc),
    )
    return _with_back(row, back)


def _none_where(same: bool, k: K) -> K:
    """No loss in the variants in which the bores are the same."""
    k_inf, k_re, k_slow = (
        columns.choose(same, 0.0, x) for x in (k.k_inf, k.k_re, coefficients.in_slow_flow(k))
    )
    return K(k_inf, k_re, k.source, k_slow, k.slow_end)


def _with_back(row: Row, back: K) -> Row:
    """A row with what it takes of flow that runs from its end to its start."""
    return replace(
        row,
        k_inf_back=back.k_inf,
        k_re_back=back.k_re,
        k_slow_back=coefficients.in_slow_flow(back),
        slow_end_back=back.slow_end,
    )


def tee_row(tee: Tee, leg: str, start: str, end: str, note: str) -> Row:
    """One leg of a tee. Its coefficients come from the flow split, which a row does not know."""
    return _at_part(tee, leg, RowKind.TEE, start, end, note=note)
