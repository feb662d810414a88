"""The gallery of the documentation shows every shape and accent, is what its show file makes, and stays small."""

from __future__ import annotations

import importlib.util
from pathlib import Path

import pytest

from fourply.app.shows import open_show
from fourply.drawing.check import collisions, crossed, strays
from fourply.files.works import Asked
from fourply.render import svg
from fourply.trade.package import Package
from fourply.trade.shapes.rule import ShapeKind

ROOT = Path(__file__).parent.parent
_SPEC = importlib.util.spec_from_file_location("gallery", ROOT / "scripts" / "gallery.py")
assert _SPEC is not None
assert _SPEC.loader is not None
gallery = importlib.util.module_from_spec(_SPEC)
_SPEC.loader.exec_module(gallery)
OPENED = open_show(gallery.SHOW, Asked(None, None))
PACKAGES = {package.work.id: package for package in OPENED.packages}
MOST = 40_000


def test_the_show_of_the_gallery_is_read_without_a_fault() -> None:
    assert OPENED.faults == ()


@pytest.mark.parametrize("package", PACKAGES.values(), ids=PACKAGES)
def test_a_drawing_is_what_the_show_makes(package: Package) -> None:
    kept = (gallery.SHOW.parent / f"{package.work.id}.svg").read_bytes()
    drawing = gallery.picture(package)
    assert [*collisions(drawing), *crossed(drawing), *strays(drawing, margin=1)] == []
    assert kept == svg.render(drawing), "run scripts/gallery.py and look at what came out"
    assert len(kept) <= MOST


def test_the_page_is_what_the_show_makes() -> None:
    kept = (ROOT / "docs" / "gallery.md").read_text(encoding="utf-8")
    assert kept == gallery.page(OPENED.packages), "run scripts/gallery.py"


def test_every_shape_and_accent_is_there() -> None:
    treatments = [package.treatment for package in PACKAGES.values()]
    assert {treatment.shape.kind for treatment in treatments} == set(ShapeKind)
    for accent in ("grooves", "lines", "title", "inlay", "sink", "openings"):
        assert any(getattr(treatment, accent) for treatment in treatments), accent
