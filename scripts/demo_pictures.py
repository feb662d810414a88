"""Draws the pictures of the demo shows' invented works: python scripts/demo_pictures.py. They are the same every time.

Each is a few washes and lines of ink on a paper tone, drawn twice as large and made smaller. They lie beside the shows
and go with their works when the demo is kept.
"""

# ruff: noqa: D102, D103 (what a function draws is its name)
from __future__ import annotations

import io
import math
import random
import zlib
from collections.abc import Callable
from itertools import pairwise
from pathlib import Path

import numpy as np
from PIL import Image, ImageDraw, ImageFilter, ImageFont

OUT = Path(__file__).resolve().parent.parent / "src" / "fourply" / "files" / "demo" / "pictures"
FONT = OUT.parent.parent.parent / "render" / "fonts"
LONGEST, OVER = 640, 2
type Colour = tuple[int, int, int]
type Point = tuple[float, float]

CREAM, WHITE, KRAFT = (244, 238, 222), (250, 248, 242), (216, 204, 178)
OCHRE, SAP, SLATE, SEPIA = (201, 170, 104), (96, 122, 84), (84, 104, 122), (92, 70, 48)
INK, RUST, SKY, SAND, NIGHT = (42, 42, 46), (158, 78, 52), (176, 196, 206), (226, 208, 166), (34, 40, 54)


