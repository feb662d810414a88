"""The sizes of one work in a few lines: what a framer would write on a slip of paper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass

from fourply.app.shows import Opened
from fourply.app.wording import Wording
from fourply.trade.package import Package
from fourply.trade.parts import mat_name
from fourply.working.words import Words


@dataclass(frozen=True, slots=True)
class Summary:
    """Sizes as (name, figures, note) and findings as (level, what, remedy)."""

    sizes: tuple[tuple[str, str, str], ...]
    findings: tuple[tuple[str, str, str], ...]


def summary(opened: Opened, work: str) -> Summary:
    """Return the sizes and findings of one work; raises Unknown where the show does not have it."""
    package, words = opened.package(work), Words(metric=opened.show.unit.is_metric)
    found = tuple(
        (finding.level.value, finding.sentence(words.write), finding.advice(words.write))
        for finding in package.findings
    )
    say = Wording.of(opened.show, opened.packages).say
    sizes = ((say(name), figures, say(note)) for name, figures, note in _sizes(package, words))
    return Summary(tuple(sizes), tuple((level, say(what), say(cure)) for level, what, cure in found))


def _sizes(package: Package, words: Words) -> Iterator[tuple[str, str, str]]:
    yield "sheet", words.size(package.work.art.least), f"width x height, {words.unit.value}"
    yield "window", words.size(package.window), "at the sight"
    for mat in package.mats:
        borders = ", ".join(f"{name} {words.mark(border)}" for name, border in mat.borders.named())
        name = mat_name(mat)
        yield name, words.size(mat.blank), f"of {mat.board.name}; borders to the back line: {borders}"
        face = f"{words.write(mat.opening.face.width)} x {words.write(mat.opening.face.height)}"
        yield f"{name} opens", words.size(mat.opening.sight), f"at the sight; face {face}"
        for fallout in (fallout for fallouts in mat.fallouts for fallout in fallouts[:1]):
            yield f"{name} fallout", words.size(fallout), "usable"
    yield "mount board", words.size(package.mats[0].blank), f"of {package.mount.name}"
    if package.glazing and package.glazing_size:
        yield "glazing", words.size(package.glazing_size), f"of {package.glazing.name}"
    if package.backing and package.backing_size:
        yield "backing", words.size(package.backing_size), f"of {package.backing.name}"
    left, top = words.mark(package.art.sheet.left), words.mark(package.art.sheet.top)
    yield "sheet lies", f"{left} from the left, {top} from the top", "on the mount board"
    if package.frame:
        yield "rabbet", words.size(package.frame.rabbet), f"of {package.frame.moulding.name}"
        for rail in package.frame.rails:
            points = f"{words.mark(rail.long_point)} long point, {words.mark(rail.short_point)} short point"
            yield f"{rail.side} rail", points, f"{rail.count} of them" if rail.count > 1 else ""


def work_lines(opened: Opened) -> Iterator[tuple[str, str, str, str]]:
    """Yield each work that can be made by number and title, with the size of its mat, and how many findings it has."""
    words = Words(metric=opened.show.unit.is_metric)
    for package in opened.packages:
        count = len(package.findings)
        findings = f"{count} finding{'' if count == 1 else 's'} to look at" if count else ""
        outer = words.size(package.mats[0].blank)
        yield package.work.id, package.work.title, f"{outer} {words.unit.value}", findings
