"""Every pattern that a better plan could hold: level by level over the items, cut back by what the rest can earn."""

from __future__ import annotations

from collections.abc import Sequence
from dataclasses import dataclass, replace

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.bound import Duals
from evenfoot.solvers.cutstock.knapsack import Knapsack
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

Ints = NDArray[np.int64]
MOST_CELLS = 6_000_000
"""Largest table of what the rest can earn; above it, sizes are counted coarser (which only lets more through)."""


@dataclass(frozen=True, slots=True, kw_only=True)
class PatternTable:
    """Patterns as rows: ``counts`` (n_patterns, n_items), the stock of each, and what it wastes at the dual prices."""

    stocks: Ints
    counts: Ints
    waste: Ints
    """``prices * scale + sticks - counts @ items`` of each pattern, never negative."""

    def patterns(self) -> list[tuple[int, Counts]]:
        """Return stock and counts of each pattern."""
        return [(int(s), tuple(c)) for s, c in zip(self.stocks, self.counts.tolist(), strict=True)]


def list_patterns(problem: Problem, duals: Duals | None, budget: int, most: int) -> PatternTable | None:
    """Return all full patterns that waste at most ``budget`` (all full patterns when ``duals`` is None).

    A pattern is full when no piece that is still wanted fits what is left. None when there are more than ``most``.
    """
    tables = []
    total = 0
    for stock in range(len(problem.prices)):
        found = _list_stock(problem, stock, duals, budget, most - total)
        if found is None:
            return None
        total += len(found)
        tables.append((stock, found))
    counts = np.concatenate([t for _, t in tables]) if tables else np.zeros((0, 0), dtype=np.int64)
    stocks = np.concatenate([np.full(len(t), j, dtype=np.int64) for j, t in tables])
    return weigh(problem, stocks, counts, duals)


def weigh(problem: Problem, stocks: Ints, counts: Ints, duals: Duals | None) -> PatternTable:
    """Return patterns with their waste, those that a cheaper stock could hold as well left out."""
    load = counts @ np.array(problem.sizes, dtype=np.int64)
    keep = ~_is_beaten(problem, stocks, counts, load)
    stocks, counts, load = stocks[keep], counts[keep], load[keep]
    if duals is None:
        return PatternTable(stocks=stocks, counts=counts, waste=np.zeros(len(stocks), dtype=np.int64))
    worth = np.array(problem.prices, dtype=np.int64) * duals.scale + np.array(duals.sticks, dtype=np.int64)
    rates = np.array(problem.rates, dtype=np.int64) * duals.scale
    waste = worth[stocks] + rates[stocks] * load - counts @ np.array(duals.items, dtype=np.int64)
    return PatternTable(stocks=stocks, counts=counts, waste=waste)


def _is_beaten(problem: Problem, stocks: Ints, counts: Ints, load: Ints) -> NDArray[np.bool_]:
    """Return which patterns fit an endless stock that costs less (or the same, and comes first)."""
    prices, rates = np.array(problem.prices, dtype=np.int64), np.array(problem.rates, dtype=np.int64)
    own = prices[stocks] + rates[stocks] * load
    grade = (np.where(counts > 0, np.array(problem.grades, dtype=np.int64)[None, :], -(2**31))).max(
        axis=1, initial=-(2**31)
    )
    beaten = np.zeros(len(stocks), dtype=np.bool_)
    rank = [(problem.ties[j], j) for j in range(len(problem.prices))]
    for j, size in enumerate(problem.stock_sizes):
        if problem.limits[j] is not None or len(problem.runs[j]) > 1:
            continue
        later = np.array([rank[j] < rank[k] for k in range(len(problem.prices))])
        cost = prices[j] + rates[j] * load
        cheaper = (cost < own) | ((cost == own) & later[stocks])
        beaten |= cheaper & (load <= size) & (grade <= problem.stock_grades[j])
    return beaten


def _list_stock(problem: Problem, stock: int, duals: Duals | None, budget: int, most: int) -> Ints | None:
    """Return the patterns of one stock; those of a stick in runs are all ways to fill its runs together."""
    runs = problem.runs[stock]
    if len(runs) == 1:
        return _Lister(problem, stock, runs[0], duals, _need(problem, stock, duals, budget)).run(most)
    need = _need(problem, stock, duals, budget)
    tops = [0] * len(runs) if duals is None else _tops(problem, stock, duals)
    found = np.zeros((1, len(problem.sizes)), dtype=np.int64)
    for room, top in zip(runs, tops, strict=True):
        own = _Lister(problem, stock, room, duals, need - (sum(tops) - top)).run(most, with_empty=True)
        if own is None or len(own) * len(found) > most:
            return None
        found = (found[:, None, :] + own[None, :, :]).reshape(-1, found.shape[1])
    found = np.unique(np.minimum(found, np.array(problem.demands, dtype=np.int64)), axis=0)
    return found[found.any(axis=1)]


