"""The JSON Schemas of what the API answers, written out: each is what the functions of `app` give, no more and no less.

They become components of the API's description; `answers` lets a route name one.
"""

from __future__ import annotations

from functools import cache

from fourply.app.documents import name_of
from fourply.app.ports_store import Kind
from fourply.web.api.answer_shapes import answer_shapes
from fourply.web.api.schema import FLAG, INSTANT, TEXT, WHOLE, Schema, many, maybe, ref, thing


def answers(name: str, status: int = 200, said: str = "It is so", *, version: bool = False) -> dict[int | str, Schema]:
    """Return what a route says of its good answer; `version` where it carries an ETag."""
    return {status: described(ref(name), said, version=version)}


def described(schema: Schema, said: str, *, version: bool = False) -> Schema:
    """Return the description of an answer of a schema."""
    found: Schema = {"description": said, "content": {"application/json": {"schema": schema}}}
    if version:
        found["headers"] = {"ETag": {"description": 'The version, such as "3".', "schema": TEXT}}
    return found


def title(kind: Kind) -> str:
    """Return what records of a kind are called among the components."""
    return kind.value.title()


def _record(kind: Kind) -> Schema:
    return thing(
        id=TEXT,
        kind={"const": kind.value},
        scope=TEXT,
        version={"type": "integer", "minimum": 1},
        archived=FLAG,
        changed=INSTANT,
        name=TEXT,
        title=TEXT,
        value=ref(name_of(kind)),
    )


def _page(items: Schema) -> Schema:
    return thing(items=many(items), total=WHOLE, next=TEXT)


def _any(suffix: str = "Record") -> Schema:
    return {"anyOf": [ref(f"{title(kind)}{suffix}") for kind in Kind]}


def _value() -> Schema:
    return {"anyOf": [ref(name_of(kind)) for kind in Kind]}


_PROBLEM: Schema = {
    "type": "object",
    "description": "Problem details (RFC 9457); what stands beside the usual members depends on the type.",
    "properties": {
        "type": {"type": "string", "examples": ["/problems/bad-input"]},
        "title": TEXT,
        "status": WHOLE,
        "detail": TEXT,
        "found": TEXT,
        "expected": {"type": ["string", "integer"]},
        "errors": many(thing(where=TEXT, found=TEXT, expected=TEXT)),
        "yours": {"description": "What was to be kept, where it was stale."},
        "theirs": {"description": "The record as it is, where what was given was stale."},
    },
    "required": ["type", "title", "status", "detail"],
}


@cache
def shapes() -> dict[str, Schema]:
    """Return every component that is not a kept value itself."""
    found: dict[str, Schema] = {"Problem": _PROBLEM}
    for kind in Kind:
        found[f"{title(kind)}Record"] = _record(kind)
        found[f"{title(kind)}Page"] = _page(ref(f"{title(kind)}Record"))
        found[f"New{title(kind)}"] = thing({"scope": TEXT}, value=ref(name_of(kind)))
        found[f"Changed{title(kind)}"] = thing(value=ref(name_of(kind)))
    state = maybe(thing(archived=FLAG, value=_value()))
    entry = thing(
        seq=WHOLE, scope=TEXT, at=INSTANT, who=TEXT, label=TEXT, act={"enum": ["do", "undo", "redo"]}, of=maybe(WHOLE)
    )
    found |= {
        "Entry": entry,
        "EntryPage": _page(ref("Entry")),
        "Change": thing(entry=ref("Entry"), record=TEXT, kind=TEXT, version=WHOLE, before=state, after=state),
        "ChangePage": _page(ref("Change")),
        "Undoable": thing(last=WHOLE, undo=maybe(ref("Entry")), redo=maybe(ref("Entry"))),
        "Done": thing(entry=ref("Entry"), repeated=FLAG, records=many(_any())),
        "Records": thing(items=many(_any())),
    }
    return found | answer_shapes()
