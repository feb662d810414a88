"""Backups: made, listed, looked into, given out and brought in; the shop put back as one of them has it."""

from __future__ import annotations

from fastapi import Request
from starlette.datastructures import UploadFile
from starlette.responses import FileResponse, Response

from fourply.errors import BadInput, FourplyError
from fourply.web.pages.frame import AtDesk, Key, Sent, Strip, page, seen, text
from fourply.web.pages.routing import pages

router = pages()
_AT = "/settings/backups"


@router.post(_AT)
def bring(desk: AtDesk, sent: Sent) -> Response:
    """Write a backup now; or keep one that was brought, and lead to what is in it."""
    try:
        given = sent.get("backup")
        if isinstance(given, UploadFile) and given.filename:
            file = desk.store.keep_backup(given.file.read())
            return seen(f"{_AT}/{file.name}")
        if text(sent, "act") != "make":
            raise BadInput("no file", "a backup that fourply made, such as shop-….sqlite")
        file = desk.store.backup()
    except FourplyError as bad:
        return seen("/settings", str(bad))
    return seen("/settings", f"Backed up, opened and checked: {file.name}")


@router.get(f"{_AT}/{{name}}")
def look(request: Request, desk: AtDesk, name: str) -> Response:
    """Show what a backup has beside what the shop has now, before anything is put back."""
    file = desk.store.backup_file(name)
    try:
        there, wrong = desk.store.contents(file), ""
    except FourplyError as bad:
        there, wrong = None, str(bad)
    return page(
        request,
        "backup.html",
        strip=Strip(keys=(Key("Esc", "back to the settings", "/settings"),)),
        here="settings",
        backup=next(each for each in desk.store.backups() if each.name == name),
        now=desk.store.contents(),
        there=there,
        wrong=wrong,
    )


@router.get(f"{_AT}/{{name}}/file")
def give(desk: AtDesk, name: str) -> Response:
    """Give a backup out as a file."""
    return FileResponse(desk.store.backup_file(name), media_type="application/vnd.sqlite3", filename=name)


@router.post(f"{_AT}/{{name}}/restore")
def restore(desk: AtDesk, name: str, sent: Sent) -> Response:
    """Put the shop back as a backup has it, once somebody has said so; what is there now is backed up first."""
    if text(sent, "sure") != "yes":
        return seen(f"{_AT}/{name}", "Nothing is put back yet: say that you want it.")
    try:
        before = desk.store.restore(desk.store.backup_file(name))
    except FourplyError as bad:
        return seen(f"{_AT}/{name}", f"Nothing is put back: {bad}")
    way_back = f" What was there before is in {before.name}, the first of the backups." if before else ""
    return seen("/settings", f"The shop is as {name} has it.{way_back}")
