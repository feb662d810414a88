"""The schemas of answers that are no records: resolved works, lists as they are understood, long work."""

from __future__ import annotations

from fourply.app.documents import MATERIALS
from fourply.web.api.schema import FLAG, INSTANT, NUMBER, TEXT, WHOLE, Schema, many, maybe, ref, thing

_ANY: Schema = {}
_STEPS = many({"type": "array", "prefixItems": [{"enum": ["M", "L", "C", "A", "Z"]}], "items": NUMBER})
_POINTS = many({"type": "array", "items": NUMBER, "minItems": 2, "maxItems": 2})
_BOX: Schema = {
    "type": "array",
    "items": NUMBER,
    "minItems": 4,
    "maxItems": 4,
    "description": "left, top, right, bottom",
}
_COLOUR: Schema = {"type": "string", "pattern": "^#[0-9a-f]{6}$"}


def _by(schema: Schema) -> Schema:
    """Return the schema of an object whose members have any names."""
    return {"type": "object", "additionalProperties": schema}


def answer_shapes() -> dict[str, Schema]:
    """Return the components by name."""
    return {**_resolved(), **_drawn(), **_lists(), **_work()}


def _resolved() -> dict[str, Schema]:
    finding = thing(rule=TEXT, level=TEXT, place=TEXT, says=TEXT, remedy=TEXT)
    figure = thing(
        {"mm": NUMBER, "operands": _by(TEXT), "formula": TEXT, "origin": TEXT},
        value={"type": ["number", "string"]},
        rule=TEXT,
    )
    package = thing(materials=_by(_ANY), openings=many(_by(_ANY)), figures=_by(ref("Figure")))
    work = thing(
        id=TEXT,
        title=TEXT,
        maker=TEXT,
        medium=TEXT,
        copies=WHOLE,
        source=thing(file=TEXT, row=WHOLE),
        package=package,
        findings=many(thing(rule=TEXT, level=TEXT, place=TEXT, says=TEXT, remedy=TEXT, numbers=_by(_ANY))),
    )
    line = thing(figure=TEXT, sentence=TEXT, reason=TEXT, depth=WHOLE)
    return {
        "Fault": thing(file=TEXT, row=WHOLE, column=TEXT, found=TEXT, expected=TEXT),
        "Figure": figure,
        "Finding": finding,
        "Package": thing(
            work=maybe(work),
            rules=_by(thing(formula=TEXT, rounding=TEXT, reason=TEXT, source=TEXT)),
            faults=many(ref("Fault")),
        ),
        "Answers": thing(items=many(line)),
        "Setting": thing(reached=FLAG, sentences=many(TEXT), working=many(line)),
        "Overview": thing(
            title=TEXT,
            unit=TEXT,
            works=many(thing(number=TEXT, outer=TEXT, findings=many(thing(rule=TEXT, level=TEXT, says=TEXT)))),
            fault_count=WHOLE,
            faults=many(ref("Fault")),
            total=WHOLE,
            next=TEXT,
        ),
    }


def _drawn() -> dict[str, Schema]:
    dim = thing(start=NUMBER, end=NUMBER, text=TEXT, foot=NUMBER, bold=FLAG, figure=TEXT, end_foot=maybe(NUMBER))
    sides = thing(**dict.fromkeys(("bottom", "left", "top", "right"), many(many(dim))))
    window = thing(box=_BOX, room=_BOX, sight=TEXT, notes=many(TEXT), number=WHOLE, cut=maybe(NUMBER))
    area = thing({"is": {"const": "area"}}, steps=_STEPS, colour=_COLOUR, opacity=NUMBER)
    hair = thing({"is": {"const": "hair"}}, steps=_STEPS, colour=_COLOUR, width=NUMBER, opacity=NUMBER)
    field = thing({"is": {"const": "field"}}, number=WHOLE, box=_BOX, colour=_COLOUR)
    shadow = thing(corners=_POINTS, colour=_COLOUR, blur=NUMBER, opacity=NUMBER, covered=_POINTS)
    return {
        "Front": thing(
            width=NUMBER,
            height=NUMBER,
            outlines=many(thing(edge=TEXT, steps=_STEPS)),
            dimensions=sides,
            windows=many(window),
        ),
        "Scene": thing(
            title=TEXT,
            seen=_BOX,
            ground=maybe(_COLOUR),
            shadows=many(shadow),
            patches=many({"anyOf": [area, hair, field]}),
        ),
        "Live": thing(
            work=maybe(TEXT),
            findings=many(ref("Finding")),
            figures=_by(TEXT),
            front=maybe(ref("Front")),
            preview=maybe(ref("Scene")),
            faults=many(ref("Fault")),
        ),
    }


def _lists() -> dict[str, Schema]:
    column = thing(header=TEXT, key=TEXT, unit=maybe(TEXT), order=maybe(TEXT))
    faults = {"fault_count": WHOLE, "faults": many(ref("Fault"))}
    change = thing(
        record=maybe(TEXT), version=maybe(WHOLE), fields=many(TEXT), says=many(TEXT), value=ref("KeptMaterial")
    )
    return {
        "Recognised": thing(
            columns=many(column),
            header_row=WHOLE,
            rows=many(many(TEXT)),
            works=WHOLE,
            unit=maybe(TEXT),
            notes=many(TEXT),
            **faults,
        ),
        "Kept": thing(kept=WHOLE),
        "Prices": thing(
            supplier=TEXT, changes=many(change), missing=many(ref("MaterialRecord")), notes=many(TEXT), **faults
        ),
        "Materials": thing(**{table: _by(ref(name)) for table, name in MATERIALS.items()}),
        "Settings": thing(version=WHOLE, value=ref("ShopSettings")),
    }


def _work() -> dict[str, Schema]:
    job = thing(
        id=TEXT,
        what=TEXT,
        scope=TEXT,
        began=INSTANT,
        state={"enum": ["running", "done", "failed", "cancelled"]},
        stage=TEXT,
        done=WHOLE,
        total=WHOLE,
        plans=many(thing(material=TEXT, cost=TEXT, gap=NUMBER)),
        files=many(TEXT),
        result=_by(_ANY),
        problem=maybe(ref("Problem")),
    )
    return {"Job": job, "Jobs": thing(items=many(ref("Job")))}
