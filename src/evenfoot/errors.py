"""What stops the work: faults as facts, and the one family of exceptions that carries them."""

from __future__ import annotations

from collections.abc import Iterator
from contextlib import contextmanager
from dataclasses import dataclass, replace


@dataclass(frozen=True, slots=True, kw_only=True)
class Fault:
    """One thing that is wrong, where it is, and what would be right.

    Facts only: the room ``words`` makes the sentence from ``fault.<code>``.
    ``found`` is as typed, with its unit; ``allowed`` and ``nearest`` are values, not prose.
    """

    where: str
    code: str
    found: str = ""
    allowed: str = ""
    nearest: str = ""
    line: int | None = None
    column: int | None = None
    source: str = ""


class EvenfootError(Exception):
    """The base of everything that Evenfoot raises on purpose; carries at least one fault."""

    def __init__(self, *faults: Fault) -> None:
        """Keep the faults; an error without one is a broken invariant."""
        assert faults, "an error needs a fault"
        super().__init__(*faults)
        self.faults: tuple[Fault, ...] = faults

    @property
    def fault(self) -> Fault:
        """The first fault, for errors that hold a single one."""
        return self.faults[0]

    def __str__(self) -> str:
        """Return a terse line for logs and test output; people get ``words``."""
        return "; ".join(
            f"{f.where}: {f.code} (found {f.found!r}, allowed {f.allowed!r}, nearest {f.nearest!r})"
            for f in self.faults
        )

    def __eq__(self, other: object) -> bool:
        """Compare by kind and facts."""
        return type(self) is type(other) and self.faults == getattr(other, "faults", None)

    def __hash__(self) -> int:
        """Hash by kind and facts."""
        return hash((type(self), self.faults))


class JobFileError(EvenfootError):
    """All faults of one reading of a job, shop or log file."""


class OutOfRangeError(EvenfootError):
    """A value lies outside the range in which a rule or method is valid."""


class NoSolutionError(EvenfootError):
    """What was asked cannot be had; the fault names the limit that binds."""


class ConflictError(EvenfootError):
    """A file changed since it was read."""


class StoreError(EvenfootError):
    """A file or store cannot be read or written."""


class RefusedError(EvenfootError):
    """Whoever asks may not have this: unknown, not signed in, not allowed, or asking in a way that is not safe."""


def _join(prefix: str, where: str) -> str:
    if not where:
        return prefix
    return f"{prefix}{where}" if where.startswith("[") else f"{prefix}.{where}"


@contextmanager
def at(prefix: str) -> Iterator[None]:
    """Put the path ``prefix`` in front of the place named by any Evenfoot error raised inside."""
    try:
        yield
    except EvenfootError as error:
        moved = tuple(replace(f, where=_join(prefix, f.where)) for f in error.faults)
        raise type(error)(*moved) from error
