"""What the questions vary of the line itself: the one thing, its range, and how a drawing with it looks."""

from __future__ import annotations

import math
from collections.abc import Callable, Container, Mapping
from dataclasses import dataclass, replace
from typing import Any

from solver.answers import inputs
from solver.answers.inputs import INPUTS
from solver.answers.roots import AHEAD
from solver.formulas import flow
from solver.geometry import moving
from solver.layout.kinds import REDUCER_KINDS, FittingKind
from solver.layout.parts import Fitting, Layout, Point, Pump, Run
from solver.ledger.solve import PumpLedger, Solution
from solver.network.walls import material as wall_material
from solver.network.walls import material_without_size
from solver.quantities.units import Kind, Quantity

FARTHEST_RUN = 1000.0
"""Line beyond which nobody asks [m]."""

MOST_K = 1000.0
NEAR_PORT = 1e-3
"""Of the straight before a port: how near to the port a fitting is added."""
SMALLER_SCREEN, LARGER_SCREEN = 1000.0, 50.0
"""Times that a screen is looked at smaller, and larger."""

HOSE = "rubber hose"

GIVEN = "given"
"""Said of a value that the drawing gives, and that is not the one the pump runs at."""


@dataclass(frozen=True, slots=True)
class Variation:
    """One thing varied while everything else stays."""

    kind: Kind
    now: float  # [SI unit of the kind]
    worst: float  # end of the range towards less margin
    best: float  # the other end
    change: Callable[[float], Layout]  # the drawing with that value; raises ValueError where there is none
    meaning: str  # what it is that has the value
    slope: float = 0.0  # margin lost per unit, where it is known beforehand [Pa/unit]
    lost: Callable[[PumpLedger], float] | None = None  # what goes about in proportion with the way [Pa]
    tolerance: float = 1e-6  # of the value
    enough: float = 0.05  # margin taken for zero [Pa]
    name: str = ""  # what the answer is called, where the question's own name does not fit
    from_here: str = "now"  # what the value is that the search starts from
    worst_is: str = ""  # what that end of the range is, where it is no mere end of a search
    best_is: str = "where the search ends"
    note: str = ""  # what else should be known
    power: float = 0.0  # what is lost goes about as this power of 1/|value − pole|; 0: as the value itself
    pole: float = 0.0
    edges: tuple[float, ...] = ()  # values beyond which there are no figures
    alters: bool = False  # even with the value it has now the drawing is another, as with one bore for all

    def step(self, margin: float, ledger: PumpLedger) -> float:
        """How far to try first on the way of the search, from the margin now [Pa].

        ledger: now, in the case that decides.
        """
        end = self.worst if margin >= 0 else self.best
        if self.slope:
            return abs(margin) / self.slope
        now, far = self.of_value(self.now), self.of_value(end)
        lost = self.lost(ledger) if self.lost is not None else 0.0
        if lost > 0 and margin and now:
            return min(abs(AHEAD * margin / lost * now), abs(far - now))
        return min(abs(now), abs(far - now)) if self.power else abs(far - now) / 32

    def of_value(self, value: float) -> float:
        """Where a value lies on the way of the search, along which the margin falls about evenly."""
        return math.pow(abs(value - self.pole), -self.power) if self.power else value

    def value_at(self, place: float) -> float:
        """The value at a place on that way; the ends of the search exactly."""
        if not self.power:
            return place
        known = {self.of_value(value): value for value in (self.now, self.worst, self.best)}
        side = math.copysign(1.0, self.now - self.pole)
        return known.get(place, self.pole + side * math.pow(place, -1.0 / self.power))


def port_height(present: Solution, ledger: PumpLedger) -> Variation:
    """How high the port of the pump may stand."""
    layout, pump = present.layout, present.layout.pumps[ledger.pump]
    x, z = pump.at[0].si, pump.at[1].si
    weight = flow.static_lift.scalar(ledger.density, 1.0)
    reach = 2 * (abs(ledger.budget) + abs(ledger.margin)) / weight + 1.0
    return Variation(
        kind=Kind.LENGTH,
        now=z,
        worst=z + reach,
        best=z - reach,
        change=lambda to: layout if to == z else moving.move_part(layout, pump.name, x, to),
        meaning="elevation of the port's centre",
        slope=weight,
        tolerance=1e-4,
        enough=1.0,  # positions are kept to 0.1 mm
    )


def fluid_level(present: Solution, ledger: PumpLedger) -> Variation:
    """How low the fluid may stand in the reservoir that the pump draws from."""
    layout, tank = present.layout, present.layout.reservoirs[ledger.reservoir]
    mouths = (each for each in layout.intakes.values() if each.reservoir == tank.name)
    highest = max(mouths, key=lambda each: each.at[1].si)
    return Variation(
        kind=Kind.LENGTH,
        now=ledger.fluid_level,
        worst=highest.at[1].si,
        best=max(y.si for _, y in tank.outline),
        change=lambda to: inputs.fluid_level(layout, (tank.name,), to, present.level),
        meaning=f"elevation of the fluid in {tank.name}",
        worst_is=f"at the intake {highest.name}",
        best_is=f"the rim of {tank.name}",
        slope=flow.static_lift.scalar(ledger.density, 1.0),
    )