def _need(problem: Problem, stock: int, duals: Duals | None, budget: int) -> int:
    """Return what a pattern must earn to waste no more than the budget."""
    return 0 if duals is None else problem.prices[stock] * duals.scale + duals.sticks[stock] - budget


def _tops(problem: Problem, stock: int, duals: Duals) -> list[int]:
    """Return the most that each run of a stick can earn."""
    one = replace(
        problem,
        stock_sizes=problem.runs[stock],
        prices=(1,) * len(problem.runs[stock]),
        stock_grades=(problem.stock_grades[stock],) * len(problem.runs[stock]),
        runs=tuple((room,) for room in problem.runs[stock]),
        rates=(0,) * len(problem.runs[stock]),
    )
    return Knapsack(one).solve(np.array(duals.items, dtype=np.int64))


class _Lister:
    """Lists the patterns of one run of a stock that earn what is needed.

    Where all that is cut has a rate, patterns need not be full: one piece less is cheaper.
    """

    def __init__(self, problem: Problem, stock: int, room: int, duals: Duals | None, need: int) -> None:
        self.items = [i for i in range(len(problem.sizes)) if problem.allows(i, stock) and problem.sizes[i] <= room]
        self.sizes = [problem.sizes[i] for i in self.items]
        self.demands = [problem.demands[i] for i in self.items]
        self.room = room
        self.is_full = not problem.rates[stock]
        self.width = len(problem.sizes)
        self.need = need
        self.worth: list[int] | None = None
        if duals is not None:
            rate = problem.rates[stock] * duals.scale
            self.worth = [duals.items[i] - rate * problem.sizes[i] for i in self.items]
        rest = [0]
        for size, demand in zip(reversed(self.sizes), reversed(self.demands), strict=True):
            rest.append(rest[-1] + size * demand)
        self.rest = rest[::-1]
        """Size of all pieces from item k on."""

    def run(self, most: int, *, with_empty: bool = False) -> Ints | None:
        """Return the patterns; None when there are more than ``most``. The empty one counts only where asked for."""
        room = np.array([self.room], dtype=np.int64)
        earned = np.zeros(1, dtype=np.int64)
        steps: list[tuple[Ints, Ints]] = []
        ahead, coarse = self._earnings() if self.worth is not None else (None, 1)
        for k, (size, demand) in enumerate(zip(self.sizes, self.demands, strict=True)):
            fit = np.minimum(demand, room // size)
            lots = fit + 1
            total = int(lots.sum())
            if total > 20 * most + 1000:
                return None
            parent = np.repeat(np.arange(len(room)), lots)
            count = np.arange(total) - np.repeat(np.cumsum(lots) - lots, lots)
            left = room[parent] - count * size
            # A piece left out that would still fit after everything smaller is cut means the pattern is not full.
            keep = (count == demand) | (left - self.rest[k + 1] < size) if self.is_full else left >= 0
            if self.worth is not None and ahead is not None:
                gained = earned[parent] + count * self.worth[k]
                keep &= gained + ahead[k + 1, np.maximum(left, 0) // coarse] >= self.need
                earned = gained[keep]
            parent, count, room = parent[keep], count[keep], left[keep]
            steps.append((parent, count))
            if len(room) > most:
                return None
        found = self._unwind(steps, room)
        return found if with_empty else found[found.any(axis=1)]

    def _unwind(self, steps: Sequence[tuple[Ints, Ints]], room: Ints) -> Ints:
        counts = np.zeros((len(room), self.width), dtype=np.int64)
        at = np.arange(len(room))
        smallest_left_out = np.full(len(room), np.iinfo(np.int64).max)
        for k in range(len(steps) - 1, -1, -1):
            parent, count = steps[k]
            counts[:, self.items[k]] = count[at]
            is_out = (count[at] < self.demands[k]) & (smallest_left_out == np.iinfo(np.int64).max)
            smallest_left_out[is_out] = self.sizes[k]
            at = parent[at]
        whole: Ints = counts[room < smallest_left_out] if self.is_full else counts
        return whole

    def _earnings(self) -> tuple[Ints, int]:
        """Return what items from k on can earn in a room (k, room), or a little more, and what rooms are divided by."""
        coarse = max(1, -(-(self.room + 1) * (len(self.sizes) + 1) // MOST_CELLS))
        top = self.room // coarse
        table = np.zeros((len(self.sizes) + 1, top + 1), dtype=np.int64)
        for k in range(len(self.sizes) - 1, -1, -1):
            table[k] = table[k + 1]
            worth = 0 if self.worth is None else self.worth[k]
            most = min(self.demands[k], self.room // self.sizes[k]) if worth > 0 else 0
            size, lot = self.sizes[k] // coarse, 1
            while most > 0:
                lot = min(lot, most)
                raised = table[k, : top + 1 - size * lot] + worth * lot
                np.maximum(raised, table[k, size * lot :], out=table[k, size * lot :])
                most -= lot
                lot *= 2
        return table, coarse
