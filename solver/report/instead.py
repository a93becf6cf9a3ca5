"""What would do in the place of the alternative that is recommended."""

from __future__ import annotations

from collections.abc import Iterator

from solver.quantities.units import System
from solver.report.choices import is_over, worst_places
from solver.report.choosing import JudgedDrawing, is_replaced
from solver.report.not_drawn import would_do_too


def in_its_place(before: JudgedDrawing, after: JudgedDrawing, system: System) -> Iterator[str]:
    """What would do in the drawing as it stands, without the alternative that is recommended."""
    if after.judgement.sound:
        yield from filter(None, (would_do_too(before, after, system),))
    elif not is_replaced(after):
        yield from _instead(before, after, system)


def _instead(before: JudgedDrawing, after: JudgedDrawing, system: System) -> Iterator[str]:
    """What would be enough in the drawing as it stands, without an alternative that is not."""
    over = [pump for pump, place in worst_places(before.judgement) if is_over(place)]
    choices = {pump: choice for pump in over if (choice := before.chosen.get(pump)) is not None}
    fixes = [choice.fix for choice in choices.values() if choice.fix is not None]
    if len(fixes) < len(over) or not all(fix.is_enough and not fix.only for fix in fixes):
        return
    own = {pump: fix for (pump, choice), fix in zip(choices.items(), fixes, strict=True) if not choice.serves}
    named = ", and to ".join(
        f"{fix.text}{f' for {pump}' if len(own) > 1 else ''} ({fix.buys(system)})"
        for pump, fix in own.items()
    )
    worse = dict.fromkeys(text for fix in own.values() for text in fix.worsens)
    harm = f"; but then: {'; '.join(worse)}" if worse else ""
    yield f"Without {after.called}, to {named} would be enough in the drawing as it stands{harm}."
