"""What a word that is no option may have been meant for."""

from __future__ import annotations

import difflib
from collections.abc import Iterable

MOST_COMPARED = 500
"""Names that are compared for a suggestion: comparing is slow, and a long list has many near names."""

MOST_MEANT = 3
"""Options that hold the words typed, of which a suggestion names no more."""


def suggestion(word: str, options: Iterable[str]) -> str:
    """The sentence "did you mean ...?" where an option is close to a word, else nothing."""
    words = list(options)
    begun = [option for option in words if len(word) > 2 and option.casefold().startswith(word.casefold())]
    if begun:
        return f'did you mean "{min(begun, key=len)}"? '
    named = f" {word.strip()} ".casefold()
    held = [f'"{option}"' for option in words if word.strip() and named in f" {option} ".casefold()]
    if held:
        return f"did you mean {' or '.join(held[:MOST_MEANT])}? "
    close = difflib.get_close_matches(word[:64], words, n=1) if len(words) <= MOST_COMPARED else []
    return f'did you mean "{close[0]}"? ' if close else ""
