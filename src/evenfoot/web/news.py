"""Who is to be told that a job changed: every open page of it, whoever changed it and by whichever program.

The store alone knows how a job stands. It is looked at once a second while anybody listens, and at once when this
program itself changed something, so that several programs over one store need not know of each other (note 162).
"""

from __future__ import annotations

import asyncio
from collections.abc import AsyncIterator, Callable, Iterator, Mapping
from dataclasses import dataclass
from enum import StrEnum

from evenfoot.errors import StoreError
from evenfoot.office import desk

_BREATH = 5.0
"""Seconds after which a silent line says that it still stands."""
_LOOK = 1.0
"""Seconds between two looks at the store."""

Look = Callable[[frozenset[int]], Mapping[int, desk.Head]]


class Kind(StrEnum):
    """What is told."""

    STATE = "state"
    """Another state of the job stands; told at the beginning as well, since it may have moved before."""
    LOG = "log"
    """Lines came into its log."""
    BREATH = "breath"
    """Nothing happened; the line still stands."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Item:
    """One piece of news, with how the job stands (None for a breath)."""

    kind: Kind
    head: desk.Head | None = None


class _Listener:
    """One open page: how the job stood when it was told last, and how it stands now."""

    def __init__(self, job: int) -> None:
        self.job = job
        self.told: desk.Head | None = None
        self.head: desk.Head | None = None
        self.moved = asyncio.Event()

    def hear(self, head: desk.Head) -> None:
        if head != self.head:
            self.head = head
            self.moved.set()

    def items(self) -> Iterator[Item]:
        self.moved.clear()
        before, now = self.told, self.head
        self.told = now
        if now is None:
            return
        if before is None or before.digest != now.digest:
            yield Item(kind=Kind.STATE, head=now)
        if before is not None and before.lines != now.lines:
            yield Item(kind=Kind.LOG, head=now)


class News:
    """Looks how jobs stand and passes on what moved, to everybody who listens at that moment."""

    def __init__(self, look: Look) -> None:
        """Take what tells how some jobs stand; begin with nobody listening."""
        self._look = look
        self._listeners: set[_Listener] = set()
        self._loop: asyncio.AbstractEventLoop | None = None
        self._wake = asyncio.Event()
        self._watch: asyncio.Task[None] | None = None
        self._is_closed = False

    def look_again(self) -> None:
        """Look at the store at once; may be called from any thread."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._wake.set)

    async def listen(self, job: int) -> AsyncIterator[Item]:
        """Yield how a job stands, what happens to it, and a breath now and then while nothing does."""
        self._loop = asyncio.get_running_loop()
        listener = _Listener(job)
        self._listeners.add(listener)
        self._wake.set()
        if self._watch is None or self._watch.done():
            self._watch = asyncio.create_task(self._watch_over())
        try:
            while not self._is_closed:
                try:
                    await asyncio.wait_for(listener.moved.wait(), _BREATH)
                except TimeoutError:
                    yield Item(kind=Kind.BREATH)
                else:
                    for item in listener.items():
                        yield item
        finally:
            self._listeners.discard(listener)

    def close(self) -> None:
        """Let every listener go; may be called from a signal."""
        self._is_closed = True
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._let_go)

    def _let_go(self) -> None:
        self._wake.set()
        for listener in self._listeners:
            listener.moved.set()

    async def _watch_over(self) -> None:
        """Look how the jobs of all listeners stand, until there are none."""
        while self._listeners and not self._is_closed:
            self._wake.clear()
            try:
                found = await asyncio.to_thread(self._look, frozenset(one.job for one in self._listeners))
            except StoreError:
                found = {}  # it is busy or away: the next look tells
            for listener in self._listeners:
                if listener.job in found:
                    listener.hear(found[listener.job])
            try:
                await asyncio.wait_for(self._wake.wait(), _LOOK)
            except TimeoutError:
                continue
