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
        "How sure the margin is, by ten thousand trials of what is not known of the line, or a thousand "
        "where lines run in parallel: in how many of 100 the pump is over, or between which two margins 90 "
        "of 100 lie."
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
    "As drawn": "The case of the drawing's own figures, without what any other case changes.",
    "Coldest start": "The case of the coldest fluid that the pump is started with.",
    "Branch": "The leg of a tee that turns off; its run goes straight on.",
    "Trapped high point": (
        "A part of the line that is higher than what lies on either side: air gathers there, and comes to "
        "the pump as one slug."
    ),
    "Port": "The pump's inlet, where its line ends; its maker states the limit there.",
    "Lift": "How far the port stands over the fluid. Flooded: how far under it, which gives pressure back.",
    "Submergence": "How deep an intake lies under the fluid; too little, and a vortex draws air in.",
    "Low-pressure day": "A day on which the air presses less than usual, so that there is less to spend.",
    "Tap": "The small hole in a pipe, or plugged opening of a port, to which a gauge is connected.",
    "Expected": "What the drawing gives for a gauge at that place, in the state that was noted.",
    "Eased limit": (
        "A maker's limit that a slower speed or a lighter fluid than its own is let loosen; the maker has "
        "not said so."
    ),
    "Length not drawn": (
        "What a line runs towards you or away from you, out of the plane of the drawing: counted, not seen."
    ),
    "abs": "Absolute: a pressure counted up from none at all; a vacuum is counted down from the air here.",
    "inHg": "Inches of mercury, a pressure: the air at sea level presses with 29.9.",
    "cSt": "Centistokes, how thick a fluid is: water at room temperature has 1.",
    "NPS": "Nominal pipe size in inches; the bore is near it, and smaller with a thicker wall (schedule).",
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
    "tap": "Tap",
    "vac.": "Vacuum",
    "vacuum": "Vacuum",
    "velocity head": "Velocity head",
}
"""How each word stands in a text on the screen."""

ON_PAPER: Mapping[str, str] = {
    **PHRASES,
    "port": "Port",
    "lift": "Lift",
    "flooded": "Lift",
    "submergence": "Submergence",
    "as drawn": "As drawn",
    "coldest start": "Coldest start",
    "branch": "Branch",
    "trapped high point": "Trapped high point",
    "high point": "Trapped high point",
    "abs": "abs",
    "low-pressure day": "Low-pressure day",
    "inhg": "inHg",
    "cst": "cSt",
    "nps": "NPS",
}
"""How each word stands in a text on paper, which nobody can point at, for readers who are no engineers."""


def _pattern_of(phrases: Mapping[str, str]) -> re.Pattern[str]:
    """Finds phrases in a text, each as whole words."""
    longest = sorted(phrases, key=len, reverse=True)
    return re.compile("|".join(rf"(?<!\w){re.escape(phrase)}(?!\w)" for phrase in longest), re.IGNORECASE)


_ON_SCREEN, _ON_PAPER = _pattern_of(PHRASES), _pattern_of(ON_PAPER)


def word_meanings(text: str) -> str:
    """What the words in a text mean, a line each; "" where none of them needs it."""
    words = dict.fromkeys(PHRASES[match.lower()] for match in _ON_SCREEN.findall(text))
    return "\n".join(f"{word}: {WORDS[word]}" for word in words)


def words_on_paper(text: str) -> dict[str, str]:
    """The words in a text on paper with what they mean, in the order of the glossary."""
    standing = {ON_PAPER[match.lower()] for match in _ON_PAPER.findall(text)}
    return {word: meaning for word, meaning in WORDS.items() if word in standing}
