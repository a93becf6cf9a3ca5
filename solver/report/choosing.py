"""Whether an alternative is to be built: what it does that the drawing does not, and what it lacks."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from contextlib import suppress
from dataclasses import dataclass, replace

from solver.field.as_read import AsRead, takes_out
from solver.findings.judgement import Judgement, judge
from solver.layout.cases import cases_of, only_changes_missing_parts
from solver.layout.differences import differences
from solver.layout.parts import Case, FluidChoice, Layout, Pump
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.adding import gained
from solver.quantities.units import Kind, System, typeset
from solver.quantities.wording import degrees, ledger_pressure
from solver.report.asked_in_notes import MOST_WHOLE
from solver.report.choices import (
    AdviceByPump,
    Choice,
    choices_of,
    is_over,
    lacks,
    level_of,
    undoes,
    worst_places,
)
from solver.report.measures import measures

CONDITIONS = ("fluid: ", "site: ")
"""How a difference begins that is no other line, but something else asked of it; the fluid first."""

BUILT_OF = ("reservoirs", "intakes", "fittings", "tees", "runs")
"""The groups of parts that a line is built of, besides its pumps."""

ORDERS = frozenset((
    "bend", "bring", "cover", "fill", "fit", "give", "hold", "keep", "lay", "lead", "leave", "let",
    "lower", "make", "open", "put", "raise", "run", "set", "stand", "take", "warm",
))  # fmt: skip
"""With what the name of a change begins, which an alternative may be kept under."""

LARGER = 1.001
"""Times the flow of a pump from which on it takes in more."""


@dataclass(frozen=True, slots=True)
class JudgedDrawing:
    """The drawing as it stands or an alternative, judged, with the fixes that were solved for each pump."""

    name: str  # of the alternative; "" for the drawing itself
    judgement: Judgement
    advice: AdviceByPump
    base: Layout | None = None  # that the alternative is laid over; None for the drawing itself
    choices: Mapping[str, Choice] | None = None  # by pump; None where they are still to be made
    note: str = ""  # that the alternative has
    unchanged: Judgement | None = None  # the drawing itself under the conditions of the alternative
    as_read: AsRead | None = None  # with its screens as read, where one is past what is allowed or due

    @property
    def called(self) -> str:
        """Its name in a sentence."""
        return f'"{self.name}"' if self.name else "the drawing as it stands"

    @property
    def order(self) -> str:
        """What is done with it, as an order: of one named by what a change does that name is carried out, and
        one of which nothing is built is chosen."""
        if self.name.partition(" ")[0].lower() in ORDERS:
            return f"Carry out {self.called}"
        built = self.base is None or rebuilds(self.base, self.judgement.layout)
        return f"{'Build' if built else 'Choose'} {self.called}"

    @property
    def chosen(self) -> Mapping[str, Choice]:
        """What to recommend for each pump that lacks margin."""
        if self.choices is not None:
            return self.choices
        return choices_of(self.judgement, self.advice, self.base)


def better(before: Judgement, after: Judgement) -> bool:
    """Whether the worst of the cases that both have is less bad, with no more cases that were not judged.

    One that is no work, as a milder day, is no better line; nor is one that is less bad by its site alone, or
    by cases that are milder than the drawing's own, or of which that is not known.
    """
    worst, then = before.worst(cases=after.cases), after.worst()
    if then is None or len(after.not_judged) > len(before.not_judged):
        return False
    if only_conditions(before.layout, after.layout):
        return False
    if missing_cases(before, after) and worst is None:
        return False
    if worst is None or then.order <= worst.order:
        return worst is None
    layout = under_site_and_cases_of(before.layout, after.layout)
    if layout == after.layout:
        return True
    alike = judged_alike(layout, after)
    least = None if alike is None or len(alike.not_judged) > len(before.not_judged) else alike.worst()
    return least is not None and least.order > worst.order


def under_site_and_cases_of(drawn: Layout, built: Layout) -> Layout:
    """An alternative on the site of the drawing, and in its cases as the drawing has them."""
    cases = {
        name: _as_drawn_in(drawn, case, drawn.cases.get(name, case)) for name, case in built.cases.items()
    }
    return replace(built, site=drawn.site, cases=cases)


def judged_alike(layout: Layout, after: Judgement) -> Judgement | None:
    """An alternative judged under those conditions, at the level it was; None where it cannot be.

    Kept with the alternative: a sheet asks again with each length of its text that it tries.
    """
    for known, judgement in after.elsewhere:
        if known == layout:
            return judgement
    alike: Judgement | None = None
    with suppress(NetworkError, FluidError):
        alike = judge(layout, level_of(after))
    after.elsewhere.append((layout, alike))
    return alike


def _as_drawn_in(drawn: Layout, own: Case, case: Case) -> Case:
    """A case with the figures that the drawing has in it, and with an alternative's own for what is new."""
    new = {
        path: value
        for path, value in own.figures.items()
        if path[0] in BUILT_OF and path[1] not in getattr(drawn, path[0])
    }
    return replace(own, figures={**case.figures, **new})


