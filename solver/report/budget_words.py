"""What a budget is made of, in words for a reader who has not seen its table."""

from __future__ import annotations

from collections.abc import Iterator

from solver.findings.judgement import Judgement
from solver.layout.cases import AS_DRAWN
from solver.layout.kinds import LimitForm
from solver.layout.parts import Limit
from solver.ledger.limit import ASSUMED
from solver.ledger.rounding import port_figures
from solver.ledger.solve import PumpLedger
from solver.quantities import units
from solver.quantities.adding import PLACES, shown_value
from solver.quantities.units import Kind, System, number, typeset

_FORMS = {
    LimitForm.VACUUM: (Kind.VACUUM, "of vacuum"),
    LimitForm.PRESSURE: (Kind.ABSOLUTE, "absolute"),
    LimitForm.NPSH: (Kind.HEAD, "of NPSH"),
}


TYPED_AS = " (typed as "


def limit_in_words(judgement: Judgement, system: System, *, typed: bool = True) -> Iterator[str]:
    """Every pump's limit, with the cases in which it is another.

    typed: whether it stands as it is typed too, where that is in other units.
    """
    for pump in judgement.layout.pumps:
        stated: dict[str, list[str]] = {}  # the cases of each limit
        whose = "the maker's limit"
        for place in judgement.pumps_in_cases:
            if place.pump == pump and place.ledger.floor_lines:
                first, solution = place.ledger.floor_lines[0], judgement.cases[place.case].solution
                assert solution is not None  # a place has a ledger
                limit = _with_form(first.note, solution.layout.pumps[pump].limit, system)
                limit = limit if typed else limit.partition(TYPED_AS)[0]
                stated.setdefault(limit, []).append(place.case)
                whose = "the limit, which no maker has stated," if first.source == ASSUMED else whose
        ordered = sorted(stated.items(), key=lambda each: AS_DRAWN not in each[1])
        texts = [
            limit if not number else f"{limit} in {', '.join(map(_quoted, cases))}"
            for number, (limit, cases) in enumerate(ordered)
        ]
        if texts:
            yield f"{whose} of {pump}: {'; '.join(texts)}"


def _with_form(note: str, limit: Limit, system: System) -> str:
    """A limit with what it measures between the figure and the speed that it is stated for."""
    figure, at, speed = note.partition(",")[0].partition(" at ")
    kind, form = _FORMS[limit.form]
    _, value = limit.table[0]
    if figure != value.text:
        return f"{figure} {form}{at}{speed}"
    unit = units.unit(kind, system).removesuffix(" abs")
    if figure.endswith(f" {unit}"):
        return f"{figure} {form}{at}{speed}"
    shown = typeset(value.si, kind, system).removesuffix(" abs")
    return f"{shown} {form}{at}{speed}{TYPED_AS}{figure})"


def floor_in_words(ledger: PumpLedger, system: System) -> Iterator[str]:
    """How the vacuum that is allowed follows from the maker's figure: with each correction, and what the air
    has over it. Nothing of a limit that is judged in head, or where no vacuum is allowed."""
    lines = ledger.floor_lines
    if ledger.npsh_required is not None or not lines or ledger.allowed_vacuum <= 0.0:
        return
    _, allowed, _ = port_figures(ledger, system)
    air = shown_value(ledger.atmosphere, Kind.ABSOLUTE, system)
    floor = air - allowed
    parts = [(each.name, -each.value) for each in lines[1:] if shown_value(each.value, Kind.VACUUM, system)]
    first = floor - sum(shown_value(value, Kind.VACUUM, system) for _, value in parts)
    figures = [_figure(first, system), *(f"{_figure(value, system)} ({name})" for name, value in parts)]
    total = f"{' + '.join(figures)}{f' = {_figure(floor, system)}' if parts else ''}"
    under = f"{_figure(allowed, system)} under the {_figure(air, system)} of the air here"
    yield f"{ledger.pump}: {total} {units.unit(Kind.ABSOLUTE, system)}, {under}"


def _figure(pressure: float, system: System) -> str:
    """A pressure of the suction side [Pa] without its unit."""
    return number(pressure, Kind.VACUUM, system, PLACES)


def _quoted(case: str) -> str:
    return case if case == AS_DRAWN else f'"{case}"'


def weather_in_words(judgement: Judgement, pump: str, system: System) -> Iterator[str]:
    """What is taken off the atmosphere for a low-pressure day, with the cases in which that is something
    else; nothing where it was read."""
    allowed: dict[str, list[str]] = {}  # the cases of each figure
    for place in judgement.pumps_in_cases:
        off = [-line.value for line in place.ledger.surface_lines if line.name == "weather"]
        if place.pump == pump and off:
            figure = typeset(off[0], Kind.VACUUM, system) if off[0] else "nothing"
            allowed.setdefault(figure, []).append(place.case)
    (first, _), *others = sorted(allowed.items(), key=lambda each: AS_DRAWN not in each[1]) or [("", [])]
    if first:
        further = (f"; {figure} in {', '.join(map(_quoted, cases))}" for figure, cases in others)
        yield f"{first} is taken off the pressure of the air for a low-pressure day{''.join(further)}"
