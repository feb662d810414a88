"""How long a change on the design page takes, from the input event to the painted frame, in Chromium without a window.

    python benchmarks/design_page.py [MOVES]

Drags handles of works of the demo show, and of a show of 1 000 works, and prints a table. Every pointer move counts,
also one that a newer one overtook: it is done when a frame is painted that shows it or something newer.
"""

from __future__ import annotations

import shutil
import socket
import statistics
import subprocess
import sys
import tempfile
import time
from collections.abc import Iterator
from contextlib import contextmanager
from importlib import resources
from pathlib import Path

from playwright.sync_api import Page, sync_playwright

from fourply.app.keep import Desk
from fourply.app.keep_shows import keep_file
from fourply.app.keep_works import keep_list
from fourply.app.ports_store import Kind
from fourply.compute.here import here
from fourply.files.works import Asked
from fourply.web.parts import Limits, Parts
from fourply.web.serving import serve as run
from fourply.wiring import store

DEMO = Path(str(resources.files("fourply"))) / "files" / "demo" / "show.toml"
WORKS = (("TM-12", "border.bottom"), ("TM-14", "reveal.2"), ("TM-11", "border.top"), ("TM-13", "border.left"))
WATCH = """() => {
  const waiting = [], found = [];
  addEventListener("pointermove", (event) => waiting.push(event.timeStamp), true);
  const ask = window.fetch;
  window.fetch = async (...all) => {
    const shows = all[1]?.method === "POST" ? waiting.splice(0) : [];
    const answer = await ask(...all);
    if (shows.length) {
      const json = answer.json.bind(answer);
      answer.json = async () => {
        const data = await json();
        requestAnimationFrame(() => { const paint = new MessageChannel();
          paint.port1.onmessage = () => { const now = performance.now(); found.push(...shows.map((at) => now - at)); };
          paint.port2.postMessage(0); });
        return data;
      };
    }
    return answer;
  };
  window.found = found;
}"""


def shown(page: Page, address: str, handle: str, moves: int) -> list[float]:
    """Return the milliseconds of every move of a drag."""
    page.goto(address)
    page.wait_for_selector(f'[data-handle="{handle}"]')
    page.wait_for_timeout(300)
    page.evaluate(WATCH)
    box = page.locator(f'[data-handle="{handle}"]').bounding_box() or {"x": 0.0, "y": 0.0, "width": 0.0, "height": 0.0}
    x, y = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.mouse.move(x, y)
    page.mouse.down()
    for number in range(moves):
        page.mouse.move(x + number % 40, y + number % 40)
        page.wait_for_timeout(12)
    page.wait_for_timeout(500)
    found: list[float] = page.evaluate("window.found")
    page.keyboard.press("Escape")
    page.mouse.up()
    return found


def filled(folder: Path, works: int) -> dict[str, str]:
    """Keep the demo show in a folder, filled up with further works; return the ids of its works by number."""
    kept = store(folder)
    desk = Desk(kept)
    show = keep_file(desk, DEMO, Asked()).record.id
    if works:
        rows = "".join(
            f"B{number},Board {number},{8 + number % 9},{10 + number % 7},double\n" for number in range(works)
        )
        keep_list(desk, show, "more.csv", f"No,Title,Width,Height,Treatment\n{rows}".encode())
    numbers = {each.value.listed.work.id: each.id for each in kept.every(Kind.WORK, show)}  # type: ignore[union-attr]
    kept.close()
    return numbers


def serve(folder: Path, port: int) -> None:
    """Serve a folder until the process is ended; in a process of its own, as a shop does."""
    limits = Limits(rate=1e9, burst=1e9)
    run(Parts(store(folder), lambda _workers, _cluster: here, limits=limits), port, lambda _address: None)


@contextmanager
def served(folder: Path, works: int) -> Iterator[tuple[str, dict[str, str]]]:
    """Give the address of a server with the demo show, filled up with further works, and its works by number."""
    numbers = filled(folder, works)
    with socket.socket() as free:
        free.bind(("127.0.0.1", 0))
        port = free.getsockname()[1]
    server = subprocess.Popen([sys.executable, __file__, "--serve", str(folder), str(port)])
    try:
        while socket.socket().connect_ex(("127.0.0.1", port)):
            time.sleep(0.05)
        yield f"http://127.0.0.1:{port}", numbers
    finally:
        server.terminate()
        server.wait(10)


def opened(page: Page, address: str) -> float:
    """Return how long the page takes to open, in milliseconds, the median of five."""
    times = []
    for _ in range(5):
        start = time.perf_counter()
        page.goto(address)
        page.wait_for_selector("[data-handle]")
        times.append((time.perf_counter() - start) * 1000)
    return statistics.median(times)


def main(moves: int = 200) -> None:
    """Print the table."""
    print("| show | work | handle | moves | p50 ms | p95 ms | longest | page opens |")
    print("|---|---|---|---|---|---|---|---|")
    chromium = next(filter(None, map(shutil.which, ("chromium", "chromium-browser", "google-chrome"))))
    with sync_playwright() as playwright, tempfile.TemporaryDirectory() as folder:
        browser = playwright.chromium.launch(executable_path=chromium, args=["--no-sandbox"])
        for name, more in (("demo, 26 works", 0), ("1 000 works", 974)):
            with served(Path(folder) / str(more), more) as (address, numbers):
                for work, handle in WORKS:
                    page = browser.new_context(viewport={"width": 1440, "height": 900}).new_page()
                    at = f"{address}/works/{numbers[work]}/design"
                    times = sorted(shown(page, at, handle, moves))
                    half, p95 = statistics.median(times), times[int(0.95 * len(times))]
                    opens = opened(page, at)
                    print(
                        f"| {name} | {work} | {handle} | {len(times)} | {half:.0f} | {p95:.0f} | {times[-1]:.0f} "
                        f"| {opens:.0f} ms |",
                        flush=True,
                    )
                    page.close()
        browser.close()


if __name__ == "__main__":
    if sys.argv[1:2] == ["--serve"]:
        serve(Path(sys.argv[2]), int(sys.argv[3]))
    else:
        main(*(int(each) for each in sys.argv[1:2]))