def missing_cases(before: Judgement, after: Judgement) -> tuple[str, ...]:
    """The cases of a drawing that an alternative, or another drawing, has not.

    One that only changes parts or screens which are gone there is none of them: it would change nothing.
    """
    known = cases_of(before.layout)
    return tuple(
        name
        for name in before.cases
        if name not in after.cases
        and not (name in known and only_changes_missing_parts(after.layout, before.layout, known[name]))
    )


def pumps_gone_in(before: Judgement, after: Judgement) -> dict[str, tuple[str, ...]]:
    """The cases in which only pumps run that another drawing has not, each with these pumps."""
    running = {
        name: () if case.solution is None else tuple(case.solution.pumps)
        for name, case in before.cases.items()
    }
    left = after.layout.pumps
    return {
        name: pumps for name, pumps in running.items() if pumps and not any(each in left for each in pumps)
    }


def without_cases(before: JudgedDrawing, after: JudgedDrawing) -> Iterator[str]:
    """Which cases an alternative has not in which a pump of it could be judged."""
    missing = missing_cases(before.judgement, after.judgement)
    gone = pumps_gone_in(before.judgement, after.judgement)
    if unknown := [name for name in missing if name not in gone]:
        names = " and ".join(f'"{name}"' for name in unknown)
        yield f"{after.called} has no case {names}: how it stands there is not known. Judge it there first."


def without_pumps(before: JudgedDrawing, after: JudgedDrawing) -> Iterator[str]:
    """That an alternative takes away pumps, and with them the cases in which no other runs."""
    if not (pumps := missing_pumps(after, before.judgement)):
        return
    which, they = ("pump", "that supplies") if len(pumps) == 1 else ("pumps", "they supply")
    cases = pumps_gone_in(before.judgement, after.judgement)
    gone = [f"the {which} {' and '.join(pumps)}", f"what {they}", *(f'the case "{case}"' for case in cases)]
    yield f"{after.called} takes away {', '.join(gone[:-1])} and {gone[-1]}."


def missing_pumps(drawn: JudgedDrawing, than: Judgement) -> tuple[str, ...]:
    """The pumps of a drawing that an alternative, or another drawing with fewer pumps, has not.

    Parameters: `drawn`, the one that may lack them; `than`, the one that may have them.
    """
    old, new = than.layout.pumps, drawn.judgement.layout.pumps
    gone = tuple(name for name in old if name not in new)
    return gone if drawn.base is not None or len(new) < len(old) else ()


