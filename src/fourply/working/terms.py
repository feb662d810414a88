"""The words of the trade that differ by region.

fourply thinks in one set of words; what a reader sees is put into theirs where it leaves the program. Names of rules
and paths of figures stay as they are.
"""

from __future__ import annotations

import re
from collections.abc import Iterable
from enum import Enum
from functools import lru_cache


class Terms(Enum):
    """What the windowed board and the step of a moulding are called; the value is how a file says it."""

    MAT = "mat"
    MOUNT = "mount"

    @property
    def says(self) -> str:
        """What a person picks."""
        return {"mat": "mat, rabbet", "mount": "mount, rebate"}[self.value]

    def say(self, text: str, keep: Iterable[str] = ()) -> str:
        """Return a text of fourply's own in these terms; what is in `keep` stands as it is wherever it occurs.

        Where the board in front is the mount, the board behind the art is the undermount.

        >>> Terms.MOUNT.say("Mat border, under-mat, mount board, rabbet; mat.1.border stays")
        'Mount border, inner mount, undermount, rebate; mat.1.border stays'
        >>> Terms.MOUNT.say("Mats for The mat maker", ["The mat maker"])
        'Mounts for The mat maker'
        """
        if self is Terms.MAT or not differs(text):
            return text
        kept = sorted({each for each in keep if differs(each)}, key=len, reverse=True)
        return _pattern(tuple(kept)).sub(_said, text)


def differs(text: str) -> bool:
    """Tell whether a text has a word that other regions have another word for."""
    return _ANY.search(text) is not None


_WORDS = {
    "under-mat": "inner mount",
    "mount board": "undermount",
    "mat board": "mountboard",
    "matboard": "mountboard",
    "mat": "mount",
    "matted": "mounted",
    "matting": "mounting",
    "rabbet": "rebate",
    "molding": "moulding",
}
_ANY = re.compile(
    rf"(?<![\w./])(?P<word>{'|'.join(_WORDS)})(?P<many>s?)(?![\w/]|\.\w)",
    re.IGNORECASE,
)


@lru_cache(maxsize=256)
def _pattern(keep: tuple[str, ...]) -> re.Pattern[str]:
    kept = "|".join(map(re.escape, keep))
    return re.compile(rf"(?P<kept>{kept})|{_ANY.pattern}" if keep else rf"(?P<kept>(?!))|{_ANY.pattern}", re.IGNORECASE)


def _said(found: re.Match[str]) -> str:
    if found["kept"]:
        return found[0]
    said = _WORDS[found["word"].lower()] + found["many"]
    return said[:1].upper() + said[1:] if found[0][:1].isupper() else said
