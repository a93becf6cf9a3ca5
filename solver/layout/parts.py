"""The drawing as frozen values.

A `Layout` is one drawing, complete and valid in form (every quantity has the right dimension, every name is
unique, every reference resolves). It is never changed: an edit makes a new one with `dataclasses.replace`.
Mappings are plain dicts in file order; nobody writes to them after construction.

Every quantity keeps the text it was typed as (`units.Quantity`); the calculation reads its `.si`.
Elevations share one datum with y up; x runs right.
"""

from __future__ import annotations

from collections.abc import Mapping
from dataclasses import dataclass, field, replace
from enum import StrEnum
from typing import Any

from solver.layout.kinds import Bend, FittingKind, IntakeKind, LimitForm, PumpType, ValveState
from solver.layout.logged import LoggedReading
from solver.layout.remarks import OwnDimension, OwnText
from solver.layout.title_block import TitleBlock
from solver.quantities.units import Kind, Quantity, System

Point = tuple[Quantity, Quantity]
"""(x, y), both lengths [m]."""

Pairs = tuple[tuple[Quantity, Quantity], ...]
"""Values over temperature, speed or flow: ((argument, value), ...)."""


@dataclass(frozen=True, slots=True)
class Site:
    """Where the pump stands: at an elevation, under a barometer, or both, which are then compared."""

    elevation: Quantity | None = None
    barometer: Quantity | None = None  # station pressure, not reduced to sea level
    altimeter_setting: Quantity | None = None  # of an airport's report, with the elevation
    weather_allowance: Quantity | None = None  # taken off for a low-pressure day


@dataclass(frozen=True, slots=True)
class FluidChoice:
    """A catalogue name, and the figures typed in its place. None means: the catalogue's."""

    name: str
    temperature: Quantity
    coldest_start: Quantity | None = None
    line_temperature: Quantity | None = None  # of what stands in the line; None: as in the tank
    density: Quantity | Pairs | None = None
    viscosity: Quantity | Pairs | None = None
    viscosity_index: float | None = None
    vapor_pressure: Quantity | Pairs | None = None
    dissolved_air: float | None = None
    pour_point: Quantity | None = None  # below it nothing is calculated
    # In the line, where a question asks of a figure in the place of the one typed; no key of a file.
    line_density: Quantity | None = None
    line_viscosity: Quantity | None = None

    @property
    def has_one_viscosity(self) -> bool:
        """Whether a single figure is typed, which holds at the temperature drawn and at no other."""
        return isinstance(self.viscosity, Quantity)


@dataclass(frozen=True, slots=True)
class Baffle:
    """A plate that stands across a reservoir, square to the sheet."""

    x: Quantity
    top: Quantity  # elevation of its upper edge
    bottom: Quantity | None = None  # of its lower edge; None: it stands on the floor


@dataclass(frozen=True, slots=True)
class Reservoir:
    """A tank, seen from the side: its outline, levels, and what lies or stands in it."""

    name: str
    outline: tuple[Point, ...]
    depth: Quantity  # into the page
    normal_level: Quantity
    minimum_level: Quantity
    pressure: Quantity | None = None  # gauge, above the fluid; of a sealed one at its normal level
    sealed: bool = False  # the gas above the fluid is shut in, and expands as the level falls
    breather_drop: Quantity | None = None  # what the breather takes while the level falls
    draw_down: Quantity | None = None  # volume that cylinders take out of it, from the normal level
    return_at: Point | None = None  # where the return line ends
    baffle: Baffle | None = None
    level: Quantity | None = None  # where its fluid stands, in place of the level that the drawing names
    # Where the intakes lie in a tank with several low places, as the layout sets it; no key of a file [m].
    intakes_at: tuple[tuple[float, float], ...] = ()

    @property
    def has_several_low_places(self) -> bool:
        """Whether fluid may be parted in it, as by a hump in its floor."""
        level = [y.si for _, y in self.outline]
        heights = [
            height for height, before in zip(level, (level[-1], *level), strict=False) if height != before
        ]
        around = zip((heights[-1:] or [0.0]) + heights, heights, (*heights[1:], *heights[:1]), strict=False)
        return sum(before > height < after for before, height, after in around) > 1


@dataclass(frozen=True, slots=True)
class Screen:
    """A strainer's or filter's element: from its mesh, or from the maker's points."""

    mesh: Quantity | None = None  # wires per length [1/m]
    wire: Quantity | None = None
    area: Quantity | None = None
    drops: Pairs = ()  # ((flow, drop), ...)
    viscosity: Quantity | None = None  # at which `drops` were measured
    density: Quantity | None = None
    blocked: float = 0.0  # blocked share of the area, 0 to below 1
    bypass: Quantity | None = None  # opening pressure
    bypass_flow: Quantity | None = None  # a point of the open bypass: at this flow
    bypass_drop: Quantity | None = None  # and viscosity it takes this
    bypass_viscosity: Quantity | None = None
    own_part: str | None = None  # of a catalogue of one's own, that the figures were copied from
    assumed: bool = False  # nobody has stated its figures: some to begin with


