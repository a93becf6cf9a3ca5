"""A drawing at other values of one thing: quick sums and whole ledgers say one thing, and roots are "
"where they were."""

from __future__ import annotations

import pytest

from solver.answers.answer import Status
from solver.answers.ask import QUESTIONS, ask
from solver.answers.reasons import Reason, decisive, least_to_spare
from solver.answers.roots import crossing
from solver.answers.variations import Variation
from solver.answers.varied_drawing import PresentDrawing
from solver.layout.cases import AS_DRAWN
from solver.layout.file import read
from solver.layout.parts import Level
from solver.network.build import NetworkError
from solver.network.row_cache import RowCache
from tests.drawings import SHIPPED
from tests.solver.checking import lifted
from tests.thorough import first

NAMES = [path.stem for path in SHIPPED]
ASKED = (
    "highest port",
    "lowest fluid level",
    "longest run",
    "largest flow",
    "dirtiest strainer",
    "smallest bore",
)


def drawn(name: str) -> PresentDrawing:
    layout = read(next(path for path in SHIPPED if path.stem == name)).base
    return PresentDrawing(layout, next(iter(layout.pumps)), Level.MINIMUM, RowCache())


def variation(drawing: PresentDrawing, question: str) -> Variation | str:
    shown = drawing.present[AS_DRAWN]
    return QUESTIONS[question](shown, shown.pumps[drawing.pump])


@pytest.mark.parametrize("name", first(NAMES, 2))
def test_quick_sums_are_those_of_the_whole_ledgers(name: str) -> None:
    drawing = drawn(name)
    for question in ASKED:
        varied = variation(drawing, question)
        if isinstance(varied, str):
            continue
        looked_at = drawing.varied(varied)
        value = varied.now + 0.01 * (varied.worst - varied.now)
        try:
            plain = PresentDrawing(varied.change(value), drawing.pump, Level.MINIMUM, RowCache()).present
        except NetworkError:
            with pytest.raises(NetworkError):
                looked_at.least(value)
            continue
        assert looked_at.least(value) == pytest.approx(least_to_spare(plain, drawing.pump), abs=1e-6), (
            question
        )
        assert least_to_spare(looked_at.solutions(value), drawing.pump) == looked_at.least(value)
        own = looked_at.of_deciding(value)(value)
        assert own == pytest.approx(looked_at.least(value), abs=1e-9)
        assert decisive(looked_at.solutions(value), drawing.pump) == decisive(plain, drawing.pump)


@pytest.mark.parametrize("name", first(NAMES))
def test_the_root_is_that_of_a_plain_search_through_whole_solves(name: str) -> None:
    drawing = drawn(name)
    for question in ASKED:
        answer = ask(question, drawing.layout, drawing.pump)
        varied = variation(drawing, question)
        stopped = answer.reason in (Reason.VELOCITY, Reason.VORTEX)
        spent = answer.by_margin if stopped else answer.value
        if isinstance(varied, str) or answer.status != Status.FOUND or spent is None:
            continue

        def margin(x: float, change=varied.change) -> float:
            changed = PresentDrawing(change(x), drawing.pump, Level.MINIMUM, RowCache())
            return least_to_spare(changed.present, drawing.pump)

        start, step = varied.now, abs(varied.worst - varied.now) / 32
        root = crossing(margin, start, varied.worst, step, varied.tolerance, 0.001)
        assert root.found, question
        assert spent == pytest.approx(root.at, rel=1e-4), question
        assert margin(spent) == pytest.approx(0.0, abs=1.0), question


def test_only_another_line_is_built_anew(monkeypatch: pytest.MonkeyPatch) -> None:
    layout = lifted()
    drawing = PresentDrawing(layout, "pump", Level.MINIMUM, RowCache())
    flow, port = (variation(drawing, question) for question in ("largest flow", "highest port"))
    assert isinstance(flow, Variation)
    assert isinstance(port, Variation)
    by_flow, by_port = drawing.varied(flow), drawing.varied(port)
    built = []
    monkeypatch.setattr("solver.answers.varied_drawing.build.build", lambda layout, cache: built.append(1))
    by_flow.least(flow.now * 1.1)
    assert built == []
    with pytest.raises(AttributeError):
        by_port.least(port.now + 0.1)
    assert built == [1]
