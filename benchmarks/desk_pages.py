"""How long the pages of the desk take on the server, with 1 000 works in a show and 10 000 in the shop.

    python benchmarks/desk_pages.py [SHOWS_OF_1000]

Prints for each page the first answer of a server that has just begun, the first after a change, and the usual one.
"""

from __future__ import annotations

import sys
import tempfile
import time
from collections.abc import Callable
from pathlib import Path

from fastapi import FastAPI
from starlette.testclient import TestClient

from fourply.app.keep import Desk
from fourply.app.keep_shows import keep_file
from fourply.app.ports_store import Store
from fourply.app.reading import asked_for
from fourply.compute.here import here
from fourply.store.rows import value_of
from fourply.web.app import make_app
from fourply.web.parts import Limits, Parts
from fourply.web.warming import Warming
from fourply.wiring import store


def timed(act: Callable[[], object]) -> int:
    """Return how many milliseconds something takes."""
    began = time.perf_counter()
    act()
    return int((time.perf_counter() - began) * 1000 + 0.5)


def fill(folder: Path, shows: int) -> str:
    """Keep so many shows of a thousand works; return the id of the first."""
    kept = store(folder / "shop")
    ids = []
    for show in range(shows):
        lines = [f"{at},Work {at},Ada,{8 + at % 20},{10 + at % 13}" for at in range(1, 1001)]
        text = "number,title,artist,width (in),height (in)\n" + "\n".join(lines) + "\n"
        (folder / "works.csv").write_text(text, encoding="utf-8")
        record = keep_file(Desk(kept), folder / "works.csv", asked_for(None, None), f"Show {show + 1}").record
        ids.append(record.id)
    kept.close()
    return ids[0]


def begun(folder: Path) -> tuple[FastAPI, Store, TestClient]:
    """Return a server that has just begun, what it reads from, and somebody who asks it."""
    kept = store(folder / "shop")
    app = make_app(Parts(kept, lambda _workers, _cluster: here, limits=Limits(rate=1e9, burst=1e9)))
    client = TestClient(app, base_url="http://127.0.0.1:8421")
    client.get("/keys")
    return app, kept, client


def main(shows: int) -> None:
    """Print the table."""
    with tempfile.TemporaryDirectory() as name:
        folder = Path(name)
        show = fill(folder, shows)
        print(f"{shows * 1000} works in {shows} shows; milliseconds\n")
        print("| page | just begun | having read ahead | after a change | usual |\n| --- | ---: | ---: | ---: | ---: |")
        at = f"/shows/{show}"
        for page in (at, f"{at}/wall?after=60", f"{at}/table", f"{at}/totals", f"{at}/about", "/", "/find?q=work+900"):
            value_of.cache_clear()
            _, kept, client = begun(folder)
            first = timed(lambda: client.get(page))  # noqa: B023 (called at once)
            kept.close()
            value_of.cache_clear()
            app, kept, client = begun(folder)
            Warming(app.state.room).run()
            ahead = timed(lambda: client.get(page))  # noqa: B023
            work = app.state.room.walls.works(Desk(kept), show)[0]
            client.get(page)
            client.post(
                f"/works/{work.id}/set", data={"field": "title", "value": f"T{work.version}", "version": work.version}
            )
            changed = timed(lambda: client.get(page))  # noqa: B023
            usual = min(timed(lambda: client.get(page)) for _ in range(5))  # noqa: B023
            print(f"| `{page.replace(show, 'SHOW')}` | {first} | {ahead} | {changed} | {usual} |", flush=True)
            kept.close()


if __name__ == "__main__":
    main(int(sys.argv[1]) if len(sys.argv) > 1 else 10)
