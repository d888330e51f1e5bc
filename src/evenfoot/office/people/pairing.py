"""Pairing a phone: a code shown at the desk, taken by one phone, once and soon."""

from __future__ import annotations

from dataclasses import dataclass, field
from datetime import timedelta

from evenfoot.office.people import sealed
from evenfoot.office.people.entry import Entry, Visitor
from evenfoot.office.people.rights import Action, check
from evenfoot.store import Role, Store

OPEN_FOR = timedelta(minutes=10)
"""How long a code may be taken."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offer:
    """A way for one phone to pair: the address that it opens, and the same as a code to point a camera at (SVG)."""

    address: str = field(repr=False)
    picture: str = field(repr=False)
    role: Role
    minutes: int = int(OPEN_FOR.total_seconds() // 60)


def offer_pairing(store: Store, visitor: Visitor, *, base: str, role: Role = Role.CREW) -> Offer:
    """Return a new code for one phone.

    The phone will act for whoever offers it, and may do no more than they and no more than ``role``. ``base`` is the
    address by which a phone reaches this machine, such as ``http://192.168.1.20:8000``.
    """
    from evenfoot.press import svg_of
    from evenfoot.sheets import code_page

    check(visitor.role, Action.PAIR)
    granted, token = max(role, visitor.role, key=list(Role).index), sealed.new_token()
    person = visitor.person.number if visitor.person else None
    store.sessions.offer(sealed.digest_of(token), person=person, role=granted, within=OPEN_FOR)
    address = f"{base.rstrip('/')}/pair/{token}"
    return Offer(address=address, picture=svg_of(code_page(address)), role=granted)


def look_at_pairing(store: Store, token: str) -> None:
    """Do nothing while a code may still be taken, and do not use it up.

    Raises: StoreError ``pairing-unknown``, ``pairing-used``, ``pairing-late``.
    """
    store.sessions.may_pair(sealed.digest_of(token))


def pair_phone(store: Store, token: str, *, phone: str) -> Entry:
    """Use a code up and return the session of the phone; of two phones at once one gets it.

    ``phone`` is what the list of paired phones calls it. Raises: as ``look_at_pairing``.
    """
    name, session = " ".join(phone.split())[:60], sealed.new_token()
    found = store.sessions.pair(sealed.digest_of(token), session=sealed.digest_of(session), phone=name)
    return Entry(session=found, token=session)
