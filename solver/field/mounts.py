"""How a gauge is fitted at a place of a machine, as its readings note it."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.field import places
from solver.field.gauges import Gauge, Tube
from solver.field.places import Place
from solver.field.state_read import NotExplainedError, place_of
from solver.formulas.flow import GRAVITY
from solver.layout.known_gauges import with_known_gauge
from solver.layout.logged import LoggedReading
from solver.layout.parts import Layout
from solver.ledger.solve import Solution


@dataclass(frozen=True, slots=True)
class Mount:
    """How a gauge is fitted at a place, as its last reading notes it."""

    place: Place
    gauge: Gauge  # a plain one of class 1.6 where neither class nor range is noted
    over_port: float | None = None  # its height over the pump's port [m]; None: not noted
    full: bool | None = None  # whether its tube is full of fluid; None: not noted

    @property
    def known(self) -> bool:
        """Whether what it shows can be worked out."""
        return self.full is False or (self.full is True and self.over_port is not None)

    def shift(self, solution: Solution) -> float:
        """What it shows more than there is at its place [Pa]; 0 where that is not known."""
        if not self.full or self.over_port is None:
            return 0.0
        port = solution.layout.pumps[self.place.pump].at[1].si
        rise = port + self.over_port - places.height(solution, self.place)
        return correction(solution, self.place.pump, rise)


def mount_of(layout: Layout, place: Place) -> Mount:
    """How the gauge at a place is fitted: that of the last reading there, with what is noted of it anywhere.

    What other gauges were, at that place or at another, is not taken over.
    """
    read = [each for each in layout.readings if each.pump == place.pump and tap(layout, each) == place]
    read.sort(key=lambda each: each.moment)
    name = next((each.gauge.name for each in reversed(read) if each.gauge.name), "")
    mount = Mount(place, Gauge(name))
    for logged in read:
        typed = with_known_gauge(layout.readings, logged)[0].gauge
        if typed.name not in ("", name):
            continue
        if typed.accuracy is not None or typed.range is not None:
            share = None if typed.accuracy is None else typed.accuracy / 100.0
            span = None if typed.range is None else typed.range.si
            mount = replace(mount, gauge=Gauge(name, accuracy=share, range=span))
        if typed.over_port is not None:
            mount = replace(mount, over_port=typed.over_port.si)
        if typed.tube in (str(Tube.FULL), str(Tube.EMPTY)):
            mount = replace(mount, full=typed.tube == Tube.FULL)
    return mount


def tap(layout: Layout, logged: LoggedReading) -> Place | None:
    """Where a reading was taken; None where its place is not in the drawing."""
    try:
        return place_of(layout, logged)
    except NotExplainedError:
        return None


def correction(solution: Solution, pump: str, rise: float) -> float:
    """What a gauge shows more for standing so much over its tap with its tube full [Pa]; `rise` in [m]."""
    return solution.pumps[pump].density * GRAVITY * rise
