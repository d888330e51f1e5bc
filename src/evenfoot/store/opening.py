"""How a store is opened: one SQLite file by default, PostgreSQL by its address; brought up to date on the way."""

from __future__ import annotations

from importlib.resources import files
from typing import Any

import sqlalchemy as sa

from evenfoot.errors import Fault, StoreError


def open_engine(url: str) -> sa.Engine:
    """Return a connection pool whose tables are those of this version.

    Raises: StoreError ``store-unreachable`` when nothing can be opened there, ``store-newer`` when a newer Evenfoot
    has written it.
    """
    try:
        engine = sa.create_engine(url, pool_pre_ping=not url.startswith("sqlite"))
    except (sa.exc.ArgumentError, sa.exc.NoSuchModuleError, ModuleNotFoundError) as error:
        raise StoreError(Fault(where="store", code="store-unreachable", found=_plain(url))) from error
    if engine.dialect.name == "sqlite":
        sa.event.listen(engine, "connect", _set_up_sqlite)
        sa.event.listen(engine, "begin", _begin_at_once)
    try:
        _migrate(engine)
    except sa.exc.SQLAlchemyError as error:
        raise StoreError(Fault(where="store", code="store-unreachable", found=_plain(url))) from error
    return engine


def _plain(url: str) -> str:
    """Return an address without its password."""
    try:
        return sa.make_url(url).render_as_string(hide_password=True)
    except sa.exc.ArgumentError:
        return "?"


def _set_up_sqlite(connection: Any, _record: Any) -> None:  # noqa: ANN401 - the driver's own types
    """Let readers and a writer share the file, and let nothing written be lost when the power fails."""
    connection.isolation_level = None
    cursor = connection.cursor()
    for pragma in ("journal_mode=WAL", "synchronous=FULL", "foreign_keys=ON", "busy_timeout=10000"):
        cursor.execute(f"PRAGMA {pragma}")
    cursor.close()


def _begin_at_once(connection: sa.Connection) -> None:
    """Take the write lock at the start, so that what was read is still so when it is written."""
    connection.exec_driver_sql("BEGIN IMMEDIATE")


def _migrate(engine: sa.Engine) -> None:
    """Bring the tables up to this version."""
    from alembic import command
    from alembic.config import Config
    from alembic.script import ScriptDirectory
    from alembic.util import CommandError

    config = Config()
    config.set_main_option("script_location", str(files("evenfoot.store") / "migrations"))
    known = {script.revision for script in ScriptDirectory.from_config(config).walk_revisions()}
    with engine.connect() as connection:
        found = _version(connection)
    if found is not None and found not in known:
        raise StoreError(Fault(where="store", code="store-newer", found=found, allowed=max(known)))
    with engine.begin() as connection:
        config.attributes["connection"] = connection
        try:
            command.upgrade(config, "head")
        except CommandError as error:
            raise StoreError(Fault(where="store", code="store-newer", found=str(found))) from error


def _version(connection: sa.Connection) -> str | None:
    if not sa.inspect(connection).has_table("alembic_version"):
        return None
    found = connection.execute(sa.text("SELECT version_num FROM alembic_version")).scalar()
    return None if found is None else str(found)
