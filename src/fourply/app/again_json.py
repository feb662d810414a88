"""What a measurement changes, and how a spoilt piece is cut again, as documents for programs."""

from __future__ import annotations

import json
from collections.abc import Sequence

from fourply.app.again import Measured, Recut, origins, still_to_do
from fourply.app.cutting import Cutting
from fourply.bench.steps import Steps
from fourply.files.codec import encode
from fourply.trade.findings import Finding
from fourply.trade.parts import FlatPart
from fourply.working.words import Words

type Data = dict[str, object]


def measured_json(found: Measured, cutting: Cutting, words: Words) -> str:
    """Return the document of what a measurement changes, by paths of figures, keys of pieces, numbers of blocks."""
    value: Data = {
        "work": found.again.work,
        "changed": [encode(change) for change in found.again.changed],
        "open": list(found.again.open),
        "findings": {
            "looked": found.looked,
            "appear": _findings(found.appear, words),
            "vanish": _findings(found.vanish, words),
        },
        "pieces": [
            {
                "key": part.key,
                "name": part.name,
                "from": [encode(origin) for origin in origins(cutting, part)],
            }
            for part in found.pieces
        ],
        "resets": encode_all(found.resets),
    }
    return _document("measured", value)


def recut_json(again: Recut, steps: Steps) -> str:
    """Return the document of how a spoilt piece is cut again."""
    part: FlatPart = again.part
    value: Data = {
        "piece": {"key": part.key, "name": part.name, "size": encode(part.size), "material": part.material},
        "source": again.source,
        "size": encode(again.size),
        "bought": again.bought,
        "cost_cents": again.cost,
        "seconds": again.seconds,
        "windows_seconds": again.windows,
        "again": [
            {"block": block.number, "setting": encode(block.setting), "strikes": encode_all(handling.strikes)}
            for block, handling in still_to_do(again, steps)
        ],
    }
    return _document("recut", value)


def encode_all(values: Sequence[object]) -> list[object]:
    """Return the JSON of several values."""
    return [encode(each) for each in values]


def _findings(found: Sequence[Finding], words: Words) -> list[Data]:
    return [
        {
            "rule": each.rule,
            "level": each.level.value,
            "figure": each.place,
            "says": each.sentence(words.write),
            "remedy": each.advice(words.write),
        }
        for each in found
    ]


def _document(kind: str, value: Data) -> str:
    document = {"schema": f"fourply/{kind}/1", "value": value}
    return json.dumps(document, ensure_ascii=False, separators=(",", ":")) + "\n"
