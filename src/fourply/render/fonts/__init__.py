"""The bundled type family, for every writer that embeds it: Noto Sans, two weights, licence beside them."""

from __future__ import annotations

from pathlib import Path

FOLDER = Path(__file__).parent
FAMILY = "Noto Sans"
REGULAR = FOLDER / "NotoSans-Regular.ttf"
BOLD = FOLDER / "NotoSans-Bold.ttf"
