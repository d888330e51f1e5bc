"""The HTTP API: what the page can do, as JSON; one shape of errors, described in ``/api/openapi.json``."""

from __future__ import annotations

from fastapi import FastAPI

from evenfoot.web.api import errands, jobs, log, plans, shapes


def add_api(app: FastAPI) -> None:
    """Add every route of the API to an app."""
    for part in (jobs.router, log.router, plans.router, errands.router):
        app.include_router(part, prefix="/api", responses=shapes.FAULTS)
