"""What a foot valve in the place of an intake takes, judged in every case of a drawing."""

from __future__ import annotations

from dataclasses import dataclass, replace

from solver.answers.variations import line_parts
from solver.findings.judgement import Judgement, PumpInCase, judge
from solver.fixes.screens import RETURN_FILTER
from solver.layout.cases import AS_DRAWN
from solver.layout.kinds import IntakeKind
from solver.ledger.rounding import port_figures
from solver.ledger.sentences import clause, limit_unknown, sentence_of_pump
from solver.ledger.solve import Solution
from solver.quantities.units import System
from solver.quantities.wording import capitalised, error_text, ledger_pressure


@dataclass(frozen=True, slots=True)
class WithFootValve:
    """A line with a foot valve in the place of its intake."""

    fits: bool  # every pump is within with it, in every case
    words: str  # what it takes, and how the pump then stands; "" where the line has no intake


def with_foot_valve(judgement: Judgement, solution: Solution, pump: str, system: System) -> WithFootValve:
    """A pump's line with a foot valve, at the level of a solution, the screen of its intake kept round it."""
    layout = judgement.layout
    name = next((part for part in line_parts(solution.pumps[pump]) if part in layout.intakes), "")
    if not name:
        return WithFootValve(fits=False, words="")
    intake = layout.intakes[name]
    valve = replace(intake, kind=IntakeKind.FOOT_VALVE)
    one = f"One in the place of {name}{', with its screen round it,' if intake.screen else ''}"
    try:
        with_it = judge(replace(layout, intakes={**layout.intakes, name: valve}), solution.level)
    except ValueError as error:
        return WithFootValve(fits=False, words=f"{one} was not judged: {error_text(error, system)}.")
    worst = with_it.worst(pump)
    if worst is None:
        return WithFootValve(fits=False, words=f"{one} was judged in no case.")
    words = [
        f"{one} takes {_more(worst, judgement, system)}: {clause(worst.ledger, system)}, in the worst case, "
        f"{_case(worst.case)}.",
        *_others(with_it, pump, system),
    ]
    if intake.screen:
        words.append(f"Without that screen {pump} runs unstrained: then only with {RETURN_FILTER}.")
    fits = with_it.sound and not with_it.not_judged and not limit_unknown(worst.ledger)
    return WithFootValve(fits, " ".join(words))


def _case(name: str) -> str:
    return name if name == AS_DRAWN else f'"{name}"'


def _more(worst: PumpInCase, judgement: Judgement, system: System) -> str:
    """What the line takes more than before in a case, by what a ledger shows at the port, in words."""
    before = judgement.worst(worst.pump, [worst.case])
    if before is None:
        return "more, by how much is not known"
    was, now = (port_figures(each.ledger, system)[0] for each in (before, worst))
    return f"{ledger_pressure(max(now - was, 0.0), system)} more"


def _others(with_it: Judgement, pump: str, system: System) -> list[str]:
    """What else stands against it: other pumps that are over, and cases that were not judged."""
    worst = [with_it.worst(other) for other in with_it.layout.pumps if other != pump]
    over = [
        f"{capitalised(sentence_of_pump(place.ledger, system))} with it, in {_case(place.case)}."
        for place in worst
        if place is not None and not place.ledger.sound
    ]
    lost = ", ".join(_case(case.name) for case in with_it.not_judged)
    return [*over, f"Not judged with it: {lost}."] if lost else over
