"""Who works with the jobs: names, roles and what a passphrase is kept as. Secrets themselves never come here."""

from __future__ import annotations

import unicodedata
from datetime import timedelta
from typing import Any

import sqlalchemy as sa

from evenfoot.errors import Fault, StoreError
from evenfoot.store.model import Person, Role
from evenfoot.store.place import Place, is_keepable, iso, keepable
from evenfoot.store.schema import LARGEST, pairings, people, sessions, tries

_OWNER_STAYS = Fault(where="people", code="last-owner")


def name_key(name: str) -> str:
    """Return what two names share that nobody would tell apart: case, width and outer spaces do not count."""
    return unicodedata.normalize("NFKC", name).casefold().strip()


class People:
    """The people of one firm. Each method is one transaction."""

    def __init__(self, place: Place) -> None:
        """Keep people in a place."""
        self._place = place

    def has_any(self) -> bool:
        """Return whether anybody has been entered; from then on nobody works without a name."""
        with self._place.read() as link:
            return link.execute(sa.select(people.c.id).limit(1)).first() is not None

    def everyone(self) -> tuple[Person, ...]:
        """Return who may sign in, in the order in which they came."""
        asked = sa.select(people).where(people.c.ended_at.is_(None)).order_by(people.c.id)
        with self._place.read() as link:
            return tuple(person_of(row) for row in link.execute(asked).mappings())

    def known(self, name: str) -> tuple[Person, str] | None:
        """Return the person of a name with the hash of their passphrase, or None."""
        if not is_keepable(name):
            return None
        with self._place.read() as link:
            row = link.execute(sa.select(people).where(people.c.name_key == name_key(name))).mappings().first()
        return None if row is None else (person_of(row), str(row["passphrase_hash"]))

    def open_first(self, *, name: str, passphrase_hash: str) -> Person:
        """Enter the first owner and end every phone that was paired before there were people.

        Raises: StoreError ``people-opened`` when somebody was quicker.
        """
        clash = Fault(where="people", code="people-opened")
        with self._place.write(clash=clash) as link:
            if link.execute(sa.select(people.c.id).limit(1)).first() is not None:
                raise StoreError(clash)
            ended = {"ended_at": self._place.time()}
            link.execute(sa.update(sessions).where(sessions.c.ended_at.is_(None)).values(**ended))
            link.execute(sa.delete(pairings).where(pairings.c.used_at.is_(None)))
            return self._enter(link, (name, Role.OWNER), passphrase_hash, is_opener=True)

    def add(self, *, name: str, role: Role, passphrase_hash: str) -> Person:
        """Enter a person; raises StoreError ``person-exists``."""
        with self._place.write(clash=_taken(name)) as link:
            return self._enter(link, (name, role), passphrase_hash, is_opener=None)

    def rename(self, person: int, name: str) -> None:
        """Give a person another name; raises StoreError ``person-exists``, ``person-unknown``."""
        with self._place.write(clash=_taken(name)) as link:
            self._change(link, person, name=keepable(name, "name"), name_key=name_key(name))

    def change_role(self, person: int, role: Role) -> None:
        """Give a person another role; raises StoreError ``last-owner`` when no owner would be left."""
        with self._place.write() as link:
            if role is not Role.OWNER:
                self._other_owner(link, person)
            self._change(link, person, role=role.value)

    def change_passphrase(self, person: int, passphrase_hash: str, *, keep: int | None = None) -> None:
        """Keep another hash for a person and end their sessions, but for the one with the number ``keep``."""
        with self._place.write() as link:
            self._change(link, person, passphrase_hash=passphrase_hash)
            self._end_sessions(link, person, keep=keep)

    def remove(self, person: int) -> None:
        """Let a person sign in no more and end their sessions; their name stays on what they saved.

        Raises: StoreError ``last-owner`` when no owner would be left, ``person-unknown``.
        """
        with self._place.write() as link:
            self._other_owner(link, person)
            self._change(link, person, ended_at=self._place.time(), name_key=None)
            self._end_sessions(link, person, keep=None)
            link.execute(sa.delete(pairings).where(pairings.c.person == person, pairings.c.used_at.is_(None)))

    def count_try(self, key: str, *, within: timedelta) -> int:
        """Count one more try under a key and return how many there were since the first, ``within`` a time."""
        insert = self._place.insert(tries)
        now, lapsed = self._place.time(), tries.c.since < iso(self._place.now() - within)
        counted = insert.values(key=keepable(key, "key"), count=1, since=now).on_conflict_do_update(
            index_elements=[tries.c.key],
            set_={
                "count": sa.case((lapsed, 1), else_=tries.c.count + 1),
                "since": sa.case((lapsed, now), else_=tries.c.since),
            },
        )
        with self._place.write() as link:
            link.execute(sa.delete(tries).where(lapsed, tries.c.key != key))
            return int(link.execute(counted.returning(tries.c.count)).scalar_one())

    def forget_tries(self, key: str) -> None:
        """Start counting anew under a key."""
        with self._place.write() as link:
            link.execute(sa.delete(tries).where(tries.c.key == key))

    def forget_all_tries(self) -> None:
        """Start all counting anew."""
        with self._place.write() as link:
            link.execute(sa.delete(tries))

    def _enter(
        self, link: sa.Connection, who: tuple[str, Role], passphrase_hash: str, *, is_opener: bool | None
    ) -> Person:
        row = {
            "name": keepable(who[0], "name"),
            "name_key": name_key(who[0]),
            "role": who[1].value,
            "passphrase_hash": passphrase_hash,
            "is_opener": is_opener,
            "made_at": self._place.time(),
        }
        found = link.execute(sa.insert(people).values(**row).returning(people)).mappings().one()
        return person_of(found)

    def _change(self, link: sa.Connection, person: int, **values: Any) -> None:  # noqa: ANN401 - values of columns
        asked = sa.update(people).where(people.c.id == person, people.c.ended_at.is_(None)).values(**values)
        if not 0 < person <= LARGEST or link.execute(asked).rowcount != 1:
            raise StoreError(Fault(where="people", code="person-unknown", found=str(person)))

    def _other_owner(self, link: sa.Connection, person: int) -> None:
        """Make sure that an owner is left without this one; all owners stay locked until it is settled."""
        asked = sa.select(people.c.id).where(people.c.role == Role.OWNER.value, people.c.ended_at.is_(None))
        owners = [row.id for row in link.execute(asked.order_by(people.c.id).with_for_update())]
        if owners == [person]:
            raise StoreError(_OWNER_STAYS)

    def _end_sessions(self, link: sa.Connection, person: int, *, keep: int | None) -> None:
        asked = sa.update(sessions).where(sessions.c.person == person, sessions.c.ended_at.is_(None))
        if keep is not None:
            asked = asked.where(sessions.c.id != keep)
        link.execute(asked.values(ended_at=self._place.time()))


def person_of(row: Any) -> Person:  # noqa: ANN401 - a row as the library gives it
    """Return a row of people without its hash."""
    return Person(number=row["id"], name=row["name"], role=Role(row["role"]), made_at=row["made_at"])


def _taken(name: str) -> Fault:
    return Fault(where="name", code="person-exists", found=name)