def bore(present: Solution, ledger: PumpLedger) -> Variation:
    """How narrow the line to the pump may be, all of it of one bore."""
    layout = present.layout
    names = line_parts(ledger)
    bores = [e.bore for e in ledger.entries if e.part in names]
    widest = max(bores)
    return Variation(
        kind=Kind.BORE,
        now=widest,
        worst=INPUTS["bore"].searched[0],
        best=INPUTS["bore"].searched[1],
        change=lambda to: with_bore(layout, names, bore=_length(to)),
        meaning="one bore for the whole line",
        tolerance=1e-7,
        power=4.0,
        lost=lambda ledger: _loss_of(ledger, [n for n in names if layout.screen(n) is None]),
        alters=not all(_typed_as(layout, name, widest) for name in names),
        from_here="now" if min(bores) > widest * (1 - 1e-3) else "now up to",
    )


def _typed_as(layout: Layout, name: str, width: float) -> bool:
    """Whether a part has just that bore [m], typed as a figure: with one bore for all it stays as it is."""
    groups: tuple[Mapping[str, Any], ...] = (layout.runs, layout.fittings, layout.tees, layout.intakes)
    part = next(group[name] for group in groups if name in group)
    widths = (part.bore, part.other_bore) if isinstance(part, Fitting) else (part.bore,)
    sizes = (part.size, part.other_size) if isinstance(part, Fitting) else (part.size,)
    typed = [each.si for each in widths if each is not None]
    return part.bore is not None and set(typed) == {width} and not any(sizes)


def _loss_of(ledger: PumpLedger, names: Container[str]) -> float:
    """What some parts lose [Pa]."""
    return sum(entry.loss for entry in ledger.entries if entry.part in names)


def line_parts(ledger: PumpLedger) -> tuple[str, ...]:
    """The parts on the way to a pump that have a bore of their own, without the port."""
    return tuple(
        dict.fromkeys(e.part for e in ledger.entries if e.part not in (ledger.pump, ledger.reservoir))
    )


def with_bore(
    layout: Layout, names: tuple[str, ...], bore: Quantity | None = None, size: str | None = None
) -> Layout:
    """The drawing with one bore, or one standard size, for the named runs, fittings, tees and intakes."""

    def sized(part: Any) -> Any:
        if isinstance(part, Fitting) and part.kind in REDUCER_KINDS:
            return replace(part, bore=bore, size=size, other_bore=bore, other_size=size)
        if isinstance(part, Run) and size is None:
            return replace(part, bore=bore, size=None, material=material_without_size(part))
        return replace(part, bore=bore, size=size)

    def fitted(group: Mapping[str, Any]) -> dict[str, Any]:
        return {k: sized(p) if k in names else p for k, p in group.items()}

    return replace(
        layout,
        runs=fitted(layout.runs),
        fittings=fitted(layout.fittings),
        tees=fitted(layout.tees),
        intakes=fitted(layout.intakes),
    )


