"""What stands before every request: who is called, by whom, how much, how fast; and what every answer carries.

The server listens on this machine alone, but a browser on it shows the pages of strangers too. So a request must name
this machine as its host (a stranger's name may be made to lead here), and one that changes something must not come
from a page of another origin.
"""

from __future__ import annotations

import json
import logging
import re
from collections import OrderedDict
from collections.abc import Iterator
from http import HTTPStatus
from time import monotonic, perf_counter
from urllib.parse import urlsplit

from starlette.datastructures import Headers, MutableHeaders
from starlette.types import ASGIApp, Message, Receive, Scope, Send

from fourply.web.parts import Limits
from fourply.web.problems import answer, problem

POLICY = (
    "default-src 'none'; script-src 'self'; style-src 'self'; img-src 'self' blob:; font-src 'self'; "
    "connect-src 'self'; form-action 'self'; base-uri 'none'; frame-ancestors 'none'"
)
"""The Content-Security-Policy (level 3, W3C) of every answer: nothing inline, nothing from elsewhere."""
_HEADERS = {
    "Content-Security-Policy": POLICY,
    "X-Content-Type-Options": "nosniff",
    "X-Frame-Options": "DENY",
    "Referrer-Policy": "same-origin",  # without one a form says that it comes from nowhere
    "Cross-Origin-Opener-Policy": "same-origin",
    "Cross-Origin-Resource-Policy": "same-origin",
    "Permissions-Policy": "camera=(), geolocation=(), microphone=()",
}
_SAFE = frozenset({"GET", "HEAD", "OPTIONS"})
_TOKEN = re.compile(rb'"(?:[^"\\]|\\.)*"|[\[\]{}]', re.DOTALL)
_JSON = "application/json"
_FILES = frozenset({"application/octet-stream"})
_FORMS = frozenset({"application/x-www-form-urlencoded", "multipart/form-data"})
_LOG = logging.getLogger("fourply.web")


class Refused(Exception):
    """A request that goes no further, and what it is told."""

    def __init__(self, kind: str, status: HTTPStatus, detail: str, **more: object) -> None:
        super().__init__(detail)
        self.document = problem(kind, status, status.phrase, detail, more)


class Guard:
    """Stands around an app."""

    def __init__(self, app: ASGIApp, hosts: frozenset[str], limits: Limits) -> None:
        self._app = app
        self._hosts = hosts
        self._limits = limits
        self._rates = Rates(limits.rate, limits.burst)

    async def __call__(self, scope: Scope, receive: Receive, send: Send) -> None:
        """Let a request through, or answer it."""
        if scope["type"] != "http":
            await self._app(scope, receive, send)
            return
        began, came = False, perf_counter()

        async def sent(message: Message) -> None:
            nonlocal began
            if message["type"] == "http.response.start":
                began = True
                _dress(message, scope, perf_counter() - came)
            await send(message)

        try:
            await self._app(scope, await self._let_in(scope, receive), sent)
        except Refused as refused:
            if not began:
                await answer(refused.document, {"Retry-After": "1"})(scope, receive, sent)
        except Exception:
            _LOG.exception("%s %s", scope["method"], scope["path"])
            if began:
                raise
            await answer(_OURS)(scope, receive, sent)

    async def _let_in(self, scope: Scope, receive: Receive) -> Receive:
        """Return what the app is to read the body from; raises Refused."""
        headers = Headers(scope=scope)
        self._check_host(headers.get("host", ""))
        client = scope["client"][0] if scope.get("client") else ""
        if not self._rates.take(client):
            raise Refused("too-many", HTTPStatus.TOO_MANY_REQUESTS, "too many requests at once; wait a second")
        if scope["method"] in _SAFE:
            return receive
        _check_origin(headers)
        kind = headers.get("content-type", "").partition(";")[0].strip().lower()
        is_api = scope["path"].startswith("/api/")
        if is_api and kind in _FORMS | {"text/plain"}:
            raise Refused(
                "unsupported-media-type", HTTPStatus.UNSUPPORTED_MEDIA_TYPE, f"send {_JSON}, or a file as {min(_FILES)}"
            )
        if kind in _FILES | _FORMS:
            return _counted(receive, self._limits.file_bytes, headers)
        return await self._json(receive, headers)

    def _check_host(self, host: str) -> None:
        name = host if host.endswith("]") else host.rpartition(":")[0] or host
        if name.lower() not in self._hosts:
            raise Refused(
                "wrong-host", HTTPStatus.MISDIRECTED_REQUEST, "this server answers to its own machine", found=host[:200]
            )

    async def _json(self, receive: Receive, headers: Headers) -> Receive:
        """Read a body whole, check it, and return what gives it again."""
        most, body = self._limits.json_bytes, bytearray()
        read = _counted(receive, most, headers)
        more = True
        while more:
            message = await read()
            if message["type"] == "http.disconnect":
                break
            body += message.get("body", b"")
            more = message.get("more_body", False)
        check_json(bytes(body), self._limits.depth)
        given = False

        async def again() -> Message:
            nonlocal given
            if given:
                return await receive()
            given = True
            return {"type": "http.request", "body": bytes(body), "more_body": False}

        return again


