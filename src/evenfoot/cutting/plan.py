"""The cutting plan: pieces grouped by what they may be cut from, each group at the least price, laid out to saw."""

from __future__ import annotations

import math
from collections.abc import Sequence
from dataclasses import replace
from decimal import Decimal

from evenfoot.checks import Check
from evenfoot.cutting.advice import advise
from evenfoot.cutting.facts import HandStick, settle
from evenfoot.cutting.findings import idle_sticks, in_the_way, served_by, sort_out, supply_short, unproved
from evenfoot.cutting.group import GroupPlan, cut_group
from evenfoot.cutting.model import CuttingPlan, Piece, SectionPlan
from evenfoot.cutting.saw.rips import is_surely_least, least_rips, pair_rips, split
from evenfoot.cutting.saw.sticks import lay_idle, lay_out
from evenfoot.cutting.supply import Source, groups, sources_for
from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import LogLine, Yard
from evenfoot.solvers import cutstock

LIMITS = cutstock.CutLimits(whole=160, work=300_000, program_nodes=0)
"""For one group: well under a second but for the hardest."""
WORK_OF_A_NODE = 1_000
"""A node, as a person counts them, stands for a million multiplications of the search: about a millisecond."""


PROGRAM_NODES = 300
"""From so many nodes on, the outside program may look for a plan too."""


def _limits(nodes: int) -> cutstock.CutLimits:
    program = PROGRAM_NODES if nodes >= PROGRAM_NODES else 0
    return replace(LIMITS, work=nodes * WORK_OF_A_NODE, program_nodes=program)


def plan_cuts(
    pieces: Sequence[Piece], yard: Yard, facts: Sequence[LogLine] = (), nodes: int | None = None
) -> CuttingPlan:
    """Return what to cut from which stick at the least price, with the proof or the bound.

    Goals in this order: low price, less what kept offcuts count for; high price; sticks in hand and offcuts before new
    timber; the goals of the yard. Only the first is proved. A piece that no stick gives is left out, and a failing
    check names it. ``facts`` are the log's lines on timber: what they say is sawn stays where it was sawn. ``nodes``
    is how far the search for a proof goes in each group; None for as far as a plan of a whole job goes.

    Raises: OutOfRangeError for a length that is no number, and when stock is priced by what a stick has none of.
    """
    faults = [
        Fault(where=f"pieces[{n}].length", code="piece-length", found=f"{piece.length} mm", allowed="> 0 mm")
        for n, piece in enumerate(pieces)
        if not math.isfinite(piece.length)
    ]
    if faults:
        raise OutOfRangeError(*faults)
    settled = settle(facts, pieces, yard)
    work = _Work(yard, settled.sticks, LIMITS if nodes is None else _limits(nodes))
    for group, is_apart in groups(settled.to_cut, yard, settled.sticks):
        work.add(group, is_apart=is_apart)
    used = {stick.name for section in work.sections for stick in section.sticks}
    idle = tuple(lay_idle(stick, yard) for stick in settled.sticks if stick.name not in used)
    return CuttingPlan(
        pieces=tuple(pieces),
        sections=tuple(work.sections),
        checks=(*settled.checks, *work.checks, *idle_sticks(idle)),
        left_out=tuple(work.left_out),
        done=settled.done,
        idle=idle,
    )


class _Work:
    """The plan as it grows, group by group."""

    def __init__(self, yard: Yard, hand: Sequence[HandStick], limits: cutstock.CutLimits) -> None:
        self.yard, self.hand, self.limits = yard, hand, limits
        self.sections: list[SectionPlan] = []
        self.checks: list[Check] = []
        self.left_out: list[Piece] = []

    def add(self, group: Sequence[Piece], *, is_apart: bool) -> None:
        """Plan one group; one that shares sticks with others without being planned with them is not proved."""
        yard = self.yard
        every = sources_for(group, yard, self.hand)
        sources = tuple(source for source in every if source.available != 0)
        fitting, left_out, checks = sort_out(group, sources, yard)
        self.left_out += left_out
        self.checks += checks
        if not fitting:
            return
        paired = pair_rips(fitting, kerf=yard.kerf, can_be_cut=served_by(sources, yard))
        plan = self._cut(fitting, paired, sources)
        if not is_apart:
            plan = replace(plan, bound=Decimal(0), is_proved=not plan.cost)
        self.checks += supply_short(plan)
        self.checks += in_the_way(plan)
        self.left_out += split(plan.unserved)
        self.checks += unproved(fitting[0], plan)
        self.checks += advise(paired, sources, yard, plan)
        self.left_out += [piece for sawn in plan.short for piece in split(sawn.pieces)]
        self.sections += lay_out(plan, yard)

    def _cut(self, pieces: Sequence[Piece], paired: Sequence[Piece], sources: Sequence[Source]) -> GroupPlan:
        """Return the cheapest plan of the pieces as ``paired``; proved only where no other pairing could do better."""
        plan = cut_group(paired, sources, self.yard, self.limits)
        if is_surely_least(pieces, kerf=self.yard.kerf):
            return plan
        least = cut_group(least_rips(pieces), sources, self.yard, self.limits)
        bound = min(plan.cost, least.bound) if len(least.short) == len(plan.short) else Decimal(0)
        return replace(plan, bound=bound, is_proved=bound == plan.cost)
