"""Who is to be told that a job changed: every open page of it."""

from __future__ import annotations

import asyncio
from collections import defaultdict
from collections.abc import AsyncIterator
from dataclasses import dataclass
from enum import StrEnum

_BREATH = 15.0
"""Seconds after which a silent line says that it still stands."""
_KEPT = 20
"""News that wait for a slow listener; older ones make way, since the last one tells how things stand."""


class Kind(StrEnum):
    """What is told."""

    STATE = "state"
    """Another state of the job stands."""
    LOG = "log"
    """Lines came into its log."""
    BREATH = "breath"
    """Nothing happened; the line still stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One piece of news, with the digest of the state that stands (empty where that is not what is told)."""

    kind: Kind
    digest: str = ""


class News:
    """Passes on what happens to a job, to everybody who listens at that moment."""

    def __init__(self) -> None:
        """Begin with nobody listening."""
        self._lines: dict[int, set[asyncio.Queue[Item]]] = defaultdict(set)
        self._loop: asyncio.AbstractEventLoop | None = None
        self._is_closed = False

    def tell(self, job: int, kind: Kind, digest: str = "") -> None:
        """Tell every listener of a job; may be called from any thread."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._pass_on, job, Item(kind=kind, digest=digest))

    async def listen(self, job: int) -> AsyncIterator[Item]:
        """Yield what happens to a job, and a breath now and then while nothing does."""
        self._loop = asyncio.get_running_loop()
        line: asyncio.Queue[Item] = asyncio.Queue(maxsize=_KEPT)
        self._lines[job].add(line)
        try:
            while not self._is_closed:
                try:
                    yield await asyncio.wait_for(line.get(), _BREATH)
                except TimeoutError:
                    yield Item(kind=Kind.BREATH)
        finally:
            self._lines[job].discard(line)
            if not self._lines[job]:
                del self._lines[job]

    def close(self) -> None:
        """Let every listener go; may be called from a signal."""
        self._is_closed = True
        for job in list(self._lines):
            self.tell(job, Kind.BREATH)

    def _pass_on(self, job: int, item: Item) -> None:
        for line in self._lines.get(job, ()):
            if line.full():
                line.get_nowait()
            line.put_nowait(item)
