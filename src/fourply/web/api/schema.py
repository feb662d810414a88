"""The words in which schemas are written (JSON Schema, draft 2020-12, as OpenAPI 3.1 takes it)."""

from __future__ import annotations

from collections.abc import Mapping
from typing import Any

type Schema = dict[str, Any]

TEXT: Schema = {"type": "string"}
WHOLE: Schema = {"type": "integer"}
NUMBER: Schema = {"type": "number"}
FLAG: Schema = {"type": "boolean"}
INSTANT: Schema = {"type": "string", "format": "date-time"}


def ref(name: str) -> Schema:
    """Return the reference to a component."""
    return {"$ref": f"#/components/schemas/{name}"}


def many(items: Schema) -> Schema:
    """Return the schema of a list."""
    return {"type": "array", "items": items}


def maybe(schema: Schema) -> Schema:
    """Return the schema of something that may be null."""
    return {"anyOf": [schema, {"type": "null"}]}


def thing(optional: Mapping[str, Schema] | None = None, /, **members: Schema) -> Schema:
    """Return the schema of an object with these members, all of them there, and those that may be left out."""
    properties = {**members, **(optional or {})}
    return {
        "type": "object",
        "properties": properties,
        "required": list(members),
        "additionalProperties": False,
    }
