"""How one page is run: where its jobs are kept, who may reach it, how many hands reckon."""

from __future__ import annotations

import os
from dataclasses import dataclass
from pathlib import Path

from evenfoot.web import guard


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """What ``evenfoot serve`` was asked for. Loopback only, unless ``host`` says otherwise."""

    store_url: str
    host: str = "127.0.0.1"
    port: int = 8410
    hands: int = max(1, min(8, os.cpu_count() or 1))
    has_people: bool = False
    """A firm with several crews: everybody signs in."""
    certificate: Path | None = None
    key: Path | None = None
    names: tuple[str, ...] = ()
    """Names and addresses by which others may call this computer."""

    @property
    def guard(self) -> guard.Settings:
        """What the guard has to know."""
        return guard.Settings(
            is_loopback_only=self.is_loopback_only,
            allowed_hosts=self.names,
            has_people=self.has_people,
            is_https=self.is_https,
        )

    @property
    def is_loopback_only(self) -> bool:
        """Return whether nobody but this computer can reach the page."""
        return self.host in {"127.0.0.1", "::1", "localhost"}

    @property
    def is_https(self) -> bool:
        """Return whether the page speaks https with the firm's own certificate."""
        return self.certificate is not None


def usual_store() -> str:
    """Return the address of the store in the person's own data folder, made when it is not there."""
    base = os.environ.get("XDG_DATA_HOME") or (Path.home() / ".local" / "share")
    folder = Path(base) / "evenfoot"
    folder.mkdir(parents=True, exist_ok=True)
    return f"sqlite:///{folder / 'jobs.db'}"
