"""What would put a finding right: changes of one rule, each tried on the work before it is offered.

Nothing is known here of the checks themselves. A rule that bears on a finding is moved until the finding is gone; what
would bring another fault or caution in its place is not offered.
"""

from __future__ import annotations

import re
from collections import Counter
from collections.abc import Callable, Iterator, Mapping
from dataclasses import dataclass, field
from itertools import islice

from fourply.app.design_edit import NO_EDIT, Designed, Designer, Edit, called, choices, step
from fourply.app.design_handles import SIDES, Handle, handles
from fourply.app.keep import Desk
from fourply.errors import FourplyError
from fourply.measure.length import ZERO, Length
from fourply.trade.findings import Finding, Level
from fourply.trade.package import Package
from fourply.working.words import Words

_OFFERED = 2
_TRIALS = 120
"""How many changes are tried for one work at the most; each takes some milliseconds."""
_FARTHEST = 64
_WORSE = frozenset({Level.FAULT, Level.CAUTION})
_CHOICES: Mapping[str, tuple[str, ...]] = {
    "glazing": ("spacer",),
    "depth": ("moulding", "spacer", "backing"),
    "spacer": ("spacer",),
    "wood": ("moulding",),
    "lip": ("moulding",),
}
"""The rules that name a material and bear on the findings of a kind."""
_RULES: Mapping[str, str] = {"allowance": "allowance", "under_mat": "inset"}
"""The rule that is a length, has no handle and bears on the findings of a kind."""
_NUMBERED: Mapping[str, str] = {
    "strip": "reveal",
    "oval": "reveal",
    "shape": "reveal",
    "groove": "groove",
    "line": "line",
}


@dataclass(frozen=True, slots=True)
class Remedy:
    """A change that puts a finding right, and what it is called on its button."""

    says: str
    edit: Edit


@dataclass(frozen=True, slots=True)
class Knob:
    """A length that can be set: what it is called, to what line it is measured, what it is, the change that sets it."""

    says: str
    outline: str
    value: Length
    edit: Callable[[str], Edit]


def remedies(designer: Designer, desk: Desk, work: str) -> list[tuple[Finding, list[Remedy]]]:
    """Return what is found on a work as it is kept, each with what would put it right; raises Unknown."""
    designed = designer.see(desk, work)
    if designed.package is None:
        return []
    trials = _Trials(designer, desk, work, designed)
    found = (each for each in designed.package.findings if each.level is not Level.HOLDS)
    return [(each, [*islice(_for(each, designed, trials), _OFFERED)]) for each in found]


def _for(finding: Finding, designed: Designed, trials: _Trials) -> Iterator[Remedy]:
    package = designed.package
    if package is None:
        return
    for knob in _knobs(finding, package):
        yield from _turned(finding, knob, trials)
    for key in _CHOICES.get(finding.rule.split(".")[0], ()):
        yield from _taken(finding, key, designed, trials)
    of = designed.under.name.removeprefix("treatment ")
    for key in designed.listed.own.values:
        edit = Edit(back=(key,))
        if trials.cure(finding, edit):
            yield Remedy(f"{called(key).capitalize()} as {of} has it", edit)


def _turned(finding: Finding, knob: Knob, trials: _Trials) -> Iterator[Remedy]:
    """Yield the smallest change of a length either way, found by doubling and halving."""
    fine, words = trials.fine, trials.words
    start = fine * round(knob.value.nm / fine.nm)

    def edit(steps: int) -> Edit:
        return knob.edit(words.write(start + fine * steps))

    for way in (1, -1):
        low, high = 0, 1
        while high <= _FARTHEST and start + fine * (way * high) > ZERO and not trials.cure(finding, edit(way * high)):
            low, high = high, 2 * high
        if high > _FARTHEST or start + fine * (way * high) <= ZERO:
            continue
        while high - low > 1:
            middle = (low + high) // 2
            low, high = (low, middle) if trials.cure(finding, edit(way * middle)) else (middle, high)
        if trials.cure(finding, edit(way * high)):
            to = words.write(start + fine * (way * high))
            yield Remedy(", ".join(filter(None, (f"Set {knob.says} to {to}", knob.outline))), edit(way * high))


