"""One group of pieces, cut at the least price: timber put into whole numbers, and the answer put back onto sticks."""

from __future__ import annotations

from collections import deque
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import Decimal

from evenfoot.cutting.lengths import Grid
from evenfoot.cutting.model import Piece
from evenfoot.cutting.supply import Source, through_flaws
from evenfoot.job import Yard, kinds
from evenfoot.solvers import cutstock

CENTS = 100
"""Prices are whole numbers of this part of the currency."""
FINER = 1_000_000
"""The same where offcuts count for something: a price of half a millimetre is a small part of a cent."""
MOST_FLAWED = 12
"""Sticks with flaws of which each is tried both ways: sawn around its flaws, and through them."""

GOALS = {
    kinds.CutGoal.FEWER_PATTERNS: cutstock.CutGoal.FEWER_PATTERNS,
    kinds.CutGoal.LONGER_OFFCUTS: cutstock.CutGoal.LONGER_OFFCUTS,
    kinds.CutGoal.FEWER_STICKS: cutstock.CutGoal.FEWER_STICKS,
    kinds.CutGoal.TOGETHER: cutstock.CutGoal.TOGETHER,
}


@dataclass(frozen=True, slots=True, kw_only=True)
class Kind:
    """What pieces that are cut alike share; ``size`` in steps, ``place`` only where it is asked for."""

    size: int
    rank: int
    is_clear: bool
    wood: tuple[str, str]
    place: str


Served = frozenset[Kind]


@dataclass(frozen=True, slots=True, kw_only=True)
class Sawn:
    """One stick and the pieces that come from each of its clear runs, longest first."""

    source: Source
    runs: tuple[tuple[Piece, ...], ...]
    kept_worth: Decimal = Decimal(0)

    @property
    def pieces(self) -> tuple[Piece, ...]:
        """All pieces, in the order of the saw."""
        return tuple(piece for run in self.runs for piece in run)


@dataclass(frozen=True, slots=True, kw_only=True)
class GroupPlan:
    """The sticks of one group, what they cost at the low price, and the least that any plan costs.

    ``cost`` is less what kept offcuts count for. ``short`` are sticks that the yard would have to have more of; their
    pieces are on no other stick.
    """

    sticks: tuple[Sawn, ...]
    short: tuple[Sawn, ...]
    cost: Decimal
    bound: Decimal
    is_proved: bool
    unserved: tuple[Piece, ...] = ()
    """Pieces whose only sticks are sawn through their flaws for others."""

    @property
    def key(self) -> tuple[int, int, Decimal, int]:
        """What makes one plan better than another: fewer pieces unserved, fewer sticks not there, price, sticks."""
        return len(self.unserved), len(self.short), self.cost, len(self.sticks)


def grid_for(sources: Sequence[Source], yard: Yard) -> Grid:
    """Return the steps that a group is counted in."""
    return Grid.of((yard.kerf, yard.end_trim, *(source.length for source in sources)))


def cut_group(pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard, limits: cutstock.CutLimits) -> GroupPlan:
    """Return the cheapest sticks for ``pieces``, each of which suits one of ``sources``.

    In this order: low price; high price; sticks in hand and offcuts before new timber; the goals of the yard. Each
    stick with flaws is sawn around all of them or, for pieces without a clear face, through them.
    """
    flawed = [j for j, source in enumerate(sources) if source.flaws]
    if not flawed or all(piece.is_clear for piece in pieces):
        return _cut(pieces, sources, yard, limits)
    through = [through_flaws(s, kerf=yard.kerf) if s.flaws else s for s in sources]
    if not any(piece.is_clear for piece in pieces):
        return _cut(pieces, through, yard, limits)
    tried = _all_served(pieces, sources, through, grid_for(sources, yard))
    best = _cut(pieces, tried, yard, limits)
    for j in flawed[:MOST_FLAWED]:
        other = [*tried[:j], sources[j] if tried[j].has_flaws else through[j], *tried[j + 1 :]]
        plan = _cut(pieces, other, yard, limits)
        if plan.key < best.key:
            best, tried = plan, other
    left_out = {id(piece) for piece in best.unserved}
    wanted = [piece for piece in pieces if id(piece) not in left_out]
    least = _cut(wanted, [replace(s, has_flaws=False) for s in through], yard, limits)
    bound = min(best.cost, least.bound) if len(least.short) == len(best.short) else Decimal(0)
    return replace(best, bound=bound, is_proved=bound == best.cost)


