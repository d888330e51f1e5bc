"""Where to saw: every stick with its pieces in running dimensions from the cleaner end, told by section and look."""

from __future__ import annotations

import math
from collections.abc import Sequence
from decimal import Decimal

from evenfoot.cutting.group import GroupPlan, Sawn
from evenfoot.cutting.model import Piece, PlacedCut, SectionPlan, Stick
from evenfoot.job import Yard

SPECK = 0.5
"""An offcut up to this long is sawdust [mm]."""

_Kind = tuple[int, str, float, float]


def lay_out(piece: Piece, plan: GroupPlan, yard: Yard) -> tuple[SectionPlan, ...]:
    """Return the sticks of a group (``piece`` is one of it) laid out for the saw, told by look and rough section.

    Offcuts from the rack stand with the bought sticks of their look, where there are any.
    """
    bought = {_kind(sawn): None for sawn in plan.sticks if sawn.source.kind != "rack"}
    groups: dict[_Kind, list[Sawn]] = {}
    for sawn in plan.sticks:
        kind = _kind(sawn)
        if sawn.source.kind == "rack":
            kind = next((k for k in sorted(bought) if k[0] == kind[0]), kind)
        groups.setdefault(kind, []).append(sawn)
    gap = plan.cost - plan.bound
    sections = []
    for _, sawn_alike in sorted(groups.items()):
        cost = sum((sawn.source.low for sawn in sawn_alike), Decimal(0))
        share = min(gap, cost)
        gap -= share
        sections.append(_section(piece, sawn_alike, yard, bound=cost - share, is_proved=plan.is_proved))
    return tuple(sections)


def _kind(sawn: Sawn) -> _Kind:
    source = sawn.source
    return (source.look.rank, source.label, source.rough_width, source.rough_depth)


def _section(piece: Piece, sawn: Sequence[Sawn], yard: Yard, *, bound: Decimal, is_proved: bool) -> SectionPlan:
    told = next((s.source for s in sawn if s.source.kind != "rack"), sawn[0].source)
    return SectionPlan(
        species=piece.species,
        width=piece.width,
        depth=piece.depth,
        rough_width=told.rough_width,
        rough_depth=told.rough_depth,
        look=told.look,
        label=told.label,
        sticks=tuple(_stick(s, yard) for s in sawn),
        cost=sum((s.source.low for s in sawn), Decimal(0)),
        bound=bound,
        is_proved=is_proved,
        net_length=math.fsum(p.length for s in sawn for p in s.pieces),
        bought_length=math.fsum(s.source.length for s in sawn),
        strength_grade=piece.strength_grade,
    )


def _stick(sawn: Sawn, yard: Yard) -> Stick:
    source = sawn.source
    cuts: list[PlacedCut] = []
    at = source.first_trim
    for piece in sawn.pieces:
        cuts.append(PlacedCut(mark=piece.mark, begin=at, finish=at + piece.length))
        at += piece.length + yard.kerf
    rest = source.length - source.far_trim - at
    left_over = rest if rest > SPECK else 0.0
    return Stick(
        source=source.kind,
        length=source.length,
        cuts=tuple(cuts),
        left_over=left_over,
        is_kept=left_over > 0 and left_over >= yard.keep,
        cost_low=source.low,
        cost_high=source.high,
        where=source.where,
    )
