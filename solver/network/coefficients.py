"""Loss coefficients of fittings, entrances, bends, changes of bore and tees, at every Reynolds number.

Each is a pair: K = k_inf + k_re/Re, referred to the velocity and bore of the element itself. Oil lines run at
Reynolds numbers of 50 to 1000, where k_re is most of it; nothing here is a turbulent figure alone.
"""

from __future__ import annotations

import math
from collections.abc import Mapping
from typing import NamedTuple

from solver.formulas import bores, symbols
from solver.formulas import fittings as formulas
from solver.formulas.formula import Formula, Symbol
from solver.formulas.record import UNRECORDED, Calculator
from solver.formulas.worked import written
from solver.layout.kinds import Bend, FittingKind, IntakeKind
from solver.properties.sizes import INCH
from solver.quantities import columns
from solver.quantities.units import Kind
from solver.quantities.wording import QuotingError


class K(NamedTuple):
    """Coefficients of one element, and where they come from."""

    k_inf: float
    k_re: float
    source: str
    k_slow: float | None = None  # in the place of k_inf in laminar flow; None: k_inf
    slow_end: float = 0.0  # Reynolds number up to which k_slow holds; 0: as far as flow is laminar


def in_slow_flow(k: K) -> float:
    """What takes the place of k_inf in laminar flow."""
    return k.k_inf if k.k_slow is None else k.k_slow


class FittingError(QuotingError):
    """A fitting that has no coefficients as asked for."""


class _Row(NamedTuple):
    k_re: float
    k_i: float
    k_d: float


DARBY = "Darby 3-K (2001)"
HOOPER = "Hooper 2-K (1981)"

# Darby, R. (2001), constants of the 3-K method: Chem. Eng. July 1999, 101 and April 2001, 127.
_DARBY: Mapping[str, _Row] = {
    FittingKind.GATE_VALVE: _Row(300, 0.037, 3.9),
    FittingKind.BALL_VALVE: _Row(300, 0.017, 3.5),
    FittingKind.PLUG_VALVE: _Row(300, 0.084, 3.9),
    FittingKind.THREE_WAY_THROUGH: _Row(300, 0.14, 4.0),
    FittingKind.THREE_WAY_BRANCH: _Row(500, 0.41, 4.0),
    FittingKind.ANGLE_VALVE: _Row(1000, 0.69, 4.0),
    FittingKind.Y_PATTERN_VALVE: _Row(950, 0.25, 4.0),
    FittingKind.GLOBE_VALVE: _Row(1500, 1.70, 3.6),
    FittingKind.DIAPHRAGM_VALVE: _Row(1000, 0.69, 4.9),
    FittingKind.SWING_CHECK: _Row(1500, 0.46, 4.0),
    FittingKind.LIFT_CHECK: _Row(2000, 2.85, 3.8),
    "threaded elbow 90": _Row(800, 0.14, 4.0),
    "threaded elbow 45": _Row(500, 0.071, 4.2),
    "threaded long elbow 90": _Row(800, 0.071, 4.2),
    "threaded long elbow 45": _Row(500, 0.052, 4.0),
    "mitre 90": _Row(1000, 0.27, 4.0),
    "mitre 45": _Row(500, 0.086, 4.0),
    "two-weld mitre 90": _Row(800, 0.068, 4.1),
    "two-weld mitre 45": _Row(500, 0.052, 4.0),
    "three-weld mitre 90": _Row(800, 0.035, 4.2),
    "tee run": _Row(200, 0.091, 4.0),
    "tee branch": _Row(800, 0.28, 4.0),
}

# Hooper, W. B. (1981), Chem. Eng. 24 August, 96: (K1, K∞). Only what Darby's table lacks.
_HOOPER: Mapping[str, tuple[float, float]] = {
    FittingKind.BUTTERFLY_VALVE: (800, 0.25),
    FittingKind.REDUCED_BALL_VALVE: (500, 0.15),
    FittingKind.REDUCED_PLUG_VALVE: (1000, 0.25),
    FittingKind.TILTING_DISC_CHECK: (1000, 0.50),
}