def _all_served(
    pieces: Sequence[Piece], sources: Sequence[Source], through: Sequence[Source], grid: Grid
) -> list[Source]:
    """Return the sources, those sawn ``through`` their flaws that a piece depends on which no other suits."""
    chosen = list(sources)
    for piece in pieces:
        if not any(s.suits(piece, grid) for s in chosen):
            j = next((j for j, s in enumerate(through) if s.suits(piece, grid)), None)
            if j is not None:
                chosen[j] = through[j]
    return chosen


def _cut(pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard, limits: cutstock.CutLimits) -> GroupPlan:
    order = _Order(pieces, sources, yard)
    result = cutstock.solve_cutting(order.items, order.stocks, limits, order.wishes)
    sticks, short = order.deal(result.uses)
    too_many = order.penalty * len(short)
    if short and not yard.keep_worth:
        sticks, short = order.rescue(sticks, short)
    cost = sum((s.source.low - s.kept_worth for s in sticks), Decimal(0))
    return GroupPlan(
        sticks=sticks,
        short=short,
        cost=cost,
        bound=min(cost, Decimal(max(0, result.bound - too_many)) / order.scale),
        is_proved=result.is_proved,
        unserved=order.unserved,
    )


def nested(served: Sequence[Served]) -> list[Served]:
    """Return for each set a part of it, so that of any two parts one holds the other; sets that do so stay whole."""
    chain: list[Served] = []
    parts: list[Served] = []
    for whole in served:
        inside = [c for c in chain if c <= whole]
        beyond = [c for c in chain if not c <= whole]
        part = whole if all(whole <= c for c in beyond) else whole & beyond[0]
        parts.append(part)
        if part not in chain:
            chain.insert(len(inside), part)
    return parts