def run_length(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How long the runs to the pump may be together; the reason in words where there is none."""
    layout = present.layout
    lengths = _lengths(layout, ledger)
    if not lengths:
        return "there is no run on the way to the pump"
    return _longer(layout, lengths)


NO_HOSE = (
    'no line on the way to the pump is a hose: give one the size of a hose, such as "hose -32" '
    "(a flexible connector has a length of its own)"
)


def hose_length(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How long the hoses to the pump may be together; the reason in words where there is none."""
    layout = present.layout
    lengths = {
        name: length
        for name, length in _lengths(layout, ledger).items()
        if wall_material(layout.runs[name]) == HOSE
    }
    if not lengths:
        return NO_HOSE
    return _longer(layout, lengths)


def _lengths(layout: Layout, ledger: PumpLedger) -> dict[str, float]:
    """The length of every run on the way to a pump [m]."""
    lengths: dict[str, float] = {}
    for entry in ledger.entries:
        if entry.part in layout.runs:
            lengths[entry.part] = lengths.get(entry.part, 0.0) + entry.length
    return lengths


def _longer(layout: Layout, lengths: Mapping[str, float]) -> Variation:
    """The longest of some runs made longer."""
    name = max(lengths, key=lambda run: lengths[run])
    run, now = layout.runs[name], lengths[name]
    what = "hose" if wall_material(run) == HOSE else "pipe"
    hidden = run.out_of_plane.si if run.out_of_plane is not None else 0.0

    def change(to: float) -> Layout:
        longer = replace(run, out_of_plane=_length(max(hidden + to - now, 0.0)))
        return replace(layout, runs={**layout.runs, name: longer})

    return Variation(
        kind=Kind.LENGTH,
        now=now,
        worst=now + FARTHEST_RUN,
        best=now - hidden,
        change=change,
        meaning=f"straight {what} in {name}",
        lost=lambda ledger: sum(e.loss for e in ledger.entries if e.part == name and e.length),
        best_is="as short as it is drawn",
        note="its bends come on top, and stay as they are, as do its heights"
        if run.via
        else "its heights stay as they are",
    )


def screen_area(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How small the first strainer may be; the reason in words where its area is not known."""
    layout = present.layout
    name = first_screen(layout, ledger)
    screen = layout.screen(name)
    if screen is None:
        return "there is no strainer on the way to the pump"
    if screen.area is None or screen.mesh is None:
        return f"{name} is given by its maker's points, not by the area of its mesh"

    def change(to: float) -> Layout:
        return inputs.screen_put(layout, name, replace(screen, area=Quantity(f"{to!r} m^2", to)))

    return Variation(
        kind=Kind.AREA,
        now=screen.area.si,
        worst=screen.area.si / SMALLER_SCREEN,
        best=screen.area.si * LARGER_SCREEN,
        change=change,
        meaning=f"whole area of {name}, blocked as it is",
        tolerance=1e-9 * screen.area.si,
        power=1.0,
        lost=lambda ledger: _loss_of(ledger, (name,)),
    )


def added_k(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How much K may be added at the port; the reason in words where no straight leads to it."""
    layout, pump = present.layout, present.layout.pumps[ledger.pump]
    run = next((each for each in layout.runs.values() if pump.name in (each.start, each.end)), None)
    if run is None:
        return "there is no run at the pump"
    corner = _last_corner(layout, run, pump)
    if corner is None:
        return f"there is no straight at {pump.name}"

    velocity = next(e.velocity for e in reversed(ledger.entries) if e.part == run.name)

    def change(to: float) -> Layout:
        return layout if to == 0 else _with_k(layout, run, pump, corner, to)

    return Variation(
        kind=Kind.NUMBER,
        now=0.0,
        worst=MOST_K,
        best=0.0,
        change=change,
        meaning=f"of one more fitting at {pump.name}, in {run.name}",
        slope=flow.velocity_pressure.scalar(ledger.density, velocity),
        best_is="with none added",
        note="without what a fitting adds in slow flow",
    )


def _last_corner(layout: Layout, run: Run, pump: Pump) -> Point | None:
    """Where the straight before a pump's port begins; None where nothing lies before it."""
    if run.via:
        return run.via[-1] if run.end == pump.name else run.via[0]
    other = run.start if run.end == pump.name else run.end
    for group in (layout.fittings, layout.tees, layout.intakes, layout.pumps):
        part = group.get(other)
        if part is not None:
            at: Point = part.at
            return at
    return None


def _with_k(layout: Layout, run: Run, pump: Pump, corner: Point, k: float) -> Layout:
    """The drawing with a fitting of that K in the last thousandth of the straight before a port."""
    x, z = (
        near.si + (far.si - near.si) * (1.0 - NEAR_PORT) for near, far in zip(corner, pump.at, strict=True)
    )
    names = {*layout.runs, *layout.fittings, *layout.tees, *layout.intakes, *layout.pumps, *layout.reservoirs}
    fitted = next(name for name in (f"added K{n or ''}" for n in range(len(names) + 1)) if name not in names)
    last = next(name for name in (f"after it{n or ''}" for n in range(len(names) + 1)) if name not in names)
    at = (_length(x), _length(z))
    extra = Fitting(fitted, at, FittingKind.KNOWN_K, size=run.size, bore=run.bore, k=k, k_re=0.0)
    if run.end == pump.name:
        first = replace(run, end=fitted)
        rest = replace(run, name=last, start=fitted, via=(), out_of_plane=None)
    else:
        first = replace(run, start=fitted)
        rest = replace(run, name=last, end=fitted, via=(), out_of_plane=None)
    return replace(
        layout,
        runs={**layout.runs, run.name: first, last: rest},
        fittings={**layout.fittings, fitted: extra},
    )


def first_screen(layout: Layout, ledger: PumpLedger) -> str:
    """The first part with a screen on the way from the reservoir to a pump; "" where there is none."""
    for name in line_parts(ledger):
        if layout.screen(name) is not None:
            return name
    return ""


def blocked(present: Solution, ledger: PumpLedger) -> Variation | str:
    """How far the first strainer may be blocked; the reason in words where there is none."""
    layout = present.layout
    name = first_screen(layout, ledger)
    screen = layout.screen(name)
    if screen is None:
        return "there is no strainer on the way to the pump"
    return Variation(
        kind=Kind.SHARE,
        now=screen.blocked,
        worst=max(INPUTS["blocked"].searched[1], screen.blocked),
        best=0.0,
        change=lambda to: inputs.blocked(layout, (name,), to, present.level),
        meaning=f"blocked share of {name}",
        power=1.0,
        lost=lambda ledger: _loss_of(ledger, (name,)),
        pole=1.0,
        best_is="with a clean screen",
        note="" if screen.bypass is None else "once its bypass opens, more dirt takes no more",
    )


def _length(si: float) -> Quantity:
    return Quantity(f"{si!r} m", si)
