"""The fractional plan over known patterns: a small revised simplex that keeps its basis as patterns are added."""

from __future__ import annotations

from collections.abc import Iterable
from typing import Any

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

Floats = NDArray[np.floating[Any]]
TOLERANCE = 1e-9
REFRESH = 60
"""Pivots between two fresh inverses."""
MOST_PIVOTS = 40_000
MANY = 20_000
LIKELY = 40
"""Over more than ``MANY`` columns, so many are looked at alone until none of them helps any more; then all again."""
PATIENCE = 400
"""Pivots without progress before the rule that cannot go in circles takes over."""


class Master:
    """min prices * x, with every demand covered and no limited stock used up: x >= 0 may be fractional.

    Rows are the items, then the stocks of limited supply (``- sum x >= - available``). The first columns are the
    surplus of each row; patterns follow. Duals are prices of pieces and of limited sticks.
    """

    def __init__(self, problem: Problem, *, is_exchanging: bool = False) -> None:
        """Start from one pattern per item: as many of it as fit the cheapest fitting endless stock.

        ``is_exchanging``: a piece too many may serve for the next smaller one. That leaves fewer prices to choose from,
        so the plan is found in fewer rounds; it may cost a little less, where a pattern then holds a size more often
        than it is wanted.
        """
        self.problem = problem
        self.limited = [j for j, limit in enumerate(problem.limits) if limit is not None and problem.supply[j] == j]
        rows = {j: len(problem.sizes) + k for k, j in enumerate(self.limited)}
        self.row_of = {j: rows[k] for j, k in enumerate(problem.supply) if k in rows}
        n = self.rows = len(problem.sizes) + len(self.limited)
        self.right = np.array([*problem.demands, *(-(problem.limits[j] or 0) for j in self.limited)], dtype=np.float64)
        self.matrix = np.zeros((n, max(64, 4 * n)))
        self.matrix[:, :n] = -np.eye(n)
        if is_exchanging:
            self._let_larger_serve()
        self.costs = np.zeros(self.matrix.shape[1])
        self.columns = n
        self.patterns: list[tuple[int, Counts]] = []
        self.index: dict[tuple[int, Counts], int] = {}
        self.basis = list(range(n))
        self.pivots = 0
        for item in range(len(problem.sizes)):
            self.add([self._single(item)])
            self.basis[item] = self.columns - 1
        self.first = tuple(self.basis)
        self.spare = np.zeros((n, n))
        self._refresh()

    def _let_larger_serve(self) -> None:
        """Give what is too many of an item to the next smaller one that may be cut from all it may be cut from.

        Source: J. M. Valerio de Carvalho, "Using extra dual cuts to accelerate column generation", INFORMS Journal on
        Computing 17 (2005).
        """
        grades = self.problem.grades
        for item, grade in enumerate(grades):
            smaller = next((k for k in range(item + 1, len(grades)) if grades[k] <= grade), None)
            if smaller is not None:
                self.matrix[smaller, item] = 1.0

    def _single(self, item: int) -> tuple[int, Counts]:
        """Return the pattern of this item alone that costs least for each piece."""
        problem = self.problem
        best: tuple[float, int, int] | None = None
        for j in range(len(problem.prices)):
            if problem.limits[j] is None and not problem.rates[j] and problem.allows(item, j):
                size = max(problem.runs[j])
                fit = min(size // problem.sizes[item], problem.demands[item])
                key = (problem.prices[j] / fit, j, fit)
                best = key if best is None or key < best else best
        assert best is not None, "a problem made ready has an endless stock for every item"
        counts = [0] * len(problem.sizes)
        counts[item] = best[2]
        return best[1], tuple(counts)

    def add(self, patterns: Iterable[tuple[int, Counts]]) -> int:
        """Add patterns that are not known yet; return how many were new."""
        fresh = [p for p in dict.fromkeys(patterns) if p not in self.index]
        need = self.columns + len(fresh)
        if need > self.matrix.shape[1]:
            wider = np.zeros((self.rows, max(need, 2 * self.matrix.shape[1])))
            wider[:, : self.columns] = self.matrix[:, : self.columns]
            self.matrix = wider
            self.costs = np.concatenate([self.costs, np.zeros(wider.shape[1] - len(self.costs))])
        if not fresh:
            return 0
        stocks = [stock for stock, _ in fresh]
        counts = np.array([c for _, c in fresh], dtype=np.int64)
        self.matrix[: counts.shape[1], self.columns : need] = counts.T
        for k, stock in enumerate(stocks):
            if stock in self.row_of:
                self.matrix[self.row_of[stock], self.columns + k] = -1.0
        self.costs[self.columns : need] = self.problem.price_each(stocks, counts)
        self.index.update((pattern, self.columns + k) for k, pattern in enumerate(fresh))
        self.patterns += fresh
        self.columns = need
        return len(fresh)

    def want(self, demands: Floats) -> None:
        """Ask for other numbers of the items, and begin again from the first plan."""
        self.right[: len(demands)] = demands
        self.basis = list(self.first)
        self._refresh()

    def _refresh(self) -> None:
        try:
            self.inverse: Floats = np.linalg.inv(self.matrix[:, self.basis])
        except np.linalg.LinAlgError:  # rounding has spoilt the basis: begin again from the first
            self.basis = list(self.first)
            self.inverse = np.linalg.inv(self.matrix[:, self.basis])
        self.level: Floats = self.inverse @ self.right

    def solve(self) -> None:
        """Pivot until no known pattern makes the plan cheaper (or rounding makes an end of it: any duals will do)."""
        idle = 0
        self._look_at(np.zeros(0, dtype=np.intp))
        for _ in range(MOST_PIVOTS):
            enter = self._entering(is_idle=idle >= PATIENCE)
            if enter is None:
                break
            step = self._pivot(enter, by_index=idle >= PATIENCE)
            if step is None:
                break
            idle = 0 if step > TOLERANCE else idle + 1
        self.duals: Floats = self.costs[self.basis] @ self.inverse

    def _look_at(self, columns: NDArray[np.intp]) -> None:
        """Make these the columns that are looked at alone (multiple pricing)."""
        self.likely = columns
        self.likely_matrix = self.matrix[:, columns]
        self.likely_costs = self.costs[columns]

    def _entering(self, *, is_idle: bool) -> int | None:
        """Return the column that lowers the price most for each unit; the first that does after idle pivots."""
        duals = self.costs[self.basis] @ self.inverse
        least = -TOLERANCE * max(1.0, float(np.abs(duals).max(initial=0.0)))
        if len(self.likely) and not is_idle:
            reduced = self.likely_costs - duals @ self.likely_matrix
            place = int(reduced.argmin())
            enter = int(self.likely[place])
            if reduced[place] < least and enter not in self.basis:
                return enter
        reduced = self.costs[: self.columns] - duals @ self.matrix[:, : self.columns]
        reduced[self.basis] = 0.0
        enter = int((reduced < least).argmax() if is_idle else reduced.argmin())
        if self.columns > MANY and not is_idle:
            self._look_at(np.argpartition(reduced, LIKELY)[:LIKELY])
        return enter if reduced[enter] < least else None

    def _pivot(self, enter: int, *, by_index: bool) -> float | None:
        """Bring a column into the basis; return how far it went, None when rounding leaves it nowhere to go."""
        column = self.inverse @ self.matrix[:, enter]
        rising = np.flatnonzero(column > 1e-9)
        if not len(rising):
            return None
        ratios = np.maximum(self.level[rising], 0.0) / column[rising]
        step = float(ratios.min())
        near = rising[ratios <= step + 1e-12]
        leave = int(min(near, key=lambda r: self.basis[r]) if by_index else near[column[near].argmax()])
        pivot_row = self.inverse[leave] / column[leave]
        column[leave] = 0.0
        np.multiply(column[:, None], pivot_row, out=self.spare)
        self.inverse -= self.spare
        self.inverse[leave] = pivot_row
        self.level -= step * column
        self.level[leave] = step
        self.basis[leave] = enter
        self.pivots += 1
        if self.pivots % REFRESH == 0:
            self._refresh()
        return step

    @property
    def value(self) -> float:
        """The price of the fractional plan."""
        return float(self.costs[self.basis] @ self.level)

    def plan(self) -> list[tuple[float, int, Counts]]:
        """Return (times, stock, counts) of the patterns in the fractional plan, by column."""
        found = [
            (float(level), column)
            for column, level in zip(self.basis, self.level, strict=True)
            if column >= self.rows and level > 1e-7
        ]
        return [(level, *self.patterns[column - self.rows]) for level, column in sorted(found, key=lambda f: f[1])]