def check_json(body: bytes, depth: int) -> None:
    """Raise Refused for text that no reader of JSON may be given: too deep, not UTF-8, half a character."""
    if max(_depths(body), default=0) > depth:
        raise Refused("too-deep", HTTPStatus.BAD_REQUEST, f"JSON is nested {depth} deep at most")
    try:
        body.decode("utf-8")
        if b"\\ud" in body.lower():
            json.dumps(json.loads(body), ensure_ascii=False).encode("utf-8")
    except json.JSONDecodeError:
        return  # the app says where
    except UnicodeError:
        raise Refused("bad-text", HTTPStatus.BAD_REQUEST, "text is UTF-8, with no half characters") from None


def _depths(body: bytes) -> Iterator[int]:
    at = 0
    for token in _TOKEN.finditer(body):
        first = token[0]
        if first in {b"[", b"{"}:
            at += 1
            yield at
        elif first in {b"]", b"}"}:
            at -= 1


def _counted(receive: Receive, most: int, headers: Headers) -> Receive:
    """Return what reads a body, and raises Refused where it is longer than allowed."""
    said = headers.get("content-length", "")
    too_large = Refused(
        "too-large", HTTPStatus.REQUEST_ENTITY_TOO_LARGE, f"a body has at most {most:,} bytes", expected=most
    )
    if said.isdecimal() and int(said) > most:
        raise too_large
    taken = 0

    async def counted() -> Message:
        nonlocal taken
        message = await receive()
        taken += len(message.get("body", b""))
        if taken > most:
            raise too_large
        return message

    return counted


def _check_origin(headers: Headers) -> None:
    """Raise Refused for a change that a page of another origin asks for."""
    site, origin = headers.get("sec-fetch-site"), headers.get("origin")
    strange = site not in {None, "same-origin", "none"}
    if origin is not None and urlsplit(origin).netloc.lower() != headers.get("host", "").lower():
        strange = True
    if strange:
        raise Refused("cross-origin", HTTPStatus.FORBIDDEN, "a page of another origin may change nothing here")


def _dress(message: Message, scope: Scope, seconds: float) -> None:
    """Give an answer the headers that every answer carries, with how long it took (Server-Timing, W3C)."""
    headers = MutableHeaders(raw=message["headers"])
    message["headers"] = headers.raw
    for name, value in _HEADERS.items():
        headers[name] = value
    headers["Server-Timing"] = f"app;dur={seconds * 1000:.1f}"
    if not scope["path"].startswith("/static/"):
        headers.setdefault("Cache-Control", "no-cache")


class Rates:
    """How fast each client may ask: so many a second that go on, so many at once."""

    def __init__(self, rate: float, burst: float) -> None:
        self._rate, self._burst = rate, burst
        self._left: OrderedDict[str, tuple[float, float]] = OrderedDict()

    def take(self, client: str, now: float | None = None) -> bool:
        """Return whether a client may ask now.

        >>> rates = Rates(1, 2)
        >>> [rates.take("a", 0.0) for _ in range(3)], rates.take("a", 1.0)
        ([True, True, False], True)
        """
        at = monotonic() if now is None else now
        left, last = self._left.pop(client, (self._burst, at))
        left = min(self._burst, left + (at - last) * self._rate)
        self._left[client] = (left - 1 if left >= 1 else left, at)
        if len(self._left) > 1000:
            self._left.popitem(last=False)
        return left >= 1


_OURS = problem(
    "our-fault",
    HTTPStatus.INTERNAL_SERVER_ERROR,
    "fourply itself went wrong",
    "nothing of yours is changed; the server's own output says what went wrong: please report it",
)
