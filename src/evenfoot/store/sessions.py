"""Who is signed in and which phones are paired. Tokens stay with their holders; here are only their digests."""

from __future__ import annotations

from datetime import timedelta
from typing import Any

import sqlalchemy as sa

from evenfoot.errors import Fault, StoreError
from evenfoot.store.model import Person, Role, Session
from evenfoot.store.place import Place, iso, keepable
from evenfoot.store.schema import LARGEST, pairings, people, sessions

_SEEN = timedelta(minutes=1)
"""Being seen is written down no more often than this."""


class Sessions:
    """Sessions of one firm. Each method is one transaction."""

    def __init__(self, place: Place) -> None:
        """Keep sessions in a place."""
        self._place = place

    def begin(self, digest: str, *, person: int | None, role: Role, phone: str | None = None) -> Session:
        """Write down that the holder of a token may come in, and return the session."""
        with self._place.write() as link:
            number = self._begin(link, digest, (person, role), phone)
            return _session_of(link.execute(_LIVE.where(sessions.c.id == number)).mappings().one())

    def find(self, digest: str, *, idle: timedelta, is_seen: bool = True) -> Session | None:
        """Return the session of a token unless it was ended, or not seen for as long as ``idle``.

        ``is_seen`` writes down that it was seen now.
        """
        asked = _LIVE.where(sessions.c.digest == digest, sessions.c.seen_at >= iso(self._place.now() - idle))
        with self._place.read() as link:
            row = link.execute(asked).mappings().first()
        if row is None:
            return None
        if is_seen and row["seen_at"] < iso(self._place.now() - _SEEN):
            with self._place.write() as link:
                seen = sa.update(sessions).where(sessions.c.id == row["id"]).values(seen_at=self._place.time())
                link.execute(seen)
        return _session_of(row)

    def living(self, *, idle: timedelta) -> tuple[Session, ...]:
        """Return every session that would be found, the last seen first."""
        asked = _LIVE.where(sessions.c.seen_at >= iso(self._place.now() - idle))
        with self._place.read() as link:
            rows = link.execute(asked.order_by(sessions.c.seen_at.desc(), sessions.c.id.desc())).mappings()
            return tuple(_session_of(row) for row in rows)

    def end(self, number: int) -> None:
        """End a session; raises StoreError ``session-unknown`` when there is none, or it was ended."""
        asked = sa.update(sessions).where(sessions.c.id == number, sessions.c.ended_at.is_(None))
        with self._place.write() as link:
            ended = asked.values(ended_at=self._place.time())
            if not 0 < number <= LARGEST or link.execute(ended).rowcount != 1:
                raise StoreError(Fault(where="session", code="session-unknown", found=str(number)))

    def offer(self, digest: str, *, person: int | None, role: Role, within: timedelta) -> None:
        """Write down a token by which one phone may pair within a time from now."""
        until = iso(self._place.now() + within)
        row = {"digest": digest, "person": person, "role": role.value, "expires_at": until}
        with self._place.write() as link:
            link.execute(sa.delete(pairings).where(pairings.c.expires_at < iso(self._place.now() - timedelta(days=1))))
            link.execute(sa.insert(pairings).values(**row, made_at=self._place.time()))

    def may_pair(self, digest: str) -> None:
        """Look whether a token would pair a phone, without using it up; raises as ``pair`` does."""
        with self._place.read() as link:
            self._check(link, digest)

    def pair(self, digest: str, *, session: str, phone: str) -> Session:
        """Use a token up and begin the session of the phone that brought it.

        Of two phones that bring one token at once one is paired: only one of them finds it unused.
        Raises: StoreError ``pairing-unknown``, ``pairing-used``, ``pairing-late``.
        """
        now = self._place.time()
        fresh = sa.and_(pairings.c.digest == digest, pairings.c.used_at.is_(None), pairings.c.expires_at > now)
        with self._place.write() as link:
            if link.execute(sa.update(pairings).where(fresh).values(used_at=now)).rowcount != 1:
                self._check(link, digest)
            row = link.execute(sa.select(pairings).where(pairings.c.digest == digest)).mappings().one()
            number = self._begin(link, session, (row["person"], Role(row["role"])), phone)
            return _session_of(link.execute(_LIVE.where(sessions.c.id == number)).mappings().one())

    def _check(self, link: sa.Connection, digest: str) -> None:
        row = link.execute(sa.select(pairings).where(pairings.c.digest == digest)).mappings().first()
        if row is None:
            raise StoreError(Fault(where="", code="pairing-unknown"))
        if row["used_at"] is not None:
            raise StoreError(Fault(where="", code="pairing-used"))
        if row["expires_at"] <= self._place.time():
            raise StoreError(Fault(where="", code="pairing-late"))

    def _begin(self, link: sa.Connection, digest: str, whose: tuple[int | None, Role], phone: str | None) -> int:
        now = self._place.time()
        row = {
            "digest": digest,
            "person": whose[0],
            "role": whose[1].value,
            "phone": phone and keepable(phone, "phone"),
        }
        asked = sa.insert(sessions).values(**row, made_at=now, seen_at=now).returning(sessions.c.id)
        return int(link.execute(asked).scalar_one())


_LIVE = (
    sa.select(sessions, people.c.name, people.c.role.label("own_role"), people.c.made_at.label("since"))
    .select_from(sessions.outerjoin(people, sessions.c.person == people.c.id))
    .where(sessions.c.ended_at.is_(None))
)
"""Sessions that nobody has ended, each with its person."""


def _session_of(row: Any) -> Session:  # noqa: ANN401 - a row as the library gives it
    granted, person = Role(row["role"]), None
    if row["person"] is not None:
        own = Role(row["own_role"])
        person = Person(number=row["person"], name=row["name"], role=own, made_at=row["since"])
        granted = max(own, granted, key=list(Role).index)
    return Session(
        number=row["id"],
        person=person,
        phone=row["phone"],
        role=granted,
        made_at=row["made_at"],
        seen_at=row["seen_at"],
    )
