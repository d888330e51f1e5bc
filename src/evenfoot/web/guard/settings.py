"""What the guard has to know of how the page is served."""

from __future__ import annotations

from dataclasses import dataclass
from ipaddress import ip_address

LOOPBACK_NAMES = ("localhost", "127.0.0.1", "::1")
"""Names by which a machine calls itself."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Settings:
    """How the page is served.

    ``allowed_hosts`` are the names and addresses, without ports, by which others may call this machine, such as
    ``192.168.1.20``; loopback names always may be used. ``body_limit`` is the most that one request may bring [bytes].
    """

    is_loopback_only: bool = True
    allowed_hosts: tuple[str, ...] = ()
    has_people: bool = False
    is_https: bool = False
    body_limit: int = 1_000_000

    def knows_host(self, host: str) -> bool:
        """Return whether a ``Host`` header names this machine."""
        name = name_of(host)
        others = () if self.is_loopback_only else self.allowed_hosts
        return name in LOOPBACK_NAMES or name in {name_of(other) for other in others}


def name_of(host: str) -> str:
    """Return the name in a ``Host`` header without its port, small, without brackets or a final dot."""
    host = host.strip().lower()
    if host.startswith("["):
        return host[1:].partition("]")[0]
    name = host if host.count(":") > 1 else host.partition(":")[0]
    return name.removesuffix(".")


def is_loopback(address: str) -> bool:
    """Return whether an address is the machine's own: 127.0.0.0/8 or ::1, also written as IPv4 inside IPv6."""
    try:
        found = ip_address(address.partition("%")[0])
    except ValueError:
        return False
    mapped = getattr(found, "ipv4_mapped", None)
    return bool((mapped or found).is_loopback)
