"""What can be looked at with the drive locked out, and what it would show under two causes.

It breaks no limit, where a reading would. Common practice, no source.
"""

from __future__ import annotations

from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass

from solver.field.causes import CauseKind
from solver.field.explain import Explanation
from solver.field.lodged import CHECK, CONNECTOR, FILTER, RAG
from solver.field.trials import NextStep
from solver.quantities.units import Kind, System, typeset

LOCKED_OUT = "With the pump stopped and its drive locked out, "


@dataclass(frozen=True, slots=True)
class _Look:
    """One thing to look at: what to do, and what is seen with the cause that it is for, or without it."""

    what: str  # {part}: where the cause is
    seen: Callable[[Explanation, System], str]
    otherwise: str
    opens_tank: bool = False  # never on a pressurised tank
    opens_line: bool = False  # the line is drained or taken apart for it


def _words(text: str) -> Callable[[Explanation, System], str]:
    return lambda explanation, system: text


def _covered(explanation: Explanation, system: System) -> str:
    return f"about {typeset(explanation.size, Kind.SHARE, system)} of its mesh covered"


def _stuck(explanation: Explanation, system: System) -> str:
    return f"{_covered(explanation, system)}, and its bypass stuck or set too high"


def _lower(explanation: Explanation, system: System) -> str:
    return f"it stands about {typeset(explanation.size, Kind.LENGTH, system)} lower than noted or drawn"


def _thicker(explanation: Explanation, system: System) -> str:
    return f"another grade, or a sample about {explanation.size:.1f} times as thick as the drawing's fluid"


def _narrower(explanation: Explanation, system: System) -> str:
    return f"about {typeset(explanation.size, Kind.SHARE, system)} of its diameter left"


def _longer(explanation: Explanation, system: System) -> str:
    return (
        f"pipe and bends that come to about {typeset(explanation.size, Kind.SHARE, system)} more than drawn"
    )


_LOOKS: Mapping[CauseKind, _Look] = {
    CauseKind.LEVEL: _Look(
        "read the level in {part} at a dipstick or a glass, and hold it against the drawing",
        _lower,
        "it stands where it was noted",
    ),
    CauseKind.FLUID: _Look(
        "read the label of the drum that the fluid came from, and have a sample's viscosity measured at a "
        "known temperature",
        _thicker,
        "the grade and the viscosity as drawn",
    ),
    CauseKind.RESISTANCE: _Look(
        "look at {part}: how far it is open, and into it for what may lie there",
        _words("half shut, or something lies in it"),
        "fully open and free",
    ),
    CauseKind.SURFACE: _Look(
        "open the breather of {part}, never on a pressurised tank, and look at its element",
        _words("the element clogged, or air rushing in as it comes off"),
        "the element clean",
        opens_tank=True,
    ),
    CauseKind.MORE_FLOW: _Look(
        "read the plates of {part} and of its drive against the drawing",
        _words("a larger pump, or a faster drive"),
        "both as drawn",
    ),
    CauseKind.SCREEN: _Look(
        "close the line off or lower the fluid, pull {part} and look at its mesh",
        _covered,
        "its mesh clean",
        opens_line=True,
    ),
    CauseKind.STUCK: _Look(
        "close the line off or lower the fluid, pull {part}, look at its mesh, and open its bypass by hand",
        _stuck,
        "its bypass opens freely, at the pressure that is drawn",
        opens_line=True,
    ),
    CauseKind.HOSE: _Look(
        "take {part} off at one end, look into it with a light and press its wall",
        _words("its liner soft, swollen or loose"),
        "its liner smooth and firm",
        opens_line=True,
    ),
    CauseKind.AS_BUILT: _Look(
        "measure the line with a tape and count its bends against the drawing",
        _longer,
        "lengths and bends as drawn",
    ),
    CauseKind.BORE: _Look(
        "take {part} off at one end, and measure its bore and what has settled in it",
        _narrower,
        "the bore as drawn, and clean",
        opens_line=True,
    ),
    CauseKind.LESS_FLOW: _Look(
        "read the plate of {part} and the label of the drum that the fluid came from, and have the pump "
        "checked for wear",
        _words("a smaller pump, a worn one, or a thinner grade"),
        "pump and grade as drawn, and not worn",
    ),
    CauseKind.JOINT: _Look(
        "look at every joint that is below the atmosphere: its seal, and whether it is tight",
        _words("one that is loose, or its seal hurt"),
        "all tight, their seals whole",
    ),
    CauseKind.SEAL: _Look(
        "look at the shaft seal: its lip, and the shaft under it",
        _words("the lip hard or worn, or the shaft grooved"),
        "lip and shaft smooth",
    ),
    CauseKind.VORTEX: _Look(
        "measure how much fluid stands over the intake against the drawing",
        _words("less than drawn"),
        "as much as drawn",
    ),
    CauseKind.RETURN: _Look(
        "look where the return ends",
        _words("above the fluid, or close to the intake"),
        "under the fluid, and far from the intake",
    ),
}
"""The cheapest first."""

