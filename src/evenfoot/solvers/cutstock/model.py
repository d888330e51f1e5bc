"""What a one-dimensional cutting problem is in whole numbers, and what an answer to it holds."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from enum import StrEnum
from math import gcd

from evenfoot.errors import Fault, NoSolutionError, OutOfRangeError

Counts = tuple[int, ...]


@dataclass(frozen=True, slots=True, kw_only=True)
class CutItem:
    """A size wanted ``demand`` times. ``size`` includes one saw cut; it may come from stock of ``grade`` or higher."""

    size: int
    demand: int
    grade: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutStock:
    """A size that can be had. ``size`` is the usable length plus one saw cut (n pieces need n - 1 cuts).

    ``price`` is what counts; ``tie`` decides between plans of equal price. ``available`` None = as many as wanted.
    """

    size: int
    price: int
    available: int | None = None
    grade: int = 0
    tie: int = 0


@dataclass(frozen=True, slots=True, kw_only=True)
class CutUse:
    """``times`` pieces of stock number ``stock``, each cut into ``counts[i]`` pieces of item i."""

    stock: int
    times: int
    counts: Counts


class CutProof(StrEnum):
    """Why no cheaper plan exists.

    ``bound``: a lower bound meets the cost. ``search``: branch and bound over every pattern that a cheaper plan could
    hold ended without one. ``none``: not proved. Both proofs are reckoned in whole numbers.
    """

    BOUND = "bound"
    SEARCH = "search"
    NONE = "none"


@dataclass(frozen=True, slots=True, kw_only=True)
class CutLimits:
    """When to stop: counts, never the clock, so that the same problem always gives the same plan."""

    patterns: int = 40_000
    """Most patterns that are listed when all that matter are asked for."""
    whole: int = 300
    """Most different sizes that are solved together; more are solved part by part."""
    pricing_rounds: int = 3_000
    """Most rounds of column generation."""
    work: int = 1_000_000
    """Thousands of multiplications that branching may take; a million is about a second."""
    tie_work: int = 20_000
    """The same, for the search among plans of equal price."""


@dataclass(frozen=True, slots=True, kw_only=True)
class CutResult:
    """A plan, what it costs (added up from its patterns), and the most that is known about the cheapest plan."""

    uses: tuple[CutUse, ...]
    cost: int
    bound: int
    """No plan costs less than this."""
    proof: CutProof

    @property
    def is_proved(self) -> bool:
        """Whether no cheaper plan exists."""
        return self.proof is not CutProof.NONE


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A problem made ready: equal items joined, largest first; sizes and prices divided by what they share."""

    sizes: Counts
    demands: Counts
    grades: Counts
    stock_sizes: Counts
    prices: Counts
    limits: tuple[int | None, ...]
    stock_grades: Counts
    ties: Counts
    price_unit: int
    """What every price was divided by."""
    item_of: tuple[tuple[int, ...], ...]
    """Which of the caller's items each item stands for."""
    stock_of: Counts
    """Which of the caller's stocks each stock is."""

    def allows(self, item: int, stock: int) -> bool:
        """Return whether ``item`` may be cut from ``stock``."""
        return self.grades[item] <= self.stock_grades[stock] and self.sizes[item] <= self.stock_sizes[stock]

    def cost(self, uses: Sequence[tuple[int, int, Counts]]) -> int:
        """Return the price of ``(stock, times, counts)`` uses, in the divided unit."""
        return sum(self.prices[stock] * times for stock, times, _ in uses)


def prepare(items: Sequence[CutItem], stocks: Sequence[CutStock]) -> Problem:
    """Return the problem made ready.

    Raises: OutOfRangeError for a size, demand or price that is not allowed; NoSolutionError for an item that fits no
    stock of unlimited supply (so that a plan always exists).
    """
    _check(items, stocks)
    joined: dict[tuple[int, int], list[int]] = {}
    for index, item in enumerate(items):
        if item.demand:
            joined.setdefault((item.size, item.grade), []).append(index)
    order = sorted(joined, reverse=True)
    unit = gcd(*(size for size, _ in order)) or 1
    kept = _worth_having(stocks, smallest=min((size for size, _ in order), default=0))
    price_unit = gcd(*(stocks[j].price for j in kept)) or 1
    return Problem(
        sizes=tuple(size // unit for size, _ in order),
        demands=tuple(sum(items[i].demand for i in joined[key]) for key in order),
        grades=tuple(grade for _, grade in order),
        stock_sizes=tuple(stocks[j].size // unit for j in kept),
        prices=tuple(stocks[j].price // price_unit for j in kept),
        limits=tuple(stocks[j].available for j in kept),
        stock_grades=tuple(stocks[j].grade for j in kept),
        ties=tuple(stocks[j].tie for j in kept),
        price_unit=price_unit,
        item_of=tuple(tuple(joined[key]) for key in order),
        stock_of=tuple(kept),
    )


LARGEST_SIZE = 2_000_000
"""Largest stock size: the tables of the knapsack have this many places."""
LARGEST_PRICE = 2**40
"""Largest price: scaled whole-number prices must stay inside 64 bits."""


def _check(items: Sequence[CutItem], stocks: Sequence[CutStock]) -> None:
    faults = [
        Fault(where=f"items[{i}].{name}", code="cut-number", found=str(value), allowed=allowed)
        for i, item in enumerate(items)
        for name, value, allowed, fits in (
            ("size", item.size, ">= 1", item.size >= 1),
            ("demand", item.demand, ">= 0", item.demand >= 0),
        )
        if not fits
    ]
    faults += [
        Fault(where=f"stocks[{j}].{name}", code="cut-number", found=str(value), allowed=allowed)
        for j, stock in enumerate(stocks)
        for name, value, allowed, fits in (
            ("size", stock.size, f"0 .. {LARGEST_SIZE}", 0 <= stock.size <= LARGEST_SIZE),
            ("price", stock.price, f"0 .. {LARGEST_PRICE}", 0 <= stock.price <= LARGEST_PRICE),
            ("available", stock.available, ">= 0", stock.available is None or stock.available >= 0),
        )
        if not fits
    ]
    if faults:
        raise OutOfRangeError(*faults)
    for i, item in enumerate(items):
        longest = max((s.size for s in stocks if s.available is None and s.grade >= item.grade), default=0)
        if item.demand and item.size > longest:
            raise NoSolutionError(
                Fault(where=f"items[{i}].size", code="cut-no-stock", found=str(item.size), allowed=str(longest))
            )


def _worth_having(stocks: Sequence[CutStock], *, smallest: int) -> list[int]:
    """Return the stocks that hold something and are not beaten by a larger, better and cheaper endless one."""

    def beats(a: int, b: int) -> bool:
        one, two = stocks[a], stocks[b]
        if one.available is not None or one.size < two.size or one.grade < two.grade:
            return False
        key_one, key_two = (one.price, one.tie), (two.price, two.tie)
        if key_one != key_two or two.available is not None:
            return key_one < key_two
        return (one.size, one.grade) != (two.size, two.grade) or a < b

    useful = [j for j, s in enumerate(stocks) if s.size >= smallest and s.available != 0]
    return [j for j in useful if not any(beats(k, j) for k in useful if k != j)]
