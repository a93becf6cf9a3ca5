"""What the what-if strip turns: where each figure stands in the drawing, how far it goes, how it is set."""

from __future__ import annotations

from collections.abc import Callable, Mapping
from dataclasses import dataclass

from sketch.editing import edits
from sketch.editing.edits import Value
from sketch.strip import in_case
from solver.answers.inputs import INPUTS, Input, Slider
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger
from solver.properties import fluid
from solver.quantities.units import Kind, Quantity, System


@dataclass(frozen=True, slots=True)
class KnobSubject:
    """The parts of the drawing that the strip turns; "" for one there is none of."""

    pump: str
    reservoir: str
    level: Level  # the level that can be turned, the minimum or the normal one
    screen: str
    case: str = AS_DRAWN  # the one in view


@dataclass(frozen=True, slots=True)
class Knob:
    """One figure of the strip, of the case in view where that has one of its own.

    `value`, `span` and `set` may be called where `reason` is "".
    """

    name: str
    input: Input
    slider: Slider
    part: Callable[[KnobSubject], str]  # that has the figure; "" for the whole drawing
    step: Mapping[System, float]  # of the slider, in the unit shown
    change: Callable[[Layout, KnobSubject, Value], Layout]  # of a drawing's own figure; raises EditError
    label: Callable[[KnobSubject], str]  # what the undo menu calls it

    @property
    def kind(self) -> Kind:
        """What its figure is, and so in which units it is shown."""
        return self.input.kind

    @property
    def moves_pump(self) -> bool:
        """Whether what it turns is where a pump stands, which its line follows."""
        return self.input.name == "port height"

    def path_in_case(self, layout: Layout, which: KnobSubject) -> in_case.Path | None:
        """The figure of the case in view that it turns; None where it turns the drawing's own."""
        return in_case.path_in(layout, which.case, _paths(self.input.name, which))

    def reason(self, layout: Layout, which: KnobSubject) -> str:
        """Why it cannot be turned; "" when it can."""
        if why := in_case.trouble(layout, which.case, _paths(self.input.name, which)):
            return why
        if self.path_in_case(layout, which) is not None:
            return ""
        value = self.slider.value(layout, self.part(which), which.level)
        return value if isinstance(value, str) else ""

    def value(self, layout: Layout, which: KnobSubject) -> Quantity:
        """The figure as typed. Raises ValueError where there is none."""
        path = self.path_in_case(layout, which)
        return self._drawn(layout, which) if path is None else in_case.value(layout, which.case, path)

    def _drawn(self, layout: Layout, which: KnobSubject) -> Quantity:
        value = self.slider.value(layout, self.part(which), which.level)
        if isinstance(value, str):
            raise ValueError(value)
        return value

    def span(self, layout: Layout, which: KnobSubject) -> tuple[float, float]:
        """The ends of the slider [SI unit of the kind]: a fluid's figures end that of its temperature."""
        path, part = self.path_in_case(layout, which), self.part(which)
        if path is None:
            low, high = self.slider.span(layout, part, which.level)
        else:
            low, high = in_case.span(layout, which.case, path, self.slider, part)
        if self.kind is not Kind.TEMPERATURE:
            return low, high
        choice = layout.fluid if path is None else in_case.layout_of(layout, which.case).fluid
        coldest, hottest = fluid.held_range(choice)
        now = self.value(layout, which).si
        return min(max(low, coldest), now), max(min(high, hottest), now)

    def set(self, layout: Layout, which: KnobSubject, value: Value) -> Layout:
        """The drawing with another figure. Raises EditError."""
        path = self.path_in_case(layout, which)
        if path is None:
            return self.change(layout, which, value)
        return in_case.with_text(layout, which.case, path, self.text_in_case(layout, which, path, value))

    def undo_label(self, layout: Layout, which: KnobSubject) -> str:
        """What the undo menu calls it, with the case whose figure it is where one is in view."""
        path = self.path_in_case(layout, which)
        if path is None:
            may_be_of_case = which.case != AS_DRAWN and _paths(self.input.name, which)
            return f"{self.label(which)}, {AS_DRAWN}," if may_be_of_case else self.label(which)
        what = f"Fluid level of {path[1]}" if path[0] == "levels" else self.label(which)
        return f'{what} in "{which.case}"'

    def text_in_case(self, layout: Layout, which: KnobSubject, path: in_case.Path, value: Value) -> str:
        """A figure of the case in view, as the case is to have it. Raises EditError."""

        def edited(laid: Layout) -> Quantity:
            return self._drawn(self.change(laid, which, value), which)

        return in_case.text_of(layout, which.case, path, value, edited)


