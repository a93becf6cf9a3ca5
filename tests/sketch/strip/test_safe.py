"""The range of a knob that is safe in every case: sound inside, not sound just beyond."""

from __future__ import annotations

from contextlib import suppress

import pytest
from pytestqt.qtbot import QtBot

from sketch.editing.edits import EditError
from sketch.model.document import Document
from sketch.strip.knobs import KNOBS, subject
from sketch.strip.safe import SafeRange
from sketch.strip.whatif import WhatIfStrip
from sketch.views import case_making
from solver.findings.judgement import judge
from solver.layout.parts import Layout, Level
from solver.ledger.solve import solve
from solver.network.build import NetworkError
from solver.network.row_cache import RowCache
from solver.properties.fluid import FluidError
from solver.quantities.units import Quantity
from tests import drawings
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
        assert sum(1 for _ in search.steps()) < 30
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


def test_sliders_carry_their_safe_range_at_rest_and_none_of_another_drawing(qtbot: QtBot) -> None:
    document = document_of("wash-water-npsh")
    strip = WhatIfStrip(document)
    qtbot.addWidget(strip)
    strip.show()
    scale = strip.turners["Port height"].scale
    qtbot.waitUntil(lambda: scale.safe is not None, timeout=10_000)
    assert "Every case is sound from" in scale.toolTip()
    strip.turners["Site elevation"].turning.turn(5)
    assert scale.safe is None
    assert scale.toolTip() == ""
    case_making.add(document, "boiled off", {"fluid": {"temperature": "900 degC"}})
    document.set_case("as drawn")
    strip._search()
    assert not strip._next.isActive(), "nobody knows what is safe in a case that cannot be judged"
