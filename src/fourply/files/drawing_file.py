"""The path in an SVG drawing that somebody made of a window shape.

Only the first path that is drawn is taken, as path data; a drawing is data and can ask for nothing: it names no
entities, fetches nothing and is small. A path is moved and sized to its window anyway, so moves and even scaling round
it do not count; what would turn, skew or stretch it is refused.
"""

from __future__ import annotations

import re
from dataclasses import dataclass, field
from xml.parsers import expat

from fourply.errors import BadFile

MOST_BYTES = 1024 * 1024
_MOST_DEEP = 100
_SPACE = "http://www.w3.org/2000/svg"
_EXPECTED = "an SVG drawing with one closed path"
_NOT_DRAWN = frozenset({"defs", "clipPath", "mask", "marker", "pattern", "symbol"})
_NUMBER = r"[+-]?(?:\d{1,20}\.?\d{0,20}|\.\d{1,20})(?:[eE][+-]?\d{1,3})?"
_STEP = re.compile(r"\s*,?\s*(translate|scale|matrix)\s*\(([^()]{0,200})\)")


def path_in(file: str, data: bytes) -> str:
    """Return the data of the first path that an SVG drawing shows; raises BadFile.

    >>> path_in("kite.svg", b'<svg xmlns="http://www.w3.org/2000/svg"><path d="M0 0L4 3 0 6z"/></svg>')
    'M0 0L4 3 0 6z'
    """
    if len(data) > MOST_BYTES:
        raise BadFile(file, f"a drawing of {len(data)} bytes", f"at most {MOST_BYTES}")
    walk = _Walk(file)
    parser = expat.ParserCreate(namespace_separator=" ")
    parser.StartElementHandler = walk.start
    parser.EndElementHandler = walk.end
    parser.StartDoctypeDeclHandler = walk.doctype
    parser.EntityDeclHandler = walk.refuse
    parser.SkippedEntityHandler = walk.refuse
    try:
        parser.Parse(data, True)  # noqa: FBT003 - the parser takes it by place only
    except (expat.ExpatError, ValueError, LookupError) as bad:
        if isinstance(bad, BadFile):
            raise
        raise BadFile(file, "XML that is broken", _EXPECTED) from bad
    if walk.path is None:
        raise BadFile(file, "a drawing without a path", "a path: let the drawing program turn shapes into paths")
    return walk.path


@dataclass(slots=True)
class _Walk:
    """A drawing while it is read: the elements that are open, and the first path."""

    file: str
    open: list[str] = field(default_factory=list)
    turned: list[str] = field(default_factory=list)
    path: str | None = None

    def start(self, name: str, given: dict[str, str]) -> None:
        """Enter an element."""
        kind = name.removeprefix(f"{_SPACE} ")
        if not self.open and kind != "svg":
            raise BadFile(self.file, f"a file of {kind[:40]}", _EXPECTED)
        if len(self.open) >= _MOST_DEEP:
            raise BadFile(self.file, "a drawing nested too deep", _EXPECTED)
        self.open.append(kind)
        self.turned.append(_change(given))
        if kind == "path" and self.path is None and not _NOT_DRAWN & set(self.open):
            self._take(given.get("d", ""))

    def _take(self, path: str) -> None:
        change = next(filter(None, self.turned), "")
        if change:
            raise BadFile(
                self.file, f"a path under {change}", "a drawing with that applied: only moves and even scaling are kept"
            )
        self.path = path

    def end(self, _: str) -> None:
        """Leave an element."""
        self.open.pop()
        self.turned.pop()

    def doctype(self, _name: str, _system: str | None, _public: str | None, has_own: int) -> None:
        """Refuse a document type that declares anything itself; one that is only named is not looked up."""
        if has_own:
            self.refuse()

    def refuse(self, *_: object) -> None:
        """Refuse an entity."""
        raise BadFile(self.file, "a drawing with entities", "a plain SVG drawing")


def _change(given: dict[str, str]) -> str:
    """Return what an element does to the form of what it holds, empty where it keeps it."""
    if "none" in given.get("preserveAspectRatio", "") and "viewBox" in given:
        return "preserveAspectRatio none"
    if re.search(r"\b(?:transform|rotate|scale)\s*:", given.get("style", "")):
        return "a transform in a style"
    text = given.get("transform", "").strip()
    at = 0
    while at < len(text):
        step = _STEP.match(text, at)
        if step is None or not _keeps(step[1], step[2]):
            return f"transform {text[:60]}"
        at = step.end()
    return ""


def _keeps(kind: str, inside: str) -> bool:
    """Tell whether a transform keeps the form: a move, or the same scaling both ways."""
    words = re.split(r"[\s,]+", inside.strip())
    if not all(re.fullmatch(_NUMBER, word) for word in words):
        return False
    numbers = [float(word) for word in words]
    match kind, numbers:
        case "translate", [_] | [_, _]:
            return True
        case "scale", [both]:
            return both > 0
        case "scale", [across, along]:
            return across == along > 0
        case "matrix", [across, 0.0, 0.0, along, _, _]:
            return across == along > 0
    return False