DARBY_ROWS: Mapping[str, tuple[float, float, float]] = _DARBY
"""Darby's table: K1, Ki and Kd by fitting."""

# Crane TP-410: its disc, and the check of Darby's table whose laminar term it takes.
_FOOT_VALVES: Mapping[str, tuple[Formula, str, str]] = {
    FittingKind.FOOT_VALVE: (formulas.foot_valve, "hinged disc", FittingKind.SWING_CHECK),
    FittingKind.POPPET_FOOT_VALVE: (formulas.poppet_foot_valve, "poppet disc", FittingKind.LIFT_CHECK),
}

FITTINGS = (
    *(name for name in _DARBY if name.partition(",")[0].endswith(("valve", "check"))),
    *_HOOPER,
    *_FOOT_VALVES,
    FittingKind.FLEXIBLE_CONNECTOR,
)
"""What `fitting_k` knows."""

CONNECTOR_BORES = 6.0
"""Length of a flexible connector in bores where none is typed; common practice, no source."""


def darby_k(row: str, nominal: float, calc: Calculator = UNRECORDED, degrees: int | None = None) -> K:
    """A row of Darby's table at one nominal size [m]; `degrees` of one that is proportioned by the angle."""
    source = f"{DARBY}, {row}"
    law, slow = formulas.darby_row(degrees)
    size = nominal / INCH
    k_i, k_d = (
        calc.given(symbol, x, source) for symbol, x in zip(law.symbols, _DARBY[row][1:], strict=False)
    )
    k_inf = calc.work(law, k_i, k_d, size)
    return K(k_inf, calc.given(slow, _DARBY[row].k_re, source), source)


def fitting_k(
    kind: FittingKind | IntakeKind, nominal: float, bore: float, calc: Calculator = UNRECORDED
) -> K:
    """A valve or connector, fully open.

    kind: one of `FITTINGS`; nominal: nominal size [m]; bore: inside diameter [m].
    Raises FittingError for any other kind.
    Sources: Darby (2001) where his table has it, Hooper (1981) where only his does; a foot valve by Crane
    TP-410, with its strainer, and with the laminar term of Darby's check of that build; a flexible connector
    of six bores by practice.
    """
    if kind in _DARBY and kind in FITTINGS:
        return darby_k(kind, nominal, calc)
    if kind in _HOOPER:
        k_re, k_h = _HOOPER[kind]
        source = f"{HOOPER}, {kind}"
        k_inf = calc.work(formulas.hooper, calc.given(symbols.K_h, k_h, source), bore / INCH)
        return K(k_inf, calc.given(symbols.k_re, k_re, source), source)
    if kind in _FOOT_VALVES:
        valve, disc, check = _FOOT_VALVES[kind]
        source = f"Crane TP-410, {disc}, with its strainer; laminar term of a {check}"
        k_inf = calc.work(valve, crane_friction(bore, calc))
        return K(k_inf, calc.given(symbols.k_re, _DARBY[check].k_re, source), source)
    if kind == FittingKind.FLEXIBLE_CONNECTOR:
        return connector_k(CONNECTOR_BORES, calc)
    raise FittingError(f"{kind}: no loss coefficient is known; allowed: {', '.join(FITTINGS)}")


def crane_friction(bore: float, calc: Calculator = UNRECORDED) -> float:
    """Crane's friction factor of fully turbulent flow in a fitting of that bore [m]."""
    return calc.work(formulas.crane_friction, bore)


def connector_k(bores: float, calc: Calculator = UNRECORDED) -> K:
    """A flexible connector so many bores long.

    Source: practice; three times the friction of pipe in turbulent flow, where the corrugations stir it, and
    that of pipe in laminar flow.
    """
    k_inf, k_re = calc.work(formulas.connector, bores), calc.work(formulas.connector_slow, bores)
    return K(k_inf, k_re, "common practice, no source: the maker's figure replaces it")


