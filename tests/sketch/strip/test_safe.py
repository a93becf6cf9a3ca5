"""The range of a knob that is safe in every case: sound inside, not sound just beyond."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import suppress

import pytest
from PySide6.QtCore import Qt
from pytestqt.qtbot import QtBot

from sketch.editing.edits import EditError
from sketch.model.document import Document
from sketch.strip import safe
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.safe import SafeRange
from sketch.strip.whatif import WhatIfStrip
from sketch.views import case_making
from solver.findings.judgement import judge
from solver.layout import file
from solver.layout.parts import Layout, Level
from solver.ledger.path import SolvedNetwork
from solver.ledger.resting import RestingPump
from solver.ledger.solve import PumpLedger, pumps_in_turn, solve
from solver.network.build import Network, NetworkError, build
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError
from solver.quantities.units import Quantity
from tests import drawings
from tests.bench import test_growth
from tests.sketch.strip.strips import slide, type_in
from tests.solver.checking import lifted, with_fluid
from tests.solver.findings.test_missing import OWN
from tests.thorough import first


def document_of(stem: str) -> Document:
    document = Document(keeps=False)
    document.open(next(path for path in drawings.SHIPPED if path.stem == stem))
    return document


def sound(layout: Layout) -> bool:
    judgement = judge(layout)
    return judgement.sound and not any(case.error for case in judgement.cases.values())


@pytest.mark.parametrize("stem", first(["wash-water-npsh", "over-the-bund-wall", "baler-flooded"]))
def test_the_range_ends_where_a_case_fails(stem: str, qapp: object) -> None:
    document = document_of(stem)
    layout, pump = document.layout, document.pump
    which = subject(layout, solve(layout).pumps[pump], pump, Level.MINIMUM)
    searched = 0
    for knob in KNOBS:
        if knob.reason(layout, which):
            continue
        search = SafeRange(layout, Level.MINIMUM, knob, which, RowCache())
        list(search.steps())
        low, high = knob.span(layout, which)
        if search.found is None:
            assert not sound(layout)
            continue
        searched += 1
        for end, away, bound in ((search.found[0], -1, low), (search.found[1], 1, high)):
            assert sound(knob.set(layout, which, end))
            beyond = end + away * 0.006 * (high - low)
            if (beyond - bound) * away < 0:
                # What cannot be drawn or calculated is not safe either.
                with suppress(EditError, NetworkError, FluidError):
                    assert not sound(knob.set(layout, which, beyond)), (knob.name, end)
    assert searched or not sound(layout)


def test_another_case_narrows_the_range(qapp: object) -> None:
    document = document_of("wash-water-npsh")
    knob = next(each for each in KNOBS if each.name == "Site elevation")

    def searched() -> tuple[float, float] | None:
        which = subject(document.layout, document.ledger, document.pump, document.level)
        search = SafeRange(document.layout, Level.MINIMUM, knob, which, RowCache())
        list(search.steps())
        return search.found

    before = searched()
    assert before is not None
    case_making.add(document, "quick", {"pumps": {document.pump: {"flow_rise": "20 s"}}})
    document.set_case("as drawn")
    after = searched()
    assert after is None or after[1] <= before[1]


def test_a_fluid_that_nobody_knows_to_boil_is_safe_no_warmer_than_drawn(qapp: object) -> None:
    knob = next(each for each in KNOBS if each.name == "Fluid temperature")
    ends = []
    for typed in (None, Quantity("0 Pa", 0.0)):
        layout = with_fluid(lifted(), **OWN, vapor_pressure=typed)
        which = subject(layout, solve(layout).pumps["pump"], "pump", Level.MINIMUM)
        search = SafeRange(layout, Level.MINIMUM, knob, which, RowCache())
        list(search.steps())
        assert search.found is not None
        ends.append(search.found[1])
    assert ends[0] == layout.fluid.temperature.si < ends[1]


MANY = 40


@pytest.fixture
def many(qtbot: QtBot) -> Document:
    """A document with many pumps, each on a line of its own."""
    document = Document(keeps=False)
    text = test_growth.drawing(MANY * test_growth.PER_PUMP)
    document.open_drawing(file.parse(text), None)
    return document


class Work:
    """Counts what is built and which ledgers are made, in all and since it was last looked."""

    def __init__(self, monkeypatch: pytest.MonkeyPatch) -> None:
        self.builds, self.ledgers = 0, 0
        self._before = (0, 0)
        monkeypatch.setattr(safe, "build", self._build)
        monkeypatch.setattr(safe, "pumps_in_turn", self._pumps)

    def _build(self, layout: Layout, rows: RowCache) -> Network:
        self.builds += 1
        return build(layout, rows)

    def _pumps(self, solved: SolvedNetwork) -> Iterator[PumpLedger | RestingPump]:
        for each in pumps_in_turn(solved):
            self.ledgers += 1
            yield each

    def since(self) -> tuple[int, int]:
        """Builds and ledgers since the last call."""
        builds, ledgers = self._before
        self._before = self.builds, self.ledgers
        return self.builds - builds, self.ledgers - ledgers


def test_a_step_is_as_short_among_many_pumps(many: Document, monkeypatch: pytest.MonkeyPatch) -> None:
    work = Work(monkeypatch)
    knob = next(each for each in KNOBS if each.name == "Fluid temperature")
    which = subject(many.layout, many.ledger, many.pump, many.level)
    search = SafeRange(many.layout, many.level, knob, which, RowCache())
    steps = [work.since() for _ in search.steps()]
    assert max(builds + ledgers / safe.PUMPS for builds, ledgers in steps) <= 1
    assert work.ledgers > MANY, "every pump was looked at in some of them"


def test_no_gesture_waits_for_more_than_a_step(
    many: Document, qtbot: QtBot, monkeypatch: pytest.MonkeyPatch
) -> None:
    """Keys and the mouse while the ranges are looked for: each is answered before much else is worked out."""
    work = Work(monkeypatch)
    strip = WhatIfStrip(many)
    qtbot.addWidget(strip)
    strip._rest.setInterval(0)
    strip.show()
    for count, gesture in enumerate(
        (
            lambda: qtbot.keyClick(strip.turners["Fluid temperature"].scale, Qt.Key.Key_Right),
            lambda: slide(qtbot, strip.turners["Site elevation"], 8),
            lambda: type_in(qtbot, strip.turners["Port height"], "0.61 m"),
        ),
        1,
    ):
        before = work.ledgers
        qtbot.waitUntil(lambda before=before: work.ledgers > before, timeout=10_000)
        work.since()
        gesture()
        assert sum(work.since()) <= safe.PUMPS
        assert many.undo_stack.count() == count
        assert not strip._next.isActive(), "what is looked for belongs to another drawing"


def test_sliders_carry_their_safe_range_at_rest_and_none_of_another_drawing(qtbot: QtBot) -> None:
    document = document_of("wash-water-npsh")
    strip = WhatIfStrip(document)
    qtbot.addWidget(strip)
    strip.show()
    scale = strip.turners["Port height"].scale
    qtbot.waitUntil(lambda: scale.safe is not None, timeout=10_000)
    assert "Every case is within from" in scale.toolTip()
    strip.turners["Site elevation"].turning.turn(5)
    assert scale.safe is None
    assert scale.toolTip() == ""
    case_making.add(document, "boiled off", {"fluid": {"temperature": "900 degC"}})
    document.set_case("as drawn")
    strip._search()
    assert not strip._next.isActive(), "nobody knows what is safe in a case that cannot be judged"
