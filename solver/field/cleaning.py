"""How far the strainer of a pump may block until the first case is over on a low-pressure day.

Then its cleaning is due.
"""

from __future__ import annotations

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass, replace

from solver.answers import ask, inputs
from solver.answers.answer import Answer, Status
from solver.answers.inputs import INPUTS
from solver.answers.reasons import to_spare
from solver.answers.variations import first_screen
from solver.layout.cases import AS_DRAWN
from solver.layout.parts import Layout, Level, Site
from solver.ledger.cases import CaseSolution, solve_cases
from solver.ledger.solve import Solution
from solver.properties.atmosphere import LOW_PRESSURE_DAY
from solver.quantities.units import Kind, quantity

QUESTION = "dirtiest strainer"
FARTHEST = INPUTS["blocked"].searched[1]
"""Blocked share up to which it is looked for."""
NONE_OVER = f"no case is over with up to {FARTHEST * 100:.0f} % blocked: clean it by its maker's figure"
NO_STRAINER = "There is no strainer to clean on the way to this pump."
OVER_CLEAN = "a case is over even with a clean strainer"
OVER_ON_LOW_DAY = "a case is over on a low-pressure day even with a clean strainer"


@dataclass(frozen=True, slots=True)
class CleaningDue:
    """The blocked share at which cleaning is due, in whatever case, and for whichever pump, is over first."""

    screen: str  # the first on the way to the pump; "" where there is none
    blocked: float | None  # share at which the first case is over
    why_none: str = ""  # why there is no such share; "" where there is one, or no screen
    over_first: str = ""  # the pump that is over first, and in which case; "" where there is no such share


def cleaning_due(layout: Layout, pump: str) -> CleaningDue:
    """When cleaning is due, at the minimum level and by every pump that draws through the strainer.

    The drawing is held to a low-pressure day, whether it allows for one or not.
    Raises KeyError for an unknown pump, and errors as `ledger.solve` where the drawing cannot be solved.
    """
    layout.pumps[pump]
    usual, layout = layout, on_low_day(layout)
    cases = solve_cases(layout, Level.MINIMUM)
    screens = {name: screen_to_clean(layout, name, cases.values()) for name in layout.pumps}
    screen = screens[pump]
    if not screen:
        return CleaningDue("", None)
    missing = [name for name, case in cases.items() if case.error is not None]
    if missing:  # it may be the one that is over first
        named = ", ".join(f'"{name}"' for name in missing)
        return CleaningDue(screen, None, f"{named} not judged: how far it may block is not known")
    sharing = [name for name, other in screens.items() if other == screen]
    answers = [ask.ask(QUESTION, layout, name, Level.MINIMUM) for name in sharing]
    due = _of_answers(screen, answers)
    if due.why_none == OVER_CLEAN and _sound_when_clean(usual, screen, sharing):
        due = replace(due, why_none=OVER_ON_LOW_DAY)
    return _with_what_is_over(layout, due, sharing)


def low_pressure(site: Site) -> float:
    """What a low-pressure day takes off the barometer [Pa]: the site's allowance, or what is usual."""
    own = site.weather_allowance.si if site.weather_allowance is not None else 0.0
    return max(own, LOW_PRESSURE_DAY)


def on_low_day(layout: Layout) -> Layout:
    """A drawing with a low-pressure day at its site."""
    allowance = quantity(f"{low_pressure(layout.site)!r} Pa", Kind.PRESSURE)
    return replace(layout, site=replace(layout.site, weather_allowance=allowance))


def _sound_when_clean(layout: Layout, screen: str, pumps: Iterable[str]) -> bool:
    """Whether every case is within with nothing of the screen blocked, on a day as drawn."""
    clean = solve_cases(inputs.blocked(layout, (screen,), 0.0, Level.MINIMUM), Level.MINIMUM)
    return all(
        case.solution is not None and case.solution.pumps[pump].sound
        for case in clean.values()
        for pump in pumps
        if case.solution is None or pump in case.solution.pumps
    )


def screen_to_clean(layout: Layout, pump: str, cases: Iterable[CaseSolution]) -> str | None:
    """The first part with a screen on the way to a pump; "" for none, None where it runs in no case."""
    for case in cases:
        if case.solution is not None and pump in case.solution.pumps:
            return first_screen(layout, case.solution.pumps[pump])
    return None


def _of_answers(screen: str, answers: Iterable[Answer]) -> CleaningDue:
    """The least share of those that the pumps allow; none where one of them has no share for certain."""
    answers, shares = tuple(answers), list[float]()
    for answer in answers:
        if answer.status is Status.ALREADY_OVER and answer.value is None:
            return CleaningDue(screen, None, OVER_CLEAN)
        if answer.status in (Status.FOUND, Status.ALREADY_OVER) and answer.value is not None:
            shares.append(answer.value)
        elif answer.status is not Status.NO_LIMIT or (answer.value or 0.0) < FARTHEST:  # the search stopped
            return CleaningDue(screen, None, answer.text.partition(": ")[2])
    if shares:
        return CleaningDue(screen, min(shares))
    return CleaningDue(screen, None, NONE_OVER)


def _with_what_is_over(layout: Layout, due: CleaningDue, sharing: Sequence[str]) -> CleaningDue:
    """When cleaning is due, and what is over first then; not known where a bypass is open there whose drop is
    not: it may be earlier."""
    if due.blocked is None and due.why_none != NONE_OVER:
        return due
    share = FARTHEST if due.blocked is None else due.blocked
    cases = solve_cases(inputs.blocked(layout, (due.screen,), share, Level.MINIMUM), Level.MINIMUM)
    solved = {name: case.solution for name, case in cases.items() if case.solution is not None}
    ledgers = (each for solution in solved.values() for each in solution.pumps.values())
    entries = (entry for ledger in ledgers for entry in ledger.entries if entry.part == due.screen)
    lacks = next((entry.at_least for entry in entries if entry.at_least), "")
    if lacks:
        return CleaningDue(due.screen, None, f"{lacks}: how far it may block is not known")
    return due if due.blocked is None else replace(due, over_first=_over_first(solved, sharing))


def _over_first(solved: Mapping[str, Solution], sharing: Sequence[str]) -> str:
    """The pump with least to spare of those that share a screen, and its case."""
    places = [(name, pump) for name, solution in solved.items() for pump in sharing if pump in solution.pumps]
    case, pump = min(places, key=lambda place: to_spare(solved[place[0]], place[1]))
    return f"{pump} as drawn" if case == AS_DRAWN else f'{pump} in "{case}"'
