"""Files that are sent: how their bytes are taken, and how lists among them are to be read."""

from __future__ import annotations

from typing import Annotated, Any, Literal

from fastapi import Depends, Header, Query, Request
from starlette.exceptions import HTTPException

FILE = "application/octet-stream"
BODY: dict[str, Any] = {
    "requestBody": {"required": True, "content": {FILE: {"schema": {"type": "string", "format": "binary"}}}}
}
"""What a route says that takes a file."""

type Name = Annotated[str, Query(max_length=200, description="What the file is called; its end says what it is.")]
type InUnit = Annotated[Literal["in", "mm", "cm"] | None, Query(description="Unit of bare numbers.")]
type InOrder = Annotated[
    Literal["width x height", "height x width"] | None, Query(description="Which of two numbers comes first.")
]


async def _data(request: Request) -> bytes:
    kind = request.headers.get("content-type", "").partition(";")[0].strip().lower()
    if kind != FILE:
        raise HTTPException(415, f"send the file itself as {FILE}")
    return await request.body()


type Data = Annotated[bytes, Depends(_data)]


def _later(
    prefer: Annotated[
        str, Header(max_length=200, description="`respond-async` (RFC 7240): answer before it is done.")
    ] = "",
) -> bool:
    return "respond-async" in [each.strip().lower() for each in prefer.split(",")]


type Later = Annotated[bool, Depends(_later)]
