"""Shows at a glance: the first works of each on a shelf, drawn when somebody looks and remembered until it changes."""

from __future__ import annotations

from collections import OrderedDict
from dataclasses import dataclass, field, replace
from threading import Lock

from fourply.app.keep import Desk
from fourply.app.keep_shows import parts_of
from fourply.app.ports_store import SHOP
from fourply.files.show import settled
from fourply.render import scene_svg
from fourply.sheets.shelf import TIMES_SMALLER, dots_of, shelf
from fourply.trade.resolve import resolve_show

__all__ = ["TIMES_SMALLER", "Shelves"]
WIDE = 1040
"""How many dots a shelf is wide at the most."""
_WORKS = 60
_SHELVES = 400


@dataclass
class Shelves:
    """The shelves of one store's shows."""

    _drawn: OrderedDict[str, tuple[tuple[int, int], bytes]] = field(default_factory=OrderedDict, repr=False)
    _lock: Lock = field(default_factory=Lock, repr=False)

    def shelf(self, desk: Desk, show: str) -> tuple[str, bytes]:
        """Return what changes with the shelf of a show, and the shelf as SVG, empty where no work can be made yet.

        Raises Unknown.
        """
        stamp = (desk.store.undoable(show).last, desk.store.undoable(SHOP).last)
        with self._lock:
            found = self._drawn.get(show)
        if found is None or found[0] != stamp:
            found = (stamp, _draw(desk, show))
        with self._lock:
            self._drawn[show] = found
            self._drawn.move_to_end(show)
            while len(self._drawn) > _SHELVES:
                self._drawn.popitem(last=False)
        return "-".join(str(each) for each in stamp), found[1]


def _draw(desk: Desk, show: str) -> bytes:
    parts = parts_of(desk, show)
    first = settled(replace(parts, works=parts.works[:_WORKS]))
    packages, _ = resolve_show([(each.work, each.treatment) for each in first.entries], first.materials)
    if not packages:
        return b""
    scene = shelf(packages, WIDE)
    return scene_svg.render(scene, size=dots_of(scene))
