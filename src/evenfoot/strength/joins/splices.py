"""What passes from piece to piece where a line of timber is spliced, and whether the splice bears it."""

from __future__ import annotations

from collections.abc import Sequence

import numpy as np

from evenfoot.checks import Check, Verdict, compare
from evenfoot.frame import Splice
from evenfoot.job import Job
from evenfoot.strength.findings import Batch, Peak
from evenfoot.strength.standards import Aim
from evenfoot.strength.statics import SAME, Rest, Spot, Statics


class Ties:
    """Gathers, case by case, the force across each tie between two ends."""

    def __init__(self, statics: Statics) -> None:
        self._statics = statics
        rests = statics.skeleton.lies_on
        self._ends = [self._free_end(rests, *tie) for tie in statics.skeleton.ties]
        self.across = Peak(len(self._ends))

    def _free_end(self, rests: Sequence[Sequence[Rest]], one: Spot, other: Spot) -> tuple[int, int]:
        """Return the element and the row of its end force at the end of a tie that has no bearing of its own."""
        number, at = next(
            (end for end in (one, other) if not any(abs(r.at - end[1]) < 2.0 + SAME for r in rests[end[0]])), one
        )
        first, last = self._statics.first_element[number], self._statics.first_element[number + 1] - 1
        return (int(first), 0) if at <= SAME else (int(last), 2)

    def take(self, batch: Batch) -> None:
        """Take in one load case."""
        if batch.case.aim is not Aim.STRENGTH or not self._ends:
            return
        row = np.full(len(self._statics.begin), -1, dtype=np.int64)
        seen = np.arange(len(row)) if batch.elements is None else batch.elements
        row[seen] = np.arange(len(seen))
        which = np.array([k for k, (element, _) in enumerate(self._ends) if row[element] >= 0], dtype=np.int64)
        if len(which):
            force = np.abs(np.array([batch.response.ends[row[self._ends[k][0]], self._ends[k][1]] for k in which]))
            self.across.offer(batch.case, force, force, which)

    def checks(self, job: Job, splices: Sequence[Splice]) -> list[Check]:
        """Return what is said of splices that pass a force, and of those where both pieces have their own bearing."""
        if not splices:
            return []
        if not self._ends:
            return [
                Check(subject="splices", rule="splices-borne", verdict=Verdict.OK, facts=(("places", len(splices)),))
            ]
        worst = int(np.argmax(self.across.ratio))
        demand = float(self.across.asked[worst])
        case = self.across.case(worst)
        number = self._statics.skeleton.ties[worst][0][0]
        subject = self._statics.skeleton.timbers[number].member.mark
        facts = (("places", len(self._ends)), ("demand_n", float(round(demand))))
        if not job.makers.splice:
            return [
                Check(
                    subject=subject,
                    rule="splices",
                    verdict=Verdict.NOT_CHECKED,
                    demand=demand,
                    unit="N",
                    case=case.code if case else "",
                    reason="splice-value-not-entered",
                    facts=facts,
                )
            ]
        return [
            compare(
                subject=subject,
                rule="splices-bear",
                demand=demand,
                capacity=job.makers.splice,
                unit="N",
                source=job.makers.where,
                case=case.code if case else "",
                remedy="stronger-splice",
                facts=(*facts, ("capacity_n", job.makers.splice)),
            )
        ]
