"""What stands around every page: the head, the title block with what was kept last and its undo, the theme.

A page is shown by `page`; its template extends `base.html`. A route that needs what a form sent depends on `Sent`; a
change is made at a `Desk` (from `desk_of`) and answered by `seen`, which leads back to a page.
"""

from __future__ import annotations

from collections.abc import AsyncIterator, Mapping, Sequence
from dataclasses import dataclass
from http import HTTPStatus
from pathlib import Path
from typing import Annotated
from urllib.parse import quote

from fastapi import Depends, Request
from jinja2 import pass_context
from jinja2.runtime import Context
from starlette.datastructures import FormData
from starlette.responses import RedirectResponse, Response
from starlette.routing import NoMatchFound
from starlette.templating import Jinja2Templates

from fourply.app.keep import Desk
from fourply.app.keep_settings import shop_settings
from fourply.app.ports_store import SHOP, Record, Undoable
from fourply.web.pages.words import figures
from fourply.web.room import InRoom, Room
from fourply.working.terms import Terms

TEMPLATES = Jinja2Templates(Path(__file__).parent.parent / "templates")
TEMPLATES.env.filters["figures"] = figures


@pass_context
def _said(context: Context, text: object) -> str:
    """Return words of fourply's own in the terms of the shop."""
    terms = context.get("terms")
    return terms.say(str(text)) if isinstance(terms, Terms) else str(text)


TEMPLATES.env.filters["said"] = _said
THEMES = ("auto", "light", "dark")


@dataclass(frozen=True, slots=True)
class Place:
    """A page that the head leads to: what `here` calls it, its word, its address (under that of a show for one)."""

    here: str
    word: str
    at: str


OF_SHOW = (Place("wall", "Wall", ""), Place("table", "Table", "/table"), Place("papers", "Papers", "/papers"))
OF_SHOP = (
    Place("shows", "Shows", "/"),
    Place("materials", "Materials", "/materials"),
    Place("rack", "Rack", "/rack"),
    Place("settings", "Settings", "/settings"),
)


@dataclass(frozen=True, slots=True)
class Key:
    """A key that a page listens to, what it does, and where it leads where it leads somewhere."""

    key: str
    does: str
    to: str = ""


@dataclass(frozen=True, slots=True)
class Strip:
    """The title block: the scale first, what is in hand, the keys; `scope` is whose last change is told."""

    scale: str = ""
    about: str = ""
    keys: Sequence[Key] = ()
    scope: str = SHOP


@dataclass(frozen=True, slots=True)
class In:
    """The show that a page belongs to, and which of its pages it is."""

    id: str
    title: str
    here: str = ""


def desk_of(room: InRoom) -> Desk:
    """Return the desk at which a page works."""
    return Desk(room.parts.store)


type AtDesk = Annotated[Desk, Depends(desk_of)]


async def _sent(request: Request) -> AsyncIterator[FormData]:
    async with request.form(max_files=4, max_fields=20_000, max_part_size=20_000_000) as form:
        yield form


type Sent = Annotated[FormData, Depends(_sent)]


def text(form: FormData, name: str, default: str = "") -> str:
    """Return what was typed into a field of a form, "" where there is none."""
    found = form.get(name, default)
    return found.strip() if isinstance(found, str) else default


def version_in(form: FormData, name: str = "version") -> int:
    """Return the version that a form stands on; 0, which no record has, for anything that is none."""
    return version_said(text(form, name))


def version_said(said: str) -> int:
    """Return the version that a word says; 0 for anything that is none.

    >>> version_said("12"), version_said("-1"), version_said("9" * 5000)
    (12, 0, 0)
    """
    return int(said) if said.isascii() and said.isdecimal() and len(said) <= 9 else 0


def page(
    request: Request,
    template: str,
    *,
    strip: Strip,
    show: In | None = None,
    here: str = "",
    status: int = 200,
    **more: object,
) -> Response:
    """Return a page: its template with what stands around it."""
    room: Room = request.app.state.room
    around = {
        "strip": strip,
        "show": show,
        "here": here,
        "of_show": OF_SHOW,
        "of_shop": OF_SHOP,
        "theme": theme_of(request),
        "terms": shop_settings(Desk(room.parts.store)).value.terms,
        "kept": kept(room.parts.store.undoable(strip.scope)),
        "back": request.url.path,
        "message": request.query_params.get("says", "")[:300],
        "design_of": lambda work: design_of(request, work),
    }
    return TEMPLATES.TemplateResponse(request, template, {**around, **more}, status_code=status)


def theme_of(request: Request) -> str:
    """Return the theme that was chosen, `auto` for what the system says."""
    found = request.cookies.get("theme", "auto")
    return found if found in THEMES else "auto"


def kept(found: Undoable) -> Mapping[str, object]:
    """Return what the title block says of the last change of a scope."""
    return {
        "last": found.last,
        "at": found.undo.at.astimezone() if found.undo else None,
        "undo": found.undo.label if found.undo else "",
        "redo": found.redo.label if found.redo else "",
    }


def strip_html(request: Request, desk: Desk, scope: str, back: str) -> str:
    """Return the part of the title block that a change makes new."""
    context = {"kept": kept(desk.store.undoable(scope)), "strip": Strip(scope=scope), "back": back}
    return TEMPLATES.get_template("_kept.html").render(request=request, **context)


def design_of(request: Request, work: Record | str) -> str:
    """Return the address of the design page of a work ("" where there is none): the route is called `design`."""
    ident = work.id if isinstance(work, Record) else work
    try:
        return str(request.app.url_path_for("design", work=ident))
    except NoMatchFound:
        return ""


def seen(to: str, says: str = "") -> Response:
    """Return the answer to a change: a page, with a message where there is something to say."""
    end = f"{'&' if '?' in to else '?'}says={quote(says)}" if says else ""
    return RedirectResponse(f"{to}{end}", HTTPStatus.SEE_OTHER)


def local(address: str, default: str = "/") -> str:
    """Return an address of this server, the default for any other.

    >>> local("//elsewhere.example"), local("/shows/1")
    ('/', '/shows/1')
    """
    good = address.startswith("/") and not address.startswith(("//", "/\\")) and "\n" not in address
    return address if good else default