def other_conditions(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """What an alternative asks of the line that the drawing does not: another fluid, site, or more flow."""
    changed = differences(before.layout, after.layout, system)
    fluid = tuple(_of_fluid(before.layout.fluid, after.layout.fluid, system))
    others = (text for text in changed if text.startswith(CONDITIONS[len(fluid) > 0 :]))
    return (*fluid, *others, *_more_flow(before, after, system))


def _of_fluid(old: FluidChoice, new: FluidChoice, system: System) -> Iterator[str]:
    """How what is pumped differs, where that is its name or how warm it is."""
    if old.name != new.name:
        yield f"{new.name} in place of {old.name}"
    for text, was, now in (
        ("the fluid at", old.temperature, new.temperature),
        ("starts at", old.coldest_start, new.coldest_start),
    ):
        if now is not None and (was is None or was.si != now.si):
            other = "" if was is None else f" in place of {degrees(was.si, system)}"
            yield f"{text} {degrees(now.si, system)}{other}"


def _more_flow(before: Judgement, after: Judgement, system: System) -> Iterator[str]:
    for pump, flow in _flows(after).items():
        was = _flows(before).get(pump, flow)
        if flow > LARGER * was:
            now, old = (typeset(each, Kind.FLOW, system) for each in (flow, was))
            yield f"{now} into {pump} in place of {old}"


def _flows(judgement: Judgement) -> dict[str, float]:
    """The most that each pump takes in [m³/s], in any case."""
    flows: dict[str, float] = {}
    for place in judgement.pumps_in_cases:
        flows[place.pump] = max(place.ledger.flow, flows.get(place.pump, 0.0))
    return flows


def does_for(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """The other conditions for which an alternative that leaves less margin is enough; () where it is not."""
    lacking = len(after.not_judged) > len(before.not_judged) or missing_cases(before, after)
    if better(before, after) or lacking or after.worst() is None or not after.sound:
        return ()
    return other_conditions(before, after, system)


def for_other_conditions(before: Judgement, after: Judgement, system: System) -> tuple[str, ...]:
    """For what to build an alternative that leaves less margin, though enough; () where it is not so, or
    there is nothing to build."""
    return does_for(before, after, system) if rebuilds(before.layout, after.layout) else ()


def rebuilds(before: Layout, after: Layout) -> bool:
    """Whether an alternative changes anything that is built: not only the fluid, the site, or how a pump is
    run."""
    if any(getattr(before, group) != getattr(after, group) for group in BUILT_OF):
        return True
    pumps = ({name: _as_built(pump) for name, pump in each.pumps.items()} for each in (before, after))
    return next(pumps) != next(pumps)


def only_conditions(before: Layout, after: Layout) -> bool:
    """Whether an alternative is no work: nothing in it is built, provided or kept up."""
    return not rebuilds(before, after) and not measures(before, after)


def under_conditions_of(before: Judgement, after: Judgement) -> Layout | None:
    """The drawing with the fluid and the site of an alternative; None where these are the same, or where it
    asks for more flow besides."""
    old, new = before.layout, after.layout
    if (old.fluid, old.site) == (new.fluid, new.site) or any(_more_flow(before, after, System(old.units))):
        return None
    return replace(old, fluid=new.fluid, site=new.site)


def _as_built(pump: Pump) -> Pump:
    return replace(pump, flow=None, speed=None, at_rest=False)


def advised_on(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> JudgedDrawing:
    """What changes are worked out for: the alternative where it is better, or for other conditions; else the
    drawing as it stands, as where a fault of it is put right or a screen cleaned, and that is enough."""
    if after is None or is_mended(before):
        return before
    wanted = better(before.judgement, after.judgement) and not is_enough_cleaned(before)
    return after if wanted or for_other_conditions(before.judgement, after.judgement, system) else before


def to_build(before: JudgedDrawing, after: JudgedDrawing | None, system: System) -> JudgedDrawing:
    """What is recommended: what is advised on, unless what is enough would not be built on it."""
    chosen = advised_on(before, after, system)
    return before if chosen is after and is_replaced(chosen) else chosen


def is_mended(drawn: JudgedDrawing) -> bool:
    """Whether a drawing lacks margin by its faults alone: what is wrong put right as drawn is enough."""
    lacking = [pump for pump, place in worst_places(drawn.judgement) if lacks(place)]
    fixes = [choice.fix for pump in lacking if (choice := drawn.chosen.get(pump)) is not None]
    return bool(fixes) and all(fix is not None and fix.as_drawn and fix.cures for fix in fixes)


def is_enough_cleaned(drawn: JudgedDrawing) -> bool:
    """Whether screens of a drawing are to be cleaned by what was read, and nothing is lacking then."""
    places = drawn.judgement.pumps_in_cases
    known = drawn.as_read is not None and bool(places) and not drawn.judgement.not_judged
    return known and not any(lacks(place) for place in places)


def of_choice(before: JudgedDrawing, after: JudgedDrawing, state: str, system: System) -> Iterator[str]:
    """What an alternative adds where its screens cleaned are enough for the drawing: a choice, not a need.

    state: how it stands then, "" where that is said elsewhere.
    """
    now, then = before.judgement.worst(cases=after.judgement.cases), after.judgement.worst()
    more = 0.0
    if now is not None and then is not None:
        more = gained(now.ledger.margin, then.ledger.margin, Kind.VACUUM, system)
    adds = f" for {ledger_pressure(more, system)} more of least margin" if more > 0.0 else ""
    choice = f"{after.called} is a choice of its own{adds}"
    yield f"{choice}: {state}" if state else f"{choice}."
    names = () if before.as_read is None else before.as_read.names
    drawn, changed = before.judgement.layout, after.judgement.layout
    if gone := [name for name in names if takes_out(changed, drawn, name)]:
        yield f"{' and '.join(gone)} as now fitted goes with it: built at once, no need to clean that first."
    if kept := [name for name in names if name not in gone]:
        yield f"With it {' and '.join(kept)} is to be cleaned all the same."


def purpose(after: JudgedDrawing) -> str:
    """What an alternative says of itself."""
    note = " ".join(after.note.split()).rstrip(".")
    return f'Its note: "{note}."' if note and len(note) <= MOST_WHOLE else ""


def is_replaced(chosen: JudgedDrawing) -> bool:
    """Whether an alternative is not enough, and what is enough would not be built on it."""
    over = [pump for pump, place in worst_places(chosen.judgement) if is_over(place)]
    fixes = [choice.fix for pump in over if (choice := chosen.chosen.get(pump)) and choice.fix is not None]
    return any(undoes(fix, chosen.judgement.layout, chosen.base) for fix in fixes)
