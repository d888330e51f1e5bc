"""The list of people: entering, renaming and removing them, their roles and passphrases. Owners do that."""

from __future__ import annotations

from evenfoot.errors import Fault, OutOfRangeError, RefusedError
from evenfoot.office.people import sealed
from evenfoot.office.people.entry import Visitor, confirm, proper
from evenfoot.office.people.rights import Action, check
from evenfoot.store import Person, Role, Store


def everyone(store: Store, visitor: Visitor) -> tuple[Person, ...]:
    """Return everybody in the list; raises RefusedError ``not-allowed``."""
    check(visitor.role, Action.PEOPLE)
    return store.people.everyone()


def add_person(store: Store, visitor: Visitor, *, name: str, role: str, passphrase: str) -> Person:
    """Enter a person with a first passphrase, which they should change.

    Raises: RefusedError ``not-allowed``; StoreError ``person-exists``; OutOfRangeError ``role-wrong`` and its like.
    """
    check(visitor.role, Action.PEOPLE)
    kept = sealed.hash_of(passphrase)
    return store.people.add(name=proper(name), role=role_of(role), passphrase_hash=kept)


def rename_person(store: Store, visitor: Visitor, person: int, *, name: str) -> None:
    """Give a person another name; what they saved before keeps the old one."""
    check(visitor.role, Action.PEOPLE)
    store.people.rename(person, proper(name))


def change_role(store: Store, visitor: Visitor, person: int, *, role: str) -> None:
    """Give a person another role, at once for all their sessions; raises StoreError ``last-owner``."""
    check(visitor.role, Action.PEOPLE)
    store.people.change_role(person, role_of(role))


def remove_person(store: Store, visitor: Visitor, person: int) -> None:
    """Let a person come in no more; raises StoreError ``last-owner``."""
    check(visitor.role, Action.PEOPLE)
    store.people.remove(person)


def change_passphrase(store: Store, visitor: Visitor, *, old: str, new: str, address: str) -> None:
    """Change one's own passphrase, which ends one's other sessions.

    Raises: RefusedError ``sign-in-wrong`` when the old one is not right, ``tries-too-many``; OutOfRangeError.
    """
    person, session = visitor.person, visitor.session
    if person is None or session is None:
        raise RefusedError(Fault(where="", code="sign-in-needed"))
    confirm(store, name=person.name, passphrase=old, address=address)
    store.people.change_passphrase(person.number, sealed.hash_of(new), keep=session.number)


def give_passphrase(store: Store, visitor: Visitor, person: int, *, new: str) -> None:
    """Give somebody who forgot theirs another passphrase, which ends their sessions."""
    check(visitor.role, Action.PEOPLE)
    store.people.change_passphrase(person, sealed.hash_of(new))


def role_of(text: str) -> Role:
    """Return a role by its name; raises OutOfRangeError ``role-wrong``."""
    if text not in set(Role):
        raise OutOfRangeError(Fault(where="role", code="role-wrong", found=text[:40], allowed=", ".join(Role)))
    return Role(text)
