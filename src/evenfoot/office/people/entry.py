"""Coming in and going out: the first owner, names and passphrases, sessions."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta

from evenfoot.errors import Fault, OutOfRangeError, RefusedError, StoreError
from evenfoot.office.people import sealed
from evenfoot.office.people.rights import Action, check, may
from evenfoot.store import Person, Role, Session, Store, name_key

IDLE = timedelta(days=30)
"""A session that is not seen for so long has ended."""
TRIES_WITHIN = timedelta(minutes=15)
"""Over this time wrong passphrases are counted."""
TRIES_BY_ADDRESS = 5
"""How often one name may be tried from one address within that time."""
TRIES_FROM = 30
"""How often any names may be tried from one address within that time."""
TRIES_BY_NAME = 50
"""How often one name may be tried from anywhere within that time."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Visitor:
    """Who asks, and what they are: by a session, or at the machine itself while there are no people."""

    role: Role
    session: Session | None = None

    @property
    def person(self) -> Person | None:
        """Who it is, when people are known by name."""
        return self.session.person if self.session else None

    @property
    def name(self) -> str:
        """The name that goes beside what is saved."""
        if self.session is None:
            return ""
        return self.session.person.name if self.session.person else self.session.phone or ""

    def may(self, action: str) -> bool:
        """Return whether the visitor may do something."""
        return may(self.role, Action(action))


AT_THE_MACHINE = Visitor(role=Role.OWNER)
"""Whoever sits at the machine itself, while there are no people."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Entry:
    """A session that has just begun, with the token that its browser is to keep."""

    session: Session
    token: str = field(repr=False)


def has_people(store: Store) -> bool:
    """Return whether people are known by name, so that even at the machine itself one signs in."""
    return store.people.has_any()


def open_first(store: Store, *, name: str, passphrase: str) -> Entry:
    """Make the first owner, who is signed in at once; phones that were paired before have to pair anew.

    Raises: StoreError ``people-opened``, OutOfRangeError ``passphrase-short`` and its like, ``name-wrong``.
    """
    person = store.people.open_first(name=proper(name), passphrase_hash=sealed.hash_of(passphrase))
    return _begin(store, person)


def sign_in(store: Store, *, name: str, passphrase: str, address: str) -> Entry:
    """Return a new session of the person with this name and passphrase; ``address`` is where they sit.

    Raises: RefusedError ``sign-in-wrong``, ``tries-too-many``.
    """
    return _begin(store, confirm(store, name=name, passphrase=passphrase, address=address))


def confirm(store: Store, *, name: str, passphrase: str, address: str) -> Person:
    """Return the person with this name and passphrase.

    Every try is counted before it is looked at, so that many at once gain nothing; a right one clears the counts of
    its address. A name that is not there takes as long as a wrong passphrase and is told the same.

    Raises: RefusedError ``sign-in-wrong``, ``tries-too-many``.
    """
    here, from_here, anywhere = _key(name, address), _key("", address), _key(name, "")
    for key, most in ((here, TRIES_BY_ADDRESS), (from_here, TRIES_FROM), (anywhere, TRIES_BY_NAME)):
        if store.people.count_try(key, within=TRIES_WITHIN) > most:
            minutes = int(TRIES_WITHIN.total_seconds() // 60)
            raise RefusedError(Fault(where="", code="tries-too-many", allowed=str(minutes)))
    found = store.people.known(name)
    is_right = sealed.is_right(passphrase, found[1] if found else sealed.nobodys_hash())
    if found is None or not is_right:
        raise RefusedError(Fault(where="", code="sign-in-wrong"))
    for key in (here, from_here):
        store.people.forget_tries(key)
    return found[0]


def visitor_of(store: Store, token: str, *, is_seen: bool = True) -> Visitor | None:
    """Return whose session a token is of, or None when it is of none that lives; ``is_seen`` lets it live on."""
    session = store.sessions.find(sealed.digest_of(token), idle=IDLE, is_seen=is_seen)
    return None if session is None else Visitor(role=session.role, session=session)


def sign_out(store: Store, visitor: Visitor) -> None:
    """End the session by which somebody came."""
    if visitor.session is not None:
        store.sessions.end(visitor.session.number)


def sessions(store: Store, visitor: Visitor) -> tuple[Session, ...]:
    """Return the living sessions that a visitor may end: an owner everybody's, others their own."""
    found = store.sessions.living(idle=IDLE)
    return tuple(session for session in found if visitor.may(Action.PEOPLE) or _is_own(session, visitor))


def end_session(store: Store, visitor: Visitor, number: int) -> None:
    """End a session, such as that of a lost phone.

    Raises: StoreError ``session-unknown``, also for one that the visitor may not end: others are none of theirs.
    """
    check(visitor.role, Action.PAIR)
    if all(session.number != number for session in sessions(store, visitor)):
        raise StoreError(Fault(where="session", code="session-unknown", found=str(number)))
    store.sessions.end(number)


def proper(name: str) -> str:
    """Return a name without outer spaces; raises OutOfRangeError ``name-wrong`` when it is empty or very long."""
    found = " ".join(name.split())
    if not 0 < len(found) <= 60 or not found.isprintable():
        raise OutOfRangeError(Fault(where="name", code="name-wrong", found=name[:80], allowed="60"))
    return found


def _begin(store: Store, person: Person) -> Entry:
    token = sealed.new_token()
    # The session grants everything; what the person may is asked anew each time, so that another role holds at once.
    session = store.sessions.begin(sealed.digest_of(token), person=person.number, role=Role.OWNER)
    return Entry(session=session, token=token)


def _is_own(session: Session, visitor: Visitor) -> bool:
    if visitor.session is None:
        return True
    if visitor.person is None:
        return session.number == visitor.session.number
    return session.person is not None and session.person.number == visitor.person.number


def _key(name: str, address: str) -> str:
    """Return under what tries are counted; a digest, since a passphrase may have been typed in the place of a name."""
    return sealed.digest_of(f"{name_key(name)}\n{address}")
