"""Writes docs/schemas/cutter.json from the values of a cutter: python scripts/cutter_schema.py.

A test holds the file against the values, so it cannot fall behind.
"""

from __future__ import annotations

import json
from pathlib import Path

from fourply.bench.profile import Profile
from fourply.files.codec import json_schema

FILE = Path(__file__).parent.parent / "docs" / "schemas" / "cutter.json"


def schema() -> str:
    """Return the JSON Schema of a cutter as text."""
    return json.dumps(json_schema(Profile), indent=1) + "\n"


if __name__ == "__main__":
    FILE.write_text(schema(), encoding="utf-8")
