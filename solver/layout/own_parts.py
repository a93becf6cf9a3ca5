"""Catalogues of one's own: fluids, pumps, screens, fittings and hoses in TOML, by the keys of a drawing.

A part that does not read is refused with its place and left out; the others of its file are offered.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Mapping
from contextlib import suppress
from dataclasses import dataclass
from pathlib import Path
from typing import Any, NamedTuple

import tomlkit

from solver.layout import file, keys, readings, tables
from solver.layout.file import LayoutErrors, Problem
from solver.layout.reading import Key, KeyPlace, TooManyTroublesError, Trouble, describe, fields, listed, text
from solver.properties import families

ENDING = ".parts.toml"
FILE_NAME = f"own{ENDING}"
"""Of the catalogue in the user's folder, to which the window adds."""

ONCE = "each name once in all catalogues"
ABOUT = (Key("note", text), Key("changed", readings.moment))
"""What a catalogue says of a part besides its figures."""

OF_ITS_PLACE: Mapping[str, tuple[str, ...]] = {
    "fluids": ("name", "temperature", "coldest_start", "line_temperature"),
    "pumps": ("at", "at_rest", "flow_rise", "own_part"),
    "screens": ("blocked", "own_part"),
    "fittings": ("at", "state", "opening", "own_part"),
    "hoses": ("from", "to", "via", "out_of_plane", "own_part"),
}
"""Keys of a drawing that say where a part is and how it is run: a catalogue has none of them."""


@dataclass(frozen=True, slots=True)
class OwnPart:
    """One part of a catalogue. `table` has its figures by the keys of a drawing, as typed."""

    kind: str  # one of `KINDS`
    name: str
    table: Mapping[str, Any]
    note: str = ""
    changed: str = ""  # the date of its figures; "" where none is given
    source: str = ""  # the file that it is from


@dataclass(frozen=True, slots=True)
class Catalogue:
    """What could be read of several files, and what was refused."""

    parts: tuple[OwnPart, ...] = ()
    problems: tuple[Problem, ...] = ()

    def of_kind(self, kind: str) -> tuple[OwnPart, ...]:
        """The parts of one of `KINDS`, in the order of the files."""
        return tuple(part for part in self.parts if part.kind == kind)

    def part(self, kind: str, name: str) -> OwnPart | None:
        """The part of that kind and name; None where there is none."""
        return next((part for part in self.parts if (part.kind, part.name) == (kind, name)), None)


class _Kind(NamedTuple):
    keys: tuple[Key, ...]
    check: Callable[[str, dict[str, Any], KeyPlace], None]


def _check_fluid(name: str, raw: dict[str, Any], place: KeyPlace) -> None:
    if name in families.catalogue():
        place.refuse(f"{describe(name)}, a fluid of the program's own list", "a name of its own")
    keys.check_fluid({**raw, "name": name}, place)


def _check_pump(name: str, raw: dict[str, Any], place: KeyPlace) -> None:
    """Hold a pump to what a drawing's is held to; its speed may be left to the drawing."""
    keys.PARTS["pumps"].check({"speed": "1 rpm", **raw}, place)


def _check_screen(name: str, raw: dict[str, Any], place: KeyPlace) -> None:
    tables.screen(raw, place)


def _check_fitting(name: str, raw: dict[str, Any], place: KeyPlace) -> None:
    keys.PARTS["fittings"].check(raw, place)


def _check_hose(name: str, raw: dict[str, Any], place: KeyPlace) -> None:
    keys.PARTS["runs"].check(raw, place)


def _keys_of(kind: str, drawn: tuple[Key, ...], required: tuple[str, ...] = ()) -> tuple[Key, ...]:
    own = (key for key in drawn if key.name not in OF_ITS_PLACE[kind])
    return tuple(key._replace(required=key.required or key.name in required) for key in own)


KINDS: Mapping[str, _Kind] = {
    "fluids": _Kind(_keys_of("fluids", keys.FLUID, ("density", "viscosity")), _check_fluid),
    "pumps": _Kind(_keys_of("pumps", keys.PUMP), _check_pump),
    "screens": _Kind(_keys_of("screens", tables.SCREEN), _check_screen),
    "fittings": _Kind(_keys_of("fittings", keys.FITTING), _check_fitting),
    "hoses": _Kind(_keys_of("hoses", keys.RUN), _check_hose),
}
"""The tables of a catalogue, each with the keys of its parts."""


def no_drawing(path: str | Path) -> LayoutErrors:
    """What to refuse a catalogue for that is given as a drawing: what is wrong in it, else what it is."""
    catalogue = read([path])
    count = f"all {len(catalogue.parts)} parts hold" if len(catalogue.parts) != 1 else "the one part holds"
    found = f"a catalogue of your own, in which {count}"
    allowed = "a drawing: what lies beside one in a catalogue is offered on its part card and the shelf"
    return LayoutErrors(catalogue.problems or (Problem(str(path), 0, 0, "", found, allowed),))


