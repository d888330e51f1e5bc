"""What the door and its pages share: how the page is served, and the store that knows who may come in."""

from __future__ import annotations

from typing import cast

from starlette.requests import HTTPConnection

from evenfoot.office import people
from evenfoot.web.guard.settings import Settings


class Keeper:
    """Keeps the door: asks the store who may come in."""

    def __init__(self, settings: Settings, store: people.Store) -> None:
        """Keep the door of what is served so, with those of a store."""
        self.settings = settings
        self.store = store
        self._is_firm = settings.has_people

    def is_firm(self) -> bool:
        """Return whether people are known by name here; once they are, they stay so, and the store is asked no more."""
        if not self._is_firm:
            self._is_firm = people.has_people(self.store)
        return self._is_firm


def keeper_of(asked: HTTPConnection) -> Keeper:
    """Return who keeps the door."""
    return cast("Keeper", asked.app.state.keeper)