class _Order:
    """A group put into whole numbers for the solver, and the way back."""

    def __init__(self, pieces: Sequence[Piece], sources: Sequence[Source], yard: Yard) -> None:
        self.sources, self.yard = sources, yard
        self.grid = grid_for(sources, yard)
        self.kerf = self.grid.up(yard.kerf)
        self.has_flaws = any(source.has_flaws for source in sources)
        self.classes = self._classes(pieces)
        self.served = self._served()
        self.unserved = self._unserved()
        self.ranks = sorted(set(self.served), key=len)
        places = {place: n for n, place in enumerate(dict.fromkeys(kind.place for kind in self.classes if kind.place))}
        self.items = [
            cutstock.CutItem(
                size=kind.size + self.kerf,
                demand=len(members),
                grade=next(n for n, rank in enumerate(self.ranks) if kind in rank),
                place=places.get(kind.place),
            )
            for kind, members in self.classes.items()
        ]
        self.scale = self._scale(len(pieces))
        real = [self._stock(j, len(pieces)) for j in range(len(sources))]
        self.extra = self._extra_sources()
        self.penalty = 1 + _most(real, len(pieces))
        wished = [self._endless(sources[j], real[j]) for j in self.extra]
        self.stocks = [*real, *wished]

    @property
    def wishes(self) -> cutstock.CutWishes:
        """The goals after the price."""
        goals = (g for g in self.yard.goals if g is not kinds.CutGoal.TOGETHER or self.yard.together)
        keep = self.grid.up(self.yard.keep) + self.kerf
        return cutstock.CutWishes(goals=tuple(GOALS[g] for g in goals), keep=max(1, keep))

    def _classes(self, pieces: Sequence[Piece]) -> dict[Kind, list[Piece]]:
        """Return pieces that are cut alike and may come from the same sticks together, longest first."""
        classes: dict[Kind, list[Piece]] = {}
        for piece in pieces:
            kind = Kind(
                size=self.grid.up(piece.length),
                rank=piece.look.rank,
                is_clear=piece.is_clear and self.has_flaws,
                wood=(piece.species, piece.strength_grade),
                place=piece.place if piece.use in self.yard.together else "",
            )
            classes.setdefault(kind, []).append(piece)
        return dict(sorted(classes.items(), key=lambda entry: (-entry[0].size, entry[0].rank, entry[0].is_clear)))

    def _served(self) -> list[Served]:
        """Return the kinds that each source may serve; one with flaws fewer than it could, where ranking asks it."""
        every = [frozenset(k for k, m in self.classes.items() if s.serves(m[0])) for s in self.sources]
        order = sorted(range(len(every)), key=lambda j: (self.sources[j].has_flaws, len(every[j])))
        ranked = dict(zip(order, nested([every[j] for j in order]), strict=True))
        return [ranked[j] for j in range(len(every))]

    def _fits(self, kind: Kind, j: int) -> bool:
        return kind in self.served[j] and kind.size <= self.sources[j].usable(self.grid)

    def _unserved(self) -> tuple[Piece, ...]:
        """Take out the kinds that no source serves after all, and return their pieces."""
        out = [kind for kind in self.classes if not any(self._fits(kind, j) for j in range(len(self.sources)))]
        return tuple(piece for kind in out for piece in self.classes.pop(kind))

    def _scale(self, pieces: int) -> int:
        """Return the parts of the currency that prices are counted in: fine where an offcut has a price by length."""
        if not self.yard.keep_worth:
            return CENTS
        most = CENTS * (1 + sum(int(s.low) + 1 for s in self.sources)) * (pieces + 1)
        scale = FINER
        while scale > CENTS and most * scale > CENTS * 2**39:
            scale //= 10
        return scale

    def _stock(self, j: int, pieces: int) -> cutstock.CutStock:
        """Return a source in whole numbers; ``tie`` counts the high price first, then sticks that are bought new."""
        source = self.sources[j]
        runs = tuple(max(0, self.grid.down(b - a)) + self.kerf for a, b in source.runs) or (0,)
        price = int(source.low * self.scale)
        per_step = int(source.worth * Decimal(repr(self.grid.step)) * self.scale)
        value = min(per_step, price // max(1, runs[0]))  # a whole stick is not worth more than it costs
        keep = self.grid.up(self.yard.keep) + self.kerf
        has_rest = any(s.kind != "yard" for s in self.sources)
        return cutstock.CutStock(
            size=sum(runs),
            price=price,
            available=source.available,
            grade=self.ranks.index(self.served[j]),
            tie=int(source.high * CENTS) * (pieces + 1) + (has_rest and source.kind == "yard"),
            offcut=cutstock.CutOffcut(keep=keep, value=value, kerf=self.kerf) if value and len(runs) == 1 else None,
            runs=runs if len(runs) > 1 else (),
        )

    def _endless(self, source: Source, stock: cutstock.CutStock) -> cutstock.CutStock:
        size = source.usable(self.grid) + self.kerf
        return replace(stock, size=size, runs=(), offcut=None, available=None, price=self.penalty)

    def _extra_sources(self) -> list[int]:
        """Return the limited sources that a kind depends on because no endless one serves it."""
        endless = [j for j, source in enumerate(self.sources) if source.available is None]
        needy = [kind for kind in self.classes if not any(self._fits(kind, j) for j in endless)]
        limited = (j for j, source in enumerate(self.sources) if source.available is not None)
        return [j for j in limited if any(self._fits(kind, j) for kind in needy)]

    def deal(self, uses: Sequence[cutstock.CutUse]) -> tuple[tuple[Sawn, ...], tuple[Sawn, ...]]:
        """Return the sticks with their pieces, and those that there are not enough of; marks in the order of the job.

        Sticks in hand first, then the rack, then long sticks before short, full of long pieces first, so that equal
        sticks stand together.
        """
        waiting = [deque(members) for members in self.classes.values()]
        count = len(self.sources)

        def order(use: cutstock.CutUse) -> tuple[bool, int, float, int, tuple[int, ...]]:
            source = self._source(use.stock)
            kind = ("hand", "rack", "yard").index(source.kind)
            return (use.stock >= count, kind, -source.length, use.stock, tuple(-c for c in use.counts))

        sticks: list[Sawn] = []
        short: list[Sawn] = []
        for use in sorted(uses, key=order):
            is_short = use.stock >= count
            stock = self.stocks[use.stock]
            load = sum(c * item.size for c, item in zip(use.counts, self.items, strict=True))
            kept = Decimal(0) if stock.offcut is None else Decimal(stock.offcut.worth(stock.size - load)) / self.scale
            for _ in range(use.times):
                runs = tuple(
                    tuple(waiting[k].popleft() for k, c in enumerate(counts) for _ in range(c))
                    for counts in use.runs or (use.counts,)
                )
                (short if is_short else sticks).append(Sawn(source=self._source(use.stock), runs=runs, kept_worth=kept))
        assert not any(waiting), "every piece stands on one stick"
        return tuple(sticks), tuple(short)

    def rescue(self, sticks: Sequence[Sawn], short: Sequence[Sawn]) -> tuple[tuple[Sawn, ...], tuple[Sawn, ...]]:
        """Return the plan with pieces of sticks that are not there put where others have room, short pieces first."""
        made = [[list(run) for run in sawn.runs] for sawn in sticks]
        waiting = sorted((p for sawn in short for p in sawn.pieces), key=lambda p: p.length)
        saved: list[Piece] = []
        for piece in waiting:
            run = next((r for r in self._rooms(sticks, made, piece)), None)
            if run is not None:
                run.append(piece)
                run.sort(key=lambda p: -p.length)
                saved.append(piece)
        left = []
        for sawn in short:
            runs = tuple(tuple(p for p in run if not _taken(p, saved)) for run in sawn.runs)
            left += [replace(sawn, runs=runs)] if any(runs) else []
        whole = (replace(s, runs=tuple(map(tuple, runs))) for s, runs in zip(sticks, made, strict=True))
        return tuple(whole), tuple(left)

    def _rooms(self, sticks: Sequence[Sawn], made: list[list[list[Piece]]], piece: Piece) -> Iterator[list[Piece]]:
        """Yield the clear runs of sticks that are there which have room for one more piece."""
        for sawn, runs in zip(sticks, made, strict=True):
            for (begin, finish), run in zip(sawn.source.runs, runs, strict=True):
                used = sum(self.grid.up(p.length) + self.kerf for p in (*run, piece))
                if used <= self.grid.down(finish - begin) + self.kerf and sawn.source.serves(piece):
                    yield run

    def _source(self, stock: int) -> Source:
        count = len(self.sources)
        return self.sources[stock if stock < count else self.extra[stock - count]]


def _taken(piece: Piece, saved: list[Piece]) -> bool:
    """Return whether a piece is among those saved, and cross it off."""
    place = next((n for n, one in enumerate(saved) if one is piece), None)
    if place is not None:
        del saved[place]
    return place is not None


def _most(stocks: Sequence[cutstock.CutStock], pieces: int) -> int:
    """Return a price that no plan from these stocks exceeds."""
    dearest = max((s.price for s in stocks if s.available is None), default=0)
    return dearest * pieces + sum(s.price * min(s.available, pieces) for s in stocks if s.available is not None)
