"""A drawing as data, and the pen that makes one.

Writers, tests and comparisons all read the same frozen value; nothing is drawn twice to be written twice.
"""

from __future__ import annotations

from dataclasses import dataclass

from fourply.drawing.pen import Label, Path, Pen

type Mark = Path | Label


@dataclass(frozen=True, slots=True)
class Drawing:
    """A page or a picture: its size in millimetres and its marks, the later over the earlier.

    `title` says what it is, for readers of files and for those who cannot see it.
    """

    width: float
    height: float
    marks: tuple[Mark, ...]
    title: str = ""

    def __post_init__(self) -> None:
        if not (self.width > 0 and self.height > 0):
            msg = f"a drawing is above nothing both ways, not {self.width} x {self.height} mm"
            raise ValueError(msg)

    @property
    def labels(self) -> tuple[Label, ...]:
        """The lines of text, in the order in which they were drawn."""
        return tuple(mark for mark in self.marks if isinstance(mark, Label))

    @property
    def paths(self) -> tuple[Path, ...]:
        """The paths, in the order in which they were drawn."""
        return tuple(mark for mark in self.marks if isinstance(mark, Path))


class Recorder(Pen):
    """A pen that keeps what it is given."""

    def __init__(self) -> None:
        self._marks: list[Mark] = []

    def path(self, path: Path) -> None:
        """Keep a path."""
        self._marks.append(path)

    def label(self, label: Label) -> None:
        """Keep a line of text."""
        self._marks.append(label)

    def drawing(self, width: float, height: float, *, title: str = "") -> Drawing:
        """Return what was kept so far, as a drawing of this size in millimetres."""
        return Drawing(width, height, tuple(self._marks), title)


def replay(marks: tuple[Mark, ...], pen: Pen) -> None:
    """Give recorded marks to a pen, in their order."""
    for mark in marks:
        if isinstance(mark, Path):
            pen.path(mark)
        else:
            pen.label(mark)
