"""The keys of [sheet]: the title block of the sheet for a client."""

from __future__ import annotations

from datetime import date
from typing import Any

from solver.layout.reading import TEXT, Key, KeyPlace, Raw, array, describe, either, fields, reader, text
from solver.layout.title_block import Revision, TitleBlock

LONGEST = 200
"""Characters of a line in a title block."""

MOST_REVISIONS, MOST_COMPANY_LINES = 40, 5

LOGO_ENDINGS = (".png", ".svg")


@reader({**TEXT, "maxLength": LONGEST})
def line(value: Any, place: KeyPlace) -> str | None:
    """Read a text of one line."""
    read = text(value, place)
    if read is None:
        return None
    if len(read) > LONGEST:
        return place.refuse(f"{len(read)} characters", f"at most {LONGEST}")
    if any(not character.isprintable() for character in read):
        return place.refuse(describe(read), "one line of text, without control characters")
    return read


@reader({**TEXT, "description": "a day such as 2026-03-31"})
def day(value: Any, place: KeyPlace) -> str | None:
    """Read a day of the calendar."""
    if isinstance(value, date):
        return value.isoformat()[:10]
    read = line(value, place)
    if not read:
        return read
    try:
        return date.fromisoformat(read).isoformat()
    except ValueError:
        return place.refuse(describe(read), 'a day such as "2026-03-31"')


@reader({**TEXT, "description": "a picture beside the drawing, .png or .svg"})
def logo(value: Any, place: KeyPlace) -> str | None:
    """Read the name of a picture that lies in the folder of the drawing: nothing else is opened."""
    read = line(value, place)
    if not read:
        return read
    if "/" in read or "\\" in read or ":" in read or not read.lower().endswith(LOGO_ENDINGS):
        return place.refuse(describe(read), f"the name of a {' or '.join(LOGO_ENDINGS)} beside the drawing")
    return read


@reader(either(TEXT, array(TEXT, most=MOST_COMPANY_LINES)))
def company(value: Any, place: KeyPlace) -> tuple[str, ...] | None:
    """Read the lines of a company: one text, or several in brackets."""
    if isinstance(value, str):
        value = [value]
    if not isinstance(value, list):
        return place.refuse(describe(value), "text in quotes, or several in brackets")
    if len(value) > MOST_COMPANY_LINES:
        return place.refuse(f"{len(value)} lines", f"at most {MOST_COMPANY_LINES}")
    lines = [line(each, place.to(number)) for number, each in enumerate(value)]
    return None if None in lines else tuple(each for each in lines if each)


@reader(array(array(TEXT, 3, 3), most=MOST_REVISIONS))
def revisions(value: Any, place: KeyPlace) -> tuple[Revision, ...] | None:
    """Read the revisions of a drawing: rows of name, date and what changed; None after refusing them."""
    if not isinstance(value, list):
        return place.refuse(describe(value), 'rows such as ["B", "2026-03-31", "larger header"]')
    if len(value) > MOST_REVISIONS:
        return place.refuse(f"{len(value)} revisions", f"at most {MOST_REVISIONS}")
    rows = [_revision(each, place.to(number)) for number, each in enumerate(value)]
    return None if None in rows else tuple(each for each in rows if each is not None)


def _revision(value: Any, place: KeyPlace) -> Revision | None:
    if not isinstance(value, list) or len(value) != 3:
        return place.refuse(describe(value), 'a row such as ["B", "2026-03-31", "larger header"]')
    name, when, what = line(value[0], place.to(0)), day(value[1], place.to(1)), line(value[2], place.to(2))
    return None if name is None or when is None or what is None else Revision(name, when, what)


SHEET = (
    Key("client", line),
    Key("project", line),
    Key("site", line),
    Key("drawn_by", line),
    Key("checked", line),
    Key("date", day),
    Key("revision", line),
    Key("revisions", revisions),
    Key("company", company),
    Key("logo", logo),
)


def read_title_block(value: Any, place: KeyPlace) -> TitleBlock:
    """Read the table [sheet]; an empty title block after refusing it."""
    before = len(place.troubles)
    values = fields(value, place, SHEET)
    return TitleBlock(**values) if len(place.troubles) == before else TitleBlock()


def title_block_raw(block: TitleBlock) -> Raw:
    """A title block as its table, without keys that are empty."""
    raw: dict[str, Any] = {key.name: getattr(block, key.name) for key in SHEET if getattr(block, key.name)}
    if block.revisions:
        raw["revisions"] = [[each.name, each.date, each.text] for each in block.revisions]
    if block.company:
        raw["company"] = list(block.company)
    return raw
