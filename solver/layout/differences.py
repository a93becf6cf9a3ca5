"""What one drawing has otherwise than another, in the words of their parts."""

from __future__ import annotations

from collections.abc import Iterator
from typing import Any

from solver.layout import keys
from solver.layout.parts import Layout
from solver.layout.raw import OF_THE_FILE, same, to_full_raw
from solver.layout.reading import Raw

PLACES = ("at", "via", "outline")
"""Keys that say where a part stands: pairs of coordinates, which nobody reads in a sentence."""

UNSAID = ("format", "title", "notes", "units", "built", *OF_THE_FILE)
"""Keys that change nothing of what is calculated."""


FLUID, PUMPS, RESERVOIRS, SIZES = "fluid", "pumps", "reservoirs", ("size", "bore")
"""What decides most, in this order: fluid and heating, where a pump stands, levels; then sizes."""


def differences(before: Layout, after: Layout) -> tuple[str, ...]:
    """What is new, gone or other in `after`, a sentence a part or table: "riser: size NPS 3 for NPS 2".

    What decides most comes first: the fluid, the pumps, the reservoirs, then sizes, then all else.
    """
    old, new = to_full_raw(before), to_full_raw(after)
    lines: list[tuple[str, str]] = []
    for group in keys.PARTS:
        lines += ((group, text) for text in _parts(_table(old.get(group)), _table(new.get(group))))
    for key in dict.fromkeys([*old, *new]):
        if key not in keys.PARTS and key not in UNSAID:
            sentences = list(_figures(_one(key, old.get(key)), _one(key, new.get(key)), ()))
            lines += [(key, f"{key}: {', '.join(sentences)}")] if sentences else []
    return tuple(text for _, text in sorted(lines, key=lambda line: _importance(*line)))


def _importance(group: str, text: str) -> int:
    """Sorts what decides most first."""
    if group in (FLUID, PUMPS, RESERVOIRS):
        return (FLUID, PUMPS, RESERVOIRS).index(group)
    _, _, changed = text.partition(": ")
    return 3 if any(each.startswith(SIZES) for each in changed.split(", ")) else 4


def _parts(old: Raw, new: Raw) -> Iterator[str]:
    for name, part in new.items():
        if name not in old:
            kind = part.get("kind") or part.get("size") or part.get("bore")
            yield f"new: {name}" + (f", {kind}" if kind else "")
        elif sentences := list(_figures(old[name], part, ())):
            yield f"{name}: {', '.join(sentences)}"
    yield from (f"without {name}" for name in old if name not in new)


def _figures(old: Raw, new: Raw, path: tuple[str, ...]) -> Iterator[str]:
    """Keys with other values, deepest first called by their own names."""
    for key in dict.fromkeys([*old, *new]):
        before, after, key_path = old.get(key), new.get(key), (*path, key)
        if isinstance(before, dict) and isinstance(after, dict):
            yield from _figures(before, after, key_path)
        elif key in old and key in new and same(before, after):
            continue
        elif key in PLACES:
            yield {"at": "moved", "via": "other corners", "outline": "another outline"}[key]
        else:
            yield _figure(" ".join(key_path).replace("_", " "), before, after)


def _figure(called: str, before: Any, after: Any) -> str:
    if before is None:
        return f"{called} {_text(after)}" if _is_short(after) else f"with {called}"
    if after is None:
        return f"without {called}"
    if _is_short(before) and _is_short(after):
        return f"{called} {_text(after)} for {_text(before)}"
    return f"other {called}"


def _is_short(value: Any) -> bool:
    return isinstance(value, str | float | int)


def _text(value: Any) -> str:
    return ("yes" if value else "no") if isinstance(value, bool) else str(value)


def _one(key: str, value: Any) -> Raw:
    """A table as it is; a value of the top as a table of its own."""
    return value if isinstance(value, dict) else {} if value is None else {key: value}


def _table(value: Any) -> Raw:
    return value if isinstance(value, dict) else {}