_BY_WORDS: Mapping[str, _Look] = {
    CHECK: _Look(
        "take {part} apart, move its flap or poppet by hand, and look for what may lie there",
        _words("it sticks, or something lies in it"),
        "it moves freely, and nothing lies in it",
        opens_line=True,
    ),
    FILTER: _Look(
        "close the line off or lower the fluid, open {part} and look at its element",
        _words("its element clogged, or something lies in it"),
        "its element clean",
        opens_line=True,
    ),
    CONNECTOR: _Look(
        "look at {part} along its length, take it off at one end and look into it with a light",
        _words("it is kinked or crushed, or something lies in it"),
        "it lies smooth, and nothing lies in it",
        opens_line=True,
    ),
    RAG: _Look(
        "take {part} off at one end, and look into it for what may lie there",
        _words("something lies in it"),
        "nothing lies in it",
        opens_line=True,
    ),
}
"""Of a part by what may stick or lie in it, where its kind of cause has other words there."""


def looks(
    first: Explanation, second: Explanation, system: System, pressed: bool, sure: bool = False
) -> Iterator[NextStep]:
    """Each look that one of two causes has and the other has not, the cheapest first.

    sure: the first is far likelier than any other, and its own part is looked at before those of others.

    pressed: the tank may be under pressure, and nothing of it is opened.
    """
    some = False
    for kind, each in _in_order(first, sure):
        halves = [_half(explanation, kind) for explanation in (first, second)]
        own = [half for half in halves if half is not None]
        if len(own) != 1 or (pressed and each.opens_tank) or _is_covered_in_both(kind, first, second):
            continue
        each = _BY_WORDS.get(own[0].words, each)
        shows = [
            f"with {explanation.name}: {each.otherwise if half is None else each.seen(half, system)}"
            for explanation, half in zip((first, second), halves, strict=True)
        ]
        what = each.what.format(part=own[0].part)
        yield NextStep(f"{LOCKED_OUT}{what}", (shows[0], shows[1]), stopped=True)
        some = True
    if not some:
        yield from _of_one_kind(first, second, system)


def _in_order(first: Explanation, sure: bool) -> list[tuple[CauseKind, _Look]]:
    """The looks, the cheapest first; of a cause far likelier than any other its own part before those.

    A glance at the level comes before a line is opened, whatever is likelier.
    """
    every = list(_LOOKS.items())
    halves = ((kind, each, _half(first, kind)) for kind, each in every if sure)
    own = [(kind, _BY_WORDS.get(half.words, each)) for kind, each, half in halves if half is not None]
    glance = [(CauseKind.LEVEL, _LOOKS[CauseKind.LEVEL])] if any(each.opens_line for _, each in own) else []
    return list(dict([*glance, *own, *every]).items())


def _is_covered_in_both(kind: CauseKind, first: Explanation, second: Explanation) -> bool:
    """Whether a screen is blocked under both causes, so that its mesh does not tell one from the other."""
    either = [_half(each, CauseKind.SCREEN) or _half(each, CauseKind.STUCK) for each in (first, second)]
    return kind is CauseKind.SCREEN and all(either)


def _half(explanation: Explanation, kind: CauseKind) -> Explanation | None:
    """The half of an explanation that is of a kind, or the whole of a single one."""
    halves = (explanation, explanation.second)
    return next((half for half in halves if half is not None and half.cause is kind), None)


def _of_one_kind(first: Explanation, second: Explanation, system: System) -> Iterator[NextStep]:
    """A look at the part of the likeliest, where both are of one kind in different parts."""
    each = _BY_WORDS.get(first.words, _LOOKS.get(first.cause))
    if each is None or (first.cause, first.part) == (second.cause, second.part):
        return
    shows = (f"with {first.name}: {each.seen(first, system)}", f"with {second.name}: {each.otherwise}")
    yield NextStep(f"{LOCKED_OUT}{each.what.format(part=first.part)}", shows, stopped=True)
