"""Every page, in one router."""

from __future__ import annotations

from fastapi import APIRouter

from fourply.web.pages import common

router = APIRouter(include_in_schema=False)
router.include_router(common.router)
