"""The place where rows are kept: transactions that only read, transactions that write, and the time."""

from __future__ import annotations

from collections.abc import Callable, Iterator
from contextlib import contextmanager
from datetime import UTC, datetime

import sqlalchemy as sa
from sqlalchemy.dialects import postgresql, sqlite

from evenfoot.errors import Fault, StoreError
from evenfoot.store.opening import READS, open_engine

_BUSY = ("database is locked", "55P03", "lock timeout", "QueuePool limit")
"""How the two databases and the pool say that others held on for too long."""


class Place:
    """One database, opened once and shared by all who keep something in it."""

    def __init__(self, url: str, clock: Callable[[], datetime]) -> None:
        """Open the place; raises StoreError."""
        self._engine = open_engine(url)
        self._clock = clock

    def close(self) -> None:
        """Let go of every connection."""
        self._engine.dispose()

    def now(self) -> datetime:
        """Return the time, in UTC."""
        return self._clock().astimezone(UTC)

    def time(self) -> str:
        """Return the time as it is kept: ISO 8601, UTC."""
        return iso(self.now())

    def insert(self, table: sa.Table) -> sqlite.Insert | postgresql.Insert:
        """Return an insertion that can say what to do when the key is there already, in the database's own way."""
        if self._engine.dialect.name == "sqlite":
            return sqlite.insert(table)
        return postgresql.insert(table)

    @contextmanager
    def read(self) -> Iterator[sa.Connection]:
        """Hold a transaction that only reads: it keeps nobody waiting."""
        with _told(None), self._engine.connect() as bare:
            link = bare.execution_options(**{READS: True})
            with link.begin():
                yield link

    @contextmanager
    def write(self, *, clash: Fault | None = None) -> Iterator[sa.Connection]:
        """Hold a transaction that writes: it happens whole or not at all.

        Raises: StoreError with the fault ``clash`` when a key that must be the only one of its kind is there already.
        """
        with _told(clash), self._engine.begin() as link:
            yield link


def iso(moment: datetime) -> str:
    """Return a moment as it is kept, so that texts sort as moments do."""
    return moment.astimezone(UTC).isoformat(timespec="milliseconds")


@contextmanager
def _told(clash: Fault | None) -> Iterator[None]:
    """Tell what a database raises as a fault of ours."""
    try:
        yield
    except (sa.exc.SQLAlchemyError, OSError) as error:
        if clash is not None and isinstance(error, sa.exc.IntegrityError):
            raise StoreError(clash) from error
        is_busy = any(mark in str(error) for mark in _BUSY)
        raise StoreError(Fault(where="store", code="store-busy" if is_busy else "store-failed")) from error


def is_keepable(text: str) -> bool:
    """Return whether both databases keep a text: it holds no null character and no half of a surrogate pair."""
    return _unkeepable(text) is None


def keepable(text: str, where: str) -> str:
    """Return a text that both databases keep byte for byte; raises StoreError ``text-unkeepable`` for any other."""
    found = _unkeepable(text)
    if found is not None:
        raise StoreError(Fault(where=where, code="text-unkeepable", found=f"U+{ord(found):04X}"))
    return text


def _unkeepable(text: str) -> str | None:
    return next((character for character in text if character == "\0" or "\ud800" <= character <= "\udfff"), None)