_ENTRANCES: Mapping[IntakeKind, tuple[float, str]] = {
    IntakeKind.PLAIN_END: (1.0, "pipe end inside the fluid"),
    IntakeKind.WALL_NOZZLE: (0.5, "flush with the wall"),
    IntakeKind.STRAINER: (0.5, "flush, inside the strainer"),
    IntakeKind.BELL_MOUTH: (0.04, "well rounded"),
}


def entrance_k(kind: IntakeKind, calc: Calculator = UNRECORDED) -> K:
    """The way from still fluid into a line.

    kind: an intake's kind. Raises FittingError for any other.
    Source: Hooper (1981), pipe entrances, which take no size correction.
    """
    if kind not in _ENTRANCES:
        raise FittingError(f"{kind}: no such entrance; allowed: {', '.join(_ENTRANCES)}")
    k_inf, what = _ENTRANCES[kind]
    source = f"{HOOPER}, entrance, {what}"
    return K(calc.given(symbols.k_inf, k_inf, source), calc.given(symbols.k_re, 160.0, source), source)


BEND_REYNOLDS = 1e5
"""Where the turbulent coefficient of bends and changes of bore is taken."""

RIGHT_ANGLE = math.pi / 2

_ELBOWS = (
    Bend.THREADED_ELBOW,
    Bend.THREADED_LONG_ELBOW,
    Bend.MITRE,
    Bend.TWO_WELD_MITRE,
    Bend.THREE_WELD_MITRE,
)


class BendK(NamedTuple):
    """Coefficients of a bend, what a reader should know of them, and where they come from."""

    k_inf: float
    k_re: float
    note: str
    source: str


def bend(
    bend: Bend | None,
    radius: float,
    angle: float,
    bore: float,
    nominal: float,
    roughness: float,
    calc: Calculator = UNRECORDED,
    *,
    wall: str = "",
    turn: str = "as drawn",
) -> BendK:
    """A bend: a corner of a run.

    bend: an elbow or a mitre; any other, or None, is smooth. radius: of a smooth bend's centre
    line [m]; angle: it turns through this [rad]; bore, nominal: inside and nominal diameter [m];
    roughness: of the wall, which counts in a smooth bend [m]; wall, turn: the sources of it and of
    the angle.
    Raises FittingError for a radius below half the bore.
    Sources: Rennels and Hudson (2012) at Re 1e5 for a smooth bend, with 800/Re a right angle (Darby, Hooper)
    and never less than the friction of its own arc in laminar flow; Darby (2001) for elbows and mitres,
    whose rows are 45° and 90°: other angles in proportion, and the note says so.
    """
    if angle <= 0:
        return BendK(0.0, 0.0, "", "no turn")
    if calc.records:
        calc.given(symbols.theta, angle, f"{turn}, {written(math.degrees(angle), 4)}°")
    if bend in _ELBOWS:
        return _elbow(bend, angle, nominal, calc)
    if radius < 0.5 * bore:
        short = columns.first(radius), Kind.BORE
        raise FittingError("a bend radius of {short} is less than half the bore", short=short)
    calc.given(symbols.roughness, roughness, wall)
    calc.given(symbols.radius, radius, "of the bend")
    friction = calc.work(formulas.bend_friction, BEND_REYNOLDS, roughness, bore)
    k_inf = calc.work(formulas.smooth_bend, friction, angle, radius, bore)
    k_re = calc.work(formulas.smooth_bend_slow, radius, bore, angle)
    return BendK(k_inf, k_re, "", "Rennels and Hudson (2012) at Re 1e5; 800/Re a right angle (Darby, Hooper)")


bend_k = columns.remembered(4096)(bend)
"""`bend`, its latest results kept."""


