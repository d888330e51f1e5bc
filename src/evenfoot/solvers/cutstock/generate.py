"""Column generation: patterns are made as the fractional plan asks for them, until none would make it cheaper."""

from __future__ import annotations

from collections.abc import Iterator
from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.bound import Duals, Steps, prove, scale_for, volume_duals, whole_prices
from evenfoot.solvers.cutstock.greedy import fill
from evenfoot.solvers.cutstock.knapsack import Knapsack
from evenfoot.solvers.cutstock.master import Floats, Master
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.patterns import weigh
from evenfoot.solvers.cutstock.problem import Problem

APART = 4
"""Further patterns of a round, of pieces that are in none of the round yet."""
CENTRE = 0.7
"""Share of the prices with the best bound so far in the prices that patterns are made for.

Source: P. Wentges, "Weighted Dantzig-Wolfe decomposition for linear mixed-integer programming", International
Transactions in Operational Research 4 (1997)."""
QUICK_PLACES = 4_000
"""Places of the table that makes patterns quickly, in coarser steps of size."""
END = 1e-6
LEAN = 0.003
"""Share of all pieces that is wanted less for prices that leave fewer patterns in doubt."""


def generate(problem: Problem, master: Master, steps: Steps, *, rounds: int, to_the_end: bool = False) -> Duals:
    """Add patterns to ``master`` until none would help, or until the bound cannot rise any more after rounding.

    Return the best bound met on the way. ``to_the_end`` goes on where only rounding would not raise the bound: the
    prices then leave fewer patterns in doubt.
    """
    pricing = _Pricing(problem, master)
    for _ in range(rounds):
        master.solve()
        if not pricing.quickly() and not pricing.exactly(steps, to_the_end=to_the_end):
            break
    return pricing.best


def lean(problem: Problem, master: Master, duals: Duals, doubtful: int, *, rounds: int) -> Duals:
    """Return other prices, of nearly as high a bound, under which less is worth while that many patterns hold.

    Many prices may prove the same bound. These are best for slightly other demands, less of what the patterns hold
    that waste at most ``doubtful`` at the prices ``duals``; ``master`` is left with those demands.
    """
    counts = np.array([c for _, c in master.patterns], dtype=np.int64)
    table = weigh(problem, np.array([j for j, _ in master.patterns], dtype=np.int64), counts, duals)
    held = table.counts[table.waste <= doubtful].sum(axis=0)
    demands = np.array(problem.demands, dtype=np.float64)
    less = LEAN * demands.sum() * held / max(1, int(held.sum()))
    master.want(np.maximum(demands - less, demands / 2))
    pricing, bound = _Pricing(problem, master), duals
    for _ in range(rounds):
        master.solve()
        values = whole_prices(problem, master.duals.tolist())
        bound = prove(problem, values.tolist(), pricing.exact.solve(values, pricing.scale))
        if not pricing.add(pricing.exact, values, is_solved=True):
            break
    return bound


def add_patterns(problem: Problem, master: Master, *, rounds: int) -> None:
    """Add patterns for a few rounds, quickly and with no bound in mind."""
    pricing = _Pricing(problem, master)
    if pricing.quick is None:
        pricing.quick = pricing.exact
    for _ in range(rounds):
        master.solve()
        if not pricing.quickly():
            return
    master.solve()


class _Pricing:
    """Makes patterns for the prices of a fractional plan, and keeps the best bound they prove."""

    def __init__(self, problem: Problem, master: Master) -> None:
        self.problem, self.master = problem, master
        self.scale = scale_for(problem)
        self.exact = Knapsack(problem)
        unit = max(max(runs) for runs in problem.runs) // QUICK_PLACES
        self.quick = Knapsack(problem, unit) if unit > 1 else None
        self.best = volume_duals(problem)

    def quickly(self) -> bool:
        """Add patterns made in coarse steps; return whether there were any. Nothing is proved by them."""
        if self.quick is None:
            return False
        prices = self.master.duals[: len(self.problem.sizes)]
        return self.add(self.quick, whole_prices(self.problem, prices.tolist()))

    def exactly(self, steps: Steps, *, to_the_end: bool) -> bool:
        """Add patterns made in whole steps, and take the bound; return False when there is no more to be had."""
        master, share = self.master, CENTRE
        near = END * max(1.0, abs(master.value))
        own = master.duals[: len(self.problem.sizes)]
        while True:
            centre = np.array(self.best.items, dtype=np.float64) / self.scale
            values = whole_prices(self.problem, ((1 - share) * own + share * centre).tolist())
            duals = prove(self.problem, values.tolist(), self.exact.solve(values, self.scale))
            if duals.base > self.best.base:
                self.best = duals
            reached = self.best.base / self.scale if to_the_end else steps.up(self.best.bound)
            if reached >= master.value - (near / 1000 if to_the_end else near):
                return False
            if self.add(self.exact, values, is_solved=True):
                return True
            if not share:
                return False
            share = share / 2 if share > 0.2 else 0.0  # the pattern was no good at the plan's own prices

    def add(self, knapsack: Knapsack, values: NDArray[np.int64], *, is_solved: bool = False) -> bool:
        """Add the best patterns for ``values``, then the best of pieces that are in none of them, and so on."""
        found: list[tuple[int, Counts]] = []
        rest = values.copy()
        for turn in range(APART + 1):
            if turn or not is_solved:
                quick = self.quick if self.quick is not None and turn else knapsack
                quick.solve(rest, self.scale)
            else:
                quick = knapsack
            fresh = list(self._worth_having(quick))
            if not fresh and turn:
                break
            found += fresh
            for stock, counts in fresh:
                del stock
                rest[np.array(counts) > 0] = 0
            if not rest.any():
                break
        return self.master.add(found) > 0

    def _worth_having(self, knapsack: Knapsack) -> Iterator[tuple[int, Counts]]:
        """Yield the pattern of each stock that would make the fractional plan cheaper."""
        prices: Floats = self.master.duals
        for j in range(len(self.problem.prices)):
            counts = top_up(self.problem, j, knapsack.pattern(j))
            cost = float(self.problem.price(j, counts))
            if j in self.master.row_of:
                cost += float(prices[self.master.row_of[j]])
            earned = sum(float(prices[i]) * c for i, c in enumerate(counts) if c)
            if earned > cost * (1 + 1e-9) + 1e-9:
                yield j, counts


def top_up(problem: Problem, stock: int, counts: Counts) -> Counts:
    """Return a pattern with every further piece that still fits, longest first."""
    room = problem.stock_sizes[stock] - problem.load(counts)
    if room < problem.sizes[-1] or not problem.is_plain(stock):
        return counts
    rest = tuple(d - c for c, d in zip(counts, problem.demands, strict=True))
    smaller = replace(problem, runs=(*problem.runs[:stock], (room,), *problem.runs[stock + 1 :]))
    more = fill(smaller, rest, stock)
    return tuple(c + m for c, m in zip(counts, more, strict=True))
