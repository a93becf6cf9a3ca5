"""The title block of a drawing's sheet, as frozen values."""

from __future__ import annotations

from dataclasses import dataclass


@dataclass(frozen=True, slots=True)
class Revision:
    """One issue of a drawing."""

    name: str  # "B"
    date: str  # "2026-03-31"; "" where none is noted
    text: str  # what changed


@dataclass(frozen=True, slots=True)
class TitleBlock:
    """Who a sheet is for and who made it; what is empty takes no room on it."""

    client: str = ""
    project: str = ""
    site: str = ""
    drawn_by: str = ""
    checked: str = ""  # by whom
    date: str = ""  # of the sheet; "" for the day on which it is written
    revision: str = ""
    revisions: tuple[Revision, ...] = ()  # in the order of the file
    company: tuple[str, ...] = ()  # name and address, a line each
    logo: str = ""  # a picture's file name, beside the drawing

    @property
    def issue(self) -> str:
        """Client and revision in one line, for pages that have no title block; "" where neither is stated."""
        revision = f"revision {self.revision}" if self.revision else ""
        return ", ".join(text for text in (self.client, revision) if text)
