"""What no plan can undercut: bounds proved in whole numbers, whatever rounding produced the prices behind them."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

MOST_PLACES = 400_000
"""Above this many price steps, sums of prices are no longer listed one by one."""


@dataclass(frozen=True, slots=True, kw_only=True)
class Duals:
    """Whole-number prices, ``scale`` to one unit of price, under which no pattern earns more than its stick costs.

    ``items[i]`` is the price of piece i, ``sticks[j]`` what one stick of limited stock j saves. For every pattern a of
    stock j: ``prices[j] * scale + sticks[j] >= sum(items[i] * a[i])``, proved by an exact knapsack. So every
    plan costs at least ``base / scale``: all demands at their prices, less what all limited sticks could save.
    Where stock j has a rate, it is added to the left side for all that the pattern cuts.
    """

    scale: int
    items: Counts
    sticks: Counts
    base: int

    @property
    def bound(self) -> int:
        """The least whole cost that is not below the bound."""
        return max(0, -(-self.base // self.scale))


def scale_for(problem: Problem) -> int:
    """Return the scale of whole-number prices: fine, and far from the end of 64 bits."""
    return 1 << max(8, 50 - max(problem.prices).bit_length())


def whole_prices(problem: Problem, duals: Sequence[float]) -> NDArray[np.int64]:
    """Return the first duals (those of the items) as whole numbers, rounded down, never below zero."""
    scale = scale_for(problem)
    most = (max(problem.prices) + 1) * scale * 4
    return np.array([min(most, max(0, int(d * scale))) for d in duals[: len(problem.sizes)]], dtype=np.int64)


def prove(problem: Problem, values: Sequence[int], best: Sequence[int]) -> Duals:
    """Return the bound that whole-number prices give, when ``best[j]`` is the most that one stick j can hold of them.

    What a stock charges for what is cut (its rate) is taken off in ``best``. Where a stick of endless supply
    would earn more than it costs, all prices are lowered by that share (which lowers ``best`` by at least as much).
    """
    scale = scale_for(problem)
    share, of = 1, 1
    for j, most in enumerate(best):
        if problem.limits[j] is None and most * share > problem.prices[j] * scale * of:
            share, of = problem.prices[j] * scale, most
    items = tuple(v * share // of for v in values)
    saved = [
        max(0, most * share // of - problem.prices[j] * scale) if problem.limits[j] is not None else 0
        for j, most in enumerate(best)
    ]
    sticks = tuple(max(s for s, other in zip(saved, problem.supply, strict=True) if other == k) for k in problem.supply)
    base = sum(v * d for v, d in zip(items, problem.demands, strict=True))
    base -= sum(s * (problem.limits[j] or 0) for j, s in enumerate(sticks) if problem.supply[j] == j)
    return Duals(scale=scale, items=items, sticks=sticks, base=base)


def volume_duals(problem: Problem) -> Duals:
    """Return the bound by length alone: every piece priced by its size, at the lowest price per length."""
    values = tuple(s * (scale_for(problem) >> 4) for s in problem.sizes)
    unit, scale = scale_for(problem) >> 4, scale_for(problem)
    best = [size * max(0, unit - r * scale) for size, r in zip(problem.stock_sizes, problem.rates, strict=True)]
    return prove(problem, values, best)


class Steps:
    """Which sums of stock prices exist at all, to round a bound up to the next one."""

    def __init__(self, problem: Problem, ceiling: int) -> None:
        """List the sums up to ``ceiling`` as the bits of one number; too many, and every whole number counts."""
        self.ceiling = ceiling
        self.bits = self._sums(problem) if ceiling <= MOST_PLACES and not any(problem.rates) else 0

    def _sums(self, problem: Problem) -> int:
        mask = (1 << (self.ceiling + 1)) - 1
        bits = 1
        for price, limit in sorted(set(zip(problem.prices, problem.limits, strict=True)), key=str):
            if price == 0:
                continue
            left = self.ceiling // price if limit is None else limit * self._twins(problem, price, limit)
            lot = 1
            while left > 0:
                lot = min(lot, left)
                bits |= (bits << (price * lot)) & mask
                left -= lot
                lot *= 2
        return bits

    @staticmethod
    def _twins(problem: Problem, price: int, limit: int | None) -> int:
        return sum(1 for pair in zip(problem.prices, problem.limits, strict=True) if pair == (price, limit))

    def up(self, bound: int) -> int:
        """Return the least sum of prices that is not below ``bound`` (``bound`` itself beyond the ceiling)."""
        bound = max(bound, 0)
        if not self.bits or bound > self.ceiling:
            return bound
        rest = self.bits >> bound
        if not rest:
            return self.ceiling + 1
        return bound + (rest & -rest).bit_length() - 1

    def down(self, cost: int) -> int:
        """Return the greatest sum of prices that is not above ``cost`` (``cost`` itself beyond the ceiling)."""
        if not self.bits or cost > self.ceiling or cost < 0:
            return cost
        return (self.bits & ((1 << (cost + 1)) - 1)).bit_length() - 1
