"""Where to saw: every stick with its pieces in running dimensions from the cleaner end, told by section and look."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from decimal import Decimal

from evenfoot.cutting.facts import HandStick
from evenfoot.cutting.group import GroupPlan, Sawn
from evenfoot.cutting.lengths import clear_runs
from evenfoot.cutting.model import Piece, PlacedCut, Rip, SectionPlan, Stick, Stretch
from evenfoot.cutting.saw.rips import split
from evenfoot.job import Yard

SPECK = 0.5
"""An offcut up to this long is sawdust [mm]."""

_Kind = tuple[int, str, str, str, float, float]


def lay_out(plan: GroupPlan, yard: Yard) -> tuple[SectionPlan, ...]:
    """Return the sticks of a group laid out for the saw, told by look, wood and sawn section.

    Sticks in hand and offcuts from the rack stand with the bought sticks of their look, where there are any.
    """
    bought = {_kind(sawn): None for sawn in plan.sticks if sawn.source.kind == "yard"}
    groups: dict[_Kind, list[Sawn]] = {}
    for sawn in plan.sticks:
        kind = _kind(sawn)
        if sawn.source.kind != "yard":
            kind = next((k for k in sorted(bought) if k[:3] == kind[:3]), kind)
        groups.setdefault(kind, []).append(sawn)
    gap = plan.cost - plan.bound
    sections = []
    for _, sawn_alike in sorted(groups.items()):
        cost = _cost(sawn_alike)
        share = min(gap, cost)
        gap -= share
        sections.append(_section(sawn_alike, yard, bound=cost - share, is_proved=plan.is_proved))
    return tuple(sections)


def _kind(sawn: Sawn) -> _Kind:
    source = sawn.source
    return (
        source.look.rank,
        source.species,
        source.strength_grade,
        source.label,
        source.rough_width,
        source.rough_depth,
    )


def _cost(sawn: Sequence[Sawn]) -> Decimal:
    return sum((s.source.low - s.kept_worth for s in sawn), Decimal(0))


def _section(sawn: Sequence[Sawn], yard: Yard, *, bound: Decimal, is_proved: bool) -> SectionPlan:
    told = next((s.source for s in sawn if s.source.kind == "yard"), sawn[0].source)
    piece = next(piece for s in sawn for piece in s.pieces)
    sticks = tuple(lay_stick(s, yard) for s in sawn)
    return SectionPlan(
        species=told.species,
        width=piece.width,
        depth=piece.depth,
        rough_width=told.rough_width,
        rough_depth=told.rough_depth,
        look=told.look,
        label=told.label,
        sticks=sticks,
        cost=_cost(sawn),
        bound=bound,
        is_proved=is_proved,
        net_length=math.fsum(stick.used for stick in sticks),
        bought_length=math.fsum(s.source.length for s in sawn),
        strength_grade=told.strength_grade,
        sold_by=told.sold_by.value,
    )


def lay_stick(sawn: Sawn, yard: Yard) -> Stick:
    """Return one stick with what is sawn from it already, then the cuts to come, and what is left between them."""
    source = sawn.source
    cuts: list[PlacedCut] = list(source.done)
    rests: list[Stretch] = []
    for (begin, finish), pieces in zip(source.runs, sawn.runs, strict=False):
        placed = tuple(_placed(begin, pieces, yard.kerf))
        cuts += placed
        at = placed[-1].finish + yard.kerf if placed else begin
        if finish - at > SPECK:
            rests.append((at, finish))
    kept = tuple((a, b) for a, b in rests if b - a >= yard.keep)
    return Stick(
        source=source.kind,
        length=source.length,
        cuts=tuple(sorted(cuts, key=lambda cut: cut.begin)),
        left_over=max((b - a for a, b in rests), default=0.0),
        is_kept=bool(kept),
        cost_low=source.low,
        cost_high=source.high,
        where=source.where,
        name=source.name,
        bad=source.bad,
        flaws=source.flaws,
        rests=tuple(rests),
        kept=kept,
        kept_worth=sawn.kept_worth,
        new_low=source.new_low,
        new_high=source.new_high,
    )


def lay_idle(stick: HandStick, yard: Yard) -> Stick:
    """Return a stick in hand that nothing more is cut from, with what is left of it."""
    rests = tuple(r for r in clear_runs(stick.free, stick.bad, kerf=yard.kerf) if r[1] - r[0] > SPECK)
    kept = tuple((a, b) for a, b in rests if b - a >= yard.keep)
    return Stick(
        source="hand",
        length=stick.length,
        cuts=tuple(sorted(stick.done, key=lambda cut: cut.begin)),
        left_over=max((b - a for a, b in rests), default=0.0),
        is_kept=bool(kept),
        cost_low=Decimal(0),
        cost_high=Decimal(0),
        where=stick.where,
        name=stick.name,
        bad=stick.bad,
        flaws=stick.flaws,
        rests=rests,
        kept=kept,
    )


def _placed(begin: float, pieces: Sequence[Piece], kerf: float) -> Iterator[PlacedCut]:
    """Yield the cuts of one clear run, a kerf apart."""
    at = begin
    for piece in pieces:
        rips = tuple(
            Rip(mark=p.mark, length=p.length, width=p.rip_width) for p in split((piece,)) if p.rip_width is not None
        )
        yield PlacedCut(mark=piece.mark, begin=at, finish=at + piece.length, rips=rips)
        at += piece.length + kerf
