"""What a check is made of: its criteria, the ledger that it looks at, what it finds."""

from __future__ import annotations

import dataclasses
from collections.abc import Callable, Container, Iterable, Iterator, Mapping
from dataclasses import dataclass
from functools import cached_property, lru_cache
from operator import itemgetter
from typing import Any, NamedTuple

from solver.findings.kinds import FindingId, Severity
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Fitting, Intake, Layout, Pump, Screen
from solver.ledger.path import HeadEntryKind, Walk, way_of
from solver.ledger.rounding import is_at_port, port_figures
from solver.ledger.solve import Entry, PumpLedger, Solution
from solver.network.build import Row
from solver.network.rows import RowKind
from solver.network.ways import PIPES
from solver.quantities.adding import gained, places_of
from solver.quantities.units import Kind, System, typeset, with_minus

TRADE = "common practice, no source"
HARD_TO_IGNITE = TRADE + ", unverified: fluids of the classes HFA, HFB, HFC and HFD"

SOLVED, IN_FIGURES = True, False
"""Where what to try comes from: changes of the drawing that are solved (`solver.fixes.remedies`), or the
figures of the ledger, which the check puts into words itself or `solver.findings.advice` for it."""


@dataclass(frozen=True, slots=True)
class Finding:
    """What one check found: a number against its threshold, why it matters, what to try."""

    finding: FindingId
    severity: Severity
    part: str
    key: str  # of the entry it is about; empty when it is about the whole part
    value: float | None  # [SI unit of `kind`]; None where the finding is about no figure
    threshold: float | None  # [SI unit of `kind`]; None where there is none
    kind: Kind
    text: str  # one sentence with the numbers, in the drawing's display units
    why: str
    advice: str  # what to try; empty where nothing is to be said, or where it is still to be worked out
    source: str  # of the threshold
    cases: tuple[str, ...] = ()  # it holds in, where several were looked at
    figures_of: str = ""  # the case, of those, that its figures are of
    milder: tuple[tuple[Severity, str], ...] = ()  # cases in which it is less grave, with how grave
    unsolved: bool = False  # whether what to try is still to be worked out from the drawing


def case_in_words(case: str) -> str:
    """A case as a sentence names it: as drawn, and any other in quotation marks."""
    return case if case == AS_DRAWN else f'"{case}"'


def in_case(case: str) -> str:
    """The case that figures are of, as the end of a sentence."""
    return case if case == AS_DRAWN else f'in "{case}"'


def held_in(finding: Finding, cases: int) -> str:
    """In which of so many cases a finding holds, and of which its figures are; "" for a single case."""
    if cases < 2 or not finding.cases:
        return ""
    every, milder = len(finding.cases) == cases, {case for _, case in finding.milder}
    named = [case_in_words(case) for case in finding.cases if every or case not in milder]
    where = ("In every case" if every else f"Cases: {', '.join(named)}") + milder_in(finding)
    one = len(finding.cases) < 2 or finding.value is None or not finding.figures_of
    of = AS_DRAWN if finding.figures_of == AS_DRAWN else f'of "{finding.figures_of}"'
    return where if one else f"{where}; the figures are those {of}"


def milder_in(finding: Finding) -> str:
    """In which of its cases a finding is less grave, as the end of a sentence; "" for none."""
    by_severity: dict[Severity, list[str]] = {}
    for severity, case in finding.milder:
        by_severity.setdefault(severity, []).append(case_in_words(case))
    return "".join(f"; a {severity} in {', '.join(cases)}" for severity, cases in by_severity.items())


class Hit(NamedTuple):
    """What one check saw: a finding before its standing words are put to it."""

    severity: Severity
    part: str
    key: str
    value: float | None
    threshold: float | None
    kind: Kind
    text: str
    advice: str = ""  # what to try, in figures of this ledger; empty where it is worked out later, if at all


def _setting(default: Any, kind: Kind, source: str) -> Any:
    return dataclasses.field(default=default, metadata={"kind": kind, "source": source})


