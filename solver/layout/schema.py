"""The drawing file as a JSON Schema, made of the tables that read it."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

from solver.layout import cases, criteria, keys, raw, readings, remark_keys, title_keys
from solver.layout.reading import TEXT, Reader, Schema, array, table_schema
from solver.quantities import units
from solver.quantities.units import Kind

DIALECT = "https://json-schema.org/draft/2020-12/schema"

Table = dict[str, Any]


def drawing_schema() -> Table:
    """The schema of a whole drawing file. What must hold between keys and between parts is not in it."""
    top = _top()
    alternative = {
        **{name: _partial(schema) for name, schema in top.items() if name not in ("sheet", "cases")},
        "note": TEXT,
        "without": array(TEXT),
        "cases": {**_named(_ref("case")), "properties": {"without": array(TEXT)}},
    }
    properties = {
        "format": {"enum": list(raw.FORMATS)},
        **top,
        "readings": array(table_schema(readings.READING), most=readings.MOST_READINGS),
        "texts": array(table_schema(remark_keys.OWN_TEXT), most=remark_keys.MOST),
        "dimensions": array(table_schema(remark_keys.OWN_DIMENSION), most=remark_keys.MOST),
        "alternatives": _named(_ref("alternative")),
    }
    return {
        "$schema": DIALECT,
        "title": "A drawing of a suction line",
        **_object(properties, ("format", "site", "fluid")),
        "$defs": {
            **{kind.name.lower(): {"type": "string", "title": units.allowed(kind)} for kind in Kind},
            "state": _object(_case()),
            "case": _object({"note": TEXT, **{key: {"type": "boolean"} for key in cases.MARKS}, **_case()}),
            "alternative": _object(alternative),
        },
    }


def _top() -> Table:
    """The tables that an alternative may have too."""
    held = table_schema(criteria.CRITERIA)
    parts = {name: _named(table_schema(table.keys)) for name, table in keys.PARTS.items()}
    return {
        **{key.name: key.read.schema for key in keys.TOP},
        "site": table_schema(keys.SITE),
        "fluid": table_schema(keys.FLUID),
        **dict.fromkeys(criteria.TABLES, held),
        "sheet": table_schema(title_keys.SHEET),
        "levels": _named(_ref(Kind.ELEVATION.name.lower())),
        **parts,
        "cases": _named(_ref("case")),
    }


def _case() -> Table:
    """What may differ in a case."""
    groups = {name: _named(_object(_schemas(readers))) for name, readers in cases.PART_KEYS.items()}
    tables = {name: _object(_schemas(readers)) for name, readers in cases.TABLE_KEYS.items()}
    level = next(key for key in keys.TOP if key.name == "level")
    levels = _named(_ref(Kind.ELEVATION.name.lower()))
    return {"level": level.read.schema, "levels": levels, **tables, **groups}


def _schemas(readers: Mapping[str, Any]) -> Table:
    return {
        name: inner.schema if isinstance(inner, Reader) else _object(_schemas(inner))
        for name, inner in readers.items()
    }


def _partial(schema: Schema) -> Schema:
    """The schema of a table of which any key may be absent, and so of those within it."""
    if schema.get("type") != "object":
        return schema
    partial = {name: value for name, value in schema.items() if name != "required"}
    for name in ("properties", "patternProperties"):
        if name in partial:
            partial[name] = {key: _partial(value) for key, value in partial[name].items()}
    if isinstance(partial.get("additionalProperties"), dict):
        partial["additionalProperties"] = _partial(partial["additionalProperties"])
    return partial


def _named(schema: Schema) -> Table:
    """The schema of tables, or figures, by the name of a part."""
    return {"type": "object", "additionalProperties": schema}


def _object(properties: Table, required: tuple[str, ...] = ()) -> Table:
    table: Table = {"type": "object", "properties": properties, "additionalProperties": False}
    return {**table, "required": list(required)} if required else table


def _ref(name: str) -> Table:
    return {"$ref": f"#/$defs/{name}"}
