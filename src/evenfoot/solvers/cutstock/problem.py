"""A cutting problem made ready: checked, equal items joined, stock that is never worth having left out."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass
from math import gcd

import numpy as np
from numpy.typing import NDArray

from evenfoot.errors import Fault, NoSolutionError, OutOfRangeError
from evenfoot.solvers.cutstock.model import Counts, CutItem, CutStock

Ints = NDArray[np.int64]


@dataclass(frozen=True, slots=True, kw_only=True)
class Problem:
    """A problem made ready: equal items joined, largest first; sizes and prices divided by what they share.

    A stock here is one way to use a stick. A stick whose end may be worth something is there twice: as it is, and
    shorter by the least end that counts, for less, with a ``rate`` for all that is cut from it.
    """

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
    runs: tuple[Counts, ...]
    """The clear runs of each stock; one that is clear throughout has one."""
    rates: Counts
    """Price of each unit of size that is cut from a stick of each stock."""
    supply: Counts
    """The first stock that is the same stick as each stock, and shares its limit."""

    def allows(self, item: int, stock: int) -> bool:
        """Return whether ``item`` may be cut from ``stock``."""
        return self.grades[item] <= self.stock_grades[stock] and self.sizes[item] <= max(self.runs[stock])

    def load(self, counts: Sequence[int]) -> int:
        """Return the size of all pieces of a pattern."""
        return sum(c * s for c, s in zip(counts, self.sizes, strict=True) if c)

    def price(self, stock: int, counts: Sequence[int]) -> int:
        """Return the price of one stick cut to ``counts``, in the divided unit."""
        rate = self.rates[stock]
        return self.prices[stock] + (rate * self.load(counts) if rate else 0)

    def price_each(self, stocks: Sequence[int] | Ints, counts: Ints) -> Ints:
        """Return the price of each of many sticks, ``stocks[k]`` cut to ``counts[k]``."""
        load = counts @ np.array(self.sizes, dtype=np.int64)
        which = np.asarray(stocks, dtype=np.int64)
        prices: Ints = np.array(self.prices, dtype=np.int64)[which] + np.array(self.rates, dtype=np.int64)[which] * load
        return prices

    def cost(self, uses: Sequence[tuple[int, int, Counts]]) -> int:
        """Return the price of ``(stock, times, counts)`` uses, in the divided unit."""
        return sum(self.price(stock, counts) * times for stock, times, counts in uses)

    def is_plain(self, stock: int) -> bool:
        """Return whether a stick is clear throughout and costs the same however much is cut from it."""
        return len(self.runs[stock]) == 1 and not self.rates[stock]


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
    ways = [way for j in kept for way in _ways(j, stocks[j], unit)]
    ways = [way for way in ways if max(way.runs) * unit >= order[-1][0]] if order else []
    price_unit = gcd(*(p for way in ways for p in (way.price, way.rate))) or 1
    first = {way.stock: k for k, way in reversed(list(enumerate(ways)))}
    return Problem(
        sizes=tuple(size // unit for size, _ in order),
        demands=tuple(sum(items[i].demand for i in joined[key]) for key in order),
        grades=tuple(grade for _, grade in order),
        stock_sizes=tuple(sum(way.runs) for way in ways),
        prices=tuple(way.price // price_unit for way in ways),
        limits=tuple(stocks[way.stock].available for way in ways),
        stock_grades=tuple(stocks[way.stock].grade for way in ways),
        ties=tuple(stocks[way.stock].tie for way in ways),
        price_unit=price_unit,
        item_of=tuple(tuple(joined[key]) for key in order),
        stock_of=tuple(way.stock for way in ways),
        runs=tuple(way.runs for way in ways),
        rates=tuple(way.rate // price_unit for way in ways),
        supply=tuple(first[way.stock] for way in ways),
    )


@dataclass(frozen=True, slots=True)
class _Way:
    """One way to use a stick of the caller's ``stock``."""

    stock: int
    price: int
    runs: Counts
    rate: int


def _ways(number: int, stock: CutStock, unit: int) -> list[_Way]:
    """Return the ways to use a stick: as it is, and with an end that is worth something left over."""
    runs = tuple(size // unit for size in stock.runs or (stock.size,))
    ways = [_Way(number, stock.price, runs, 0)]
    end = stock.offcut
    if end is not None and end.value:
        price = stock.price - end.value * (stock.size - end.kerf)
        ways.append(_Way(number, price, (max(0, stock.size - end.keep) // unit,), end.value * unit))
    return ways


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
        for name, value, allowed, fits in _stock_rules(stock)
        if not fits
    ]
    if faults:
        raise OutOfRangeError(*faults)
    for i, item in enumerate(items):
        longest = max(
            (max(s.runs or (s.size,)) for s in stocks if s.available is None and s.grade >= item.grade), default=0
        )
        if item.demand and item.size > longest:
            raise NoSolutionError(
                Fault(where=f"items[{i}].size", code="cut-no-stock", found=str(item.size), allowed=str(longest))
            )


def _stock_rules(stock: CutStock) -> list[tuple[str, object, str, bool]]:
    """Return what each number of a stock must keep: name, number, what is allowed, whether it is kept."""
    rules: list[tuple[str, object, str, bool]] = [
        ("size", stock.size, f"0 .. {LARGEST_SIZE}", 0 <= stock.size <= LARGEST_SIZE),
        ("price", stock.price, f"0 .. {LARGEST_PRICE}", 0 <= stock.price <= LARGEST_PRICE),
        ("available", stock.available, ">= 0", stock.available is None or stock.available >= 0),
    ]
    if stock.runs:
        fits = min(stock.runs) >= 0 and sum(stock.runs) == stock.size
        rules.append(("runs", stock.runs, f">= 0, sum {stock.size}", fits))
    if stock.offcut is not None:
        end, most = stock.offcut, stock.price // max(1, stock.size)
        fits = 0 <= end.kerf <= end.keep and not stock.runs
        rules += [
            ("offcut.keep", end.keep, f">= {end.kerf}; no runs", fits),
            ("offcut.value", end.value, f"0 .. {most}", 0 <= end.value * max(1, stock.size) <= stock.price),
        ]
    return rules


def _worth_having(stocks: Sequence[CutStock], *, smallest: int) -> list[int]:
    """Return the stocks that hold something and are not beaten by a larger, better and cheaper endless one."""

    def beats(a: int, b: int) -> bool:
        one, two = stocks[a], stocks[b]
        if one.available is not None or one.size < two.size or one.grade < two.grade or one.runs:
            return False
        if two.offcut not in {None, one.offcut}:
            return False
        key_one, key_two = (one.price, one.tie), (two.price, two.tie)
        if key_one != key_two or two.available is not None:
            return key_one < key_two
        return (one.size, one.grade, one.offcut, two.runs) != (two.size, two.grade, two.offcut, ()) or a < b

    useful = [j for j, s in enumerate(stocks) if max(s.runs or (s.size,)) >= smallest and s.available != 0]
    return [j for j in useful if not any(beats(k, j) for k in useful if k != j)]
