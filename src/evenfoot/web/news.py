"""Who is to be told that a job changed: every open page of it."""

from __future__ import annotations

import asyncio
from collections import defaultdict
from collections.abc import AsyncIterator

_BREATH = 15.0
"""Seconds after which a silent line says that it still stands."""


class News:
    """Passes on what happens to a job, to everybody who listens at that moment."""

    def __init__(self) -> None:
        """Begin with nobody listening."""
        self._lines: dict[int, set[asyncio.Queue[str]]] = defaultdict(set)
        self._loop: asyncio.AbstractEventLoop | None = None
        self._is_closed = False

    def tell(self, job: int, digest: str) -> None:
        """Tell every listener of a job which state stands now; may be called from any thread."""
        if self._loop is not None:
            self._loop.call_soon_threadsafe(self._pass_on, job, digest)

    async def listen(self, job: int) -> AsyncIterator[str]:
        """Yield each state that comes to stand, and an empty text now and then while nothing happens."""
        self._loop = asyncio.get_running_loop()
        line: asyncio.Queue[str] = asyncio.Queue(maxsize=20)
        self._lines[job].add(line)
        try:
            while not self._is_closed:
                try:
                    yield await asyncio.wait_for(line.get(), _BREATH)
                except TimeoutError:
                    yield ""
        finally:
            self._lines[job].discard(line)
            if not self._lines[job]:
                del self._lines[job]

    def close(self) -> None:
        """Let every listener go."""
        self._is_closed = True
        for job in list(self._lines):
            self._pass_on(job, "")

    def _pass_on(self, job: int, digest: str) -> None:
        for line in self._lines.get(job, ()):
            if line.full():
                line.get_nowait()
            line.put_nowait(digest)
