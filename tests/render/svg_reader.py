"""A reader of SVG paths that knows nothing of the writer: arcs by the centre that the standard finds from their ends.

Source: SVG 2, W3C Candidate Recommendation 2018-10-04, appendix B.2.4, conversion from endpoint to centre
parameterization (from memory).
"""

from __future__ import annotations

import math
import re
from xml.etree import ElementTree as ET

type Point = tuple[float, float]

SVG = "{http://www.w3.org/2000/svg}"


def groups(data: bytes) -> dict[str, list[list[Point]]]:
    """Return the points on each path of each group."""
    root = ET.fromstring(data)  # noqa: S314 - our own file
    return {
        group.attrib["id"]: [points(path.attrib["d"]) for path in group.iter(f"{SVG}path")]
        for group in root.iter(f"{SVG}g")
    }


def points(data: str, count: int = 64) -> list[Point]:
    found: list[Point] = []
    start = here = (0.0, 0.0)
    for letter, numbers in re.findall(r"([MLCAZ])([^MLCAZ]*)", data):
        n = [float(number) for number in numbers.split()]
        if letter == "M":
            start = here = (n[0], n[1])
            found.append(here)
            continue
        there = start if letter == "Z" else (n[-2], n[-1])
        for i in range(1, count + 1):
            t = i / count
            if letter == "A":
                found.append(_arc(here, there, (n[0], n[1]), large=bool(n[3]), sweep=bool(n[4]), t=t))
            elif letter == "C":
                a, b, c, d = (1 - t) ** 3, 3 * t * (1 - t) ** 2, 3 * t * t * (1 - t), t**3
                found.append(
                    (
                        a * here[0] + b * n[0] + c * n[2] + d * n[4],
                        a * here[1] + b * n[1] + c * n[3] + d * n[5],
                    )
                )
            else:
                found.append((here[0] + t * (there[0] - here[0]), here[1] + t * (there[1] - here[1])))
        here = there
    return found


def _arc(here: Point, there: Point, radii: Point, *, large: bool, sweep: bool, t: float) -> Point:
    rx, ry = radii
    px, py = (here[0] - there[0]) / 2, (here[1] - there[1]) / 2
    over = (px / rx) ** 2 + (py / ry) ** 2
    if over > 1:
        rx, ry = rx * math.sqrt(over), ry * math.sqrt(over)
    under = (rx * py) ** 2 + (ry * px) ** 2
    root = math.sqrt(max(0.0, (rx * ry) ** 2 - under) / under) * (-1 if large == sweep else 1)
    qx, qy = root * rx * py / ry, -root * ry * px / rx
    cx, cy = qx + (here[0] + there[0]) / 2, qy + (here[1] + there[1]) / 2
    first = math.atan2((py - qy) / ry, (px - qx) / rx)
    turn = math.atan2((-py - qy) / ry, (-px - qx) / rx) - first
    turn = turn % math.tau if sweep else turn % math.tau - math.tau
    return cx + rx * math.cos(first + turn * t), cy + ry * math.sin(first + turn * t)
