"""What every route needs of a request: the shelf, the hands, the news, and who asks."""

from __future__ import annotations

from typing import cast

from starlette.requests import HTTPConnection

from evenfoot.office import desk
from evenfoot.web.hands import Errands, Hands
from evenfoot.web.news import News


def shelf_of(asked: HTTPConnection) -> desk.Shelf:
    """Return the shelf of jobs."""
    return cast("desk.Shelf", asked.app.state.shelf)


def hands_of(asked: HTTPConnection) -> Hands:
    """Return the hands that reckon."""
    return cast("Hands", asked.app.state.hands)


def errands_of(asked: HTTPConnection) -> Errands:
    """Return the long errands."""
    return cast("Errands", asked.app.state.errands)


def news_of(asked: HTTPConnection) -> News:
    """Return who is told of changes."""
    return cast("News", asked.app.state.news)


def who_of(asked: HTTPConnection) -> str:
    """Return the name of whoever asks; empty for the only person of a shop without names."""
    return str(getattr(asked.state, "who", ""))