@dataclass(frozen=True, slots=True)
class Criteria:
    """The figures the checks hold the ledger against. Each field's metadata names its kind and source."""

    thin_margin: float = _setting(0.20, Kind.SHARE, TRADE)
    thin_pressure: float = _setting(1700.0, Kind.PRESSURE, TRADE)
    vapor_margin: float = _setting(10e3, Kind.PRESSURE, TRADE)
    free_air: float = _setting(0.02, Kind.SHARE, TRADE)
    velocity_caution: float = _setting(
        1.2, Kind.VELOCITY, TRADE + ": the usual range of a suction line ends there"
    )
    velocity_stop: float = _setting(1.5, Kind.VELOCITY, TRADE + ": the utmost in a suction line")
    velocity_caution_fire_resistant: float = _setting(0.8, Kind.VELOCITY, HARD_TO_IGNITE)
    velocity_stop_fire_resistant: float = _setting(1.0, Kind.VELOCITY, HARD_TO_IGNITE)
    velocity_centrifugal: float = _setting(
        2.4, Kind.VELOCITY, "ANSI/HI 9.6.6 suction piping of rotodynamic pumps, unverified"
    )
    floor_clearance: float = _setting(0.5, Kind.NUMBER, TRADE)
    floor_clearance_plain: float = _setting(1.5, Kind.NUMBER, TRADE)
    running_viscosity: float = _setting(10e-6, Kind.VISCOSITY, TRADE)
    start_viscosity_vane: float = _setting(860e-6, Kind.VISCOSITY, TRADE)
    start_viscosity_other: float = _setting(1000e-6, Kind.VISCOSITY, TRADE)
    strainer_share: float = _setting(0.20, Kind.SHARE, TRADE)
    bypass_opening: float = _setting(20684.0, Kind.PRESSURE, TRADE + ": no suction bypass opens later")
    straight_before_port: float = _setting(5.0, Kind.NUMBER, TRADE)
    bore_tolerance: float = _setting(0.02, Kind.SHARE, "ours: wall tolerances of pipe and tube")
    transitional_share: float = _setting(0.10, Kind.SHARE, "ours: above it the doubt shows in the verdict")
    reservoir_minutes: float = _setting(3.0, Kind.NUMBER, TRADE)
    clearing_froude: float = _setting(
        1.075,
        Kind.NUMBER,
        "Wisner, Mohsen and Kouwen (1975), J. Hydraul. Div. ASCE 101, unverified: "
        "v/√(gD) = 0.25 √(sin θ) + 0.825, for a vertical fall",
    )
    acceleration_share: float = _setting(0.20, Kind.SHARE, TRADE)


DEFAULTS = Criteria()
"""The criteria of a drawing that has typed none."""


def criteria_of(layout: Layout) -> Criteria:
    """The criteria a drawing is held to: the defaults, and in their place what it has typed."""
    if not layout.criteria:
        return DEFAULTS
    return Criteria(**{name: quantity.si for name, quantity in layout.criteria.items()})


SOURCES: Mapping[str, str] = {f.name: f.metadata["source"] for f in dataclasses.fields(Criteria)}
"""Where the default of each criterion comes from."""


def percent(share: float) -> str:
    """A share in whole per cent."""
    return with_minus(f"{share:.0%}".replace("%", " %"))


def percent_and_limit(share: float, limit: float) -> tuple[str, str]:
    """A share and its limit in per cent, with as few decimals as part the two."""
    digits = next((each for each in range(4) if f"{share:.{each}%}" != f"{limit:.{each}%}"), 0)
    shown, most = (with_minus(f"{each:.{digits}%}".replace("%", " %")) for each in (share, limit))
    return shown, most.replace(f".{'0' * digits} ", " ") if digits else most


def place_in_words(layout: Layout, entry: Entry) -> str:
    """Where an entry is, as a sentence names it: "straight 1 of lead", "the bore change at the wash pump"."""
    match entry.kind:
        case RowKind.STRAIGHT | RowKind.BEND:
            return f"{entry.element} of {entry.part}"
        case HeadEntryKind.PORT:
            return f"the port of {entry.part}"
        case HeadEntryKind.FLOODED:
            return f"the fluid surface in {entry.part}"
        case "corner":
            return f"the corner at {entry.part}"
        case RowKind.BORE_CHANGE:
            joint = entry.element.removeprefix("bore change at ")
            if joint not in layout.pumps or "pump" in joint.lower():
                return f"the {entry.element}"
            return f"the bore change at the {joint} pump"
    if entry.part in layout.fittings:
        return entry.part
    return f"the {entry.element} of {entry.part}"


