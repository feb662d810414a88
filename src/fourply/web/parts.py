"""What the web is handed by whoever starts it, since it may not know who does the work behind it."""

from __future__ import annotations

from collections.abc import Callable
from dataclasses import dataclass, field

from fourply.app.ports import Compute
from fourply.app.ports_store import Store

LOOPBACK = frozenset({"127.0.0.1", "localhost", "[::1]"})
"""The names by which a machine calls itself."""


@dataclass(frozen=True, slots=True)
class Limits:
    """What is taken of one request, and of one client.

    Bytes of a JSON body and of a file, how deep JSON may be nested, requests a second that go on and how many at once.
    """

    json_bytes: int = 4_000_000
    file_bytes: int = 100_000_000
    depth: int = 60
    rate: float = 1000.0
    burst: float = 2000.0


@dataclass(frozen=True, slots=True)
class Parts:
    """The shop, what does long work (by the number of workers and the address of a cluster), and what is let in.

    `hosts` are the names by which the server may be called; another is turned away, so that no page of a stranger can
    reach it under a name of its own. `who` is whom the history names where a request names nobody.
    """

    store: Store
    compute: Callable[[int | None, str | None], Compute]
    hosts: frozenset[str] = LOOPBACK
    who: str = ""
    limits: Limits = field(default_factory=Limits)
