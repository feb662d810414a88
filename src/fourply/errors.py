"""Every error that fourply raises on purpose.

    FourplyError
    ├── BadInput            what a person gave cannot be used
    │   ├── BadLength       text that is no length, or a length that cannot be
    │   ├── BadTreatment    rules that no mat or frame can follow
    │   └── BadFile         a file that cannot be read as what it should be
    ├── CannotHonour        a planner was asked for what it does not keep
    ├── BadPlan             a plan that the referee rejects
    ├── PlanOutgrown        a kept plan whose show is cut otherwise by now
    ├── RackTaken           a piece of the rack that a kept plan needs and cannot have any more
    ├── WorkerLost          a part of long work that ended its worker each time
    ├── NoWorkers           long work cannot be done where it was asked for
    ├── Stale               a change to what has changed since it was read
    ├── Taken               a name that another has
    ├── KeyReused           the key of one request, given for another
    ├── NothingToUndo       nothing stands that could be undone or redone
    ├── Unavailable         a database that cannot be opened, read or written
    ├── NewerStore          a database that a newer fourply wrote
    ├── CannotBackUp        a backup that could not be made or does not open
    └── Unknown             a name that is not there

An error carries its facts as attributes and makes its sentence only when it is shown. The sentence says what was
found, where, and what would be right. Work that can be made but looks wrong is no error: it yields a finding.
"""

from __future__ import annotations

from collections.abc import Sequence
from difflib import get_close_matches

_SHOWN = 40
_NAMED = 8


def shown(text: str) -> str:
    """Return text as it may be repeated in a message: one line, printable, at most 40 characters."""
    flat = "".join(c if c.isprintable() else "�" for c in text[: _SHOWN + 1])
    return f"'{flat}'" if len(text) <= _SHOWN else f"'{flat[:_SHOWN]}…' ({len(text)} characters)"


class FourplyError(Exception):
    """The root: whatever fourply raises on purpose."""


class BadInput(FourplyError, ValueError):
    """What a person gave cannot be used; says what was found and what would be right."""

    def __init__(self, found: str, expected: str) -> None:
        super().__init__(found, expected)
        self.found = found
        self.expected = expected

    def __str__(self) -> str:
        return f"{shown(self.found)} cannot be used: {self.expected}"


class BadLength(BadInput):
    """Text that is no length, or a length that cannot be."""

    def __str__(self) -> str:
        return f"{shown(self.found)} is not a length that can be used: {self.expected}"


class BadTreatment(BadInput):
    """Rules that no mat or frame can follow; `figure` is the path of the figure that fails."""

    def __init__(self, figure: str, found: str, expected: str) -> None:
        super().__init__(found, expected)
        self.args = (figure, found, expected)
        self.figure = figure

    def __str__(self) -> str:
        return f"{self.figure}: {self.found}; {self.expected}"


class BadFile(BadInput):
    """A file that cannot be read as what it should be; `file` is its name."""

    def __init__(self, file: str, found: str, expected: str) -> None:
        super().__init__(found, expected)
        self.args = (file, found, expected)
        self.file = file

    def __str__(self) -> str:
        return f"{self.file}: {self.found}; {self.expected}"


class CannotHonour(FourplyError, NotImplementedError):
    """A planner was asked for what it does not keep; it refuses rather than leave it out."""

    def __init__(self, planner: str, wish: str) -> None:
        super().__init__(planner, wish)
        self.planner = planner
        self.wish = wish

    def __str__(self) -> str:
        return f"the {self.planner} planner does not keep {self.wish}"


class BadPlan(FourplyError, ValueError):
    """A plan that the referee rejects; never shown to anyone as a plan."""

    def __init__(self, fault: str) -> None:
        super().__init__(fault)
        self.fault = fault

    def __str__(self) -> str:
        return f"the plan is not valid: {self.fault}"


class PlanOutgrown(FourplyError):
    """A kept plan whose show is cut otherwise by now; `materials` are those of which other pieces are asked."""

    def __init__(self, plan: str, materials: Sequence[str]) -> None:
        super().__init__(plan, materials)
        self.plan = plan
        self.materials = materials

    def __str__(self) -> str:
        more = len(self.materials) - _NAMED
        named = ", ".join(shown(each) for each in self.materials[:_NAMED]) + (f" and {more} more" if more > 0 else "")
        return f"the plan {shown(self.plan)} no longer fits its show: {named} would be cut otherwise now; plan again"


