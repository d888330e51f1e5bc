"""Who may come in, and how: one call puts the guard around the page."""

from __future__ import annotations

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from evenfoot.web import faults
from evenfoot.web.guard.settings import Settings
from evenfoot.web.guard.walls import Walls, secure

__all__ = ["Settings", "install"]


def install(app: FastAPI, settings: Settings) -> None:
    """Put the guard around an app, before it answers for the first time; errors are answered by ``faults``."""

    async def slip(request: Request, _error: Exception) -> Response:
        found = faults.unexpected(request)
        secure(found.headers, settings)
        return found

    faults.install(app)
    app.add_exception_handler(Exception, slip)
    app.add_middleware(Walls, settings=settings)