def _elbow(bend: str, angle: float, nominal: float, calc: Calculator) -> BendK:
    """Darby's 45° and 90° rows, in proportion: from no bend to 45°, between, and beyond 90°."""
    rows = tuple(degrees for degrees in (45, 90) if f"{bend} {degrees}" in _DARBY)
    turned = angle / RIGHT_ANGLE * 90
    for degrees in rows:
        if abs(turned - degrees) < AT_A_ROW:
            k = darby_k(f"{bend} {degrees}", nominal, calc)
            return BendK(k.k_inf, k.k_re, "", k.source)
    by_row = {degrees: darby_k(f"{bend} {degrees}", nominal, calc, degrees) for degrees in rows}
    k_inf = elbow_k(symbols.k_inf, angle, {at: k.k_inf for at, k in by_row.items()}, calc)
    k_re = elbow_k(symbols.k_re, angle, {at: k.k_re for at, k in by_row.items()}, calc)
    return BendK(k_inf, k_re, _elbow_note(bend, turned, rows), f"{DARBY}, {bend}")


AT_A_ROW = 1e-9
"""An elbow this near to 45° or 90° is that row of the table [°]."""


def elbow_k(symbol: Symbol, angle: float, rows: Mapping[int, float], calc: Calculator = UNRECORDED) -> float:
    """k_inf or k_re (`symbol`) of an elbow of an angle [rad], from those of 90° and, if there is one, 45°."""
    by_angle, full = formulas.elbow(symbol), rows[90]
    if angle >= RIGHT_ANGLE or 45 not in rows:
        return calc.work(by_angle.beyond, full, angle)
    if angle <= RIGHT_ANGLE / 2:
        return calc.work(by_angle.below, rows[45], angle)
    return calc.work(by_angle.between, rows[45], full, angle)


def _elbow_note(bend: str, degrees: float, rows: tuple[int, ...]) -> str:
    if min(abs(degrees - row) for row in rows) < 0.5:
        return ""
    named = "rows for 45° and 90°" if len(rows) > 1 else "row for 90°"
    return f"{bend} of {degrees:.0f}°: in proportion to Darby's {named}"


def bore_change(
    d_in: float,
    d_out: float,
    angle: float = math.pi,
    calc: Calculator = UNRECORDED,
    slow: Symbol = symbols.k_re,
) -> K:
    """A change of bore, referred to the smaller of the two.

    d_in, d_out: bores in the direction of flow [m]; angle: of the cone, between its walls [rad]; π is a step.
    Sources: Rennels and Hudson (2012) at Re 1e5, into a smaller bore the larger of that and of Hooper (1988);
    in slow flow Hooper: into a smaller bore (1.2 + 160/Re)(1/β⁴ − 1) of the larger to Re 2500 in it, into a
    larger one 2 (1 − β⁴), which gives no static pressure back.
    """
    if columns.every(d_in == d_out):
        return K(0.0, 0.0, "no change")
    wider = d_out > d_in
    if angle >= math.pi and columns.some(wider) and not columns.every(wider):
        wide, narrow = _wider_k(d_in, d_out, angle), _narrower_k(d_in, d_out, angle)
        k_inf = columns.choose(wider, wide.k_inf, narrow.k_inf)
        k_re = columns.choose(wider, wide.k_re, narrow.k_re)
        k_slow = columns.choose(wider, in_slow_flow(wide), in_slow_flow(narrow))
        slow_end = columns.choose(wider, wide.slow_end, narrow.slow_end)
        return K(k_inf, k_re, wide.source if columns.first(wider) else narrow.source, k_slow, slow_end)
    if wider:
        return _wider_k(d_in, d_out, angle, calc)
    return _narrower_k(d_in, d_out, angle, calc, slow)


bore_change_k = columns.remembered(4096)(bore_change)
"""`bore_change`, its latest results kept."""


