"""What a group of pieces may be cut from, with its price: sticks in hand, offcuts of the rack, sticks of the yard."""

from __future__ import annotations

import math
from collections.abc import Iterator, Sequence
from dataclasses import dataclass, replace
from decimal import ROUND_HALF_EVEN, Decimal
from itertools import pairwise

from evenfoot.cutting.facts import HandStick
from evenfoot.cutting.lengths import Grid, clear_runs, trims
from evenfoot.cutting.model import Piece, PlacedCut, Stretch
from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import StockItem, Yard, kinds

CENT = Decimal("0.01")
MM_PER_M = Decimal(1000)
MM3_PER_M3 = Decimal(10) ** 9
Section = tuple[float, float]
Group = tuple[str, str, Section]


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Sticks of one length that a group may be cut from [mm]; prices of one stick, to a hundredth."""

    kind: str
    """``yard``, ``rack`` or ``hand``."""
    length: float
    free: tuple[Stretch, ...]
    """What is still there between the trims, bad stretches and all."""
    runs: tuple[Stretch, ...]
    """What pieces may be cut from: what is free, clear of bad stretches."""
    look: kinds.Look
    low: Decimal
    high: Decimal
    available: int | None
    rough_width: float
    rough_depth: float
    label: str
    where: str
    sold_by: kinds.PriceBy = kinds.PriceBy.PIECE
    name: str = ""
    bad: tuple[Stretch, ...] = ()
    flaws: tuple[Stretch, ...] = ()
    has_flaws: bool = False
    """Whether its runs lead through flaws, so that no clear piece may come from it."""
    worth: Decimal = Decimal(0)
    """What a millimetre of an offcut of it counts for."""
    new_low: Decimal = Decimal(0)
    new_high: Decimal = Decimal(0)
    done: tuple[PlacedCut, ...] = ()
    species: str = ""
    strength_grade: str = ""
    stands_in_for: frozenset[str] = frozenset()
    """Lesser woods and strength grades that it may be taken for."""

    def usable(self, grid: Grid) -> int:
        """Return the steps of ``grid`` in its longest run; 0 when nothing is left."""
        return max((grid.down(b - a) for a, b in self.runs), default=0)

    def is_wood_of(self, piece: Piece) -> bool:
        """Return whether it is of the wood and strength grade asked for, or may be taken for them."""
        woods, grades = {self.species, *self.stands_in_for}, {self.strength_grade, *self.stands_in_for}
        return piece.species in woods and piece.strength_grade in grades

    def serves(self, piece: Piece) -> bool:
        """Return whether it is the wood, has the look asked for or a better one, and no flaw where none may be."""
        is_clear = not (self.has_flaws and piece.is_clear)
        return self.look.rank <= piece.look.rank and is_clear and self.is_wood_of(piece)

    def suits(self, piece: Piece, grid: Grid) -> bool:
        """Return whether ``piece`` may be cut from it: of its look or better, and long enough."""
        return self.serves(piece) and grid.up(piece.length) <= self.usable(grid)


def same_section(width: float, depth: float) -> tuple[float, float]:
    """Return a planed section [mm] whichever way round it is written."""
    return (min(width, depth), max(width, depth))


def group_of(piece: Piece) -> Group:
    """Return what pieces of one group share: species, strength grade, section either way round."""
    return (piece.species, piece.strength_grade, same_section(piece.width, piece.depth))


def sources_for(pieces: Sequence[Piece], yard: Yard, hand: Sequence[HandStick] = ()) -> tuple[Source, ...]:
    """Return all sticks of one of the woods and strength grades of ``pieces``, which share a section; of any look.

    Those in hand come first, then the rack's. A stick in hand costs what it would count for as an offcut, since it is
    paid for.
    Raises: OutOfRangeError when stock is priced by something that a stick has none of.
    """
    section = same_section(pieces[0].width, pieces[0].depth)
    keys = {(piece.species, piece.strength_grade): piece for piece in pieces}.values()
    bought = tuple(_stock(section, yard))
    every = (*_hand(section, hand, bought, yard), *_rack(section, yard), *bought)
    return tuple(source for source in every if any(source.is_wood_of(piece) for piece in keys))


def groups(pieces: Sequence[Piece], yard: Yard, hand: Sequence[HandStick] = ()) -> list[tuple[list[Piece], bool]]:
    """Return the pieces that are cut from the same sticks together, and whether no stick of one group serves another.

    Woods and strength grades of one section are joined where a stick may be taken for both, as long as the sticks can
    be ranked; where they cannot, each is planned by itself.
    """
    kinds_of: dict[Group, list[Piece]] = {}
    for piece in pieces:
        kinds_of.setdefault(group_of(piece), []).append(piece)
    left = list(kinds_of)
    made: list[tuple[list[Piece], bool]] = []
    while left:
        joined = [left.pop(0)]
        for one in joined:
            near = [other for other in left if _share_a_stick(kinds_of[one][0], kinds_of[other][0], yard)]
            joined += near
            left = [other for other in left if other not in near]
        together = [piece for key in joined for piece in kinds_of[key]]
        if len(joined) == 1 or _are_ranked(together, sources_for(together, yard, hand)):
            made.append((together, True))
        else:
            made += [(kinds_of[key], False) for key in joined]
    return made


def _share_a_stick(one: Piece, other: Piece, yard: Yard) -> bool:
    section = same_section(one.width, one.depth)
    if section != same_section(other.width, other.depth):
        return False
    return any(s.is_wood_of(one) and s.is_wood_of(other) for s in _stock(section, yard))


def _are_ranked(pieces: Sequence[Piece], sources: Sequence[Source]) -> bool:
    """Return whether of any two sticks one serves all that the other serves."""
    kinds_of = {(p.species, p.strength_grade, p.look): p for p in pieces}
    served = {frozenset(k for k, p in kinds_of.items() if s.serves(replace(p, is_clear=False))) for s in sources}
    chain = sorted(served, key=len)
    return all(less <= more for less, more in pairwise(chain))


def _hand(section: Section, hand: Sequence[HandStick], bought: Sequence[Source], yard: Yard) -> Iterator[Source]:
    for stick in hand:
        if same_section(stick.width, stick.depth) != section:
            continue
        alike = [s for s in bought if (s.species, s.strength_grade) == (stick.species, stick.strength_grade)]
        low, high = _as_new(stick.look, stick.length, alike)
        runs = clear_runs(stick.free, (*stick.bad, *stick.flaws), kerf=yard.kerf)
        worth = low / _exact(stick.length) * yard.keep_worth
        value = (worth * _exact(math.fsum(b - a for a, b in runs))).quantize(CENT, rounding=ROUND_HALF_EVEN)
        yield Source(
            kind="hand",
            length=stick.length,
            free=stick.free,
            runs=runs,
            look=stick.look,
            low=value,
            high=value,
            available=1,
            rough_width=stick.width,
            rough_depth=stick.depth,
            label="",
            where=stick.where,
            name=stick.name,
            bad=stick.bad,
            flaws=stick.flaws,
            worth=worth,
            new_low=low,
            new_high=high,
            done=stick.done,
            species=stick.species,
            strength_grade=stick.strength_grade,
            stands_in_for=_taken_for(stick.species, stick.strength_grade, yard),
        )


def _as_new(look: kinds.Look, length: float, bought: Sequence[Source]) -> tuple[Decimal, Decimal]:
    """Return what ``length`` [mm] costs new in the same look, or else in the one nearest to it; nothing if none."""
    ranked = sorted(bought, key=lambda s: (abs(s.look.rank - look.rank), s.low / _exact(s.length), s.length))
    if not ranked:
        return Decimal(0), Decimal(0)
    like = ranked[0]
    share = _exact(length) / _exact(like.length)
    low, high = ((p * share).quantize(CENT, rounding=ROUND_HALF_EVEN) for p in (like.low, like.high))
    return low, high


def _rack(section: Section, yard: Yard) -> Iterator[Source]:
    for offcut in yard.rack:
        if same_section(offcut.width, offcut.depth) != section:
            continue
        first, far = trims(end_trim=yard.end_trim, clean_ends=offcut.clean_ends)
        value = offcut.value.quantize(CENT, rounding=ROUND_HALF_EVEN)
        yield Source(
            kind="rack",
            length=offcut.length,
            free=((first, offcut.length - far),),
            runs=clear_runs(((first, offcut.length - far),), (*offcut.bad, *offcut.flaws), kerf=yard.kerf),
            look=offcut.look,
            low=value,
            high=value,
            available=offcut.count,
            rough_width=offcut.width,
            rough_depth=offcut.depth,
            label="",
            where=offcut.where,
            bad=offcut.bad,
            flaws=offcut.flaws,
            worth=value / _exact(offcut.length) if yard.keep_worth else Decimal(0),
            species=offcut.species,
            strength_grade=offcut.strength_grade,
            stands_in_for=_taken_for(offcut.species, offcut.strength_grade, yard),
        )


def _stock(section: Section, yard: Yard) -> Iterator[Source]:
    for item in yard.stock:
        if same_section(item.width, item.depth) != section:
            continue
        first, far = trims(end_trim=yard.end_trim, clean_ends=0)
        for length in item.lengths:
            low, high = stick_price(item, length)
            yield Source(
                kind="yard",
                length=length,
                free=((first, length - far),),
                runs=clear_runs(((first, length - far),), (), kerf=yard.kerf),
                look=item.look,
                low=low,
                high=high,
                available=item.available,
                rough_width=item.rough_width,
                rough_depth=item.rough_depth,
                label=item.label,
                where=item.where,
                sold_by=item.price.by,
                worth=low / _exact(length) * yard.keep_worth,
                species=item.species,
                strength_grade=item.strength_grade,
                stands_in_for=_taken_for(item.species, item.strength_grade, yard),
            )


def _taken_for(species: str, strength_grade: str, yard: Yard) -> frozenset[str]:
    """Return what a wood of a strength grade may be taken for, as any item of the yard says."""
    same = (i for i in yard.stock if (i.species, i.strength_grade) == (species, strength_grade))
    return frozenset(word for item in same for word in item.stands_in_for)


def through_flaws(source: Source, *, kerf: float) -> Source:
    """Return a source whose flaws are left in, for pieces that need no clear face."""
    return replace(source, runs=clear_runs(source.free, source.bad, kerf=kerf), has_flaws=True)


def stick_price(item: StockItem, length: float) -> tuple[Decimal, Decimal]:
    """Return the low and high price of one stick of ``length`` [mm], to a hundredth, half to even.

    By volume a stick counts its rough section and its nominal length.
    Raises: OutOfRangeError when the price counts neither pieces, metres nor cubic metres.
    """
    size = {
        kinds.PriceBy.PIECE: Decimal(1),
        kinds.PriceBy.METRE: _exact(length) / MM_PER_M,
        kinds.PriceBy.CUBIC_METRE: _exact(item.rough_width) * _exact(item.rough_depth) * _exact(length) / MM3_PER_M3,
    }.get(item.price.by)
    if size is None:
        raise OutOfRangeError(
            Fault(where=f"{item.where}.price_by", code="stick-priced-by", found=item.price.by, allowed="piece, m, m3")
        )
    low, high = ((price * size).quantize(CENT, rounding=ROUND_HALF_EVEN) for price in (item.price.low, item.price.high))
    return low, high


def _exact(length: float) -> Decimal:
    """Return a length as written, without the tail that binary fractions have."""
    return Decimal(repr(length))