_typeset = lru_cache(maxsize=1024)(typeset)
"""Much of what is written of one case is written of the next one too."""


class Subject:
    """One pump's ledger as a check looks at it."""

    def __init__(
        self,
        solution: Solution,
        ledger: PumpLedger,
        criteria: Criteria,
        system: System,
        drawn: Mapping[str, float],
    ) -> None:
        """drawn: what all pumps take from each reservoir [m³/s]."""
        self.solution, self.ledger = solution, ledger
        self.criteria, self.system, self.drawn = criteria, system, drawn
        self.layout: Layout = solution.layout
        self.pump: Pump = self.layout.pumps[ledger.pump]
        self.port: Entry = ledger.entries[-1]
        self.walk: Walk = way_of(solution.network, ledger.entries)
        self.elements, self.way = self.walk
        network = solution.network
        # The entries of the lines in parallel with the walk, with their rows.
        self.parallel: tuple[tuple[Entry, Row], ...] = tuple(
            [(entry, network.rows[network.index[entry.key]]) for entry in ledger.parallel_entries]
        )
        # The screens on any way to the pump, with the entries of their elements.
        self.screens = self._screens()
        # The least static pressure on any way to the pump [Pa], and the key of the entry where it is.
        self.lowest = self._lowest()

    @cached_property
    def line(self) -> tuple[tuple[Entry, Row], ...]:
        """The entries that are rows, with their rows, in walking order."""
        return tuple(zip(self.elements, self.way.rows, strict=True))

    @property
    def everywhere(self) -> tuple[tuple[Entry, Row], ...]:
        """The walk and the lines in parallel with it: all that flows to the pump."""
        return (*self.line, *self.parallel)

    @cached_property
    def pipes(self) -> tuple[Entry, ...]:
        """The entries of straights and bends, wherever fluid flows to the pump."""
        elements, way = self.walk
        walk = [elements[place] for place in way.pipes]
        return (*walk, *(entry for entry, row in self.parallel if row.kind in PIPES))

    @cached_property
    def others(self) -> tuple[tuple[Entry, Row], ...]:
        """What is no pipe, wherever fluid flows to the pump."""
        elements, way = self.walk
        walk = [(elements[place], way.rows[place]) for place in way.other_than_pipes]
        return (*walk, *(each for each in self.parallel if each[1].kind not in PIPES))

    @cached_property
    def intakes(self) -> tuple[tuple[Entry, Row, Intake], ...]:
        """The intakes that feed the pump, with the entries of their entrances."""
        drawn = self.layout.intakes
        return tuple((e, row, drawn[row.part]) for e, row in self.others if row.kind == RowKind.ENTRANCE)

    @cached_property
    def fitted(self) -> tuple[tuple[Entry, Row, Fitting | Intake], ...]:
        """Fittings and intakes on any way to the pump, with the entries of their elements."""
        fittings, intakes = self.layout.fittings, self.layout.intakes
        parts = ((e, row, fittings.get(row.part) or intakes.get(row.part)) for e, row in self.others)
        return tuple((e, row, part) for e, row, part in parts if part is not None)

    def _screens(self) -> tuple[tuple[Entry, Row, Screen], ...]:
        walk = [(self.elements[place], self.way.rows[place]) for place in self.way.screens]
        rows = [*walk, *(each for each in self.parallel if each[1].kind == RowKind.SCREEN)]
        fittings, intakes = self.layout.fittings, self.layout.intakes
        parts = [(entry, row, fittings.get(row.part) or intakes[row.part]) for entry, row in rows]
        return tuple([(entry, row, part.screen) for entry, row, part in parts if part.screen is not None])

    def _lowest(self) -> tuple[float, str]:
        parallel = [(entry.pressure, entry.key) for entry in self.ledger.parallel_entries]
        return min([(self.ledger.lowest, self.ledger.lowest_at), *parallel], key=itemgetter(0))

    def show(self, si: float, kind: Kind) -> str:
        """A value [SI unit of the kind] with its unit, as the drawing shows it, or its ledger."""
        return _typeset(si, kind, self.system, places_of(kind))

    def show_below_atmosphere(self, pressure: float) -> str:
        """How far a pressure on the way lies below the atmosphere, as the ledger has both [Pa absolute]."""
        if is_at_port(pressure, self.ledger):
            return self.show(port_figures(self.ledger, self.system)[0], Kind.VACUUM)
        return self.show(gained(pressure, self.ledger.atmosphere, Kind.ABSOLUTE, self.system), Kind.VACUUM)

    def entry(self, key: str) -> Entry:
        """The entry of a key. Raises KeyError."""
        for entry in (*self.ledger.entries, *self.ledger.parallel_entries):
            if entry.key == key:
                return entry
        raise KeyError(key)

    def where(self, key: str) -> str:
        """Where the entry of a key is, in words."""
        return place_in_words(self.layout, self.entry(key))

    def share(self, pressure: float) -> float | None:
        """Share of the budget; None without a budget."""
        return pressure / self.ledger.budget if self.ledger.budget > 0 else None


