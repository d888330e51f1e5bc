"""The cutting plan: pieces grouped by what they may be cut from, each group at the least price, laid out to saw."""

from __future__ import annotations

import math
from collections.abc import Sequence

from evenfoot.checks import Check
from evenfoot.cutting.advice import advise
from evenfoot.cutting.findings import sort_out, supply_short, unproved
from evenfoot.cutting.group import cut_group
from evenfoot.cutting.model import CuttingPlan, Piece, SectionPlan
from evenfoot.cutting.sticks import lay_out
from evenfoot.cutting.supply import group_of, sources_for
from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import Yard
from evenfoot.solvers import cutstock

LIMITS = cutstock.CutLimits(whole=160, work=300_000)
"""For one group: well under a second but for the hardest."""


def plan_cuts(pieces: Sequence[Piece], yard: Yard) -> CuttingPlan:
    """Return what to cut from which stick at the least price, with the proof or the bound.

    Goals in this order: low price; high price; fewer sticks, those of the rack first; a longer offcut that is kept.
    Only the first is proved. A piece that no stick gives is left out, and a failing check names it.

    Raises: OutOfRangeError for a length that is no number, and when stock is priced by what a stick has none of.
    """
    faults = [
        Fault(where=f"pieces[{n}].length", code="piece-length", found=f"{piece.length} mm", allowed="> 0 mm")
        for n, piece in enumerate(pieces)
        if not math.isfinite(piece.length)
    ]
    if faults:
        raise OutOfRangeError(*faults)
    groups: dict[object, list[Piece]] = {}
    for piece in pieces:
        groups.setdefault(group_of(piece), []).append(piece)
    sections: list[SectionPlan] = []
    checks: list[Check] = []
    left_out: list[Piece] = []
    for group in groups.values():
        made, found, out = _plan_group(group, yard)
        sections += made
        checks += found
        left_out += out
    return CuttingPlan(pieces=tuple(pieces), sections=tuple(sections), checks=tuple(checks), left_out=tuple(left_out))


def _plan_group(group: Sequence[Piece], yard: Yard) -> tuple[Sequence[SectionPlan], list[Check], list[Piece]]:
    sources = tuple(source for source in sources_for(group[0], yard) if source.available != 0)
    fitting, left_out, checks = sort_out(group, sources, yard)
    if not fitting:
        return (), checks, left_out
    plan = cut_group(fitting, sources, yard, LIMITS)
    checks += supply_short(plan)
    checks += unproved(fitting[0], plan)
    checks += advise(fitting, sources, yard, plan)
    left_out += [piece for sawn in plan.short for piece in sawn.pieces]
    return lay_out(fitting[0], plan, yard), checks, left_out
