"""What is not about one thing: undo and redo, light and dark, the page of keys."""

from __future__ import annotations

from fastapi import Request
from starlette.responses import Response

from fourply.app import keep
from fourply.app.ports_store import SHOP
from fourply.errors import NothingToUndo, Unknown
from fourply.web.pages.frame import THEMES, AtDesk, Sent, Strip, local, page, seen, text
from fourply.web.pages.routing import pages

router = pages()

KEYS = (
    (
        "Everywhere",
        (
            ("/", "find anything"),
            ("?", "this page"),
            ("Ctrl Z", "take back what was kept last"),
            ("Ctrl Shift Z", "bring back what was taken back"),
        ),
    ),
    ("Shows", (("N", "new show"), ("B", "bring in a list"))),
    (
        "Wall",
        (
            ("← → ↑ ↓", "walk along the base lines"),
            ("Home End", "the first work, the last in sight"),
            ("X", "select the work in hand, or let it go"),
            ("Shift →", "select the work in hand and the next"),
            ("Esc", "select none"),
            ("Enter", "open the work in hand"),
            ("N", "type the size of a new work"),
            ("T", "the table"),
        ),
    ),
    (
        "Table",
        (
            ("Enter", "keep the cell and go down"),
            ("Shift Enter", "keep it and go up"),
            ("↑ ↓", "go along the column"),
            ("Tab", "keep it and go on"),
            ("Esc", "have the cell as it was"),
            ("W", "the wall, out of a cell"),
        ),
    ),
    (
        "Materials",
        (
            ("N", "to the kinds of which a new one is made"),
            ("B", "bring in a price list"),
            ("M", "from one of them, all of its kind"),
            ("Ctrl Enter", "keep, out of a field of several lines"),
        ),
    ),
    ("Rack", (("N", "put in a piece"),)),
    (
        "Design",
        (
            ("A B C D", "take that variant"),
            ("V", "keep the present design as a variant"),
            ("E", "take the first handle in hand; Tab for the next"),
            ("← → ↑ ↓", "move the handle in hand by the smallest step"),
            ("Shift →", "by a larger one"),
            ("Alt ↑", "move one of equal borders alone"),
            ("0 – 9", "type a value, such as 3 1/2 or 89mm"),
            ("Enter", "keep; type a value where nothing was moved"),
            ("Esc", "go back"),
            ("[ ]", "the work before, the work after"),
        ),
    ),
)


@router.get("/keys")
def keys(request: Request) -> Response:
    """Show every key, and the switch of the theme."""
    return page(request, "keys.html", strip=Strip(), groups=KEYS, themes=THEMES)


@router.post("/theme")
def theme(sent: Sent) -> Response:
    """Choose light or dark, or what the system says."""
    answer = seen(local(text(sent, "back")))
    chosen = text(sent, "theme")
    if chosen in THEMES:
        answer.set_cookie("theme", chosen, max_age=400 * 86400, samesite="strict")
    return answer


@router.post("/undo")
def undo(desk: AtDesk, sent: Sent) -> Response:
    """Take back the last change of a scope, unless something else was changed since the page was shown."""
    return _back_or_forth(desk, sent, "undo")


@router.post("/redo")
def redo(desk: AtDesk, sent: Sent) -> Response:
    """Bring back the last change that was taken back."""
    return _back_or_forth(desk, sent, "redo")


def _back_or_forth(desk: keep.Desk, sent: Sent, what: str) -> Response:
    scope, back = text(sent, "scope"), local(text(sent, "back"))
    if text(sent, "last") != str(desk.store.undoable(scope).last):
        return seen(back, "Something else was changed meanwhile; look at the undo again before you press it.")
    try:
        done = keep.undo(desk, scope) if what == "undo" else keep.redo(desk, scope)
    except NothingToUndo as none:
        return seen(back, str(none))
    if scope != SHOP:
        try:
            keep.show_head(desk, scope)
        except Unknown:  # it was the keeping of the show itself
            back = "/"
    return seen(back, f"{'Taken back' if what == 'undo' else 'Brought back'}: {done.entry.label}")
