"""Sees every load case pass by, and tells afterwards of splices, ledgers and how the floor feels."""

from __future__ import annotations

from collections.abc import Iterator

from evenfoot.checks import Check
from evenfoot.frame import Frame
from evenfoot.job import Job
from evenfoot.solvers import grillage
from evenfoot.strength.comfort import Lowest, check_feel
from evenfoot.strength.findings import Batch
from evenfoot.strength.joins import Ties, check_ledger
from evenfoot.strength.loads import Share, board_edges
from evenfoot.strength.sags import find_spans
from evenfoot.strength.statics import Statics


class Witness:
    """Takes in load cases on their way to others."""

    def __init__(self, statics: Statics) -> None:
        self._statics = statics
        self._lowest = Lowest(statics)
        self._ties = Ties(statics)

    def watch(self, batches: Iterator[Batch]) -> Iterator[Batch]:
        """Yield the load cases as they come."""
        for batch in batches:
            self._lowest.take(batch)
            self._ties.take(batch)
            yield batch

    def checks(self, job: Job, frame: Frame, prepared: grillage.Prepared, share: Share) -> tuple[Check, ...]:
        """Return what was seen, once every load case has passed."""
        edges = board_edges(frame, job.floor)
        return (
            *self._ties.checks(job, frame.splices),
            *check_ledger(job, length=edges.x[1] - edges.x[0], joist_spans=self._joist_spans()),
            *check_feel(self._statics, prepared, share, self._lowest.spot),
        )

    def _joist_spans(self) -> list[float]:
        """Return the spans of the joists that run out from the wall [mm]."""
        timbers = self._statics.skeleton.timbers
        return [
            s.length
            for s in find_spans(self._statics)
            if not s.is_overhang and timbers[s.timber].is_joist and timbers[s.timber].member.axis == "y"
        ]
