"""Write `src/fourply/drawing/noto.py`, the table of advance widths, from the two bundled fonts.

Text is measured in a room that opens no file and knows no font format; so the widths are taken once, here, and stand
as data. Run again when the fonts are replaced: `python scripts/noto_widths.py` (needs fonttools, a development
dependency).
"""

from __future__ import annotations

import itertools
import textwrap
import unicodedata
from pathlib import Path

from fontTools.ttLib import TTFont

ROOT = Path(__file__).parent.parent / "src" / "fourply"
HEAD = '''"""Advance widths of the bundled Noto Sans, in thousandths of the type size; data only, made by a script.

Four words for each run of characters that share a width in both weights: first code point in hexadecimal, how many,
width in regular, width in bold. Characters outside the table cannot be set and are shown as missing.
"""

from __future__ import annotations

WIDTHS = """\\
'''


def _widths(weight: str) -> dict[int, int]:
    font = TTFont(ROOT / "render" / "fonts" / f"NotoSans-{weight}.ttf")
    advances = font["hmtx"]
    return {code: advances[glyph][0] for code, glyph in font.getBestCmap().items() if _is_set(code)}


def _is_set(code: int) -> bool:
    """Leave out what does not print or turns the direction, and what the writers' mapping tables cannot hold."""
    return 0x20 <= code <= 0xFFFF and unicodedata.category(chr(code)) not in {"Cc", "Cf", "Zl", "Zp"}


def _runs() -> list[str]:
    regular, bold = _widths("Regular"), _widths("Bold")
    codes = sorted(regular.keys() & bold.keys())
    keyed = ((code - place, regular[code], bold[code], code) for place, code in enumerate(codes))
    runs = []
    for (_, light, heavy), group in itertools.groupby(keyed, key=lambda entry: entry[:3]):
        members = [entry[3] for entry in group]
        runs.append(f"{members[0]:x} {len(members)} {light} {heavy}")
    return runs


if __name__ == "__main__":
    table = textwrap.fill(" ".join(_runs()), 118)
    (ROOT / "drawing" / "noto.py").write_text(f'{HEAD}{table}\n"""\n', encoding="utf-8")