def _wider_k(d_in: float, d_out: float, angle: float, calc: Calculator = UNRECORDED) -> K:
    beta = calc.work(bores.bore_ratio, d_in, d_out)
    source = "Rennels and Hudson (2012); Hooper (1988), widening"
    if angle >= math.pi:
        return K(calc.work(bores.widening, beta), 0.0, source, calc.work(bores.widening_slow, beta))
    k_inf = _widening_cone(angle, beta, d_out, calc)
    return K(k_inf, 0.0, source, calc.work(bores.gradual_slow, calc.work(bores.gradual, angle), beta))


def _widening_cone(angle: float, beta: float, bore: float, calc: Calculator) -> float:
    if angle > bores.WIDE:
        return calc.work(bores.wide_widening, angle, beta)
    law = bores.slender_widening if angle <= bores.SLENDER else bores.medium_widening
    return calc.work(law, angle, beta, _cone_friction(bore, calc))


def _cone_friction(bore: float, calc: Calculator) -> float:
    """Friction factor of the smooth wall of a cone, whose bore does not count."""
    return calc.work(bores.cone_friction, BEND_REYNOLDS, 0.0, bore)


def _narrower_k(
    d_in: float, d_out: float, angle: float, calc: Calculator = UNRECORDED, slow: Symbol = symbols.k_re
) -> K:
    source = "Rennels and Hudson (2012); Hooper (1988), narrowing"
    beta = calc.work(bores.bore_ratio, d_out, d_in)
    slow_end = calc.work(bores.narrowing_slow_end, beta)
    if angle >= math.pi:
        jet = calc.work(bores.contracted_jet, beta)
        rennels = calc.work(bores.narrowing, beta, jet, symbol=bores.k_rennels)
        k_inf = calc.work(bores.narrowing_larger, rennels, beta)
        k_re = calc.work(bores.narrowing_slow, beta, symbol=slow)
        return K(k_inf, k_re, source, calc.work(bores.narrowing_laminar, k_inf, beta), slow_end)
    jet, friction = calc.work(bores.cone_jet, angle, beta), _cone_friction(d_out, calc)
    rennels = calc.work(bores.narrowing_cone, angle, beta, jet, friction, symbol=bores.k_rennels)
    steep = angle > math.pi / 4
    factor = calc.work(bores.steep_narrowing if steep else bores.gradual_narrowing, angle)
    k_inf = calc.work(bores.cone_narrowing_larger, rennels, factor, beta)
    k_re = calc.work(bores.cone_narrowing_slow, factor, beta, symbol=slow)
    return K(k_inf, k_re, source, calc.work(bores.cone_narrowing_laminar, k_inf, factor, beta), slow_end)


def reducer_k(d_in: float, d_out: float, length: float | None = None, calc: Calculator = UNRECORDED) -> K:
    """A reducer, referred to the smaller bore.

    d_in, d_out: bores in the direction of flow [m]; length: of its cone [m], None: a step.
    Sources: as `bore_change`, with the wall friction of the cone in laminar flow (Hagen and Poiseuille,
    integrated along it) where that is more. Where both ends are alike that friction is all.
    """
    if length is None:
        return bore_change(d_in, d_out, calc=calc)
    if d_in == d_out:
        calc.given(symbols.L, length, "as typed")
        k_inf = calc.work(bores.even, _cone_friction(d_in, calc), length, d_in)
        return K(k_inf, calc.work(bores.even_slow, length, d_in), "wall friction alone: its ends are alike")
    wide, slim = columns.largest(d_in, d_out), columns.least(d_in, d_out)
    calc.given(symbols.L, length, "as typed")
    angle = calc.work(bores.cone_angle, wide, slim, length)
    k = bore_change(d_in, d_out, angle, calc, symbols.k_re_narrowing)
    source = f"{k.source}; in slow flow at least its wall friction"
    if d_out > d_in:
        return K(k.k_inf, calc.work(bores.cone_slow, length, wide, slim), source, k.k_slow)
    wall = calc.work(bores.cone_slow, length, wide, slim, symbol=symbols.k_re_wall)
    return k._replace(k_re=calc.work(bores.cone_larger, k.k_re, wall), source=source)
