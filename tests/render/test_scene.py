"""A scene is the same picture as SVG and in dots: its areas, its fields with photographs, its ground and shadows."""

from __future__ import annotations

import io
from base64 import b64decode
from xml.etree import ElementTree as ET

import pytest
from PIL import Image

from fourply.drawing.scene import Area, Field, Hair, Scene, Shadow
from fourply.drawing.shapes import Box, line, rectangle
from fourply.errors import BadInput
from fourply.render import scene_png, scene_svg

SEEN = Box(-10, -10, 90, 40)
RED, GREEN = "#c02020", "#20a040"
RING = (*rectangle(Box(0, 0, 80, 30)), *rectangle(Box(10, 10, 70, 20)))
PATCHES = (Field(0, Box(5, 5, 75, 25), "#808080"), Area(RING, RED))
SHADOW = Shadow(((0.0, 0.0), (80.0, 0.0), (80.0, 30.0), (0.0, 30.0)), "#000000", 3.0, 0.5)
type Dot = tuple[int, ...]


def jpeg(colour: str) -> bytes:
    file = io.BytesIO()
    Image.new("RGB", (70, 20), colour).save(file, "JPEG", quality=95)
    return file.getvalue()


def dots(scene: Scene, pixels: int = 1000, photographs: dict[int, bytes] | None = None) -> Image.Image:
    image = Image.open(io.BytesIO(scene_png.render(scene, pixels, photographs)))
    image.load()
    return image


def at(image: Image.Image, x: float, y: float) -> Dot:
    """Return the dot at a place of the scene in millimetres."""
    scale = image.width / SEEN.width
    dot = image.getpixel((int((x - SEEN.left) * scale), int((y - SEEN.top) * scale)))
    assert isinstance(dot, tuple)
    return dot


def rgb(colour: str) -> Dot:
    return tuple(int(colour[i : i + 2], 16) for i in (1, 3, 5))


def close(here: Dot, there: Dot) -> bool:
    return all(abs(a - b) <= 4 for a, b in zip(here[:3], there[:3], strict=True))


def elements(svg: bytes) -> list[ET.Element]:
    return list(ET.fromstring(svg))  # noqa: S314 - our own file


def test_the_picture_has_the_dots_that_were_asked_for() -> None:
    assert dots(Scene(SEEN, PATCHES, "#ffffff"), 1000).size == (1000, 500)
    assert dots(Scene(SEEN, PATCHES, "#ffffff"), 33).size == (33, 17)


@pytest.mark.parametrize("pixels", [0, 15, 8001, -4])
def test_a_picture_has_its_limits(pixels: int) -> None:
    with pytest.raises(BadInput, match="16 to 8000"):
        scene_png.render(Scene(SEEN, PATCHES), pixels)


@pytest.mark.parametrize("photographs", [{}, {0: jpeg(GREEN)}])
def test_areas_fields_and_ground_have_their_colours(photographs: dict[int, bytes]) -> None:
    image = dots(Scene(SEEN, PATCHES, "#f0f0e0"), photographs=photographs)
    assert image.mode == "RGB"
    assert at(image, -8, -8) == rgb("#f0f0e0")
    assert at(image, 2, 2) == rgb(RED)
    assert at(image, 8, 8) == rgb(RED)  # the area lies over the field
    assert close(at(image, 40, 15), rgb(GREEN if photographs else "#808080"))


def test_what_is_half_clear_tints_the_photograph_under_it() -> None:
    veil = Area(rectangle(Box(0, 0, 80, 30)), "#000000", 0.5)
    image = dots(Scene(SEEN, (*PATCHES, veil), "#ffffff"), photographs={0: jpeg(GREEN)})
    assert close(at(image, 40, 15), tuple(part // 2 for part in rgb(GREEN)))


def test_without_a_ground_the_picture_is_clear() -> None:
    image = dots(Scene(SEEN, PATCHES))
    assert image.mode == "RGBA"
    assert at(image, -8, -8)[3] == 0
    assert at(image, 2, 2) == (*rgb(RED), 255)


def test_a_shadow_is_half_as_dark_at_its_edge() -> None:
    image = dots(Scene(SEEN, (), "#ffffff", (SHADOW,)))
    assert at(image, 40, 15)[0] == pytest.approx(128, abs=3)
    assert at(image, 80, 15)[0] == pytest.approx(255 * 0.75, abs=5)
    assert at(image, 88, 15)[0] > 250


def test_the_svg_has_no_more_than_paths_and_photographs() -> None:
    hair = Hair(line(0, 0, 5, 5), RED, 0.25, 0.5)
    scene = Scene(SEEN, (*PATCHES, hair), "#ffffff", (SHADOW,), title="A <work> & more")
    found = elements(scene_svg.render(scene, {0: jpeg(GREEN)}))
    assert {element.tag.split("}")[1] for element in found} == {"title", "path", "image"}
    assert found[0].text == "A <work> & more"
    (image,) = (element for element in found if element.tag.endswith("image"))
    kept = Image.open(io.BytesIO(b64decode(image.attrib["href"].partition(",")[2])))
    assert kept.size == (70, 20)
    assert (image.attrib["x"], image.attrib["width"], image.attrib["height"]) == ("5", "70", "20")
    assert (found[-1].attrib["stroke-width"], found[-1].attrib["stroke-opacity"]) == ("0.25", "0.5")


def test_the_svg_is_as_large_as_the_work() -> None:
    root = ET.fromstring(scene_svg.render(Scene(SEEN, PATCHES)))  # noqa: S314 - our own file
    assert (root.get("width"), root.get("height"), root.get("viewBox")) == ("100mm", "50mm", "-10 -10 100 50")
    (field,) = (element for element in root if element.tag.endswith("rect"))
    assert field.attrib["fill"] == "#808080"
