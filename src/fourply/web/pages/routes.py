"""Every page, in one router."""

from __future__ import annotations

from pathlib import Path

from fastapi import APIRouter
from starlette.templating import Jinja2Templates

router = APIRouter(include_in_schema=False)
TEMPLATES = Jinja2Templates(Path(__file__).parent.parent / "templates")
