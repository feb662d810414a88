"""Reading shows ahead while nobody asks, so that the first page after the start opens as fast as any other.

Those that were worked on last come first: their walls are put up. Of the others the works are read, as many as the
store keeps in mind.
"""

from __future__ import annotations

from threading import Thread

from fourply.app.keep import Desk
from fourply.app.ports_store import Kind, Query
from fourply.errors import FourplyError
from fourply.web.pages.frame import TEMPLATES
from fourply.web.room import Room

_WALLS = 16
_HUNG = 200
"""As many works as a page of the table has; a wall opens with fewer."""
_SHOWS = 100
_PAUSE = 0.02
"""Seconds between two shows, in which whoever asks comes first."""


class Warming(Thread):
    """Reads ahead until all is read or the room ends."""

    def __init__(self, room: Room) -> None:
        super().__init__(name="reading ahead", daemon=True)
        self._room = room

    def run(self) -> None:
        """Read; a show that goes away meanwhile is passed over."""
        room, desk = self._room, Desk(self._room.parts.store)
        for name in TEMPLATES.env.list_templates(["html"]):
            TEMPLATES.env.get_template(name)
        try:
            shows = room.parts.store.find(Query(Kind.SHOW, limit=_SHOWS)).items
            latest = sorted(shows, key=lambda each: room.parts.store.undoable(each.id).last, reverse=True)
            for at, show in enumerate(latest):
                if room.ended.wait(_PAUSE):
                    return
                self._read(desk, show.id, wall=at < _WALLS)
        except Exception:
            if not room.ended.is_set():  # else the store was closed under it, as is meant
                raise

    def _read(self, desk: Desk, show: str, *, wall: bool) -> None:
        try:
            if wall:
                walls = self._room.walls
                walls.hung(desk, show, walls.works(desk, show)[:_HUNG])
                self._room.live.parts(desk, show)
            else:
                desk.store.every(Kind.WORK, show)
        except FourplyError:
            return
