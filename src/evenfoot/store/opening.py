"""How a store is opened: one SQLite file by default, PostgreSQL by its address; brought up to date on the way."""

from __future__ import annotations

import sqlite3
from collections.abc import Callable
from importlib.resources import files
from threading import Lock
from time import monotonic, sleep
from typing import Any

import sqlalchemy as sa

from evenfoot.errors import Fault, StoreError

BUSY_S = 10
"""How long one transaction waits for another before it gives up [s]."""
READS = "evenfoot_reads"
"""The option of a connection that only reads."""
_MIGRATION_LOCK = 4_637_013
"""What two programs that open one PostgreSQL store at once agree upon; any number that is always the same."""
_migrating = Lock()
"""Alembic keeps what it works on in its module: one thread at a time."""


def open_engine(url: str) -> sa.Engine:
    """Return a connection pool whose tables are those of this version.

    ``postgresql://`` without a driver means the driver that comes with the extra ``postgres``.

    Raises: StoreError ``store-unreachable`` when nothing can be opened there, ``store-driver`` when the address needs a
    package that is not installed, ``store-newer`` when a newer Evenfoot has written it.
    """
    try:
        address = sa.make_url(url)
        if address.drivername in {"postgresql", "postgres"}:
            address = address.set(drivername="postgresql+pg8000")
        # Row locks are reckoned with at this level, whatever the server's own choice is.
        level = {} if address.get_backend_name() == "sqlite" else {"isolation_level": "READ COMMITTED"}
        engine = sa.create_engine(address, **level)
    except ModuleNotFoundError as error:
        missing = Fault(where="store", code="store-driver", found=str(error.name), allowed="pg8000")
        raise StoreError(missing) from error
    except (sa.exc.ArgumentError, sa.exc.NoSuchModuleError) as error:
        raise StoreError(Fault(where="store", code="store-unreachable", found=_plain(url))) from error
    _listen(engine)
    try:
        with _migrating:
            _migrate(engine)
    except _TROUBLE as error:
        raise StoreError(Fault(where="store", code="store-unreachable", found=_plain(url))) from error
    return engine


_TROUBLE = (sa.exc.SQLAlchemyError, OSError)
"""What a database and its driver raise when a place cannot be reached."""


def _plain(url: str) -> str:
    """Return an address without its password."""
    try:
        return sa.make_url(url).render_as_string(hide_password=True)
    except sa.exc.ArgumentError:
        return "?"


def _listen(engine: sa.Engine) -> None:
    """Set every new connection up, so that both kinds of database keep the same promises."""
    if engine.dialect.name == "sqlite":
        sa.event.listen(engine, "connect", _set_up_sqlite)
        sa.event.listen(engine, "begin", _begin_sqlite)
    else:
        sa.event.listen(engine, "connect", _set_up_server)
        sa.event.listen(engine, "checkout", _ping(engine.dialect))


def _set_up_sqlite(connection: Any, _record: Any) -> None:  # noqa: ANN401 - the driver's own types
    """Let readers and a writer share the file, and let nothing written be lost when the power fails."""
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in (f"busy_timeout={BUSY_S * 1000}", "synchronous=FULL", "foreign_keys=ON"):
        cursor.execute(f"PRAGMA {pragma}")
    _write_ahead(cursor)
    cursor.close()


def _write_ahead(cursor: sqlite3.Cursor) -> None:
    """Turn to write-ahead mode; that alone does not wait by itself while somebody else is making the same file."""
    last = monotonic() + BUSY_S
    while True:
        try:
            cursor.execute("PRAGMA journal_mode=WAL")
        except sqlite3.OperationalError:
            if monotonic() > last:
                raise
            sleep(0.02)
        else:
            return


def _begin_sqlite(connection: sa.Connection) -> None:
    """Take the write lock at the start, so that what was read is still so when it is written.

    Whoever only reads takes none, and sees one moment of the file. PostgreSQL has no such lock: there the row of the
    job is locked by whoever means to change it.
    """
    only_reads = connection.get_execution_options().get(READS, False)
    connection.exec_driver_sql("BEGIN" if only_reads else "BEGIN IMMEDIATE")


def _set_up_server(connection: Any, _record: Any) -> None:  # noqa: ANN401 - the driver's own types
    """Wait for a lock as long as SQLite does, and let a client that hangs in the middle hold nobody up for ever."""
    cursor = connection.cursor()
    cursor.execute(f"SET lock_timeout = '{BUSY_S}s'")
    cursor.execute("SET idle_in_transaction_session_timeout = '60s'")
    cursor.close()
    connection.commit()


def _ping(dialect: sa.Dialect) -> Callable[[Any, Any, Any], None]:
    """Return what tries a connection before it is used, so that one which the server has cut is made anew.

    The library's own ping does not take the plain OSError of pg8000 for a cut.
    """
    cut = (OSError, dialect.loaded_dbapi.Error)

    def ping(connection: Any, _record: Any, _proxy: Any) -> None:  # noqa: ANN401 - the driver's own types
        try:
            dialect.do_ping(connection)
        except cut as error:
            raise sa.exc.DisconnectionError from error

    return ping


def _migrate(engine: sa.Engine) -> None:
    """Bring the tables up to this version; of two programs that open a store at once the second finds it done."""
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory

    config = Config()
    config.set_main_option("script_location", str(files("evenfoot.store") / "migrations"))
    scripts = ScriptDirectory.from_config(config)
    known = {script.revision for script in scripts.walk_revisions()}
    newest = scripts.get_current_head()
    with engine.connect().execution_options(**{READS: True}) as connection:
        if _version(connection) == newest:
            return
    with engine.begin() as connection:
        if engine.dialect.name == "postgresql":
            connection.execute(sa.select(sa.func.pg_advisory_xact_lock(_MIGRATION_LOCK)))
        found = _version(connection)
        if found is not None and found not in known:
            raise StoreError(Fault(where="store", code="store-newer", found=found, allowed=max(known)))
        if found != newest:
            config.attributes["connection"] = connection
            command.upgrade(config, "head")


def _version(connection: sa.Connection) -> str | None:
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)
