"""Who may come in, and how: one call puts the guard around the page."""

from __future__ import annotations

import logging
import re

from fastapi import FastAPI
from starlette.requests import Request
from starlette.responses import Response

from evenfoot.office import people
from evenfoot.web import faults
from evenfoot.web.guard import coming, phones, roll
from evenfoot.web.guard.door import Door, is_still_in, needs, visitor_of
from evenfoot.web.guard.keeper import Keeper
from evenfoot.web.guard.settings import Settings
from evenfoot.web.guard.walls import Walls, secure

__all__ = ["Settings", "install", "is_still_in", "needs", "visitor_of"]


def install(app: FastAPI, settings: Settings, store: people.Store | None = None) -> None:
    """Put the guard around an app, before it answers for the first time; errors are answered by ``faults``.

    Without a ``store`` there are walls only, and everybody inside them is trusted.
    """

    async def slip(request: Request, _error: Exception) -> Response:
        found = faults.unexpected(request)
        secure(request, found.headers, settings)
        return found

    faults.install(app)
    app.add_exception_handler(Exception, slip)
    if store is not None:
        app.state.keeper = Keeper(settings, store)
        for part in (coming.router, roll.router, phones.router):
            app.include_router(part, include_in_schema=False)
        app.add_middleware(Door, keeper=app.state.keeper)
    app.add_middleware(Walls, settings=settings)
    _keep_tokens_out_of_logs()


class _NoTokens(logging.Filter):
    """Takes the token out of the address of a pairing, in the log of whoever serves the page."""

    def filter(self, record: logging.LogRecord) -> bool:
        """Rewrite what is about to be written."""
        if isinstance(record.args, tuple):
            record.args = tuple(_TOKEN.sub(r"\1...", arg) if isinstance(arg, str) else arg for arg in record.args)
        return True


_TOKEN = re.compile(r"(/pair/)[^\s/?]+")


def _keep_tokens_out_of_logs() -> None:
    log = logging.getLogger("uvicorn.access")
    if not any(isinstance(found, _NoTokens) for found in log.filters):
        log.addFilter(_NoTokens())
