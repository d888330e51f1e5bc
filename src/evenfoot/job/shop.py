"""The shop, shared by all jobs: stock with dated prices, offcut rack, saw, rates."""

from __future__ import annotations

from dataclasses import dataclass
from datetime import date
from decimal import Decimal

from evenfoot.job.kinds import CutGoal, Look, Part, PriceBy

Stretch = tuple[float, float]
"""From where to where along a stick [mm]."""

GOALS = (CutGoal.FEWER_PATTERNS, CutGoal.LONGER_OFFCUTS, CutGoal.FEWER_STICKS, CutGoal.TOGETHER)
"""The goals after the price, where the shop states no order of its own."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Price:
    """Money for one unit of something, as a range; ``low`` equals ``high`` when it is known."""

    low: Decimal
    high: Decimal
    by: PriceBy
    asked_on: date | None
    """The day that the price was asked."""


@dataclass(frozen=True, slots=True, kw_only=True)
class StockItem:
    """A section that the yard sells, in its lengths [mm].

    ``width`` x ``depth`` is the finished section it gives; ``rough_width`` x ``rough_depth`` what is bought.
    """

    species: str
    look: Look
    strength_grade: str
    width: float
    depth: float
    rough_width: float
    rough_depth: float
    lengths: tuple[float, ...]
    available: int | None
    """Pieces of each length that can be had; None = as many as wanted."""
    price: Price
    label: str
    """The yard's own name of the section, as ``2x8``; empty when it has none."""
    where: str
    stands_in_for: tuple[str, ...] = ()
    """Lesser woods and strength grades that it may be taken for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Offcut:
    """A piece in the rack [mm]; ``value`` is what using it costs.

    ``bad`` are stretches that nothing may be cut from, ``flaws`` those that only a piece without a clear face may hold;
    both are measured from the cleaner end, of two alike from the marked one.
    """

    species: str
    look: Look
    strength_grade: str
    width: float
    depth: float
    length: float
    count: int
    clean_ends: int
    """How many ends are already square and clean: 0, 1 or 2."""
    value: Decimal
    where: str
    bad: tuple[Stretch, ...] = ()
    flaws: tuple[Stretch, ...] = ()


@dataclass(frozen=True, slots=True, kw_only=True)
class FixingItem:
    """A nail or screw by its mark in the fasteners table, and its price."""

    mark: str
    per_box: int
    price: Price
    where: str


@dataclass(frozen=True, slots=True, kw_only=True)
class Shop:
    """The carpenter's shop."""

    currency: str
    """ISO 4217 code."""
    tax: Decimal
    """Tax on the whole price as a share, such as 0.10."""
    overhead: Decimal
    """Overheads as a share of material and labour."""
    hour: Price
    """One person-hour."""
    coating: Price
    """One litre of finish."""
    footing: Price
    """One footing."""
    kerf: float
    end_trim: float
    """Cut off each end of a stick to get a clean square end [mm]."""
    keep: float
    """Shortest offcut worth keeping [mm]."""
    stock: tuple[StockItem, ...]
    rack: tuple[Offcut, ...]
    fixings: tuple[FixingItem, ...]
    rates: tuple[tuple[str, float], ...]
    """Learned hours per unit by task id of the labour table; they replace the table's typical value."""
    keep_worth: Decimal = Decimal(0)
    """What a kept offcut counts for, as a share of the price of the same length new."""
    goals: tuple[CutGoal, ...] = GOALS
    is_sample: bool = False
    """True for a shop that ships with Evenfoot: its prices are samples that nobody was asked for."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Yard:
    """The timber that one job may be cut from: the job's own stock first, else the shop's, and the rack."""

    stock: tuple[StockItem, ...]
    rack: tuple[Offcut, ...]
    kerf: float
    end_trim: float
    keep: float
    keep_worth: Decimal = Decimal(0)
    """What a kept offcut counts for, as a share of the price of the same length new."""
    goals: tuple[CutGoal, ...] = GOALS
    """What makes one plan better than another of the same price, the first goal first."""
    together: tuple[Part, ...] = ()
    """Parts whose pieces for one place are wanted from one stick."""

    def longest(self, *, species: str, width: float, depth: float) -> float:
        """Return the longest clean piece [mm] that this section gives, both ends trimmed; 0 when it is not stocked.

        ``width`` and ``depth`` [mm] are the finished section; a section may lie either way.
        """
        sizes = {(width, depth), (depth, width)}
        lengths = [
            max(item.lengths) - 2 * self.end_trim
            for item in self.stock
            if item.species == species and (item.width, item.depth) in sizes
        ]
        return max(lengths, default=0.0)