class Sheet:
    """A sheet that is drawn on, its measures in parts of its longer side; the same seed makes the same sheet."""

    def __init__(self, width: float, height: float, paper: Colour, seed: str) -> None:
        self.chance = random.Random(seed)  # noqa: S311 (nothing is hidden by it)
        self.k = LONGEST * OVER / max(width, height)
        self.w, self.h = width / max(width, height), height / max(width, height)
        self.size = (round(width * self.k), round(height * self.k))
        self.k = LONGEST * OVER
        self.image = Image.new("RGB", self.size, paper)
        self.noise = np.random.default_rng(zlib.crc32(seed.encode()))

    def at(self, point: Point) -> Point:
        return point[0] * self.k, point[1] * self.k

    def line(self, points: list[Point], colour: Colour = INK, width: float = 0.004, wobble: float = 0.0015) -> None:
        """Draw a line as a hand does: never quite straight, never quite of one weight."""
        draw, last = ImageDraw.Draw(self.image), None
        for start, end in pairwise(points):
            steps = max(2, int(math.dist(start, end) * 40))
            for step in range(steps + 1):
                part = step / steps
                here = tuple(a + (b - a) * part + self.chance.gauss(0, wobble) for a, b in zip(start, end, strict=True))
                if last is not None:
                    weight = max(1, round(self.k * width * self.chance.uniform(0.75, 1.2)))
                    draw.line([self.at(last), self.at((here[0], here[1]))], colour, weight)
                last = (here[0], here[1])

    def wash(self, points: list[Point], colour: Colour, strength: float = 0.6, soft: float = 0.004) -> None:
        """Lay a wash over an area: uneven, darker where it dried last."""
        mask = Image.new("L", self.size, 0)
        ImageDraw.Draw(mask).polygon([self.at(each) for each in points], 255)
        mask = mask.filter(ImageFilter.GaussianBlur(self.k * soft))
        rim = mask.filter(ImageFilter.FIND_EDGES).filter(ImageFilter.GaussianBlur(self.k * 0.003))
        cloud = Image.fromarray(self.noise.integers(110, 255, (9, 13), dtype=np.uint8)).resize(
            self.size, Image.Resampling.BICUBIC
        )
        amount = np.asarray(mask, float) / 255 * (0.72 + 0.28 * np.asarray(cloud, float) / 255) * strength
        amount = np.clip(amount + np.asarray(rim, float) / 255 * 0.10 * strength, 0, 1)[..., None]
        flat = np.asarray(self.image, float)
        self.image = Image.fromarray((flat * (1 - amount) + np.array(colour) * flat / 255 * amount).astype(np.uint8))

    def fill(self, points: list[Point], colour: Colour) -> None:
        ImageDraw.Draw(self.image).polygon([self.at(each) for each in points], colour)

    def dot(self, point: Point, radius: float, colour: Colour) -> None:
        x, y = self.at(point)
        r = radius * self.k
        ImageDraw.Draw(self.image).ellipse([x - r, y - r, x + r, y + r], colour)

    def ring(self, point: Point, radius: float, colour: Colour = INK, width: float = 0.004) -> None:
        turn = [i * math.tau / 48 for i in range(49)]
        self.line([(point[0] + radius * math.cos(t), point[1] + radius * math.sin(t)) for t in turn], colour, width)

    def word(self, at: Point, text: str, height: float, colour: Colour, *, bold: bool = True) -> None:
        font = ImageFont.truetype(FONT / f"NotoSans-{'Bold' if bold else 'Regular'}.ttf", round(height * self.k))
        ImageDraw.Draw(self.image).text(self.at(at), text, colour, font, anchor="mm")

    def box(self, left: float, top: float, right: float, bottom: float) -> list[Point]:
        return [(left, top), (right, top), (right, bottom), (left, bottom)]

    def bytes(self) -> bytes:
        """Return it at its size, with the grain of the paper on it."""
        small = self.image.resize((self.size[0] // OVER, self.size[1] // OVER), Image.Resampling.LANCZOS)
        grain = self.noise.normal(0, 1.6, (small.height, small.width, 1))
        file = io.BytesIO()
        grained = np.clip(np.asarray(small, float) + grain, 0, 255).astype(np.uint8)
        Image.fromarray(grained).save(file, "WEBP", quality=70, method=6)
        return file.getvalue()


def wave(s: Sheet, y: float, left: float, right: float, high: float, turns: float) -> list[Point]:  # noqa: PLR0917
    start = s.chance.uniform(0, 6)
    return [
        (x, y + high * math.sin(start + (x - left) * turns * math.tau)) for x in np.linspace(left, right, 60).tolist()
    ]


def water(s: Sheet, top: float, count: int, colour: Colour = INK, width: float = 0.003) -> None:
    """Draw water as broken lines that come nearer to one another towards the horizon."""
    for step in range(count):
        y = top + (s.h - 0.03 - top) * ((step + 0.6) / count) ** 1.5
        for _ in range(s.chance.randint(1, 3)):
            left = s.chance.uniform(0.03, s.w * 0.7)
            right = min(s.w - 0.03, left + s.chance.uniform(0.08, 0.42) * s.w)
            s.line(wave(s, y, left, right, 0.004 + 0.006 * step / count, 4), colour, width)


def mill(s: Sheet, x: float, y: float, size: float, colour: Colour, *, wash: Colour | None = None) -> None:
    """Draw a mill with its roof and wheel, its foot at a point."""
    house = s.box(x, y - 0.34 * size, x + 0.5 * size, y)
    roof = [(x - 0.04 * size, y - 0.34 * size), (x + 0.25 * size, y - 0.58 * size), (x + 0.54 * size, y - 0.34 * size)]
    if wash is not None:
        s.wash(house, wash, 0.5)
        s.wash(roof, wash, 0.8)
    s.line([*house, house[0]], colour)
    s.line([*roof, roof[0]], colour)
    for column in range(3):
        s.line(
            s.box(
                x + (0.07 + 0.15 * column) * size, y - 0.25 * size, x + (0.14 + 0.15 * column) * size, y - 0.15 * size
            ),
            colour,
        )
    wheel(s, (x + 0.62 * size, y - 0.12 * size), 0.17 * size, colour)


def wheel(s: Sheet, at: Point, radius: float, colour: Colour, width: float = 0.004) -> None:
    s.ring(at, radius, colour, width)
    s.ring(at, radius * 0.8, colour, width)
    s.ring(at, radius * 0.14, colour, width)
    for spoke in range(12):
        turn = spoke * math.tau / 12 + 0.1
        tip = (at[0] + radius * 1.12 * math.cos(turn), at[1] + radius * 1.12 * math.sin(turn))
        s.line([(at[0] + radius * 0.14 * math.cos(turn), at[1] + radius * 0.14 * math.sin(turn)), tip], colour, width)


def hatch(  # noqa: PLR0917
    s: Sheet, left: float, top: float, right: float, bottom: float, gap: float, colour: Colour
) -> None:
    y = top
    while y < bottom:
        s.line([(left, y), (right, y - 0.01)], colour, 0.0018)
        y += gap * s.chance.uniform(0.7, 1.3)


# ── the tide mill ────────────────────────────────────────────────────────────────────────────────────────────────


def sluice(*, shut: bool) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        grey = (70, 70, 74)
        s.wash(s.box(0, 0, s.w, s.h * 0.42), SKY, 0.25, 0.03)
        s.wash(s.box(0, s.h * 0.46, s.w, s.h), SLATE, 0.35 if shut else 0.22, 0.03)
        s.line(wave(s, s.h * 0.44, 0.02, s.w - 0.02, 0.004, 1), grey)
        for x in (0.34, 0.46, 0.58):
            s.line([(x, s.h * 0.2), (x, s.h * 0.74)], grey, 0.009)
            s.line([(x + 0.012, s.h * 0.2), (x + 0.012, s.h * 0.74)], grey, 0.003)
        s.line([(0.3, s.h * 0.24), (0.64, s.h * 0.235)], grey, 0.008)
        for low in np.arange(0.0, 0.26, 0.026).tolist():
            y = s.h * (0.46 if shut else 0.27) + low * (1 if shut else 0.5)
            s.line([(0.345, y), (0.575, y + 0.002)], grey, 0.0045)
        water(s, s.h * 0.5, 22 if shut else 14, grey, 0.0028)
        hatch(s, 0.02, s.h * 0.38, 0.24, s.h * 0.44, 0.007, grey)

    return draw


def at_rest(s: Sheet) -> None:
    chalk = (236, 234, 228)
    centre = (s.w * 0.5, s.h * 0.46)
    for r in (0.36, 0.355, 0.3, 0.06):
        s.ring(centre, r * s.w / 0.75, INK, 0.004)
    for spoke in range(16):
        turn = spoke * math.tau / 16 + 0.05
        inner, outer = 0.06 * s.w / 0.75, 0.4 * s.w / 0.75
        ends = [(centre[0] + r * math.cos(turn), centre[1] + r * math.sin(turn)) for r in (inner, outer)]
        s.line(ends, INK, 0.005)
        if 4 < spoke < 13:
            s.line([(x + 0.008, y - 0.006) for x, y in ends], chalk, 0.0035)
    s.line([(0.02, s.h * 0.86), (s.w - 0.02, s.h * 0.85)], INK, 0.006)
    water(s, s.h * 0.87, 8, chalk, 0.003)


def millpond(*, frost: bool) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        s.wash(s.box(0, 0, s.w, s.h * 0.45), SAND if not frost else SKY, 0.35, 0.02)
        s.line(wave(s, s.h * 0.46, 0.02, s.w - 0.02, 0.008, 1.5))
        mill(s, 0.6, s.h * 0.47, 0.3, INK, wash=None if frost else OCHRE)
        for x in np.linspace(0.05, 0.5, 9).tolist():
            high = s.chance.uniform(0.1, 0.22)
            s.line([(x, s.h * 0.47), (x + 0.01, s.h * 0.47 - high)], INK, 0.004)
            for limb in range(5):
                y = s.h * 0.47 - high * (0.4 + 0.12 * limb)
                s.line(
                    [(x + 0.005, y), (x + s.chance.choice((-1, 1)) * s.chance.uniform(0.02, 0.05), y - 0.04)],
                    INK,
                    0.002,
                )
        pond = [
            (0.08 + 0.78 * (0.5 + 0.5 * math.cos(t)), s.h * 0.72 + 0.12 * math.sin(t))
            for t in np.linspace(0, math.tau, 60).tolist()
        ]
        s.wash(pond, SLATE if not frost else (190, 204, 210), 0.4)
        s.line([*pond, pond[0]], INK, 0.003)
        if frost:
            for _ in range(26):
                x, y = s.chance.uniform(0.2, 0.75), s.h * s.chance.uniform(0.64, 0.8)
                s.line([(x, y), (x + s.chance.uniform(0.02, 0.09), y + s.chance.uniform(-0.02, 0.02))], INK, 0.0015)
        else:
            water(s, s.h * 0.64, 9)
        hatch(s, 0.02, s.h * 0.86, s.w - 0.02, s.h * 0.99, 0.006, INK)

    return draw


def night(s: Sheet) -> None:
    s.fill(s.box(0, 0, s.w, s.h), NIGHT)
    for step in range(26):
        tone = tuple(int(a + (b - a) * step / 26) for a, b in zip(NIGHT, (92, 104, 122), strict=True))
        s.fill(s.box(0, s.h * (0.02 * step), s.w, s.h * 0.6), (tone[0], tone[1], tone[2]))
    s.dot((s.w * 0.72, s.h * 0.16), 0.05, (232, 226, 200))
    s.fill(
        [(0.1, s.h * 0.62), (0.1, s.h * 0.34), (0.3, s.h * 0.22), (0.5, s.h * 0.34), (0.5, s.h * 0.62)], (22, 24, 32)
    )
    for row in range(3):
        for column in range(3):
            lit = (row + column) % 2 == 0
            left, top = 0.16 + 0.1 * column, s.h * (0.37 + 0.075 * row)
            s.fill(s.box(left, top, left + 0.05, top + 0.045), (236, 196, 108) if lit else (40, 44, 56))
    s.fill(s.box(0, s.h * 0.62, s.w, s.h), (26, 30, 42))
    for step in range(30):
        y = s.h * (0.64 + 0.012 * step)
        left = s.chance.uniform(0.05, 0.5)
        s.line(
            wave(s, y, left, left + s.chance.uniform(0.05, 0.25), 0.003, 4),
            (214, 182, 112) if step % 3 else (120, 132, 150),
            0.003,
        )


def eel_trap(s: Sheet) -> None:
    def half(part: float) -> float:
        return 0.05 + 0.2 * math.sin(min(1, part * 1.25) * math.pi / 2) * (1 - 0.35 * max(0, part - 0.75) * 4)

    middle, top, bottom = s.w / 2, s.h * 0.1, s.h * 0.9
    for rib in np.linspace(-1, 1, 13).tolist():
        s.line(
            [(middle + rib * half(p), top + (bottom - top) * p) for p in np.linspace(0, 1, 24).tolist()], SEPIA, 0.004
        )
    for ring in range(22):
        part = ring / 21
        y, wide = top + (bottom - top) * part, half(part)
        turn = np.linspace(0, math.pi, 20).tolist()
        s.line([(middle - wide * math.cos(t), y + 0.02 * math.sin(t)) for t in turn], INK, 0.0025)
    s.line([(middle, top), (middle + 0.05, s.h * 0.03)], INK, 0.005)


def reeds(s: Sheet) -> None:
    s.wash(s.box(0, s.h * 0.82, s.w, s.h), SLATE, 0.25, 0.03)
    for _ in range(26):
        x, lean = s.chance.uniform(0.06, s.w - 0.08), s.chance.uniform(-0.07, 0.09)
        top = s.h * s.chance.uniform(0.08, 0.45)
        stem = [(x + lean * p**2, s.h * 0.95 + (top - s.h * 0.95) * p) for p in np.linspace(0, 1, 18).tolist()]
        s.line(stem, INK, s.chance.uniform(0.002, 0.006))
        if s.chance.random() < 0.55:
            head = stem[-1]
            for row in range(9):
                y = head[1] + row * 0.009
                s.line([(head[0], y), (head[0] + s.chance.choice((-1, 1)) * 0.014, y - 0.008)], SEPIA, 0.005)
        else:
            at = stem[s.chance.randrange(6, 14)]
            s.line(
                [
                    at,
                    (at[0] + s.chance.uniform(-0.1, 0.1), at[1] - 0.03),
                    (at[0] + s.chance.uniform(-0.14, 0.14), at[1] + 0.03),
                ],
                INK,
                0.004,
            )
    water(s, s.h * 0.9, 6)


def salt_line(s: Sheet) -> None:
    for step, tone in enumerate((SKY, SAND, (206, 196, 170), SLATE, (150, 160, 150))):
        top = s.h * (0.12 + 0.165 * step)
        edge = wave(s, top, 0.0, s.w, 0.008, 1.3)
        s.wash([*edge, (s.w, top + s.h * 0.15), (0, top + s.h * 0.15)], tone, 0.55, 0.006)
    for _ in range(160):
        s.dot(
            (s.chance.uniform(0.03, s.w - 0.03), s.h * 0.45 + s.chance.gauss(0, 0.03)),
            s.chance.uniform(0.001, 0.004),
            WHITE,
        )
    s.line(wave(s, s.h * 0.45, 0.02, s.w - 0.02, 0.012, 1.4), INK, 0.003)


def tide_table(s: Sheet) -> None:
    for column in range(15):
        s.line([(0.05 + column * 0.064, s.h * 0.08), (0.05 + column * 0.064, s.h * 0.92)], SLATE, 0.0014, 0.0004)
    for row in range(9):
        s.line([(0.05, s.h * (0.08 + row * 0.105)), (0.95, s.h * (0.08 + row * 0.105))], SLATE, 0.0014, 0.0004)
    for tone, high, turns, mid in ((SLATE, 0.17, 3.6, 0.5), (RUST, 0.11, 3.4, 0.52), (INK, 0.05, 7.1, 0.48)):
        points = [
            (x, s.h * mid + high * math.sin((x - 0.05) * turns * math.tau) * (0.5 + 0.5 * math.cos(x * 4)))
            for x in np.linspace(0.05, 0.95, 160).tolist()
        ]
        s.line(points, tone, 0.005)
    s.wash(s.box(0.63, s.h * 0.12, 0.82, s.h * 0.34), OCHRE, 0.6)
    s.wash(s.box(0.12, s.h * 0.7, 0.24, s.h * 0.86), SAP, 0.5)


def daughter(s: Sheet) -> None:
    brown = (104, 78, 54)
    s.wash(s.box(0, 0, s.w, s.h), OCHRE, 0.45, 0.02)
    s.wash(
        [(0.1, s.h), (0.14, s.h * 0.78), (0.3, s.h * 0.68), (0.46, s.h * 0.68), (0.62, s.h * 0.78), (0.68, s.h)],
        brown,
        0.9,
        0.008,
    )
    head = [
        (s.w / 2 + 0.125 * math.cos(t), s.h * 0.42 + 0.165 * math.sin(t)) for t in np.linspace(0, math.tau, 40).tolist()
    ]
    s.wash([(0.33, s.h * 0.55), (0.44, s.h * 0.55), (0.46, s.h * 0.72), (0.31, s.h * 0.72)], SAND, 0.8, 0.006)
    s.wash(head, SAND, 0.9, 0.006)
    hair = [
        (s.w / 2 + 0.16 * math.cos(t), s.h * 0.36 + 0.15 * math.sin(t))
        for t in np.linspace(math.pi, math.tau, 30).tolist()
    ]
    s.wash(
        [
            *hair,
            (s.w / 2 + 0.13, s.h * 0.44),
            (s.w / 2 + 0.08, s.h * 0.33),
            (s.w / 2 - 0.08, s.h * 0.33),
            (s.w / 2 - 0.13, s.h * 0.44),
        ],
        brown,
        0.95,
        0.006,
    )
    for x in (-0.045, 0.045):
        s.line([(s.w / 2 + x - 0.014, s.h * 0.42), (s.w / 2 + x + 0.014, s.h * 0.42)], brown, 0.005)
    s.line([(s.w / 2 - 0.02, s.h * 0.51), (s.w / 2 + 0.02, s.h * 0.51)], brown, 0.004)


def sepia_mill(s: Sheet) -> None:
    s.wash(s.box(0, 0, s.w, s.h), OCHRE, 0.35, 0.02)
    s.wash(s.box(0, 0, s.w, s.h * 0.5), SAND, 0.4, 0.04)
    mill(s, 0.2, s.h * 0.68, 0.72, SEPIA, wash=SEPIA)
    s.wash(s.box(0, s.h * 0.7, s.w, s.h), SEPIA, 0.45, 0.01)
    water(s, s.h * 0.72, 12, SEPIA)


def men(hour: int) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        s.wash(s.box(0, 0, s.w, s.h), OCHRE, 0.3 + 0.08 * hour, 0.02)
        s.wash(s.box(0, s.h * 0.62, s.w, s.h), SEPIA, 0.4, 0.01)
        s.line([(0.02, s.h * 0.62), (s.w - 0.02, s.h * 0.615)], SEPIA, 0.006)
        for x in (0.62, 0.76, 0.9):
            s.line([(x, s.h * 0.3), (x, s.h * 0.9)], SEPIA, 0.014)
        s.line([(0.58, s.h * 0.34), (0.96, s.h * 0.34)], SEPIA, 0.012)
        for place in range(3 + hour):
            x, size = 0.1 + 0.1 * place + s.chance.uniform(-0.02, 0.02), s.chance.uniform(0.92, 1.08)
            lean = s.chance.uniform(-0.02, 0.04)
            body = [
                (x - 0.03, s.h * 0.66),
                (x - 0.026 + lean, s.h * 0.66 - 0.17 * size),
                (x + 0.026 + lean, s.h * 0.66 - 0.17 * size),
                (x + 0.034, s.h * 0.66),
            ]
            s.wash(body, SEPIA, 0.98, 0.002)
            s.dot((x + lean, s.h * 0.66 - 0.2 * size), 0.021, SEPIA)
            s.line(
                [(x + lean - 0.03, s.h * 0.66 - 0.217 * size), (x + lean + 0.03, s.h * 0.66 - 0.217 * size)],
                SEPIA,
                0.008,
            )
            s.line([(x + lean + 0.02, s.h * 0.66 - 0.13), (x + lean + 0.075, s.h * 0.66 - 0.2)], SEPIA, 0.006)
        water(s, s.h * 0.7, 7, SEPIA)

    return draw


def flood(s: Sheet) -> None:
    white = (240, 238, 230)
    s.fill(s.box(0.03, 0.03, s.w - 0.03, s.h - 0.03), INK)
    for step in range(44):
        y = s.h * (0.34 + 0.0145 * step)
        s.line(wave(s, y, 0.05, s.w - 0.05, 0.006 + 0.0006 * step, 2.2 + 0.02 * step), white, 0.0035)
    s.fill([(0.24, s.h * 0.5), (0.24, s.h * 0.3), (0.38, s.h * 0.18), (0.52, s.h * 0.3), (0.52, s.h * 0.5)], INK)
    s.line(
        [(0.24, s.h * 0.5), (0.24, s.h * 0.3), (0.38, s.h * 0.18), (0.52, s.h * 0.3), (0.52, s.h * 0.5)], white, 0.006
    )
    for row in range(9):
        s.line(
            [(0.26 + 0.012 * row, s.h * (0.3 - 0.011 * row)), (0.5 - 0.012 * row, s.h * (0.3 - 0.011 * row))],
            white,
            0.0025,
        )
    for ray in range(28):
        turn = math.pi + ray * math.pi / 28
        s.line(
            [
                (0.62 + 0.06 * math.cos(turn), s.h * 0.22 + 0.06 * math.sin(turn)),
                (0.62 + 0.16 * math.cos(turn), s.h * 0.22 + 0.16 * math.sin(turn)),
            ],
            white,
            0.002,
        )


def flour(s: Sheet) -> None:
    white = (240, 238, 230)
    s.fill(s.box(0.03, 0.03, s.w - 0.03, s.h - 0.03), INK)
    s.ring((s.w / 2, s.h * 0.66), 0.2, white, 0.006)
    s.ring((s.w / 2, s.h * 0.66), 0.03, white, 0.005)
    for groove in range(18):
        turn = groove * math.tau / 18
        s.line(
            [
                (s.w / 2 + 0.04 * math.cos(turn), s.h * 0.66 + 0.04 * math.sin(turn)),
                (s.w / 2 + 0.19 * math.cos(turn + 0.35), s.h * 0.66 + 0.19 * math.sin(turn + 0.35)),
            ],
            white,
            0.003,
        )
    for _ in range(900):
        far = abs(s.chance.gauss(0, 0.22))
        turn = s.chance.uniform(math.pi * 1.08, math.pi * 1.92)
        x, y = s.w / 2 + (0.2 + far) * math.cos(turn), s.h * 0.62 + (0.2 + far) * math.sin(turn)
        if 0.04 < x < s.w - 0.04 and 0.04 < y < s.h - 0.04:
            s.dot((x, y), s.chance.uniform(0.0012, 0.0038), white)


def postcard(what: str) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        tone = (108, 96, 82)
        s.wash(s.box(0, 0, s.w, s.h), SAND, 0.35, 0.02)
        s.wash(s.box(0, 0, s.w, s.h * 0.45), SKY if what == "ferry" else tone, 0.3, 0.04)
        s.wash(s.box(0, s.h * 0.55, s.w, s.h), (90, 124, 120) if what == "ferry" else tone, 0.45, 0.02)
        if what == "quay":
            for place in range(7):
                x, high = 0.08 + 0.12 * place, s.chance.uniform(0.1, 0.2)
                s.wash(s.box(x, s.h * 0.56 - high, x + 0.1, s.h * 0.56), tone, 0.7)
                s.line(
                    [(x, s.h * 0.56 - high), (x + 0.05, s.h * 0.56 - high - 0.05), (x + 0.1, s.h * 0.56 - high)],
                    tone,
                    0.006,
                )
        elif what == "weir":
            for step in range(5):
                y = s.h * (0.5 + 0.07 * step)
                s.line(wave(s, y, 0.05 + 0.03 * step, 0.95 - 0.02 * step, 0.006, 2), WHITE, 0.012)
            mill(s, 0.1, s.h * 0.52, 0.3, tone, wash=tone)
        else:
            hull = [(0.24, s.h * 0.6), (0.74, s.h * 0.6), (0.68, s.h * 0.72), (0.3, s.h * 0.72)]
            s.wash(hull, RUST, 0.9)
            s.line([(0.5, s.h * 0.6), (0.5, s.h * 0.2)], INK, 0.007)
            s.wash([(0.51, s.h * 0.22), (0.72, s.h * 0.54), (0.51, s.h * 0.55)], OCHRE, 0.7)
        water(s, s.h * 0.68, 9, tone)

    return draw


def heron(second: int) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        def flip(x: float) -> float:
            return s.w - x if second else x

        s.wash(s.box(0, s.h * 0.78, s.w, s.h), SAP if second else SLATE, 0.3, 0.03)
        body = [(0.2, 0.56), (0.32, 0.44), (0.5, 0.46), (0.6, 0.6), (0.5, 0.66), (0.32, 0.66)]
        s.wash([(flip(x), y * s.h) for x, y in body], SLATE, 0.75, 0.008)
        s.wash([(flip(x), y * s.h) for x, y in ((0.42, 0.5), (0.66, 0.7), (0.48, 0.64))], INK, 0.6, 0.006)
        neck = [(0.24, 0.54), (0.19, 0.46), (0.25, 0.38), (0.29, 0.3), (0.25, 0.22)]
        s.line([(flip(x), y * s.h) for x, y in neck], (150, 160, 168), 0.024, 0.001)
        s.line([(flip(x), y * s.h) for x, y in ((0.27, 0.21), (0.2, 0.22), (0.06, 0.245))], OCHRE, 0.012, 0.0008)
        s.line([(flip(x), y * s.h) for x, y in ((0.24, 0.2), (0.36, 0.19))], INK, 0.007)
        for x in (0.36, 0.44):
            s.line([(flip(x), 0.65 * s.h), (flip(x - 0.01), 0.77 * s.h), (flip(x + 0.02), 0.9 * s.h)], OCHRE, 0.007)
        for _ in range(12):
            x = s.chance.uniform(0.05, s.w - 0.05)
            s.line(
                [(x, s.h * 0.97), (x + s.chance.uniform(-0.06, 0.06), s.h * s.chance.uniform(0.55, 0.8))], SAP, 0.004
            )
        water(s, s.h * 0.84, 7, SLATE)

    return draw


def poster(s: Sheet) -> None:
    red, black = (176, 58, 42), (36, 34, 34)
    s.dot((s.w / 2, s.h * 0.42), 0.25, red)
    wheel(s, (s.w / 2, s.h * 0.42), 0.19, CREAM, 0.01)
    s.word((s.w / 2, s.h * 0.1), "MILL FAIR", 0.115, black)
    s.word((s.w / 2, s.h * 0.76), "at the Lower Quay", 0.052, black, bold=False)
    s.word((s.w / 2, s.h * 0.85), "FLOUR · BREAD · MUSIC", 0.04, red)
    s.word((s.w / 2, s.h * 0.92), "the wheel turns at the ebb", 0.034, black, bold=False)
    s.line([(0.07, s.h * 0.175), (s.w - 0.07, s.h * 0.175)], black, 0.008, 0.0003)
    s.line([(0.07, s.h * 0.7), (s.w - 0.07, s.h * 0.7)], black, 0.004, 0.0003)


def estuary(s: Sheet) -> None:
    s.fill(s.box(0, 0, s.w, s.h), (196, 186, 152))
    for tone, wide in (
        ((150, 164, 132), 0.2),
        ((214, 196, 148), 0.14),
        ((126, 156, 160), 0.09),
        ((72, 108, 122), 0.045),
    ):
        for arm in range(3):
            points = [
                (x, s.h * (0.5 + (arm - 1) * 0.28 * abs(x) ** 1.6) + 0.05 * math.sin(x * 9 + arm * 2))
                for x in np.linspace(-0.02, s.w + 0.02, 40).tolist()
            ]
            spread = [wide * (0.5 + 0.9 * x) for x, _ in points]
            upper = [(x, y - d / 2) for (x, y), d in zip(points, spread, strict=True)]
            lower = [(x, y + d / 2) for (x, y), d in zip(points, spread, strict=True)]
            s.fill([*upper, *lower[::-1]], tone)


def long_bank(s: Sheet) -> None:
    tones = [
        (68, 76, 104),
        (186, 132, 118),
        (236, 196, 138),
        (244, 228, 178),
        (206, 212, 196),
        (230, 178, 120),
        (178, 104, 92),
        (74, 66, 92),
    ]
    steps = 160
    for step in range(steps):
        part = step / steps * (len(tones) - 1)
        low, rest = int(part), part % 1
        tone = tuple(int(a + (b - a) * rest) for a, b in zip(tones[low], tones[low + 1], strict=True))
        s.fill(s.box(step / steps, 0, (step + 1.2) / steps, s.h), (tone[0], tone[1], tone[2]))
    bank = [
        (x, s.h * 0.66 + 0.014 * math.sin(x * 11) + 0.008 * math.sin(x * 31)) for x in np.linspace(0, 1, 80).tolist()
    ]
    s.fill([*bank, (1, s.h * 0.74), (0, s.h * 0.74)], (66, 66, 62))
    s.wash([(0, s.h * 0.74), (1, s.h * 0.74), (1, s.h), (0, s.h)], (120, 130, 140), 0.6, 0.004)
    for _ in range(26):
        x = s.chance.uniform(0.02, 0.98)
        s.line([(x, s.h * 0.67), (x + 0.002, s.h * 0.67 - s.chance.uniform(0.02, 0.06))], (56, 56, 54), 0.003)


def plan(s: Sheet) -> None:
    s.wash(s.box(0.08, s.h * 0.12, 0.58, s.h * 0.62), RUST, 0.16)
    s.wash(s.box(0.58, s.h * 0.28, 0.9, s.h * 0.62), SLATE, 0.35)
    for left, top, right, bottom in (
        (0.08, 0.12, 0.58, 0.62),
        (0.08, 0.12, 0.3, 0.4),
        (0.3, 0.12, 0.58, 0.4),
        (0.08, 0.4, 0.4, 0.62),
        (0.58, 0.28, 0.9, 0.62),
    ):
        corners = s.box(left, s.h * top, right, s.h * bottom)
        s.line([*corners, corners[0]], SEPIA, 0.006, 0.0008)
    s.ring((0.49, s.h * 0.51), 0.05, SEPIA)
    s.ring((0.19, s.h * 0.26), 0.06, SEPIA)
    for row in range(7):
        s.line(wave(s, s.h * (0.33 + 0.04 * row), 0.6, 0.88, 0.004, 5), SLATE, 0.0025)
    for row in range(5):
        s.line(wave(s, s.h * (0.74 + 0.042 * row), 0.1, 0.5 + 0.06 * (row % 3), 0.003, 22), SEPIA, 0.002)
    s.dot((0.91, s.h * 0.88), 0.028, RUST)
    s.line([(0.7, s.h * 0.72), (0.7, s.h * 0.9)], SEPIA, 0.003)
    s.line([(0.68, s.h * 0.76), (0.7, s.h * 0.71), (0.72, s.h * 0.76)], SEPIA, 0.003)


# ── the herbarium ────────────────────────────────────────────────────────────────────────────────────────────────


def fern(*, divided: bool) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        stem = [(s.w * (0.48 + 0.06 * p**2), s.h * (0.93 - 0.84 * p)) for p in np.linspace(0, 1, 40).tolist()]
        s.line(stem, SEPIA, 0.006)
        for place in range(4, 39):
            x, y = stem[place]
            reach = 0.26 * math.sin((place - 2) / 40 * math.pi) * (0.9 if divided else 0.32)
            for side in (-1, 1):
                tip = (x + side * reach, y - reach * (0.45 if divided else 0.2))
                if divided:
                    s.line([(x, y), tip], SAP, 0.003)
                    for leaf in range(1, 9):
                        at = (x + (tip[0] - x) * leaf / 9, y + (tip[1] - y) * leaf / 9)
                        long = 0.03 * (1 - leaf / 11)
                        s.wash(
                            [at, (at[0] + side * 0.008, at[1] - long), (at[0] + side * 0.016, at[1])], SAP, 0.9, 0.001
                        )
                        s.wash(
                            [at, (at[0] + side * 0.012, at[1] + long), (at[0] + side * 0.018, at[1])], SAP, 0.9, 0.001
                        )
                elif place % 2:
                    s.wash([(x, y - 0.01), tip, (x + side * reach * 0.9, y + 0.03), (x, y + 0.03)], SAP, 0.55, 0.003)
        if not divided:
            s.line(stem, (70, 90, 60), 0.008)

    return draw


def horsetail(*, club: bool) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        for stalk in range(3 if club else 2):
            x = s.w * (0.3 + 0.22 * stalk)
            top = s.h * (0.12 + 0.08 * stalk)
            s.line([(x, s.h * 0.92), (x + 0.01, top)], INK, 0.007)
            y = s.h * 0.86
            while y > top:
                reach = 0.02 if club else 0.11 * math.sin((s.h * 0.95 - y) / s.h * 2.6) + 0.02
                for ray in np.linspace(-1, 1, 9).tolist():
                    s.line([(x, y), (x + ray * reach, y - 0.03 - 0.02 * (1 - abs(ray)))], INK, 0.0022)
                y -= 0.016 if club else 0.05
        hatch(s, 0.05, s.h * 0.93, s.w - 0.05, s.h * 0.97, 0.006, INK)

    return draw


def garden(s: Sheet) -> None:
    for row in range(3):
        for column in range(5):
            left, top = 0.07 + 0.176 * column, s.h * (0.1 + 0.27 * row)
            tone = (SAP, OCHRE, (150, 160, 110), RUST)[(row * 5 + column) % 4]
            s.wash(s.box(left, top, left + 0.15, top + s.h * 0.22), tone, 0.45)
            corners = s.box(left, top, left + 0.15, top + s.h * 0.22)
            s.line([*corners, corners[0]], SEPIA, 0.003)
            for _ in range(18):
                s.dot(
                    (left + s.chance.uniform(0.012, 0.138), top + s.chance.uniform(0.012, s.h * 0.2)),
                    s.chance.uniform(0.002, 0.005),
                    (74, 92, 62),
                )
    s.ring((0.5, s.h * 0.5), 0.05, SEPIA, 0.005)


def letter(s: Sheet) -> None:
    s.wash(s.box(0, s.h * 0.49, s.w, s.h * 0.51), SEPIA, 0.25, 0.004)
    for row in range(19):
        y = s.h * (0.1 + 0.043 * row)
        right = s.w * (0.9 if row % 5 else 0.55)
        at = s.w * 0.1
        while at < right:
            word = s.chance.uniform(0.03, 0.09)
            s.line([(at + word * p / 9, y + s.chance.uniform(-0.006, 0.006)) for p in range(10)], SEPIA, 0.0024)
            at += word + 0.016


def flower(*, thistle: bool) -> Callable[[Sheet], None]:
    def draw(s: Sheet) -> None:
        s.line([(s.w * 0.52, s.h * 0.95), (s.w * 0.48, s.h * 0.6), (s.w * 0.5, s.h * 0.34)], SAP, 0.011, 0.001)
        for side, y in ((-1, 0.74), (1, 0.66), (-1, 0.56)):
            x = s.w * 0.5
            leaf = [
                (x, s.h * y),
                (x + side * 0.13, s.h * (y - 0.09)),
                (x + side * 0.2, s.h * (y - 0.04)),
                (x + side * 0.12, s.h * (y + 0.01)),
            ]
            s.wash(leaf, SAP, 0.8, 0.004)
        centre = (s.w * 0.5, s.h * 0.28)
        if thistle:
            s.wash(
                [
                    (centre[0] + 0.075 * math.cos(t), centre[1] + 0.05 + 0.07 * math.sin(t))
                    for t in np.linspace(0, math.tau, 30).tolist()
                ],
                SAP,
                0.9,
            )
            for _ in range(150):
                turn = s.chance.uniform(math.pi * 1.12, math.pi * 1.88)
                far = s.chance.uniform(0.09, 0.17)
                s.line(
                    [
                        (centre[0] + 0.03 * math.cos(turn), centre[1] + 0.02),
                        (centre[0] + far * math.cos(turn), centre[1] + far * math.sin(turn)),
                    ],
                    (132, 86, 130),
                    0.003,
                )
            return
        for petal in range(5):
            turn = petal * math.tau / 5 - 0.3
            at = (centre[0] + 0.085 * math.cos(turn), centre[1] + 0.075 * math.sin(turn))
            s.wash(
                [
                    (at[0] + 0.1 * math.cos(t) + s.chance.gauss(0, 0.004), at[1] + 0.085 * math.sin(t))
                    for t in np.linspace(0, math.tau, 26).tolist()
                ],
                (206, 62, 44),
                0.7,
                0.003,
            )
        s.dot(centre, 0.03, (52, 44, 50))
        for ray in range(16):
            turn = ray * math.tau / 16
            s.dot((centre[0] + 0.05 * math.cos(turn), centre[1] + 0.045 * math.sin(turn)), 0.006, (52, 44, 50))

    return draw


WORKS: dict[str, tuple[float, float, Colour, Callable[[Sheet], None]]] = {
    "TM-01": (14.5, 11.25, WHITE, sluice(shut=False)),
    "TM-02": (14.5, 11.25, WHITE, sluice(shut=True)),
    "TM-03": (11.375, 15.0625, (150, 150, 148), at_rest),
    "TM-04": (8.875, 5.9375, CREAM, millpond(frost=True)),
    "TM-05": (8.875, 5.9375, CREAM, millpond(frost=False)),
    "TM-06": (15.75, 19.625, CREAM, night),
    "TM-07": (5.875, 7.75, CREAM, eel_trap),
    "TM-08": (12.625, 18.375, CREAM, reeds),
    "TM-09": (12.5, 18.5, CREAM, salt_line),
    "TM-10": (22.25, 15.125, CREAM, tide_table),
    "TM-11": (6.5, 8.5, CREAM, daughter),
    "TM-12": (9.5, 7.25, CREAM, sepia_mill),
    "TM-13": (9.375, 7.3125, CREAM, men(0)),
    "TM-13b": (9.25, 7.25, CREAM, men(1)),
    "TM-13c": (9.375, 7.3125, CREAM, men(2)),
    "TM-14": (8, 10, WHITE, flood),
    "TM-15": (8, 10, WHITE, flour),
    "TM-16": (5.5, 3.5, CREAM, postcard("quay")),
    "TM-17": (5.5, 3.4375, CREAM, postcard("weir")),
    "TM-18": (5.5625, 3.5, CREAM, postcard("ferry")),
    "TM-19": (10.25, 14.125, WHITE, heron(0)),
    "TM-20": (10.25, 14.125, WHITE, heron(1)),
    "TM-21": (17, 22.5, CREAM, poster),
    "TM-22": (24, 18, CREAM, estuary),
    "TM-23": (28.5, 9.75, CREAM, long_bank),
    "TM-24": (19.9375, 14.78, KRAFT, plan),
    "H1": (297, 420, CREAM, fern(divided=True)),
    "H2": (297, 420, CREAM, fern(divided=False)),
    "H3": (176, 242, CREAM, horsetail(club=False)),
    "H4": (176, 242, CREAM, horsetail(club=True)),
    "H5": (441, 312, CREAM, garden),
    "H6": (186, 228, KRAFT, letter),
    "H7": (254, 356, WHITE, flower(thistle=False)),
    "H8": (254, 356, WHITE, flower(thistle=True)),
}


def main() -> None:
    """Draw every picture and write it."""
    OUT.mkdir(exist_ok=True)
    for number, (width, height, paper, draw) in WORKS.items():
        sheet = Sheet(width, height, paper, number)
        draw(sheet)
        data = sheet.bytes()
        (OUT / f"{number}.webp").write_bytes(data)
        print(number, len(data))


if __name__ == "__main__":
    main()
