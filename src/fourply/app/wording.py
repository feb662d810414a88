"""What is seen of a show, in the terms of its region: views before they are drawn, drawings, lines, data for a page.

What somebody typed (titles, names, notes) is never reworded.
"""

from __future__ import annotations

from collections.abc import Callable, Iterable, Iterator, Mapping
from dataclasses import dataclass, fields, is_dataclass, replace
from typing import Protocol, cast, runtime_checkable

from fourply.drawing.pen import Label
from fourply.drawing.record import Drawing
from fourply.files.show import Show
from fourply.trade.package import Package
from fourply.working.terms import Terms, differs

_SEEN = frozenset({"says", "remedy", "label", "title", "note", "notes", "reason", "outline", "done"})
"""The keys of a page's data under which only words for people stand."""


@dataclass(frozen=True, slots=True)
class Wording:
    """The terms of a show's reader, and what in it was typed that has one of the words that differ."""

    terms: Terms = Terms.MAT
    typed: tuple[str, ...] = ()

    @classmethod
    def of(cls, show: Show, packages: Iterable[Package] = (), more: Iterable[str] = ()) -> Wording:
        """Return the wording of a show with works of it; `more` has been typed too."""
        if show.terms is Terms.MAT:
            return PLAIN
        return cls(show.terms, tuple(each for each in dict.fromkeys((*_typed(show, packages), *more)) if differs(each)))

    def say(self, text: str) -> str:
        """Return a text of fourply's own in these terms."""
        return self.terms.say(text, self.typed)

    def view[T](self, view: T) -> T:
        """Return a view with every text in it in these terms."""
        return view if self.terms is Terms.MAT else cast("T", _through(view, self.say))

    def drawing(self, drawing: Drawing) -> Drawing:
        """Return a drawing with its lines of text in these terms."""
        if self.terms is Terms.MAT:
            return drawing
        marks = (each._replace(text=self.say(each.text)) if isinstance(each, Label) else each for each in drawing.marks)
        return replace(drawing, marks=tuple(marks), title=self.say(drawing.title))

    def seen[T](self, data: T) -> T:
        """Return data for a page with what people read in these terms; keys and values that are sent back stay."""
        return data if self.terms is Terms.MAT else cast("T", _shown(data, self.say, read=False))


def _through(value: object, say: Callable[[str], str]) -> object:
    """Return a view with `say` done to each text in it, and in the views that it holds."""
    match value:
        case str():
            return say(value)
        case tuple() if isinstance(value, _Named):
            return value._replace(**{name: _through(each, say) for name, each in value._asdict().items()})
        case tuple() | list():
            return type(value)(_through(each, say) for each in value)
        case Mapping():
            return {key: _through(each, say) for key, each in value.items()}
    if is_dataclass(value) and not isinstance(value, type) and type(value).__module__.startswith("fourply.sheets."):
        parts = {each.name: _through(getattr(value, each.name), say) for each in fields(value) if each.init}
        return replace(value, **parts)
    return value


def _shown(data: object, say: Callable[[str], str], *, read: bool) -> object:
    """Return data with `say` done to the texts that are read."""
    match data:
        case str() if read:
            return say(data)
        case Mapping():
            return {key: _shown(each, say, read=key in _SEEN) for key, each in data.items()}
        case list() | tuple():
            return [_shown(each, say, read=read) for each in data]
    return data


@runtime_checkable
class _Named(Protocol):
    """A tuple with names."""

    def _asdict(self) -> dict[str, object]: ...

    def _replace(self, **parts: object) -> object: ...


PLAIN = Wording()


def _typed(show: Show, packages: Iterable[Package]) -> Iterator[str]:
    """Yield what was typed of a show, its works and materials."""
    yield show.title
    for named in fields(show.materials):
        held = getattr(show.materials, named.name)
        yield from held if isinstance(held, Mapping) else ()
    for package in packages:
        yield from _strings(package.work)


def _strings(value: object) -> Iterator[str]:
    if isinstance(value, str):
        yield value
    elif isinstance(value, tuple | list):
        for each in value:
            yield from _strings(each)
    elif is_dataclass(value):
        for each in fields(value):
            yield from _strings(getattr(value, each.name))