def _taken(finding: Finding, key: str, designed: Designed, trials: _Trials) -> Iterator[Remedy]:
    """Yield the first of the shop's materials that would do, the thinnest or shallowest first."""
    materials = designed.parts.show.materials
    depths = {
        "moulding": {each.name: each.rabbet_depth for each in materials.mouldings.values()},
        "spacer": {each.name: each.depth for each in materials.spacers.values()},
        "backing": {each.name: each.thickness for each in materials.backings.values()},
    }[key]
    for name, _ in sorted(choices(materials)[key], key=lambda each: depths[each[0]]):
        edit = Edit(rules={key: name})
        if trials.cure(finding, edit):
            yield Remedy(f"Take {key} {name}", edit)
            return


# ── what bears on a finding ──────────────────────────────────────────────────────────────────────────────────────


def _knobs(finding: Finding, package: Package) -> Iterator[Knob]:
    """Yield the lengths that bear on a finding, the nearest first."""
    if (rule := _RULES.get(finding.rule.split(".")[0])) is not None:
        yield Knob(rule, "", getattr(package.treatment, rule), lambda text: Edit(rules={rule: text}))
    held = {each.name: each for each in handles(package)}
    for name in dict.fromkeys((*_at(finding, held), *_names(finding))):
        if (handle := held.get(name)) is not None:
            yield _knob(handle)


def _knob(handle: Handle) -> Knob:
    says = f"{handle.says[:1].lower()}{handle.says[1:]}"
    return Knob(says, handle.outline, handle.value, lambda text: Edit(handle=handle.name, text=text))


def _at(finding: Finding, held: Mapping[str, Handle]) -> Iterator[str]:
    yield from (each.name for each in held.values() if each.figure == finding.place)


def _names(finding: Finding) -> Iterator[str]:
    """Yield the names that handles may have which bear on a finding."""
    kind, last = finding.rule.split(".")[0], finding.place.rpartition(".")[2]
    side = last if last in SIDES else "bottom"
    if kind in {"border", "lip", "wood", "under_mat"}:
        yield from (f"border.{side}", "border.top", "border.bottom")
    if kind == "overlap":
        yield from ("window.overlap", f"window.paper_{side if side in {'top', 'bottom'} else 'sides'}")
    if kind == "inlay":
        yield "inlay.1"
    if kind in _NUMBERED:
        of = "mat" if _NUMBERED[kind] == "reveal" else kind
        if number := re.search(rf"\b{of}\.(\d+)", finding.place):
            yield f"{_NUMBERED[kind]}.{number[1]}"


# ── trying ───────────────────────────────────────────────────────────────────────────────────────────────────────


@dataclass
class _Trials:
    """Changes that are tried on one work, as many as there is patience for."""

    designer: Designer
    desk: Desk
    work: str
    now: Designed
    left: int = _TRIALS
    _known: dict[str, Counter[tuple[str, Level]] | None] = field(default_factory=dict)

    @property
    def fine(self) -> Length:
        """What a length moves by."""
        return step(self.now.parts)

    @property
    def words(self) -> Words:
        """How lengths of this show are written."""
        return Words(metric=self.now.parts.show.unit.is_metric)

    def cure(self, finding: Finding, edit: Edit) -> bool:
        """Tell whether a change leaves fewer findings like this one, and nothing worse than there was."""
        before, after = self._found(NO_EDIT), self._found(edit)
        if before is None or after is None:
            return False
        new = {key for key, count in after.items() if key[1] in _WORSE and count > before[key]}
        return not new and _of(after, finding) < _of(before, finding)

    def _found(self, edit: Edit) -> Counter[tuple[str, Level]] | None:
        """Return what would be found, None where the work could not be made or patience is at its end."""
        key = repr(edit)
        if key not in self._known:
            if not self.left:
                return None
            self.left -= 1
            self._known[key] = self._resolved(edit)
        return self._known[key]

    def _resolved(self, edit: Edit) -> Counter[tuple[str, Level]] | None:
        try:
            package = self.designer.see(self.desk, self.work, edit).package
        except FourplyError:
            return None
        return None if package is None else Counter((each.rule, each.level) for each in package.findings)


def _of(found: Counter[tuple[str, Level]], finding: Finding) -> int:
    return sum(count for (rule, level), count in found.items() if rule == finding.rule and level is not Level.HOLDS)
