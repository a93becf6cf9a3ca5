"""The figures that a finding has of its own: each looked at in every case, against its threshold."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, replace

from solver.findings import line as of_line
from solver.findings import part as of_part
from solver.findings import pump as of_pump
from solver.findings.criteria import Subject, subjects
from solver.fixes.judging import Judged
from solver.formulas import flow
from solver.geometry import reservoirs
from solver.ledger.path import HeadEntryKind
from solver.quantities.adding import places_of
from solver.quantities.units import Kind, System, typeset

NEAR = 1e-3
"""Under a level, from where on an intake counts as covered [m]."""

JUST = 1e-9
"""Share by which a figure that stands on its threshold may pass it: what a root leaves."""


@dataclass(frozen=True, slots=True)
class Figure:
    """The figure of a finding against its threshold, in the case where it is worst."""

    value: float  # [SI unit of `kind`]
    threshold: float
    kind: Kind
    least: bool = False  # the value has to be over the threshold, not under it
    case: str = ""
    below_zero: str = ""  # what a value below zero means, where the figure alone says little
    of: str = ""  # what has the value, where that is not what the finding is of
    called: str = ""  # what the threshold is called, where there are several: "the usual"

    @property
    def excess(self) -> float:
        """By how much it misses the threshold; not above zero where it does not."""
        missed = self.threshold - self.value if self.least else self.value - self.threshold
        return missed - JUST * abs(self.threshold)

    def in_words(self, system: System) -> str:
        """How the figure stands: "3.0 ft/s, under 3.9 ft/s"."""
        if self.below_zero and self.value < 0:
            return self.below_zero
        value, threshold = (
            typeset(each, self.kind, system, places_of(self.kind)) for each in (self.value, self.threshold)
        )
        side = "over" if self.value > self.threshold else "under"
        has, limit = (f"{value} in {self.of}" if self.of else value), f"{self.called} {threshold}".lstrip()
        if value == threshold:
            enough = "just enough" if self.least else "no more than allowed"
            inside = f" in {self.of}" if self.of else ""
            return f"{has}, {enough}" if self.excess <= 0 else f"a little {side} {limit}{inside}"
        return f"{has}, {'' if self.excess <= 0 else 'still '}{side} {limit}"


Look = Callable[[Subject, str], Figure | None]
"""The figure of a part; None where there is none."""


def velocity(subject: Subject, part: str) -> Figure | None:
    """The fastest flow in a pipe, and which that is, against the usual most for the pump and fluid."""
    fastest = of_line.fastest_pipe(subject)
    if fastest is None:
        return None
    severity, threshold = of_line.velocity_criteria(subject)[-1]
    of, called = "" if fastest.part == part else fastest.part, of_line.MOST_VELOCITY[severity]
    return Figure(fastest.velocity, threshold, Kind.VELOCITY, of=of, called=called)


def start_viscosity(subject: Subject, part: str) -> Figure:
    """The thickest fluid, against the most with which the pump may start."""
    return Figure(of_pump.thickest(subject.solution).viscosity, of_pump.start_limit(subject), Kind.VISCOSITY)


def running_viscosity(subject: Subject, part: str) -> Figure:
    """The thinnest fluid, against the least with which the pump may run."""
    least = subject.criteria.running_viscosity
    return Figure(of_pump.thinnest_viscosity(subject.solution), least, Kind.VISCOSITY, least=True)


def free_air_share(subject: Subject, part: str) -> Figure | None:
    """The share of free air at the port, against the most."""
    share = of_pump.free_air_share(subject)
    return None if share is None else Figure(share, subject.criteria.free_air, Kind.SHARE)


def acceleration_share(subject: Subject, part: str) -> Figure | None:
    """The share of the acceleration head in the budget, against the most."""
    losses = [entry.loss for entry in subject.ledger.entries if entry.kind == HeadEntryKind.ACCELERATION]
    share = subject.share(sum(losses))
    if not losses or share is None:
        return None
    return Figure(share, subject.criteria.acceleration_share, Kind.SHARE)


def submergence(subject: Subject, part: str) -> Figure | None:
    """The depth of an intake under the level, against what keeps a vortex off."""
    for entry, _, intake in subject.intakes:
        if intake.name == part:
            depth, needed = of_line.depths(subject, entry, intake)
            return Figure(depth, needed, Kind.LENGTH, least=True)
    return None


def clearance(subject: Subject, part: str) -> Figure | None:
    """The clearance of an intake from the tank's floor, against the least in bores."""
    for entry, _, intake in subject.intakes:
        if intake.name == part:
            clear, bores = of_line.clearance(subject, intake)
            return Figure(clear, bores * entry.bore, Kind.LENGTH, least=True)
    return None


def narrowest_bore(subject: Subject, part: str) -> Figure | None:
    """The narrowest straight of the line, against the bore of the port."""
    bores = [row.bore for _, row in subject.line if row.kind == "straight"]
    needed = subject.port.bore * (1 - subject.criteria.bore_tolerance)
    return Figure(min(bores), needed, Kind.BORE, least=True) if bores else None


