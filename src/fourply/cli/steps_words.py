"""Settings, cuts and times of an order of work in the words of a terminal."""

from __future__ import annotations

from collections.abc import Iterable

import click

from fourply.bench.steps import Head, Setting, Strike
from fourply.working.words import Words


def setting(of: Setting, changed: Iterable[str], words: Words) -> str:
    """Return what is set in words; what must be set anew is bold."""
    fresh, shown = frozenset(changed), []
    for part, value in (("head", of.head), ("board", of.board)):
        if part in fresh and value is not None:
            shown.append(click.style(value.value if isinstance(value, Head) else value, bold=True))
    for part, length in (
        ("guide", of.guide),
        ("far", of.far),
        ("near", of.near),
        ("stop", of.stop),
    ):
        if length is not None:
            shown.append(f"{part} {click.style(words.mark(length), bold=part in fresh)}")
    if of.oval is not None:
        shown.append(click.style(f"axes differ by {words.mark(of.oval[0])}", bold="oval" in fresh))
    return ", ".join(shown)


def strike(of: Strike) -> str:
    """Return one cut in words: what is done, and by which number or along which side."""
    return f"{of.operation} {of.number or of.side}".strip()


def minutes(seconds: float) -> str:
    """Return a time in whole minutes, from two hours on in hours too."""
    whole = round(seconds / 60)
    return f"{whole} min" if whole < 120 else f"{whole // 60} h {whole % 60:02} min"
