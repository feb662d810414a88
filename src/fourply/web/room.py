"""What all requests share while the server runs, and how it ends."""

from __future__ import annotations

from threading import Event
from typing import Annotated

from fastapi import Depends, FastAPI, Request

from fourply.app.live import Live
from fourply.app.material_uses import Uses
from fourply.app.shelves import Shelves
from fourply.app.walls import Walls
from fourply.web.following import Follower
from fourply.web.jobs import Jobs
from fourply.web.parts import Parts


class Room:
    """The parts, who follows the changes, what resolves on the spot or counts, the long work that is going on.

    `ended` is set when the server is told to end.
    `stop` may be called from anywhere.
    """

    def __init__(self, parts: Parts) -> None:
        self.parts = parts
        self.follower = Follower(parts.store)
        self.jobs = Jobs()
        self.walls = Walls()
        self.shelves = Shelves()
        self.live = Live()
        self.uses = Uses()
        self.ended = Event()

    def stop(self) -> None:
        """End every stream and all long work; what is asked after that is still answered."""
        self.ended.set()
        self.follower.stop()
        self.jobs.stop()


def room_of(app: FastAPI) -> Room:
    """Return what the requests of an app share."""
    found: Room = app.state.room
    return found


def _room(request: Request) -> Room:
    return room_of(request.app)


type InRoom = Annotated[Room, Depends(_room)]
