"""Makes the pictures of docs/desk.md: .venv-test/bin/python scripts/screens.py [FOLDER]. Needs Chromium.

A shop with the two demo shows is served from a folder that is thrown away; every page is taken at three widths, the
wide ones in light and dark too. Only those that the documentation shows are written without a FOLDER.
"""

from __future__ import annotations

import shutil
import sys
import threading
import time
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path
from tempfile import TemporaryDirectory

import uvicorn
from playwright.sync_api import Page, sync_playwright

from fourply.app.demo import demo_pages
from fourply.app.keep import Desk
from fourply.web.app import make_app
from fourply.web.parts import Limits, Parts
from fourply.wiring import compute, store

ROOT = Path(__file__).resolve().parent.parent
WIDTHS = ((390, 844), (820, 1100), (1440, 900))
SHOWN = {
    "design-1440-light",
    "wall-1440-light",
    "wall-390-dark",
    "table-1440-light",
    "brought-1440-light",
    "materials-1440-dark",
    "material-1440-light",
    "rack-1440-light",
}
PIECES = (
    ("white 4-ply", "12 x 30"),
    ("cream 4-ply", "9 x 31 1/2"),
    ("blue 4-ply", "16 x 20"),
    ("grey 4-ply", "6 x 24"),
)
LIST = """number\ttitle\tartist\twidth (in)\theight (in)\twhere
1\tThe long quay\tAda Holm\t9 1/2\t12\tstore
2\tEbb\tAda Holm\tabout 8\t12\t
3\tFlood\tBo Lind\t8 1/4\t\tattic
3\tWeir with gulls\tBo Lind\t11\t14\t
"""


@contextmanager
def served(folder: Path) -> Iterator[tuple[str, str, str]]:
    """Serve a shop with the demo shows; gives its address, the larger show's id, and that of a work of it."""
    kept = store(folder)
    desk = Desk(kept)
    show, work = (page.split("/")[2] for _, page in demo_pages(desk))
    app = make_app(Parts(kept, compute, limits=Limits(rate=1e9, burst=1e9)))
    server = uvicorn.Server(uvicorn.Config(app, port=0, log_level="error"))
    thread = threading.Thread(target=server.run, daemon=True)
    thread.start()
    while not server.started:
        time.sleep(0.02)
    try:
        yield f"http://127.0.0.1:{server.servers[0].sockets[0].getsockname()[1]}", show, work
    finally:
        server.should_exit = True
        thread.join(5)
        kept.close()


def at_wall(page: Page) -> None:
    """Select two works, and leave a third in hand."""
    for key in ("ArrowRight", "ArrowRight", "x", "Shift+ArrowRight", "ArrowRight"):
        page.keyboard.press(key)


def at_bring(page: Page) -> None:
    """Look at a list that has faults."""
    page.get_by_label("or rows, pasted").fill(LIST)
    page.get_by_role("button", name="Look at it").click()


def at_papers(page: Page) -> None:
    """Make the papers, and accept their plan."""
    if page.get_by_role("link", name="Tickets").count() == 0:
        page.get_by_role("button", name="Make them").click()
        page.get_by_role("link", name="Tickets").wait_for(timeout=120_000)
        page.get_by_role("button", name="Accept").click()


def at_rack(page: Page) -> None:
    """Put in some pieces, unless they are there."""
    if page.locator(".rack tbody tr").count():
        return
    for material, size in PIECES:
        page.locator("#f-material").fill(material)
        page.locator("#f-size").fill(size)
        page.get_by_role("button", name="Put it in").click()


def at_design(page: Page) -> None:
    """Keep two variants, and ask why a figure is what it is."""
    page.locator("[data-front] image").wait_for(state="attached")
    for border in ("5", "") if page.locator("[data-variant]").count() < 2 else ():  # kept once, they are there
        page.locator("[data-keep-variant]").click()
        page.locator("[data-front] image").wait_for(state="attached")
        if border:
            page.locator('[data-handle="border.bottom"]').focus()
            page.keyboard.type(border)
            page.keyboard.press("Enter")
            page.locator("[data-kept]").get_by_text("bottom border").wait_for()
    page.get_by_role("button", name="0.132").click()


def pages(show: str, work: str) -> Iterator[tuple[str, str, object]]:
    """Yield the name, the address and what is done on each page."""
    yield "shows", "/", None
    yield "wall", f"/shows/{show}", at_wall
    yield "table", f"/shows/{show}/table", None
    yield "design", f"/works/{work}/design", at_design
    yield "variants", f"/works/{work}/variants", None
    yield "pictures", f"/shows/{show}/pictures", None
    yield "about", f"/shows/{show}/about", None
    yield "brought", "/bring", at_bring
    yield "rack", "/rack", at_rack
    yield "papers", f"/shows/{show}/papers", at_papers
    yield "rack", "/rack", at_rack
    yield "materials", "/materials", None
    yield "material", "/materials/new/mouldings?starter=oak%201", None
    yield "settings", "/settings", None
    yield "find", "/find?q=mill", None
    yield "keys", "/keys", None


def main(folder: Path, chosen: frozenset[str] | None) -> None:
    """Take the pictures into a folder."""
    folder.mkdir(parents=True, exist_ok=True)
    with TemporaryDirectory() as shop, served(Path(shop)) as (address, show, work), sync_playwright() as playwright:
        browser = playwright.chromium.launch(executable_path=shutil.which("chromium"), args=["--no-sandbox"])
        for width, height in WIDTHS:
            for theme in ("light", "dark"):
                context = browser.new_context(viewport={"width": width, "height": height}, color_scheme=theme)
                page = context.new_page()
                for name, at, act in pages(show, work):
                    called = f"{name}-{width}-{theme}"
                    if chosen is not None and called not in chosen:
                        continue
                    page.goto(address + at)
                    page.wait_for_load_state("networkidle")
                    if callable(act):
                        act(page)
                        page.wait_for_load_state("networkidle")
                    page.screenshot(path=folder / f"{called}.png")
                context.close()
        browser.close()


if __name__ == "__main__":
    if len(sys.argv) > 1:
        main(Path(sys.argv[1]), None)
    else:
        main(ROOT / "docs" / "pictures" / "desk", frozenset(SHOWN))
