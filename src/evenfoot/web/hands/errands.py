"""Long errands: each in a process of its own, telling its stages, stopped at a word; one at a time, the rest wait."""

from __future__ import annotations

import os
import secrets
import threading
from collections import OrderedDict
from collections.abc import Callable
from dataclasses import dataclass, field
from enum import StrEnum
from multiprocessing import get_context
from multiprocessing.connection import Connection
from typing import Any

from evenfoot.errors import EvenfootError, Fault, RefusedError, StoreError
from evenfoot.web.hands.tether import tie

_KEPT = 12
"""Errands that are remembered; their results are kept in memory as long."""

_WAITING = 8
"""Errands that may wait or be at work at one time."""


class ErrandState(StrEnum):
    """How far an errand is."""

    WAITING = "waiting"
    AT_WORK = "at-work"
    DONE = "done"
    STOPPED = "stopped"
    WRONG = "wrong"


@dataclass(kw_only=True)
class Errand:
    """One errand: what it does for which job, the stage that it is at, and its result or its faults."""

    token: str
    job: int
    what: str
    state: ErrandState = ErrandState.WAITING
    stage: str = ""
    """The code of the stage; behind a blank, how many steps of it are done, where they are counted."""
    result: Any = None
    faults: tuple[Fault, ...] = ()
    work: tuple[Callable[..., Any], tuple[object, ...]] = field(repr=False)
    process: Any = field(default=None, repr=False)

    @property
    def is_over(self) -> bool:
        """Return whether nothing more will come of it."""
        return self.state in {ErrandState.DONE, ErrandState.STOPPED, ErrandState.WRONG}


class Errands:
    """Runs errands one after the other, so that quick looks stay quick."""

    def __init__(self) -> None:
        """Begin with nothing to do."""
        self._all: OrderedDict[str, Errand] = OrderedDict()
        self._guard = threading.Lock()
        self._turn = threading.Lock()

    def send(self, job: int, what: str, work: Callable[..., Any], *facts: object) -> Errand:
        """Begin ``work(*facts, on_stage=...)`` and return the errand; ``work`` must be a function of a module.

        Raises: RefusedError ``errands-too-many`` while as many wait as can be seen through in reasonable time.
        """
        errand = Errand(token=secrets.token_urlsafe(16), job=job, what=what, work=(work, facts))
        with self._guard:
            if sum(not one.is_over for one in self._all.values()) >= _WAITING:
                raise RefusedError(Fault(where="errand", code="errands-too-many", allowed=str(_WAITING)))
            self._all[errand.token] = errand
            for token in [t for t, one in self._all.items() if one.is_over][: max(0, len(self._all) - _KEPT)]:
                del self._all[token]
        threading.Thread(target=self._see_through, args=(errand,), daemon=True).start()
        return errand

    def find(self, token: str) -> Errand:
        """Return an errand; raises StoreError ``errand-unknown``."""
        with self._guard:
            found = self._all.get(token)
        if found is None:
            raise StoreError(Fault(where="errand", code="errand-unknown", found=token[:12]))
        return found

    def stop(self, token: str) -> Errand:
        """Stop an errand wherever it is, and return it."""
        errand = self.find(token)
        with self._guard:
            if not errand.is_over:
                errand.state = ErrandState.STOPPED
            if errand.process is not None:
                errand.process.terminate()
        return errand

    def close(self) -> None:
        """Stop everything."""
        for token in list(self._all):
            self.stop(token)

    def _see_through(self, errand: Errand) -> None:
        with self._turn:
            near, far = get_context("spawn").Pipe(duplex=False)
            with self._guard:
                if errand.is_over:
                    return
                work, facts = errand.work
                errand.process = get_context("spawn").Process(target=_run, args=(far, work, facts), daemon=True)
                errand.process.start()
                errand.state = ErrandState.AT_WORK
            far.close()
            _listen(near, errand)
            errand.process.join()


def _listen(near: Connection, errand: Errand) -> None:
    """Take down what the process tells, until it ends."""
    while True:
        try:
            kind, told = near.recv()
        except (EOFError, OSError):
            break
        if errand.state is not ErrandState.AT_WORK:
            continue
        if kind == "stage":
            errand.stage = told
        elif kind == "done":
            errand.result, errand.state = told, ErrandState.DONE
        else:
            errand.faults, errand.state = told, ErrandState.WRONG
    if errand.state is ErrandState.AT_WORK:
        errand.faults = (Fault(where="errand", code="errand-broke-off"),)
        errand.state = ErrandState.WRONG


def _run(far: Connection, work: Callable[..., Any], facts: tuple[object, ...]) -> None:
    """Do the work in the process of its own."""
    os.environ.setdefault("OPENBLAS_NUM_THREADS", "1")
    tie()
    try:
        result = work(*facts, on_stage=lambda stage: far.send(("stage", stage)))
    except EvenfootError as error:
        far.send(("wrong", error.faults))
    else:
        far.send(("done", result))
