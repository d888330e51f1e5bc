"""The app: the guard around it, the shelf and the hands behind it, pages for people and the API for programs."""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator
from contextlib import asynccontextmanager

from fastapi import FastAPI

from evenfoot.office import desk
from evenfoot.web import guard
from evenfoot.web.api import add_api
from evenfoot.web.hands import Errands, Hands
from evenfoot.web.news import News
from evenfoot.web.pages import add_pages
from evenfoot.web.settings import Settings


def make_app(settings: Settings) -> FastAPI:
    """Return the whole page as one ASGI app; raises StoreError when its store cannot be opened."""
    shelf = desk.open_shelf(settings.store_url)

    @asynccontextmanager
    async def open_for_work(app: FastAPI) -> AsyncIterator[None]:
        app.state.hands, app.state.errands = Hands(settings.hands), Errands()
        warming = asyncio.create_task(app.state.hands.warm_up())
        yield
        warming.cancel()
        app.state.news.close()
        app.state.hands.close()
        app.state.errands.close()
        shelf.store.close()

    app = FastAPI(
        title="Evenfoot",
        summary="From the first level reading to the handed-over floor.",
        version="1",
        openapi_url="/api/openapi.json",
        docs_url=None,
        redoc_url=None,
        lifespan=open_for_work,
    )
    app.state.shelf, app.state.news, app.state.settings = shelf, News(shelf.heads), settings
    add_api(app)
    add_pages(app)
    guard.install(app, settings.guard, shelf.store)
    return app
