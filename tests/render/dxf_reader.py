"""A reader of DXF that knows nothing of the writer: pairs of group code and value, entities as points on their curves.

Group codes from memory: DXF Reference (R2010), entities section: 10/20/30 points, 11/21 second point, 40 and 41
radius or ratio and parameters, 50/51 angles in degrees, 8 layer, 1 text.
"""

from __future__ import annotations

import math
from dataclasses import dataclass, field

type Point = tuple[float, float]


@dataclass
class Entity:
    kind: str
    groups: list[tuple[int, str]] = field(default_factory=list)

    def all(self, code: int) -> list[float]:
        return [float(value) for found, value in self.groups if found == code]

    def one(self, code: int) -> float:
        (value,) = self.all(code)
        return value

    def text(self, code: int) -> str:
        return next(value for found, value in self.groups if found == code)

    @property
    def layer(self) -> str:
        return self.text(8)

    def points(self, count: int = 64) -> list[Point]:
        """Return count + 1 points along the entity, from its first end to its last."""
        return [self._at(i / count) for i in range(count + 1)]

    def _at(self, t: float) -> Point:
        x, y = self.all(10)[0], self.all(20)[0]
        match self.kind:
            case "LINE":
                return x + t * (self.one(11) - x), y + t * (self.one(21) - y)
            case "CIRCLE":
                return x + self.one(40) * math.cos(math.tau * t), y + self.one(40) * math.sin(math.tau * t)
            case "ARC":
                first, last = self.one(50), self.one(51)
                turn = math.radians(first + t * ((last - first) % 360))
                return x + self.one(40) * math.cos(turn), y + self.one(40) * math.sin(turn)
            case "ELLIPSE":
                ax, ay, ratio = self.one(11), self.one(21), self.one(40)
                turn = self.one(41) + t * (self.one(42) - self.one(41))
                cos, sin = math.cos(turn), math.sin(turn) * ratio
                return x + ax * cos - ay * sin, y + ay * cos + ax * sin
            case "SPLINE":
                return self._bezier(t)
        raise AssertionError(self.kind)

    def _bezier(self, t: float) -> Point:
        assert (self.one(71), self.all(40)[:4]) == (3, [0, 0, 0, 0])
        assert len(set(self.all(40))) == 2
        weights = [(1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3]
        return (
            sum(w * x for w, x in zip(weights, self.all(10), strict=True)),
            sum(w * y for w, y in zip(weights, self.all(20), strict=True)),
        )


@dataclass
class File:
    comments: list[str]
    header: dict[str, list[str]]
    layers: list[str]
    entities: list[Entity]


def read(data: bytes) -> File:
    lines = data.decode("utf-8").split("\n")
    pairs = [(int(code), value) for code, value in zip(lines[0:-1:2], lines[1::2], strict=True)]
    comments = [value for code, value in pairs if code == 999]
    sections: dict[str, list[tuple[int, str]]] = {}
    name = ""
    for i, (code, value) in enumerate(pairs):
        if (code, value) == (0, "SECTION"):
            name = pairs[i + 1][1]
        elif name:
            sections.setdefault(name, []).append((code, value))
    header: dict[str, list[str]] = {}
    for code, value in sections["HEADER"]:
        if code == 9:
            header[value] = []
        elif header:
            header[list(header)[-1]].append(value)
    entities: list[Entity] = []
    for code, value in sections["ENTITIES"][1:]:
        if code == 0:
            entities.append(Entity(value))
        else:
            entities[-1].groups.append((code, value))
    tables = _entities(sections["TABLES"])
    layers = [each.text(2) for each in tables if each.kind == "LAYER"]
    return File(comments, header, layers, [each for each in entities if each.kind != "ENDSEC"])


def _entities(pairs: list[tuple[int, str]]) -> list[Entity]:
    found: list[Entity] = []
    for code, value in pairs:
        if code == 0:
            found.append(Entity(value))
        elif found:
            found[-1].groups.append((code, value))
    return found