def bend_radius(subject: Subject, part: str) -> Figure | None:
    """The inside radius of the tightest bend of a hose, against the least that it takes."""
    radii = of_part.hose_radii(subject.layout, part)
    return None if radii is None else Figure(*radii, Kind.LENGTH, least=True)


def transitional(subject: Subject, part: str) -> Figure | None:
    """The largest share that an element of the part takes where flow is neither laminar nor turbulent."""
    shares = [
        subject.share(entry.loss) or 0.0
        for entry, _ in subject.everywhere
        if entry.part == part and flow.LAMINAR_END < (entry.reynolds or 0.0) < flow.TURBULENT_START
    ]
    return Figure(max(shares), subject.criteria.transitional_share, Kind.SHARE) if shares else None


def drawn_dry(subject: Subject, part: str) -> Figure | None:
    """The height of an intake against what the cylinders leave of the level."""
    intake = subject.layout.intakes.get(part)
    if intake is None:
        return None
    left = reservoirs.drawn_down(subject.layout.reservoirs[intake.reservoir])
    return None if left is None else Figure(of_line.mouth_top(intake), left - NEAR, Kind.LENGTH)


def uncovered(subject: Subject, part: str) -> Figure | None:
    """The height of an intake against the minimum level."""
    intake = subject.layout.intakes.get(part)
    if intake is None:
        return None
    level = subject.layout.reservoirs[intake.reservoir].minimum_level.si
    return Figure(of_line.mouth_top(intake), level - NEAR, Kind.LENGTH)


def baffle(subject: Subject, part: str) -> Figure | None:
    """The upper edge of a baffle that stands on the floor against the level."""
    tank = subject.layout.reservoirs.get(part)
    if tank is None or tank.baffle is None or reservoirs.passes_under(tank):
        return None
    return Figure(tank.baffle.top.si, reservoirs.level(tank, subject.solution.level) - NEAR, Kind.LENGTH)


def return_end(subject: Subject, part: str) -> Figure | None:
    """The height at which a return ends against the level."""
    tank = subject.layout.reservoirs.get(part)
    if tank is None or tank.return_at is None:
        return None
    return Figure(tank.return_at[1].si, reservoirs.level(tank, subject.solution.level) - NEAR, Kind.LENGTH)


def dry_lift(subject: Subject, part: str) -> Figure | None:
    """How high the top of a bore rises above the level that no foot valve holds full."""
    lifts = of_line.dry_lift_and_allowed(subject) if part == subject.pump.name else None
    under = "it stays under the level"
    return None if lifts is None else Figure(*lifts, Kind.LENGTH, below_zero=under)


def straight(subject: Subject, part: str) -> Figure | None:
    """The straight line before the port, in the bore of its last pipe."""
    (length, bore), needed = of_line.straight_bores(subject), subject.criteria.straight_before_port
    return Figure(length * bore, needed * bore, Kind.LENGTH, least=True)


def fall(subject: Subject, part: str) -> Figure | None:
    """The deepest fall after a high point of a part."""
    falls = [(drop, row.bore / 2) for _, row, drop in of_line.high_points(subject) if row.part == part]
    return Figure(*max(falls), Kind.LENGTH) if falls else None


def strainer_share(subject: Subject, part: str) -> Figure | None:
    """The share of the budget that a strainer takes when it is clean."""
    most = subject.criteria.strainer_share
    for entry, row, screen in subject.screens:
        share = subject.share(of_pump.clean_drop(subject, entry, row, screen)) if row.part == part else None
        if share is not None:
            return Figure(share, most, Kind.SHARE)
    return None


def screen_without_bypass(subject: Subject, part: str) -> Figure | None:
    """The drop of a screen without a bypass, against that at which bypasses open; None for any other part."""
    for entry, row, screen in subject.screens:
        if row.part == part and screen.bypass is None:
            drop = of_pump.screen_drop(subject, entry, row)
            return Figure(drop, subject.criteria.bypass_opening, Kind.VACUUM)
    return None


def screen_with_bypass(subject: Subject, part: str) -> Figure | None:
    """The drop of a screen against that at which its bypass opens."""
    for entry, row, screen in subject.screens:
        if row.part == part and screen.bypass is not None:
            return Figure(of_pump.screen_drop(subject, entry, row), row.cap, Kind.VACUUM)
    return None


def no_figure(subject: Subject, part: str) -> None:
    """Stands for a finding that has no figure: it holds or does not."""
    return


def figure_of(judged: Judged, look: Look, part: str) -> Figure | None:
    """The figure of a part in the case where it is worst; None where no case has one."""
    figures = [
        replace(figure, case=case)
        for case, solution in judged.solutions.items()
        for subject in subjects(solution)
        if subject.ledger.pump == judged.pump and (figure := look(subject, part)) is not None
    ]
    return max(figures, key=lambda figure: figure.excess, default=None)
