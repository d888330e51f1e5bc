"""One group of pieces, cut at the least price: timber put into whole numbers, and the answer put back onto sticks."""

from __future__ import annotations

from collections import deque
from collections.abc import Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from evenfoot.cutting.lengths import Grid
from evenfoot.cutting.model import Piece
from evenfoot.cutting.supply import CENT, Source
from evenfoot.job import Yard
from evenfoot.solvers import cutstock

CENTS = 100
"""Prices are whole numbers of this part of the currency."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """One stick and the pieces that come from it, longest first."""

    source: Source
    pieces: tuple[Piece, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPlan:
    """The sticks of one group, what they cost at the low price, and the least that any plan costs.

    ``short`` are sticks that the yard would have to have more of; their pieces are on no other stick.
    """

    sticks: tuple[Sawn, ...]
    short: tuple[Sawn, ...]
    cost: Decimal
    bound: Decimal
    is_proved: bool


def grid_for(sources: Sequence[Source], yard: Yard) -> Grid:
    """Return the steps that a group is counted in."""
    return Grid.of((yard.kerf, yard.end_trim, *(source.length for source in sources)))


def cut_group(pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard, limits: cutstock.CutLimits) -> GroupPlan:
    """Return the cheapest sticks for ``pieces``, each of which suits one of ``sources``.

    In this order: low price; high price; fewer sticks, those of the rack first; a longer offcut that is kept.
    """
    grid = grid_for(sources, yard)
    classes = _classes(pieces, grid)
    items = [
        cutstock.CutItem(size=size + grid.up(yard.kerf), demand=len(members), grade=-rank)
        for (size, rank), members in classes.items()
    ]
    real = [_stock(source, yard, grid, len(pieces)) for source in sources]
    extra = _extra_sources(pieces, sources, grid)
    penalty = 1 + _most(real, len(pieces))
    wished = [replace(real[j], available=None, price=penalty) for j in extra]
    result = cutstock.solve_cutting(items, [*real, *wished], limits)
    keep = grid.up(yard.keep) + grid.up(yard.kerf)
    uses = cutstock.gather(items, [*real, *wished], result.uses, keep=keep)
    sticks, short = _deal(uses, list(classes.values()), sources, extra)
    too_many = penalty * len(short)
    return GroupPlan(
        sticks=sticks,
        short=short,
        cost=sum((s.source.low for s in sticks), Decimal(0)),
        bound=max(0, result.bound - too_many) * CENT,
        is_proved=result.is_proved,
    )


def _classes(pieces: Sequence[Piece], grid: Grid) -> dict[tuple[int, int], list[Piece]]:
    """Return pieces that are cut alike and look alike together, longest first."""
    classes: dict[tuple[int, int], list[Piece]] = {}
    for piece in pieces:
        classes.setdefault((grid.up(piece.length), piece.look.rank), []).append(piece)
    return dict(sorted(classes.items(), key=lambda entry: (-entry[0][0], entry[0][1])))


def _stock(source: Source, yard: Yard, grid: Grid, pieces: int) -> cutstock.CutStock:
    """Return a source in whole numbers; ``tie`` counts the high price first, then sticks, a new one twice."""
    a_stick = 1 if source.kind == "rack" else 2
    return cutstock.CutStock(
        size=source.usable(grid) + grid.up(yard.kerf),
        price=int(source.low * CENTS),
        available=source.available,
        grade=-source.look.rank,
        tie=int(source.high * CENTS) * (2 * pieces + 1) + a_stick,
    )


def _extra_sources(pieces: Sequence[Piece], sources: Sequence[Source], grid: Grid) -> list[int]:
    """Return the limited sources that a piece depends on because no endless one suits it."""
    needy = {
        (piece.length, piece.look): piece
        for piece in pieces
        if not any(s.available is None and s.suits(piece, grid) for s in sources)
    }
    return [
        j
        for j, source in enumerate(sources)
        if source.available is not None and any(source.suits(piece, grid) for piece in needy.values())
    ]


def _most(stocks: Sequence[cutstock.CutStock], pieces: int) -> int:
    """Return a price that no plan from these stocks exceeds."""
    dearest = max((s.price for s in stocks if s.available is None), default=0)
    return dearest * pieces + sum(s.price * min(s.available, pieces) for s in stocks if s.available is not None)


def _deal(
    uses: Sequence[cutstock.CutUse], classes: Sequence[Sequence[Piece]], sources: Sequence[Source], extra: Sequence[int]
) -> tuple[tuple[Sawn, ...], tuple[Sawn, ...]]:
    """Return the sticks with their pieces, and those that there are not enough of; marks in the order of the job.

    The rack first, then long sticks before short, full of long pieces first, so that equal sticks stand together.
    """
    waiting = [deque(members) for members in classes]
    count = len(sources)

    def order(use: cutstock.CutUse) -> tuple[bool, bool, float, int, tuple[int, ...]]:
        source = sources[use.stock if use.stock < count else extra[use.stock - count]]
        return (use.stock >= count, source.kind != "rack", -source.length, use.stock, tuple(-c for c in use.counts))

    sticks: list[Sawn] = []
    short: list[Sawn] = []
    for use in sorted(uses, key=order):
        is_short = use.stock >= count
        source = sources[extra[use.stock - count] if is_short else use.stock]
        for _ in range(use.times):
            pieces = tuple(waiting[k].popleft() for k, c in enumerate(use.counts) for _ in range(c))
            (short if is_short else sticks).append(Sawn(source=source, pieces=pieces))
    assert not any(waiting), "every piece stands on one stick"
    return tuple(sticks), tuple(short)
