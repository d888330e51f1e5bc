"""The way back in for whoever holds the store itself: the firm's own machine, or its database."""

from __future__ import annotations

from pathlib import Path

from evenfoot.errors import Fault, StoreError
from evenfoot.office.people import sealed
from evenfoot.store import Person, Role, Store

_FILE = "sqlite:///"


def open_list(url: str) -> Store:
    """Return the store at an address, where there is one; raises StoreError ``store-missing``, and its like."""
    place = url.removeprefix(_FILE)
    if url.startswith(_FILE) and not Path(place).exists():
        raise StoreError(Fault(where="", code="store-missing", found=place))
    return Store(url)


def listed(store: Store) -> tuple[Person, ...]:
    """Return who may sign in; whoever holds the store may read that anyway."""
    return store.people.everyone()


def give_back(store: Store, name: str, passphrase: str, *, is_owner: bool = False) -> Person:
    """Give somebody another passphrase, end their sessions and forget all tries; ``is_owner`` makes them an owner too.

    Raises: StoreError ``person-name-unknown``; OutOfRangeError ``passphrase-short``, ``passphrase-long``.
    """
    known = store.people.known(name)
    if known is None:
        names = ", ".join(person.name for person in listed(store))
        raise StoreError(Fault(where="", code="person-name-unknown", found=name[:80], allowed=names))
    person = known[0]
    store.people.change_passphrase(person.number, sealed.hash_of(passphrase))
    if is_owner:
        store.people.change_role(person.number, Role.OWNER)
    store.people.forget_all_tries()
    return next(one for one in listed(store) if one.number == person.number)
