"""Where a record, or anything it holds, has a figure that is no number."""

from __future__ import annotations

import math
from collections.abc import Iterator, Mapping
from dataclasses import fields, is_dataclass
from typing import Any


def nan_places(record: object, path: str = "") -> list[str]:
    """The paths to every nan in a record. Arrays are left out: a column has no other word for a figure that
    some of its rows lack."""
    return list(_places(record, path or type(record).__name__, set()))


def _places(value: object, path: str, seen: set[int]) -> Iterator[str]:
    if isinstance(value, float):
        if math.isnan(value):
            yield path
        return
    parts = dict(_parts(value))
    if not parts or id(value) in seen:
        return
    seen.add(id(value))
    for name, part in parts.items():
        yield from _places(part, f"{path}.{name}", seen)


def _parts(value: Any) -> Iterator[tuple[str, object]]:
    if is_dataclass(value) and not isinstance(value, type):
        yield from ((field.name, getattr(value, field.name)) for field in fields(value))
    elif isinstance(value, Mapping):
        yield from ((f"[{key}]", part) for key, part in value.items())
    elif isinstance(value, tuple) and hasattr(value, "_fields"):
        yield from zip(value._fields, value, strict=True)
    elif isinstance(value, tuple | list | set | frozenset):
        yield from ((f"[{i}]", part) for i, part in enumerate(value))
