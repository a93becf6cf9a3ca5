"""The tables of a file carried over from one drawing to another: what did not change stays as typed."""

from __future__ import annotations

from collections.abc import Iterator, Mapping
from copy import deepcopy
from typing import Any, TypeGuard

from solver.layout import keys
from solver.layout.lists import matched
from solver.layout.parts import SHORT_CASE, Layout
from solver.layout.raw import OF_THE_FILE, default, lay_over, paths_of, same, to_full_raw, to_raw
from solver.layout.reading import Path, Raw


def carried(raw: Raw, old: Layout, new: Layout) -> dict[str, Any]:
    """The tables of a file whose base was `old`, changed where `new` differs and nowhere else."""
    return _carried(raw, to_full_raw(old), to_full_raw(new), to_raw(new))


def _carried(raw: Raw, old: Raw, new: Raw, short: Raw) -> dict[str, Any]:
    result: dict[str, Any] = {}
    for key, value in raw.items():
        before, after = old.get(key), new.get(key)
        if isinstance(value, dict) and (isinstance(after, dict) or key in keys.PARTS):
            result[key] = _carried(value, _table(before), _table(after), _table(short.get(key)))
        elif _is_rows(value) and _is_rows(after) and _is_rows(before) and before != after:
            result[key] = _carried_rows(value, before, after)
        elif key in new and before != after:
            result[key] = after
        elif key in new or key not in old:
            result[key] = value
    for key, value in new.items():
        if key not in raw and old.get(key) != value:
            result[key] = short.get(key, value)
    return result


def _is_rows(value: Any) -> TypeGuard[list[Raw]]:
    return isinstance(value, list) and all(isinstance(each, dict) for each in value)


def _carried_rows(raw: list[Raw], old: list[Raw], new: list[Raw]) -> list[Raw]:
    """A list of tables; one that did not change stays as typed, and so does every key that did not."""
    return [
        new[j] if i is None else _carried(raw[i], old[i], new[j], new[j])
        for i, j in matched(old, new)
        if j is not None
    ]


def _table(value: Any) -> Mapping[str, Any]:
    return value if isinstance(value, dict) else {}


def partial(old: Raw, base: Layout, layout: Layout, note: str) -> dict[str, Any]:
    """The partial drawing that makes `layout` when laid over `base`.

    old: the partial drawing as it stands in the file, of which everything that still holds is kept.
    """
    base_raw, target = to_full_raw(base), to_full_raw(layout)
    for each in (base_raw, target):
        for key in ("format", *OF_THE_FILE):
            each.pop(key, None)
    patch = _pruned(old, base_raw, target)
    patch.pop("note", None)
    for path in list(_extra(lay_over(base_raw, patch), target, ())):
        _drop(patch, path)
    _put(patch, lay_over(base_raw, patch), target, to_raw(layout), ())
    _drop_cases(patch, lay_over(base_raw, patch), target)
    still = [_removal(path) for path in _extra(lay_over(base_raw, patch), target, ())]
    if still:
        patch["without"] = [*patch.get("without", []), *still]
    if not patch.get("without", True):
        del patch["without"]
    if not patch.get("cases", True):
        del patch["cases"]
    notes = {"note": note} if note or "note" in old else {}
    return _ordered({**notes, **patch}, old)


def _drop_cases(patch: dict[str, Any], merged: Raw, target: Raw) -> None:
    """Name the cases of the base that a partial drawing is to drop."""
    kept = _table(target.get("cases"))
    dropped = [name for name in _table(merged.get("cases")) if name not in kept]
    if dropped:
        cases = patch.setdefault("cases", {})
        cases["without"] = [*cases.get("without", ()), *dropped]


def _ordered(patch: dict[str, Any], old: Raw) -> dict[str, Any]:
    first = dict.fromkeys([*(key for key in old if key in patch), "note", "without", *patch])
    return {key: patch[key] for key in first if key in patch}


def _pruned(old: Raw, base: Raw, target: Raw) -> dict[str, Any]:
    """What of a partial drawing still has a meaning: parts and removals that are in both drawings."""
    patch = deepcopy(dict(old))
    for group in keys.PARTS:
        table = patch.get(group)
        if isinstance(table, dict):
            patch[group] = {name: part for name, part in table.items() if name in _table(target.get(group))}
            if not patch[group]:
                del patch[group]
    cases = patch.get("cases")
    if isinstance(cases, dict) and "without" in cases:
        kept, known = _table(target.get("cases")), _table(base.get("cases"))
        names = [name for name in cases["without"] if name in known and name not in kept]
        if SHORT_CASE in cases["without"] and not _has(target, ("fluid", "coldest_start")):
            names = list(dict.fromkeys([*names, SHORT_CASE]))
        cases["without"] = names
        if not names:
            del cases["without"]
    if "without" in patch:
        patch["without"] = [name for name in patch["without"] if _still_off(name, base, patch, target)]
    return patch


def _still_off(name: str, base: Raw, patch: Raw, target: Raw) -> bool:
    paths = paths_of(base, name)
    return bool(paths) and all(_has(patch, path) or not _has(target, path) for path in paths)


def _has(raw: Any, path: Path) -> bool:
    for step in path:
        if not isinstance(raw, dict) or step not in raw:
            return False
        raw = raw[step]
    return True


def _put(patch: dict[str, Any], merged: Raw, target: Raw, short: Raw, path: Path) -> None:
    """Put into a partial drawing what the merged one lacks or has different."""
    for key, value in target.items():
        key_path = (*path, key)
        if isinstance(value, dict) and key in merged:
            empty_case = key_path[:-1] == ("cases",) and key in patch  # it says something without figures too
            table = patch.setdefault(key, {})
            _put(table, merged[key], value, _table(short.get(key)), key_path)
            if not table and not empty_case:
                del patch[key]
        elif key not in merged and value != default(key_path):
            patch[key] = short.get(key, value)
        elif key in merged and not same(merged[key], value):
            patch[key] = value


def _extra(merged: Raw, target: Raw, path: Path) -> Iterator[Path]:
    """The paths of what the merged drawing has and the target has not, parts one by one."""
    for key, value in merged.items():
        key_path = (*path, key)
        if isinstance(value, dict) and (key in target or not path):
            yield from _extra(value, _table(target.get(key)), key_path)
        elif key not in target:
            yield key_path


def _removal(path: Path) -> str:
    """What `without` calls a path: a part by its name, anything else by its key path."""
    whole_part = len(path) == 2 and path[0] in keys.PARTS
    return str(path[1]) if whole_part else ".".join(map(str, path))


def _drop(patch: dict[str, Any], path: Path) -> None:
    table: Any = patch
    for step in path[:-1]:
        table = _table(table.get(step))
    if isinstance(table, dict):
        table.pop(path[-1], None)