def subjects(
    solution: Solution, criteria: Criteria | None = None, system: System | None = None
) -> Iterator[Subject]:
    """Every pump of a solution, as a check looks at it. Parameters as `checks.check`."""
    held = criteria if criteria is not None else criteria_of(solution.layout)
    shown = system if system is not None else solution.layout.units
    drawn: dict[str, float] = {}
    for ledger in solution.pumps.values():
        drawn[ledger.reservoir] = drawn.get(ledger.reservoir, 0.0) + ledger.flow
    return (Subject(solution, ledger, held, shown, drawn) for ledger in solution.pumps.values())


def built(subject: Subject) -> tuple[object, ...]:
    """What is built: the way to a pump, its parts and the reservoirs. Of lines in parallel how they share the
    flow counts too, which each case has of its own."""
    if subject.ledger.parallel_entries:
        return (subject,)
    layout = subject.layout
    return subject.way, layout.runs, layout.fittings, layout.intakes, *layout.reservoirs.values()


def flowing(subject: Subject) -> tuple[object, ...]:
    """What is built, how much of which fluid flows through it for the pump, and how high the fluid stands:
    all but how thick and heavy it is, and the pressures."""
    solution = subject.solution
    return solution.flows, solution.level, subject.pump, subject.layout.fluid.name, *built(subject)


def weather(subject: Subject) -> tuple[object, ...]:
    """The site, and the reservoir that its air presses on."""
    return subject.layout.site, subject.layout.reservoirs[subject.ledger.reservoir]


@dataclass(frozen=True, slots=True)
class Check:
    """One check: how it looks, and the words that go with what it finds."""

    finding: FindingId
    look: Callable[[Subject], Iterable[Hit]]
    why: str
    solved: bool  # SOLVED or IN_FIGURES
    source: str
    alike: Callable[[Subject], tuple[object, ...]] | None = None  # all that it looks at; None: much

    def finding_of(self, hit: Hit) -> Finding:
        """What was seen, with the words that go with it."""
        return Finding(
            self.finding,
            hit.severity,
            hit.part,
            hit.key,
            hit.value,
            hit.threshold,
            hit.kind,
            hit.text,
            self.why,
            hit.advice,
            self.source,
            unsolved=self.solved,
        )


Placed = tuple[int, Finding]
"""A finding, and the place of its check in the table."""

PlacedChecks = tuple[tuple[int, Check], ...]
"""Checks, each with its place in the table, that look at the same."""


class SharedFindings:
    """What checks have found that look at the same in several cases of a drawing."""

    def __init__(self, passed_over: Container[FindingId] = ()) -> None:
        self._passed_over = passed_over
        # With the very objects that were looked at, so that no other gets the identity of one.
        self._kept: dict[tuple[int, ...], tuple[tuple[object, ...], list[Placed]]] = {}

    def look(self, checks: PlacedChecks, subject: Subject) -> list[Placed]:
        """What checks find in a case."""
        return [
            (place, row.finding_of(hit))
            for place, row in checks
            if row.finding not in self._passed_over
            for hit in row.look(subject)
        ]

    def before(self, checks: PlacedChecks, subject: Subject) -> list[Placed]:
        """What checks find, or have found in a case that has the very same of what they look at."""
        place, first = checks[0]
        looked_at = first.alike(subject) if first.alike is not None else (subject,)
        key = (place, *map(id, looked_at))
        if key not in self._kept:
            self._kept[key] = looked_at, self.look(checks, subject)
        return self._kept[key][1]
