"""The line as it stands once all that is ordered is built: every change made together, judged as one."""

from __future__ import annotations

from solver.findings.judgement import Judgement, PumpInCase, PumpState
from solver.fixes.aims import Remedy
from solver.fixes.fixes import Fix
from solver.ledger.sentences import limit_unknown, margin_text, sentence_of_pump
from solver.quantities.units import System
from solver.report.choices import Choice, laid_together, worst_places
from solver.report.choosing import JudgedDrawing, judged_alike
from solver.report.clearing import in_short, to_clear, uncleared
from solver.report.ways import clearing_changes


def as_built(chosen: JudgedDrawing) -> Judgement | None:
    """A drawing with all that is ordered besides; itself where nothing is.

    None where the changes cannot be made together, or fewer cases can be judged then.
    """
    changes = ordered_changes(chosen)
    if not changes:
        return chosen.judgement
    layout = laid_together(chosen.judgement.layout, changes)
    then = None if layout is None else judged_alike(layout, chosen.judgement)
    return None if then is None or len(then.not_judged) > len(chosen.judgement.not_judged) else then


def built_with(chosen: JudgedDrawing, system: System) -> str:
    """The order to build an alternative with all that is ordered besides, and how the line stands then, a
    sentence; "" where nothing is."""
    changes, together = ordered_changes(chosen), as_built(chosen)
    if not changes:
        return ""
    order = ", and ".join([chosen.order, *(each.text for each in changes)])
    worst = None if together is None else together.worst()
    if together is None or worst is None:
        return f"{order}: how these stand together is not known, draw both first."
    left = in_short(uncleared(together))
    cleared = f"still to be cleared: {left}" if left else "and nothing is left to be cleared"
    if not worst.ledger.sound:
        return f"{order}: {sentence_of_pump(worst.ledger, system)} then, so do not build both."
    margin = margin_text(worst.ledger, system).removeprefix("margin ")
    return f"{order}: {worst.pump} then has {margin} left, {cleared}."


def ordered_changes(chosen: JudgedDrawing) -> tuple[Fix | Remedy, ...]:
    """What is ordered besides: for each pump that lacks margin, then what clears the rest."""
    ordered = (ordered_fix(chosen, pump, place) for pump, place in worst_places(chosen.judgement))
    own = tuple(fix for fix in ordered if fix is not None)
    return (*own, *clearing_changes(chosen, to_clear(chosen)))


def ordered_fix(chosen: JudgedDrawing, pump: str, place: PumpInCase) -> Fix | None:
    """The change that is ordered for a pump where nothing else is; no wider margin where an alternative has
    one."""
    choice = chosen.chosen.get(pump, Choice(None))
    enough = bool(chosen.name) and place.pump_state is PumpState.THIN
    if choice.fix is None or choice.serves or enough or limit_unknown(place.ledger):
        return None
    return choice.fix if choice.fix.cures or choice.overhead is None else None
