"""What the notes of a drawing ask for before work is done, quoted in the words in which they were typed."""

from __future__ import annotations

import re
from collections.abc import Iterator

ASKING = re.compile(
    r"\b(permi(t|ts|tted|ssions?)|not allowed|approv\w+|consent\w*|agreed|agreement|authorit\w+|insur\w+"
    r"|regulation\w*|codes?|licen[cs]\w+|shut ?downs?|outages?|hot work|inspect\w+|certif\w+|notif\w+"
    r"|forbid\w*|prohibit\w*)\b",
    re.IGNORECASE,
)
"""Words in which a note speaks of what others must say, or of what must stand still, before work is done."""

CONDITION = re.compile(
    r"\b(must|only|unless|until|provided|subject to|requires?|required|needs?|has to|have to|ought to|may not"
    r"|cannot|depends?|if|before|after|first|wait\w*|ask\w*|clear\w*|without)\b",
    re.IGNORECASE,
)
"""Words in which a note may state a condition: what holds one is quoted of a long note, not its beginning."""

FORBIDDING = re.compile(
    r"\b(not (be )?(allowed|permitted)|forbid\w*|forbad\w*|prohibit\w*|no permission|without permission"
    r"|(permission|leave|consent) (is|was|has been) (refused|denied)|must not|may not|banned)\b",
    re.IGNORECASE,
)
"""Words in which a note forbids something."""

LONGEST_WHOLE = 60
"""Words of a sentence that forbids something and is quoted whole."""

FEWEST_LETTERS = 4
"""Of a word by which what is forbidden is known again."""

LEAST, MOST = 10, 22
"""Words of a quotation: with fewer it takes the clause before too, and with more it is cut."""

MOST_WHOLE = 200
"""Characters of a note that is quoted whole, whatever its words."""

MOST_OF_BEGINNING = 12
"""Words of how a longer note begins."""

ELLIPSIS = "\N{HORIZONTAL ELLIPSIS}"


def asked_for(note: str, words: re.Pattern[str] = ASKING) -> Iterator[str]:
    """Every sentence of a note that asks for something before work, shortened to the clause that does.

    words: by which it is known.
    """
    for sentence in re.split(r"(?<=[.!?])\s+", " ".join(note.split())):
        if words.search(sentence):
            yield sentence.rstrip(".") if _is_whole(sentence) else _clause(sentence, words)


def _is_whole(sentence: str) -> bool:
    """Whether a sentence is quoted whole: a short one, and one that forbids something."""
    return len(sentence.split()) <= (LONGEST_WHOLE if FORBIDDING.search(sentence) else MOST)


def forbidden_in(note: str, *texts: str) -> bool:
    """Whether a note forbids something that any of the texts speaks of, by a word that both have."""
    spoken = {word for text in texts for word in _words(text)}
    for sentence in re.split(r"(?<=[.!?])\s+", " ".join(note.split())):
        for clause in re.split(r"(?<=[,;:])\s+", sentence):
            if FORBIDDING.search(clause) and spoken.intersection(_words(FORBIDDING.sub(" ", clause))):
                return True
    return False


def _words(text: str) -> set[str]:
    """The words of a text that are long enough, each in the singular."""
    every = re.findall(r"[^\W\d_]+", text.casefold())
    return {word.rstrip("s") for word in every if len(word) >= FEWEST_LETTERS}


def quoted_of(note: str) -> tuple[str, ...]:
    """What is quoted of the note of what is to be built: all of it where it is short; else what asks for
    something, then what may be a condition, and how it begins where it has neither."""
    whole = " ".join(note.split())
    if len(whole) <= MOST_WHOLE:
        return tuple(filter(None, (whole.rstrip("."),)))
    asked = dict.fromkeys((*asked_for(note), *asked_for(note, CONDITION)))
    return tuple(asked) or (beginning_of(note),)


def beginning_of(note: str) -> str:
    """How a note begins, all of it where it is short."""
    words = note.split()
    if len(words) <= MOST_OF_BEGINNING:
        return " ".join(words).rstrip(".")
    return f"{' '.join(words[:MOST_OF_BEGINNING]).rstrip(',;:')} {ELLIPSIS}"


def _clause(sentence: str, asking_words: re.Pattern[str]) -> str:
    clauses = re.split(r"(?<=[,;:])\s+", sentence)
    at = next((number for number, clause in enumerate(clauses) if asking_words.search(clause)), 0)
    first, words = at, clauses[at].split()
    while first and len(words) < LEAST:
        first -= 1
        words = [*clauses[first].split(), *words]
    cut = first > 0, at < len(clauses) - 1
    if len(words) > MOST:
        asking = next((number for number, word in enumerate(words) if asking_words.search(word)), 0)
        begin = max(0, min(asking - MOST // 2, len(words) - MOST))
        cut = cut[0] or begin > 0, cut[1] or begin + MOST < len(words)
        words = words[begin : begin + MOST]
    text = " ".join(words).rstrip(",;:.").removeprefix("and ")
    return f"{f'{ELLIPSIS} ' if cut[0] else ''}{text}{f' {ELLIPSIS}' if cut[1] else ''}"