@dataclass(frozen=True, slots=True)
class Intake:
    """Where fluid enters the line."""

    name: str
    reservoir: str
    at: Point
    kind: IntakeKind
    size: str | None = None  # exactly one of size and bore is set, here and below
    bore: Quantity | None = None
    screen: Screen | None = None


@dataclass(frozen=True, slots=True)
class Opening:
    """A valve that stands part-open: its flow coefficient there. Exactly one is set."""

    kv: Quantity | None = None
    cv: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Curve:
    """A maker's points for any device, with the fluid they were measured in."""

    drops: Pairs  # ((flow, drop), ...)
    viscosity: Quantity
    density: Quantity


@dataclass(frozen=True, slots=True)
class Fitting:
    """A part that sits in the line.

    A reducer has two ends, `size` or `bore` and `other_size` or `other_bore`; it is fitted the way round
    that suits the lines it joins.
    """

    name: str
    at: Point
    kind: FittingKind
    size: str | None = None
    bore: Quantity | None = None
    k: float | None = None
    kv: Quantity | None = None
    cv: Quantity | None = None
    drop: Quantity | None = None
    head: Quantity | None = None  # in the place of `drop`: lost, of the fluid that flows
    flow: Quantity | None = None  # at which `drop` or `head` holds; without it the same at any flow
    viscosity: Quantity | None = None  # with which `drop` or `head` was read, and the density of a `drop`
    density: Quantity | None = None
    screen: Screen | None = None
    k_re: float | None = None  # of a known K: what is added in slow flow, over the Reynolds number
    state: ValveState | None = None  # None: open
    opening: Opening | None = None
    curve: Curve | None = None  # replaces the figure of its kind
    length: Quantity | None = None  # of a reducer's cone or a flexible connector
    other_size: str | None = None
    other_bore: Quantity | None = None
    own_part: str | None = None  # of a catalogue of one's own, that the figures were copied from

    @property
    def closed(self) -> bool:
        """Nothing passes."""
        return self.state == ValveState.CLOSED


@dataclass(frozen=True, slots=True)
class Tee:
    """Where three runs meet."""

    name: str
    at: Point
    size: str | None = None
    bore: Quantity | None = None


@dataclass(frozen=True, slots=True)
class Limit:
    """What the pump maker allows at the port.

    A single figure has one pair with no speed: `((None, value),)`.
    """

    form: LimitForm
    table: tuple[tuple[Quantity | None, Quantity], ...]
    over: Kind = Kind.SPEED  # or flow: what the table runs over


@dataclass(frozen=True, slots=True)
class Pump:
    """`at` is the centre of the inlet port.

    Either `displacement` and `speed` are set, or `flow` (which overrides them). A reciprocating pump has
    its `speed`, and either `cylinders` or `cylinder_constant`.
    """

    name: str
    at: Point
    type: PumpType
    limit: Limit
    size: str | None = None
    bore: Quantity | None = None
    displacement: Quantity | None = None  # [m³ a revolution]
    speed: Quantity | None = None  # [rev/s]
    flow: Quantity | None = None
    limit_assumed: bool = False  # nobody has stated it: a figure to begin with
    rated_speed: Quantity | None = None
    rated_density: Quantity | None = None
    rated_fluid: str | None = None  # the fluid for which the maker's figure holds, by its name
    start_viscosity: Quantity | None = None
    credit: bool = False  # let a slower speed or a lighter fluid loosen the limit
    volumetric_efficiency: float | None = None  # share of displacement × speed that it takes in; None: all
    cylinders: int | None = None
    double_acting: bool | None = None  # None: single-acting
    cylinder_constant: float | None = None  # C of the acceleration head, in place of `cylinders`
    fluid_constant: float | None = None  # K of the acceleration head; None: by the fluid
    case_volume: Quantity | None = None  # what the pump's case holds [m³]
    dry_lift: Quantity | None = None  # height up to which its maker lets it prime an empty line [m]
    priming_speed: Quantity | None = None  # the least at which it primes, its maker says [rev/s]
    priming_time: Quantity | None = None  # the longest it may turn without fluid, its maker says [s]
    at_rest: bool = False  # it takes nothing in
    flow_rise: Quantity | None = None  # full flow over its steepest rise [s]; None: it runs already
    own_part: str | None = None  # of a catalogue of one's own, that the figures were copied from


@dataclass(frozen=True, slots=True)
class Run:
    """A pipe, tube or hose between two parts; `via` are its corners, in order."""

    name: str
    start: str  # the part it comes from
    end: str  # the part it goes to
    via: tuple[Point, ...] = ()
    size: str | None = None
    bore: Quantity | None = None
    material: str | None = None  # a name in sizes.ROUGHNESS; None with no roughness: by its size
    roughness: Quantity | None = None
    bend: Bend = Bend.LONG_RADIUS
    bend_radius: Quantity | None = None  # replaces `bend`
    out_of_plane: Quantity | None = None
    own_part: str | None = None  # of a catalogue of one's own, that the figures were copied from


