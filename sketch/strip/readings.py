"""What the strip says of the margin: as it is, in the worst case, against the saved one; in few words."""

from __future__ import annotations

from collections.abc import Mapping
from typing import NamedTuple

from sketch.model.document import Document
from solver.findings.judgement import Judgement, PumpInCase
from solver.findings.outlook import unfit_reason
from solver.layout.cases import AS_DRAWN
from solver.ledger.sentences import brief
from solver.ledger.solve import PumpLedger
from solver.quantities.adding import PLACES, gained
from solver.quantities.units import Kind, System
from solver.quantities.wording import capitalised, is_none, ledger_pressure

NOT_FIT, SAME = "not fit to run", "same"
LESS = "<"
"""Before a figure that would read as nothing: there is no room for words."""


def margin_text(ledger: PumpLedger | None, system: System) -> str:
    """How a pump stands."""
    if ledger is None:
        return "Not calculated"
    return capitalised(brief(ledger, system, LESS))


def case_text(ledger: PumpLedger, system: System) -> str:
    """How it stands in a case, in few words."""
    return brief(ledger, system, LESS)


def unfit_text(judgement: Judgement | None, place: PumpInCase | None) -> str:
    """Why a pump is not fit to run in a case for all its margin; "" where it is."""
    reason = unfit_reason(judgement, place) if judgement is not None and place is not None else ""
    return f"{NOT_FIT}: {reason}" if reason else ""


class OthersText(NamedTuple):
    """What is said of the cases that are not in view."""

    text: str  # with line feeds where it is best broken
    tip: str
    ill: bool  # whether it is nothing good


def others_text(document: Document) -> OthersText:
    """How the pump that is shown stands in the worst of the cases not in view, and which are not judged.

    A case that comes to the same as the one in view is said to, for neither is then the worse.
    """
    outcome, system, pump = document.outcome, document.system, document.pump
    judgement, place = outcome.judgement, outcome.worst_elsewhere(pump)
    missing = [case for case in outcome.not_judged if case.name != outcome.case]
    parts = [f"{len(missing)} not judged"] if missing else []  # what is too long is cut at its end
    tips, ill = [], bool(missing)
    if judgement is not None and place is not None:
        words, unfit = whole = case_text(place.ledger, system), unfit_text(judgement, place)
        in_view = judgement.worst(pump, [outcome.case])
        same = in_view is not None and whole == (
            case_text(in_view.ledger, system),
            unfit_text(judgement, in_view),
        )
        parts.append(elsewhere_text(SAME if same else NOT_FIT if unfit else words, place.case))
        named = "as drawn" if place.case == AS_DRAWN else f'in "{place.case}"'
        least = "The same margin as in view" if same else "Least margin in any other case"
        tips.append(f"{least}, {named}: {', '.join(filter(None, whole))}")
        ill = ill or bool(unfit) or not place.ledger.sound
    tips += [f'"{case.name}" not judged: {case.why(system)}' for case in missing]
    return OthersText(";\n".join(parts), ". ".join(tips), ill)


def elsewhere_text(words: str, case: str) -> str:
    """How it stands in another case, in few words, and which behind a line feed: 3.6 inHg left, in "noon"."""
    where = case if case == AS_DRAWN else f'in "{case}"'
    return f"{short_text(words)}\n{where}"


def short_text(words: str) -> str:
    """A case's words in less room: "5.8 inHg over" for "over by 5.8 inHg", "6.9 kPa left" for a margin."""
    for long, short in (("over by ", "over"), ("margin ", "left")):
        before, cut, figure = words.partition(long)
        if cut and figure[:1].isdigit():
            amount, comma, rest = figure.partition(",")
            return f"{before}{amount} {short}{comma}{rest}"
    return words


def change_text(document: Document) -> str:
    """How far the margin is from that of the drawing as saved, or as it began where it never was.

    Of the case in view, and of the worst where that changed otherwise; which cases are judged no longer.
    """
    now, saved = (each.margins(document.pump) for each in (document.outcome, document.saved_outcome))
    if document.case not in now or not saved:
        return ""
    before = _before(document)
    if document.layout == document.saved_layout:
        return f"as {before}"
    lost, new = len(saved.keys() - now.keys()), len(now.keys() - saved.keys())
    parts = [f"{_cases(lost)} no longer judged"] if lost else []  # first: what is too long is cut at its end
    if document.case in saved:
        parts += _by_case(now, saved, document.case, before, document.system)
    else:
        parts += [f"not judged as {before}"]
    return "; ".join(parts + ([f"{_cases(new)} newly judged"] if new else []))


def _before(document: Document) -> str:
    """What a margin is set against, as the end of "better than": of a new alternative, the drawing."""
    if document.alternative and document.alternative not in document.file.saved.alternatives:
        return "the drawing"
    return "saved" if document.path is not None else "at first"


def _gain_text(gain: float, system: System) -> str:
    """How much better or worse a margin has become, as both are shown [Pa]; "" where they are shown alike."""
    if is_none(gain, Kind.VACUUM, system, PLACES):
        return ""
    return f"{ledger_pressure(abs(gain), system)} {'better' if gain > 0 else 'worse'}"


def _by_case(
    now: Mapping[str, float], saved: Mapping[str, float], case: str, before: str, system: System
) -> list[str]:
    """What became of the margin in view [Pa], and elsewhere where that is another change; the worse first."""
    gain = gained(saved[case], now[case], Kind.VACUUM, system)
    own = _gain_text(gain, system)
    change, elsewhere = _elsewhere(now, saved, own, system)
    if not elsewhere:
        return [f"{own} than {before}" if own else f"same margin as {before}"]
    in_view = f"in view {f'{own} than' if own else 'the same as'} {before}"
    if change <= gain:
        return [elsewhere, in_view]
    # "The same margin" beside one that has changed would say both.
    return [f"{own} than {before}" if own else in_view, elsewhere]


def _elsewhere(
    now: Mapping[str, float], saved: Mapping[str, float], own: str, system: System
) -> tuple[float, str]:
    """The change of the least margin of all [Pa], or of another case, in words; "" where it is that in view.

    The least as saved is that of the cases which are still judged: one that is gone makes nothing better.
    """
    gains = {name: gained(saved[name], now[name], Kind.VACUUM, system) for name in now if name in saved}
    gain = gained(min(saved[name] for name in gains), min(now.values()), Kind.VACUUM, system)
    worst = _gain_text(gain, system)
    if worst != own:
        return gain, f"worst case {worst or 'the same'}"
    for name in (min(gains, key=gains.__getitem__), max(gains, key=gains.__getitem__)):
        other = _gain_text(gains[name], system)
        if other and not own:
            return gains[name], f'"{name}" {other}' if name else f"as drawn {other}"
    return 0.0, ""


def _cases(count: int) -> str:
    return f"{count} case{'' if count == 1 else 's'}"
