"""Quick looks: each job has its own hand, a process that remembers it; an older look makes way for a newer one."""

from __future__ import annotations

import asyncio
import os
from collections import OrderedDict
from collections.abc import Callable
from concurrent.futures import Executor, ProcessPoolExecutor
from concurrent.futures.process import BrokenProcessPool
from itertools import count
from multiprocessing import get_context
from typing import TypeVar

from evenfoot.errors import EvenfootError, Fault
from evenfoot.web.hands.tether import tie
from evenfoot.web.hands.work import warm_up

Result = TypeVar("Result")
_SEATS = 10_000
"""Seats whose last ticket is remembered."""


class SupersededError(EvenfootError):
    """A newer look came from the same seat before this one began."""


class Hands:
    """As many processes as asked for; what one job asks goes to one of them, in order."""

    def __init__(self, number: int) -> None:
        """Take how many processes reckon."""
        self._hands = tuple(_Hand() for _ in range(number))
        self._patient = _Hand()
        self._tickets = count()
        self._latest: OrderedDict[str, int] = OrderedDict()
        self._is_ending = False

    async def ask(self, job: int, work: Callable[..., Result], *facts: object, seat: str = "") -> Result:
        """Return ``work(*facts)``, done by the hand of ``job``.

        With a ``seat`` (one person's open page) only its newest question is answered.
        Raises: SupersededError when a newer one came from the same seat while this one waited.
        """
        ticket = next(self._tickets)
        if seat:
            self._latest[seat] = ticket
            self._latest.move_to_end(seat)
            if len(self._latest) > _SEATS:
                self._latest.popitem(last=False)
        hand = self._hands[job % len(self._hands)]
        try:
            async with hand.turn:
                if seat and self._latest.get(seat) != ticket:
                    raise SupersededError(Fault(where="look", code="look-superseded"))
                return await hand.do(work, *facts)
        except asyncio.CancelledError as cut:
            if not self._is_ending:
                raise
            # The program is ended while somebody looks: nobody waits for the answer any more.
            raise SupersededError(Fault(where="look", code="look-superseded")) from cut

    def let_go(self) -> None:
        """Say that the program ends: looks that are cut off from now on are no fault. May be called from a signal."""
        self._is_ending = True

    async def ask_in_peace(self, work: Callable[..., Result], *facts: object) -> Result:
        """Return ``work(*facts)``, done by a hand that takes its time, so that looks stay quick."""
        async with self._patient.turn:
            return await self._patient.do(work, *facts)

    async def warm_up(self) -> None:
        """Let every hand load what it needs before the first question comes."""
        await asyncio.gather(*(hand.do(warm_up) for hand in self._hands))

    def close(self) -> None:
        """Send the hands home."""
        for hand in (*self._hands, self._patient):
            hand.close()


class _Hand:
    """One process, and whose turn it is."""

    def __init__(self) -> None:
        self.turn = asyncio.Lock()
        self._process: Executor = _process()

    async def do(self, work: Callable[..., Result], *facts: object) -> Result:
        loop = asyncio.get_running_loop()
        try:
            return await loop.run_in_executor(self._process, work, *facts)
        except BrokenProcessPool:  # killed from outside, such as by a system out of memory: begin anew, once
            self._process = _process()
            return await loop.run_in_executor(self._process, work, *facts)

    def close(self) -> None:
        self._process.shutdown(wait=False, cancel_futures=True)


def _process() -> Executor:
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    os.environ.setdefault("OMP_NUM_THREADS", "1")
    return ProcessPoolExecutor(max_workers=1, mp_context=get_context("spawn"), initializer=tie)