class RackTaken(FourplyError):
    """A piece of the rack that a kept plan needs: gone, another by now, or promised to the plan of another show."""

    def __init__(self, piece: str, why: str) -> None:
        super().__init__(piece, why)
        self.piece = piece
        self.why = why

    def __str__(self) -> str:
        return f"{self.piece} is needed from the rack, and {self.why}; plan again"


class WorkerLost(FourplyError):
    """A part of long work that ended its worker each time it was tried; the other parts are not touched by it."""

    def __init__(self, task: str, tries: int) -> None:
        super().__init__(task, tries)
        self.task = task
        self.tries = tries

    def __str__(self) -> str:
        return f"{self.task}: the process working on it ended {self.tries} times; is there enough memory?"


class NoWorkers(FourplyError, ConnectionError):
    """Long work cannot be done where it was asked for; says why, and what would help."""

    def __init__(self, where: str, why: str) -> None:
        super().__init__(where, why)
        self.where = where
        self.why = why

    def __str__(self) -> str:
        return f"no work can be done on {self.where}: {self.why}"


class Stale(FourplyError):
    """A change to what has changed since it was read. `mine` is what was to be kept, `theirs` the record that is."""

    def __init__(self, record: str, expected: int | None, mine: object, theirs: object) -> None:
        super().__init__(record, expected, mine, theirs)
        self.record = record
        self.expected = expected
        self.mine = mine
        self.theirs = theirs

    def __str__(self) -> str:
        now = getattr(self.theirs, "version", getattr(self.theirs, "seq", None))
        was = "did not exist" if self.expected is None else f"had version {self.expected}"
        return f"{self.record} {was} when it was read and has version {now} now; look at it again, then change it"


class Taken(BadInput):
    """A name that another of the same kind has; `holder` is the id of that one."""

    def __init__(self, kind: str, name: str, holder: str) -> None:
        super().__init__(name, f"a name that no other {kind} has")
        self.args = (kind, name, holder)
        self.kind = kind
        self.holder = holder

    def __str__(self) -> str:
        return f"there is a {self.kind} called {shown(self.found)} already; give it another name"


class KeyReused(BadInput):
    """The key of one request, given for another."""

    def __init__(self, key: str) -> None:
        super().__init__(key, "a new key for a new request")
        self.args = (key,)


class NothingToUndo(FourplyError):
    """Nothing stands in a scope that could be undone, or redone."""

    def __init__(self, act: str) -> None:
        super().__init__(act)
        self.act = act

    def __str__(self) -> str:
        return f"there is nothing to {self.act}"


class Unavailable(FourplyError, ConnectionError):
    """A database that cannot be opened, read or written now; `where` is its address without a password.

    `damaged` says that its file is no whole database any more, rather than busy or out of reach.
    """

    def __init__(self, where: str, why: str, *, damaged: bool = False) -> None:
        super().__init__(where, why)
        self.where = where
        self.why = why
        self.damaged = damaged

    def __str__(self) -> str:
        remedy = "; put the last backup back: ./run restore FILE" if self.damaged else ""
        return f"the shop's data cannot be used ({self.where}): {self.why}{remedy}"


class NewerStore(FourplyError):
    """A database that a newer fourply wrote: `found` is its schema, `known` the newest that this program has."""

    def __init__(self, found: int, known: int) -> None:
        super().__init__(found, known)
        self.found = found
        self.known = known

    def __str__(self) -> str:
        return (
            f"the shop's data was written by a newer fourply (schema {self.found}, this one knows {self.known}); "
            "nothing was changed: start the newer one, or restore a backup that is older"
        )


class CannotBackUp(FourplyError):
    """A backup that could not be made, or does not open again; says why."""

    def __init__(self, why: str) -> None:
        super().__init__(why)
        self.why = why

    def __str__(self) -> str:
        return f"no backup was made: {self.why}"


class Unknown(BadInput, LookupError):
    """A name that is not there; says which names are, the nearest first."""

    def __init__(self, kind: str, name: str, known: Sequence[str]) -> None:
        near = get_close_matches(name, known, _NAMED, 0.5) or list(known[:_NAMED])
        more = f" and {len(known) - len(near)} more" if len(known) > len(near) else ""
        super().__init__(name, f"known: {', '.join(near)}{more}" if known else f"there is no {kind} at all")
        self.args = (kind, name, tuple(known))
        self.kind = kind
        self.known = tuple(known)

    def __str__(self) -> str:
        return f"no {self.kind} is called {shown(self.found)}; {self.expected}"