class Level(StrEnum):
    """At which of its levels the fluid stands in every reservoir."""

    MINIMUM = "minimum"
    NORMAL = "normal"
    DRAWN_DOWN = "drawn down"  # what cylinders leave of the normal level


Part = Reservoir | Intake | Fitting | Tee | Pump | Run

SHORT_CASE = "coldest start"
"""The case that `fluid.coldest_start` is the short form of."""
CYLINDERS = (1, 2, 3, 5, 7, 9)
"""Numbers of cylinders for which a constant of the acceleration head is published."""


@dataclass(frozen=True, slots=True)
class Case:
    """What happens to a drawing: figures that take the place of its own while everything else stays.

    `table` is the case as a file has it. `figures` are what could be read of it, by key path: the value at
    ("fluid", "temperature") is a quantity. `problems` are what could not: (key path, found, allowed).
    """

    table: Mapping[str, Any] = field(default_factory=dict)
    figures: Mapping[tuple[str, ...], Any] = field(default_factory=dict)
    problems: tuple[tuple[tuple[str | int, ...], str, str], ...] = ()
    # Figures of a screen that an alternative has taken out of its part.
    without_screen: frozenset[tuple[str, ...]] = field(default=frozenset(), compare=False)

    @property
    def note(self) -> str:
        """What its author says of it."""
        note = self.table.get("note", "")
        return note if isinstance(note, str) else ""

    @property
    def is_fault(self) -> bool:
        """Whether something is wrong in it, which can be put right."""
        return self.table.get("fault") is True

    @property
    def lacks_start(self) -> bool:
        """Whether a start belongs to it of which nobody knows how quickly the flow rises."""
        return self.table.get("start_not_counted") is True


@dataclass(frozen=True, slots=True)
class Layout:
    """A drawing, or an alternative of it: site, fluid and parts by name, as typed."""

    title: str
    site: Site
    fluid: FluidChoice
    reservoirs: Mapping[str, Reservoir]
    intakes: Mapping[str, Intake]
    pumps: Mapping[str, Pump]
    runs: Mapping[str, Run]
    fittings: Mapping[str, Fitting] = field(default_factory=dict)
    tees: Mapping[str, Tee] = field(default_factory=dict)
    notes: str = ""
    units: System = System.US  # in which results are shown
    criteria: Mapping[str, Quantity] = field(default_factory=dict)  # that findings are held to, by name
    # What their table is called: "limits" as a file of format 1 has it. It changes nothing of what is drawn.
    criteria_table: str = field(default="criteria", compare=False)
    level: Level | None = None  # None: it names none
    cases: Mapping[str, Case] = field(default_factory=dict)  # what it has to live through, by name
    built: str = ""  # the date that the line was built as drawn; "": not noted
    readings: tuple[LoggedReading, ...] = ()  # of gauges, in the order of the file
    title_block: TitleBlock = field(default_factory=TitleBlock)  # of the sheet for a client
    texts: tuple[OwnText, ...] = ()  # of one's own on the drawing
    dimensions: tuple[OwnDimension, ...] = ()
    # By case, how cold the line may still be where a change has warmed the tank alone; no key of a file.
    lines_left_cold: Mapping[str, Quantity] = field(default_factory=dict, compare=False)

    def __post_init__(self) -> None:
        known = {name: self._with_intakes(tank) for name, tank in self.reservoirs.items()}
        if any(known[name] is not tank for name, tank in self.reservoirs.items()):
            object.__setattr__(self, "reservoirs", known)

    def _with_intakes(self, tank: Reservoir) -> Reservoir:
        """A tank that knows where its intakes lie, if that counts."""
        at: tuple[tuple[float, float], ...] = ()
        if tank.has_several_low_places:
            inside = (each.at for each in self.intakes.values() if each.reservoir == tank.name)
            at = tuple((x.si, y.si) for x, y in inside if isinstance(x.si, float) and isinstance(y.si, float))
        return tank if at == tank.intakes_at else replace(tank, intakes_at=at)

    def part(self, name: str) -> Part:
        """The part of that name. Raises KeyError."""
        for group in (self.runs, self.fittings, self.pumps, self.intakes, self.tees, self.reservoirs):
            if name in group:
                return group[name]
        raise KeyError(name)

    def joint(self, name: str) -> Intake | Fitting | Tee | Pump:
        """The part of that name which a run may end on. Raises KeyError."""
        for group in (self.fittings, self.pumps, self.intakes, self.tees):
            part = group.get(name)
            if part is not None:
                return part
        raise KeyError(name)

    def screen(self, name: str) -> Screen | None:
        """The screen of the intake or fitting of that name; None where there is none."""
        part = self.intakes.get(name) or self.fittings.get(name)
        return part.screen if part is not None else None
