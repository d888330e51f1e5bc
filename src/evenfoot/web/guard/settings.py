"""What the guard has to know of how the page is served."""

from __future__ import annotations

from dataclasses import dataclass
from ipaddress import IPv4Address, IPv6Address, ip_address

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

    def knows_host(self, host: str, reached: str = "") -> bool:
        """Return whether a ``Host`` header names this machine.

        Once others may come, the bare address at which the request ``reached`` it is a name too: a page elsewhere that
        would have its own name point here still calls this machine by that name, never by the address.
        """
        name = name_of(host)
        if name in LOOPBACK_NAMES:
            return True
        if self.is_loopback_only:
            return False
        return name in {name_of(other) for other in self.allowed_hosts} or _is_address(name, reached)


def name_of(host: str) -> str:
    """Return the name in a ``Host`` header without its port, small, without brackets or a final dot."""
    host = host.strip().lower()
    if host.startswith("["):
        return host[1:].partition("]")[0]
    name = host if host.count(":") > 1 else host.partition(":")[0]
    return name.removesuffix(".")


def is_loopback(address: str) -> bool:
    """Return whether an address is the machine's own: 127.0.0.0/8 or ::1, also written as IPv4 inside IPv6."""
    found = _address(address)
    return found is not None and found.is_loopback


def _is_address(name: str, reached: str) -> bool:
    found = _address(name)
    return found is not None and found == _address(reached)


def _address(text: str) -> IPv4Address | IPv6Address | None:
    """Return an address, IPv4 inside IPv6 as plain IPv4; None when the text is none."""
    try:
        found = ip_address(text.partition("%")[0])
    except ValueError:
        return None
    return (found.ipv4_mapped or found) if isinstance(found, IPv6Address) else found
