"""The words of the screen explained, for tips and for Help: one sentence each."""

from __future__ import annotations

import re
from collections.abc import Mapping

WORDS: Mapping[str, str] = {
    "Atmosphere": (
        "The air pressure at the site, from its elevation or from a barometer that is not reduced "
        "to sea level, less an allowance for a low-pressure day."
    ),
    "Floor": "The least absolute pressure that the pump needs at its inlet port.",
    "Kept to fill the pump": "The pressure below the floor: it may not be spent, the pump needs it.",
    "Over budget": "What is spent beyond the inlet budget. A pump that stands there does not fill.",
    "Inlet budget": "Pressure on the fluid's surface less the floor: all that there is to spend.",
    "Entry": "What one element takes: lift, for going up, and loss, for friction, fittings and screens.",
    "Share": "An entry as a part of the budget.",
    "Given back": "A share below zero: pressure that is gained, as by the fluid above a flooded port.",
    "Margin": "What is left of the budget. Below zero: over.",
    "Vacuum": "What a gauge at the port would show.",
    "Allowed vacuum": "The largest vacuum that the gauge may show at this site.",
    "Highest port": "How high the port may stand until the margin is spent, everything else as it is.",
    "Velocity head": (
        "Pressure spent on the fluid's own motion at the port; a gauge there reads what is left."
    ),
    "Trials": (
        "How sure the margin is: of ten thousand trials of what is not known of the line, 90 of 100 "
        "leave a margin between these two."
    ),
    "Entrance, screen": (
        "The entrance is the way into the pipe, the screen the mesh in front of it: each takes a share."
    ),
    "K": "Loss of a fitting in velocity heads.",
    "est.": "Estimated: from the maker's figure, for another fluid or speed than it was stated for.",
    "Case": (
        "What happens to a line without rebuilding it: a cold morning, a strainer due for cleaning. "
        "The headline is that of the worst case."
    ),
    "NPSH": (
        "Head above the vapour pressure at the port, for pumps whose maker states NPSH required: a height of "
        "the fluid, where the ledger counts in pressure."
    ),
}
"""What each word means, in one sentence."""

PHRASES: Mapping[str, str] = {
    "allowed": "Allowed vacuum",
    "atmosphere": "Atmosphere",
    "trials": "Trials",
    "entrance": "Entrance, screen",
    "est.": "est.",
    "estimate": "est.",
    "estimated": "est.",
    "flooded": "Given back",
    "floor": "Floor",
    "given back": "Given back",
    "highest port": "Highest port",
    "inlet budget": "Inlet budget",
    "k": "K",
    "kept to fill the pump": "Kept to fill the pump",
    "left": "Margin",
    "lift": "Entry",
    "margin": "Margin",
    "npsh": "NPSH",
    "over budget": "Over budget",
    "over by": "Over budget",
    "screen": "Entrance, screen",
    "share": "Share",
    "vac.": "Vacuum",
    "vacuum": "Vacuum",
    "velocity head": "Velocity head",
}
"""How each word stands in a text on the screen."""

_FOUND = re.compile(
    "|".join(rf"(?<!\w){re.escape(phrase)}(?!\w)" for phrase in sorted(PHRASES, key=len, reverse=True)),
    re.IGNORECASE,
)


def word_meanings(text: str) -> str:
    """What the words in a text mean, a line each; "" where none of them needs it."""
    words = dict.fromkeys(PHRASES[match.lower()] for match in _FOUND.findall(text))
    return "\n".join(f"{word}: {WORDS[word]}" for word in words)
