"""Every test of the store runs on both databases: a SQLite file, and a real PostgreSQL server started here."""

from __future__ import annotations

import os
import pwd
import shutil
import socket
import subprocess
import tempfile
from collections.abc import Iterator
from pathlib import Path

import pytest
import sqlalchemy as sa


def program(name: str) -> str:
    """Where a program of PostgreSQL stands: in PATH, or where Debian puts it, the newest first."""
    homes = sorted(Path("/usr/lib/postgresql").glob("*/bin"), key=lambda home: int(home.parent.name), reverse=True)
    found = next((str(home / name) for home in homes if (home / name).exists()), None) or shutil.which(name)
    if found is None:
        pytest.fail(
            f"{name} is missing: install postgresql (Debian, Ubuntu: apt-get install postgresql)", pytrace=False
        )
    return found


def keeper() -> str | None:
    """Whose the server is: PostgreSQL refuses to run as root."""
    if os.getuid() != 0:
        return None
    names = {entry.pw_name for entry in pwd.getpwall()}
    return "postgres" if "postgres" in names else "nobody"


def free_port() -> int:
    with socket.socket() as asked:
        asked.bind(("127.0.0.1", 0))
        return int(asked.getsockname()[1])


@pytest.fixture(scope="session")
def server() -> Iterator[str]:
    """The address of a database on a PostgreSQL server that lives as long as the tests."""
    initdb, pg_ctl, owner = program("initdb"), program("pg_ctl"), keeper()
    home, port = Path(tempfile.mkdtemp(prefix="evenfoot-pg-", dir="/tmp")), free_port()
    if owner is not None:
        shutil.chown(home, owner)
    data, log = home / "data", home / "log"

    def run(*command: str) -> None:
        done = subprocess.run(
            command, user=owner, cwd=home, capture_output=True, text=True, check=False, stdin=subprocess.DEVNULL
        )
        told = log.read_text() if log.exists() else ""
        assert done.returncode == 0, f"{command[0]}: {done.stdout}{done.stderr}{told}"

    options = f"-p {port} -k {home} -c listen_addresses=127.0.0.1 -c fsync=off -c max_connections=60"
    try:
        run(initdb, "-D", str(data), "-A", "trust", "-U", "evenfoot", "-E", "UTF8", "--locale=C", "--no-sync")
        run(pg_ctl, "-D", str(data), "-l", str(log), "-o", options, "-w", "start")
        yield f"postgresql+pg8000://evenfoot@127.0.0.1:{port}/postgres"
    finally:
        if (data / "postmaster.pid").exists():
            run(pg_ctl, "-D", str(data), "-m", "immediate", "-w", "stop")
        shutil.rmtree(home, ignore_errors=True)


@pytest.fixture(params=["sqlite", "postgresql"])
def url(request: pytest.FixtureRequest, tmp_path: Path) -> str:
    """The address of an empty store, on each kind of database."""
    if request.param == "sqlite":
        return f"sqlite:///{tmp_path / 'jobs.db'}"
    found = str(request.getfixturevalue("server"))
    with sa.create_engine(found, isolation_level="AUTOCOMMIT", poolclass=sa.NullPool).connect() as link:
        # What an earlier test left open would hold its tables.
        others = "SELECT pg_terminate_backend(pid) FROM pg_stat_activity WHERE datname = current_database()"
        link.execute(sa.text(f"{others} AND pid <> pg_backend_pid()"))
        link.execute(sa.text("DROP SCHEMA public CASCADE"))
        link.execute(sa.text("CREATE SCHEMA public"))
    return found