def read(paths: Iterable[str | Path]) -> Catalogue:
    """Read catalogues; of two parts of one kind and name the first holds, and the other is refused."""
    parts: dict[tuple[str, str], OwnPart] = {}
    problems: list[Problem] = []
    for path in paths:
        try:
            content = file.contents(path)
            catalogue = parse(content, str(path))
        except LayoutErrors as error:
            problems += error.problems
            continue
        firsts = [(part, parts.setdefault((part.kind, part.name), part)) for part in catalogue.parts]
        twice = [
            Trouble((part.kind, part.name), f"a name that {_other_file(first, part)} has already", ONCE)
            for part, first in firsts
            if first is not part
        ]
        problems += catalogue.problems
        problems += file.problems_in(twice, content.removeprefix("\ufeff"), str(path)) if twice else ()
    return Catalogue(tuple(parts.values()), tuple(problems))


def _other_file(other: OwnPart, part: OwnPart) -> str:
    """The file of another part, shortly; two in different folders may be named alike."""
    name = Path(other.source).name
    return f"another {name}" if name == Path(part.source).name else name


def parse(content: str, name: str = "catalogue") -> Catalogue:
    """Read the text of a catalogue; `name` is that of its file.

    Raises LayoutErrors where it is no TOML at all.
    """
    body = content.removeprefix("\ufeff")
    raw = file.tables(body, name)
    troubles: list[Trouble] = []
    parts: list[OwnPart] = []
    with suppress(TooManyTroublesError):  # what is listed by then is enough to tell
        for kind, group in raw.items():
            parts += _group(kind, group, KeyPlace((kind,), troubles), name)
    return Catalogue(tuple(parts), file.problems_in(troubles, body, name))


def _group(kind: str, group: Any, place: KeyPlace, source: str) -> list[OwnPart]:
    if kind not in KINDS:
        place.refuse(f"the key {describe(kind)}", f"one of {listed(KINDS)}")
        return []
    if not isinstance(group, dict):
        place.refuse(describe(group), f"tables by name, such as [{kind}.NAME]")
        return []
    parts = (_own_part(kind, name, raw, place.to(name), source) for name, raw in group.items())
    return [part for part in parts if part is not None]


def _own_part(kind: str, name: str, raw: Any, place: KeyPlace, source: str) -> OwnPart | None:
    before = len(place.troubles)
    if not name.strip():
        place.refuse("an empty name", "a name")
    fields(raw, place, (*KINDS[kind].keys, *ABOUT))
    if not isinstance(raw, dict):
        return None
    table = {key: value for key, value in raw.items() if key not in ("note", "changed")}
    if len(place.troubles) == before:
        KINDS[kind].check(name, table, place)
    if len(place.troubles) > before:
        return None
    return OwnPart(kind, name, table, raw.get("note", ""), raw.get("changed", ""), source)


def own_table(kind: str, table: Mapping[str, Any]) -> dict[str, Any]:
    """The figures of a drawing's part that a catalogue keeps: without its place, and how it is run."""
    own = {key.name: table[key.name] for key in KINDS[kind].keys if key.name in table}
    if kind == "pumps" and "displacement" in own:
        own = {key: value for key, value in own.items() if key not in ("speed", "flow")}
    if isinstance(screen := own.get("screen"), dict):
        own["screen"] = {key: value for key, value in screen.items() if key not in OF_ITS_PLACE["screens"]}
    return own


def with_part(content: str, part: OwnPart) -> str:
    """The text of a catalogue with a part added, or replaced by its kind and name; the rest stays.

    Raises LayoutErrors where the text is no TOML, or would not give the part and all others back.
    """
    body = content.removeprefix("\ufeff")
    before, group = parse(body), file.tables(body, "catalogue").get(part.kind, {})
    if not isinstance(group, dict):
        raise LayoutErrors(before.problems)
    about = {"note": part.note, "changed": part.changed}
    figures = {**{key: value for key, value in about.items() if value}, **part.table}
    alone = parse(_spliced("", part, figures))
    if not alone.parts:
        raise LayoutErrors(alone.problems)
    result = _spliced(body, part, figures)
    after = parse(result)
    if after.part(part.kind, part.name) != alone.parts[0] or _others(after, part) != _others(before, part):
        raise _unwritable(part)
    return result


def _spliced(body: str, part: OwnPart, figures: dict[str, Any]) -> str:
    try:
        document: Any = tomlkit.parse(body)
        if part.kind not in document:
            document[part.kind] = tomlkit.table(is_super_table=True)
        document[part.kind][part.name] = figures
        result = tomlkit.dumps(document)
        file.tables(result, "catalogue")
    except ValueError as error:  # a text that one reader of TOML takes and the other does not
        raise _unwritable(part) from error
    return result


def _others(catalogue: Catalogue, part: OwnPart) -> list[OwnPart]:
    return [each for each in catalogue.parts if (each.kind, each.name) != (part.kind, part.name)]


def _unwritable(part: OwnPart) -> LayoutErrors:
    found = "a catalogue whose tables are set out so that the part cannot be added safely"
    allowed = "each part as a table of its own: add it by hand"
    return LayoutErrors((Problem("catalogue", 0, 0, f"{part.kind}.{part.name}", found, allowed),))