def case_paths(knob: Knob, which: KnobSubject) -> tuple[tuple[str, ...], ...]:
    """The figures of a case that stand in the place of what a knob turns, the likeliest first."""
    return _paths(knob.input.name, which)


def _paths(varied: str, which: KnobSubject) -> tuple[tuple[str, ...], ...]:
    """The figures of a case that stand in the place of what a knob turns."""
    pump, screen = ("pumps", which.pump), ("screen", "blocked")
    paths: Mapping[str, tuple[tuple[str, ...], ...]] = {
        "temperature": (("fluid", "temperature"),),
        "level": (("levels", which.reservoir),),
        "speed": ((*pump, "speed"), (*pump, "flow"), (*pump, "at_rest")),
        "elevation": (("site", "elevation"), ("site", "barometer")),
        "blocked": (("intakes", which.screen, *screen), ("fittings", which.screen, *screen)),
    }
    return paths.get(varied, ())


def subject(
    layout: Layout, ledger: PumpLedger | None, pump: str, level: Level, case: str = AS_DRAWN
) -> KnobSubject:
    """The parts on the way to the pump that is shown; without a ledger the first of each sort.

    level, case: those that the ledger is of.
    """
    reservoir = ledger.reservoir if ledger else next(iter(layout.reservoirs), "")
    on_the_way = [entry.part for entry in ledger.entries] if ledger else [*layout.intakes, *layout.fittings]
    screens = [name for name in on_the_way if layout.screen(name) is not None]
    # What cylinders draw down starts from the normal level.
    turned = Level.MINIMUM if level == Level.MINIMUM else Level.NORMAL
    return KnobSubject(pump, reservoir, turned, screens[0] if screens else "", case)


def _knob(
    name: str,
    varied: str,
    part: Callable[[KnobSubject], str],
    step: tuple[float, float],
    change: Callable[[Layout, KnobSubject, Value], Layout],
    label: Callable[[KnobSubject], str],
) -> Knob:
    """A knob for one of `INPUTS`; `step` in US customary and in SI."""
    row = INPUTS[varied]
    assert row.slider is not None
    return Knob(name, row, row.slider, part, dict(zip(System, step, strict=True)), change, label)


KNOBS: tuple[Knob, ...] = (
    _knob(
        "Port height", "port height", lambda which: which.pump, (0.05, 0.01),
        lambda layout, which, y: edits.set_port_height(layout, which.pump, y),
        lambda which: f"Port height of {which.pump}",
    ),
    _knob(
        "Fluid temperature", "temperature", lambda which: "", (1.0, 0.5),
        lambda layout, which, kelvin: edits.set_temperature(layout, kelvin),
        lambda which: "Fluid temperature",
    ),
    _knob(
        "Fluid level", "level", lambda which: which.reservoir, (0.02, 0.005),
        lambda layout, which, y: edits.set_level(layout, which.reservoir, which.level, y),
        lambda which: f"{which.level.capitalize()} level of {which.reservoir}",
    ),
    _knob(
        "Pump speed", "speed", lambda which: which.pump, (10.0, 10.0),
        lambda layout, which, speed: edits.set_speed(layout, which.pump, speed),
        lambda which: f"Speed of {which.pump}",
    ),
    _knob(
        "Site elevation", "elevation", lambda which: "", (50.0, 10.0),
        lambda layout, which, z: edits.set_site_elevation(layout, z),
        lambda which: "Site elevation",
    ),
    _knob(
        "Strainer blocked", "blocked", lambda which: which.screen, (1.0, 1.0),
        lambda layout, which, share: edits.set_blocked(layout, which.screen, share),
        lambda which: f"Blocked share of {which.screen}",
    ),
)  # fmt: skip
