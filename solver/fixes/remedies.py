"""What to try against a finding, in words made from the changes that were solved."""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import replace

from solver.findings.checks import Finding
from solver.findings.criteria import case_in_words
from solver.findings.judgement import Judgement
from solver.findings.kinds import OVER_BUDGET, FindingId
from solver.fixes import aims
from solver.fixes.aims import Remedy
from solver.fixes.candidate import but_then, drawbacks
from solver.fixes.fixes import Advice, C, Change, LazyAdvice, advise_lazily, folded
from solver.layout.parts import Layout, Level
from solver.ledger.sentences import sentence_of_pump
from solver.network.build import NetworkError
from solver.properties.fluid import FluidError
from solver.quantities.units import System
from solver.quantities.wording import capitalised, error_text

MOST_NAMED = 3
"""Changes named with one finding; all of them stand in the list of fixes."""

OF_THE_MARGIN = frozenset(
    {
        FindingId.OVER_THE_LIMIT,
        FindingId.THIN_MARGIN,
        FindingId.NEAR_VAPOR_PRESSURE,
    }
)

ANSWERED = OF_THE_MARGIN | aims.AIMED

NOTHING_HELPS = "None of the changes that were tried gains anything here."
NOTHING_ANSWERS = "None of the changes that were tried solves this without harm to the margin."


OfPump = Advice | LazyAdvice


def with_remedies(
    judgement: Judgement,
    level: Level = Level.MINIMUM,
    advice: Mapping[str, Advice] | None = None,
    drawn: Layout | None = None,
    recommended: Mapping[str, Change] | None = None,
) -> Judgement:
    """The judgement, its findings with what to try, from changes that were solved.

    Parameters: `level` it was judged at; `advice` by pump, of the same drawing, where it is at hand; `drawn`,
    the drawing itself, of an alternative: what has suffered is put back as it is drawn first; `recommended`,
    by pump the one of its changes that is named first, and as such.
    Where the changes cannot be worked out, the finding says why.
    """
    judgement = judgement.worded
    if not any(each.unsolved for findings in judgement.findings_by_case.values() for each in findings):
        return judgement
    system = judgement.layout.units
    try:
        by_pump = advise_lazily(judgement.layout, level, drawn) if advice is None else advice
    except (NetworkError, FluidError) as error:
        why = f"Not worked out: {error_text(error, system)}."
        return _with_advice(judgement, lambda finding, case: why)
    return _with_advice(
        judgement, lambda finding, case: _advice(finding, case, by_pump, system, recommended or {})
    )


def without_remedies(judgement: Judgement, why: str) -> Judgement:
    """The judgement; findings whose changes would have to be solved say why there is nothing to try."""
    return _with_advice(judgement.worded, lambda finding, case: why)


def _with_advice(judgement: Judgement, advice: Callable[[Finding, str], str]) -> Judgement:
    """The judgement with what to try, from a finding and its case."""
    advised = {
        case: tuple(
            replace(each, advice=advice(each, case), unsolved=False) if each.unsolved else each
            for each in findings
        )
        for case, findings in judgement.findings_by_case.items()
    }
    return replace(judgement, findings_by_case=advised)


def _advice(
    finding: Finding,
    case: str,
    advice: Mapping[str, OfPump],
    system: System,
    recommended: Mapping[str, Change],
) -> str:
    own = _of_its_pump(finding, advice)
    if own is None:
        return finding.advice or NOTHING_HELPS
    return remedy(finding, own, system, case, recommended.get(own.now.pump))


def _of_its_pump(finding: Finding, advice: Mapping[str, OfPump]) -> OfPump | None:
    """The advice for the pump that a finding is about: by its name, or the worst that the part feeds."""
    if finding.part in advice:
        return advice[finding.part]
    fed = [each for each in advice.values() if finding.part in each.now.parts]
    worst_first = sorted(fed, key=lambda each: each.now.margin)
    return next((each for each in worst_first if _aimed(finding, each)), next(iter(worst_first), None))


def _aimed(finding: Finding, advice: OfPump) -> list[Remedy]:
    """The changes that answer a finding by a figure of its own, the best first."""
    return aims.best(advice.remedies_of(finding.finding, finding.part), MOST_NAMED)


def remedy(
    finding: Finding, advice: OfPump, system: System, case: str = "", recommended: Change | None = None
) -> str:
    """What to try against one finding of a case, with what each change buys in the case that decides.

    recommended: the change of its pump that is named first, and as such.
    """
    if finding.finding in aims.AIMED:
        return _by_its_figure(finding, advice, system)
    place = (finding.finding, finding.part)
    ending = [fix for fix in advice.fixes if place in fix.ends]
    offered = [fix for fix in advice.fixes if not ending or fix.as_drawn or place in fix.ends]
    best = [fix for fix in named_first(offered) if fix is not recommended]
    sentences = [_sentence(fix, system) for fix in best[:MOST_NAMED]]
    if recommended is not None and finding.finding in OF_THE_MARGIN:
        named = f"Recommended: {_sentence(recommended, system, capital=False)}"
        if recommended.pump != advice.now.pump:
            named = f"What is recommended for {recommended.pump} does here too: {recommended.text}."
        sentences = [named, *sentences[: MOST_NAMED - 1]]
    if not ending:
        together = [fix for fix in advice.together if fix is not recommended][:1]
        sentences += [f"Together: {_sentence(fix, system, capital=False)}" for fix in together]
    if not sentences:
        sentences = [NOTHING_HELPS]
    elif len(advice.now.cases) > 1:
        sentences = [_decides(advice, case, system), *sentences]
    if finding.finding in OVER_BUDGET and (needed := advice.overhead) is not None:
        sentences.append(needed.sentence(system))
    return " ".join([*sentences, *_reserved(advice)])


def named_first(fixes: Iterable[C]) -> list[C]:
    """Changes in the order in which a finding names them, of those that lay one line anew the best."""
    ranked = sorted(fixes, key=lambda fix: (not fix.as_drawn, bool(fix.only), bool(fix.worsens), -fix.gain))
    return [fix for fix, _ in folded(ranked)]


def _decides(advice: OfPump, case: str, system: System) -> str:
    """Which case the figures of the changes are of; where the finding is of another, how the pump is there.

    Of a pump that is short in one case and within in another, what lacks is more than the finding shows.
    """
    now = advice.now
    if case in ("", now.case):
        return f"Figures are for the case with the least margin, {case_in_words(now.case)}."
    there = sentence_of_pump(now.ledger, system)
    return (
        f"The figures of the finding are those of the case {case_in_words(case)}; what a change buys, "
        f"and what more is "
        f"needed, is counted in the case with the least margin, {case_in_words(now.case)}: there {there}."
    )


def _by_its_figure(finding: Finding, advice: OfPump, system: System) -> str:
    sentences = [each.sentence(system) for each in _aimed(finding, advice)]
    return " ".join([*(sentences or [finding.advice or NOTHING_ANSWERS]), *(_reserved(advice))])


def _reserved(advice: OfPump) -> Iterator[str]:
    return (f"{capitalised(each)}." for each in advice.reservations)


def _sentence(fix: Change, system: System, *, capital: bool = True) -> str:
    text = capitalised(fix.text) if capital else fix.text
    return f"{text}: {fix.buys(system)}{drawbacks((), fix.only)}.{but_then(fix.worsens)}"
