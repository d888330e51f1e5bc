"""The pages that people see: jobs, one job's stations, its papers, its past, its texts."""

from __future__ import annotations

from fastapi import FastAPI

from evenfoot.web.pages import assets, jobs, papers, past, remedies, station, texts, whatif


def add_pages(app: FastAPI) -> None:
    """Add every page to an app; none of them is part of the API."""
    for part in (jobs, station, remedies, papers, whatif, past, texts, assets):
        app.include_router(part.router, include_in_schema=False)
    assets.mount(app)
