"""How far a figure of the strip may go with every pump sound in every case, searched in short steps."""

from __future__ import annotations

from collections.abc import Callable, Generator, Iterator
from itertools import takewhile

from sketch.editing.edits import EditError
from sketch.strip.knobs import Knob, KnobSubject
from solver.geometry.outline import GeometryError
from solver.layout.cases import CaseError, cases_of, layout_in_case
from solver.layout.parts import Layout, Level
from solver.ledger.solve import PumpLedger, pumps_in_turn, solved_network
from solver.network.build import Network, NetworkError, build, rebuilt
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError

SAMPLES = 9
"""Places over the whole of a slider that are tried first."""

HALVINGS = 6
"""Steps that each end is then searched in: it is known to 1/500 of the slider."""

PUMPS = 16
"""Pumps whose ledgers are made in one step: the hand waits for no more than that, however many there are."""

Range = tuple[float, float]
"""From and to, both included [SI unit of the knob]."""


class SafeRange:
    """The search for one knob. `found` is None where no place of the slider is safe."""

    def __init__(self, layout: Layout, level: Level, knob: Knob, which: KnobSubject, rows: RowCache) -> None:
        """level: of the cases that name none. The knob must be one that can be turned."""
        self.knob = knob
        self.found: Range | None = None
        self.gaps = False  # whether the line cannot be drawn at some places on the way
        self._layout, self._level, self._which, self._rows = layout, level, which, rows

    def steps(self) -> Iterator[None]:
        """Each step is a part of one solve; the range is known at the end of them."""
        now = self.knob.value(self._layout, self._which).si
        low, high = self.knob.span(self._layout, self._which)
        step = (high - low) / (SAMPLES - 1)
        places = sorted({now, *(low + step * at for at in range(SAMPLES))})
        safe = {}
        for place in places:
            safe[place] = yield from self._is_safe(place)
            yield
        self.gaps = None in safe.values()
        inside = [place for place in places if safe[place]]
        if not inside:
            return
        nearest = min(inside, key=lambda place: abs(place - now))
        ends = []
        for away in (places[places.index(nearest) :: -1], places[places.index(nearest) :]):
            reached = list(takewhile(lambda place: safe[place] is not False, away))
            within = [place for place in reached if safe[place]][-1]
            beyond = away.index(within) + 1
            if beyond < len(away):
                without = away[beyond]
                for _ in range(HALVINGS):
                    middle = (within + without) / 2
                    is_safe = yield from self._is_safe(middle)
                    within, without = (middle, without) if is_safe else (within, middle)
                    yield
            ends.append(within)
        self.found = (ends[0], ends[1])

    def _is_safe(self, value: float) -> Generator[None, None, bool | None]:
        """Whether every case is judged and sound with that figure; None where the line cannot be drawn."""
        try:
            layout = self.knob.set(self._layout, self._which, value)
            built = build(layout, self._rows)
        except (EditError, GeometryError, NetworkError):
            return None
        yield
        warmer = (
            self.knob.input.name == "temperature" and value > self.knob.value(self._layout, self._which).si
        )
        for name, case in cases_of(layout).items():
            try:
                network = rebuilt(built, layout_in_case(layout, name, case), self._rows)
                yield
                if not (yield from self._is_sound(network, warmer)):
                    return False
            except (CaseError, NetworkError, FluidError):
                return False
        return True

    def _is_sound(self, network: Network, warmer: bool) -> Generator[None, None, bool]:
        """Whether every pump of a built network is sound. Raises NetworkError, FluidError."""
        solved = solved_network(network, self._level)
        if warmer and solved.fluid.known_vapor_pressure is None:
            return False  # nobody knows if it boils
        for at, pump in enumerate(pumps_in_turn(solved)):
            if at % PUMPS == 0:
                yield
            if isinstance(pump, PumpLedger) and not pump.sound:
                return False
        return True


def all_steps(searches: list[SafeRange], done: Callable[[SafeRange], None]) -> Iterator[None]:
    """One search after the other; `found` is called at the end of each."""
    for search in searches:
        yield from search.steps()
        done(search)
