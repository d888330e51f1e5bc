"""What a group of pieces may be cut from: the yard's sticks and the rack's offcuts that suit it, with their prices."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import dataclass
from decimal import ROUND_HALF_EVEN, Decimal

from evenfoot.cutting.lengths import Grid, trims
from evenfoot.cutting.model import Piece
from evenfoot.errors import Fault, OutOfRangeError
from evenfoot.job import StockItem, Yard, kinds

CENT = Decimal("0.01")
MM_PER_M = Decimal(1000)
MM3_PER_M3 = Decimal(10) ** 9


@dataclass(frozen=True, slots=True, kw_only=True)
class Source:
    """Sticks of one length that a group may be cut from [mm]; prices of one stick, to a hundredth."""

    kind: str
    """``yard`` or ``rack``."""
    length: float
    first_trim: float
    far_trim: float
    look: kinds.Look
    low: Decimal
    high: Decimal
    available: int | None
    rough_width: float
    rough_depth: float
    label: str
    where: str

    def usable(self, grid: Grid) -> int:
        """Return the steps of ``grid`` between the trims; 0 when nothing is left."""
        return max(0, grid.down(self.length) - grid.up(self.first_trim) - grid.up(self.far_trim))

    def serves(self, look: kinds.Look) -> bool:
        """Return whether it has the look asked for or a better one."""
        return self.look.rank <= look.rank

    def suits(self, piece: Piece, grid: Grid) -> bool:
        """Return whether ``piece`` may be cut from it: of its look or better, and long enough."""
        return self.serves(piece.look) and grid.up(piece.length) <= self.usable(grid)


def same_section(width: float, depth: float) -> tuple[float, float]:
    """Return a finished section [mm] whichever way round it is written."""
    return (min(width, depth), max(width, depth))


def sources_for(piece: Piece, yard: Yard) -> tuple[Source, ...]:
    """Return all sticks of the species, section and strength grade of ``piece``, of any look; the rack's first.

    Raises: OutOfRangeError when stock is priced by something that a stick has none of.
    """
    return (*_rack(piece, yard), *_stock(piece, yard))


def _rack(piece: Piece, yard: Yard) -> Iterator[Source]:
    for offcut in yard.rack:
        if (offcut.species, offcut.strength_grade, same_section(offcut.width, offcut.depth)) != group_of(piece):
            continue
        first, far = trims(end_trim=yard.end_trim, clean_ends=offcut.clean_ends)
        value = offcut.value.quantize(CENT, rounding=ROUND_HALF_EVEN)
        yield Source(
            kind="rack",
            length=offcut.length,
            first_trim=first,
            far_trim=far,
            look=offcut.look,
            low=value,
            high=value,
            available=offcut.count,
            rough_width=offcut.width,
            rough_depth=offcut.depth,
            label="",
            where=offcut.where,
        )


def _stock(piece: Piece, yard: Yard) -> Iterator[Source]:
    for item in yard.stock:
        if (item.species, item.strength_grade, same_section(item.width, item.depth)) != group_of(piece):
            continue
        first, far = trims(end_trim=yard.end_trim, clean_ends=0)
        for length in item.lengths:
            low, high = stick_price(item, length)
            yield Source(
                kind="yard",
                length=length,
                first_trim=first,
                far_trim=far,
                look=item.look,
                low=low,
                high=high,
                available=item.available,
                rough_width=item.rough_width,
                rough_depth=item.rough_depth,
                label=item.label,
                where=item.where,
            )


def group_of(piece: Piece) -> tuple[str, str, tuple[float, float]]:
    """Return what pieces of one group share: species, strength grade, section either way round."""
    return (piece.species, piece.strength_grade, same_section(piece.width, piece.depth))


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
