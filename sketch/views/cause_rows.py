"""What explains readings, as rows of a list and as sentences beside it. No Qt here."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from html import escape

from sketch.look.words import typographic
from solver.field.diagnosis import OTHERWISE, CauseWords, Diagnosis
from solver.quantities.wording import capitalised

HEADINGS = ("What may be wrong", "How likely", "Size")
CANNOT = "cannot"

STYLE = """
body {{ color: {ink}; }}
p {{ margin: 0 0 6px 0; }}
h4 {{ margin: 8px 0 4px 0; }}
ul {{ margin: 0 0 6px 0; }}
li {{ margin: 0 0 4px 0; }}
.quiet {{ color: {quiet}; }}
.stop {{ color: {stop}; font-weight: bold; }}
"""

CAUTION = (
    "Never feel for a leak, and never loosen a fitting on a running or pressurised machine; wet one "
    "joint at a "
    "time with the system's own fluid, guards on, hands clear. The pump maker's figures, local codes and a "
    "person licensed for the work come first."
)


@dataclass(frozen=True, slots=True)
class CauseRow:
    """One cause as the list shows it."""

    cells: tuple[str, ...]  # as many as HEADINGS
    share: float  # of all that explains the readings, 0 to 1
    possible: bool  # whether it explains the readings at all
    words: CauseWords

    @property
    def spoken(self) -> str:
        """The cause in one paragraph: how likely, in which size, what speaks for it and against it."""
        name, likely, size = self.cells
        texts = [f"{name}: {likely}" + (f", {size}" if size else "")]
        for heading, lines in (
            ("For it", self.words.evidence_for),
            ("Against it", self.words.evidence_against),
            ("Says nothing of it", self.words.neutral),
        ):
            if lines:
                texts.append(f"{heading}: {'; '.join(lines)}")
        return f"{'. '.join(texts)}."


def rows(diagnosis: Diagnosis) -> tuple[CauseRow, ...]:
    """The causes, the likeliest first; those that cannot explain the readings last."""
    return tuple(
        CauseRow(
            (capitalised(each.name), _likely(each), each.size if each.word != CANNOT else ""),
            each.explanation.weight,
            each.word != CANNOT,
            each,
        )
        for each in diagnosis.causes
    )


def _likely(each: CauseWords) -> str:
    if each.word == CANNOT:
        return "cannot explain it"
    share = f"{100 * each.explanation.weight:.0f} %"
    return share if each.word in ("possible", each.name) else f"{share}, {each.word}"


EMPTY = (
    '<p class="quiet">Whatever may be wrong, as a blocked screen, thick fluid, air drawn in or a gauge that '
    "is out, is put into the drawing and solved in every size. What comes out as the gauge has read stands "
    "here: how likely each cause is, in which size, and what to look at next.</p>"
)
"""What stands there before there is a reading."""


def page(diagnosis: Diagnosis, chosen: CauseWords | None) -> str:
    """What speaks for and against a cause, what to look at next, and what is to be known besides."""
    return "".join(_page(diagnosis, chosen))


def _page(diagnosis: Diagnosis, chosen: CauseWords | None) -> Iterator[str]:
    for words in diagnosis.beneath:
        yield f"<p>{_text(words)}</p>"
    if chosen is not None:
        yield f"<h4>{_text(capitalised(chosen.name))}</h4>"
        yield from _listed("For it", chosen.evidence_for)
        yield from _listed("Against it", chosen.evidence_against)
        yield from _listed("Says nothing of it", chosen.neutral)
        if not (chosen.evidence_for or chosen.evidence_against or chosen.word == chosen.name):
            yield '<p class="quiet">The readings give no evidence for it or against it.</p>'
    for number, step in enumerate(diagnosis.steps):
        needs = "" if step.stopped else " (it needs the pump running)"
        begin = OTHERWISE if number else "To look at next"
        yield f"<h4>{begin}{needs}</h4><p>{_text(capitalised(step.what))}.</p>"
        yield f"<ul>{''.join(f'<li>{_text(each)}</li>' for each in step.shows)}</ul>"
    for caveat in diagnosis.caveats:
        yield f'<p class="quiet">{_text(caveat)}</p>'
    for unused in diagnosis.not_used:
        why = unused.why_not or "no vacuum was noted"
        yield f'<p class="quiet">Not used: {_text(unused.logged.place)}, {_text(why)}.</p>'
    yield f'<p><span class="stop">Caution:</span> {_text(CAUTION)}</p>'


def _listed(heading: str, lines: tuple[str, ...]) -> Iterator[str]:
    if lines:
        items = "".join(f"<li>{_text(line)}</li>" for line in lines)
        yield f'<p class="quiet">{heading}</p><ul>{items}</ul>'


def _text(words: str) -> str:
    return escape(typographic(words))
