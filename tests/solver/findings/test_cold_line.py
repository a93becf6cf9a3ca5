"""A tank that is warmed leaves its line cold: the figures are those of `fluid.line_temperature` typed."""

from __future__ import annotations

from dataclasses import replace
from pathlib import Path

import pytest

from solver.findings.cold_line import warm_first
from solver.findings.judgement import Judgement, PumpState, judge
from solver.findings.kinds import FindingId, Severity
from solver.findings.outlook import fails_for_a_moment, outlook, worst_left_cold
from solver.fixes.fixes import advise
from solver.layout import file
from solver.layout.drawing import Drawing
from solver.ledger.rounding import RoundedLedger, in_writing
from solver.quantities.units import Kind, Quantity, System, quantity

PRESS = (Path(__file__).parents[3] / "layouts" / "winter-press.toml").read_text(encoding="utf-8")
HEATER = "Tank heater to 10 °C"
TYPED = '\n[alternatives."{}".cases."first stroke"]\nfluid.line_temperature = "{} degC"\n'


@pytest.fixture(scope="module")
def press() -> Drawing:
    return file.parse(PRESS)


def typed(line: float) -> Drawing:
    return file.parse(PRESS + TYPED.format(HEATER, line))


def test_a_heater_is_judged_with_its_line_still_cold_too(press):
    judgement = judge(press.alternatives[HEATER].layout)
    (cold,) = (each for each in judgement.findings if each.finding is FindingId.LINE_LEFT_COLD)
    stated = judge(typed(-10).alternatives[HEATER].layout).worst()
    assert cold.severity is Severity.STOP  # every start with a cold line is over, as if nothing were done
    assert stated.case == "first stroke"
    assert cold.value == pytest.approx(stated.ledger.margin)
    assert "start limit" in cold.text
    assert warm_first("press") in cold.advice
    assert "give the line that temperature" in cold.advice  # a client's sheet has it too, who knows no keys
    shown = outlook(judgement, System.US)
    assert shown.headline.startswith(
        "Over by 5.81 inHg while the line is still at 14 °F; after that within: "
    )
    assert (shown.severity, shown.word) == ("stop", "Line too cold to start")
    worst = judgement.worst()
    assert worst is not None
    assert worst.pump_state is PumpState.UNFIT


@pytest.mark.parametrize("system", System)
def test_what_a_cold_line_is_over_by_has_the_digits_of_its_ledger_wherever_it_is_said(press, system):
    """Of a tank at 10 °C: one less warm stands a little higher over its strainer, and is over by less."""
    judgement = judge(press.alternatives[HEATER].layout, system=system)
    stated = judge(typed(-10).alternatives[HEATER].layout).worst().ledger
    over = f"ver by {in_writing(-RoundedLedger(stated, system).margin)} "
    texts = [each.text for each in judgement.findings if each.finding is FindingId.LINE_LEFT_COLD]
    texts += [outlook(judgement, system).headline, worst_left_cold(judgement, "press")]
    assert len(texts) == 3
    assert [over in text for text in texts] == [True] * 3, texts


def test_a_cold_line_that_leaves_enough_for_a_moment_is_a_caution(press):
    """A limit that is far off still leaves little, so that it is said, but nothing is stopped by it."""
    layout = press.alternatives[HEATER].layout
    pump = layout.pumps["press"]
    limit = replace(pump.limit, table=((None, quantity("15.2 inHg", Kind.VACUUM)),))
    pump = replace(pump, start_viscosity=None, limit=limit)
    judgement = judge(replace(layout, pumps={"press": pump}))
    (cold,) = (each for each in judgement.findings if each.finding is FindingId.LINE_LEFT_COLD)
    assert cold.value is not None
    assert cold.value > 0.0
    assert cold.severity is Severity.CAUTION
    assert not fails_for_a_moment(judgement)


def test_nothing_is_found_where_the_line_is_stated_to_be_warm_or_nothing_is_warmed(press):
    cases = judge(typed(10).alternatives[HEATER].layout).findings_by_case
    assert FindingId.LINE_LEFT_COLD not in {each.finding for each in cases["first stroke"]}
    for layout in (press.base, press.alternatives["High-VI oil, ISO VG 32"].layout):
        present = {each.finding for each in judge(layout).findings}
        assert FindingId.LINE_LEFT_COLD not in present


def test_a_fix_that_warms_the_tank_says_what_a_cold_line_leaves(press):
    (warm,) = (fix for fix in advise(press.base, "press").fixes if fix.text.startswith("warm the fluid"))
    assert any("over by 5.81 inHg while the line is still at 14 °F" in each for each in warm.worsens)


WALL = (Path(__file__).parents[3] / "layouts" / "over-the-bund-wall.toml").read_text(encoding="utf-8")


def over_the_wall(tank: float, line: float | None = None) -> Judgement:
    """A line over a wall, its fluid at those temperatures [°C] and no other case."""
    layout = file.parse(WALL).base
    fluid = replace(
        layout.fluid,
        temperature=Quantity(f"{tank} degC", tank + 273.15),
        line_temperature=None if line is None else Quantity(f"{line} degC", line + 273.15),
        coldest_start=None,
    )
    return judge(replace(layout, fluid=fluid, cases={}))


def test_a_warm_line_on_a_cold_tank_is_judged_with_what_comes_next() -> None:
    """A line said to be warm made the answer that of warm oil, though the tank behind it was cold."""
    warm, cold = over_the_wall(0, 40), over_the_wall(0)
    assert warm.worst().ledger.margin > cold.worst().ledger.margin
    (filled,) = (each for each in warm.findings if each.finding is FindingId.LINE_FILLED)
    assert filled.severity is Severity.STOP
    assert filled.value == pytest.approx(cold.worst().ledger.margin)
    assert "once its line holds what is in the tank" in filled.text
    assert filled.advice == "Judge it in a case of its own too, with the line at 0 °C as its tank is."
    assert "once its line holds what is in the tank" in outlook(warm, System.SI).headline
    assert "; until then within: " in outlook(warm, System.SI).headline


def test_a_line_that_gets_no_worse_by_what_comes_next_needs_no_word() -> None:
    for judgement in (over_the_wall(40, 0), over_the_wall(40), over_the_wall(0)):
        assert FindingId.LINE_FILLED not in {each.finding for each in judgement.findings}
