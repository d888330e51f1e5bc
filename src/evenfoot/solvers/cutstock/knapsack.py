"""The best way to fill each stock when every piece has a value: one table in whole numbers for all stocks at once."""

from __future__ import annotations

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.model import Counts, Problem

Values = NDArray[np.int64]


class Knapsack:
    """Fills stocks for the greatest value; exact, since values and sizes are whole numbers.

    Items stand in the order of their grade, so that the table after the items of one grade serves the stocks of
    that grade. Demands are broken into 1, 2, 4 .. pieces (bounded knapsack).
    """

    def __init__(self, problem: Problem) -> None:
        """Make the steps ready: (item, how many at once, size)."""
        self.problem = problem
        self.steps: list[tuple[int, int, int]] = []
        self.after: list[int] = [0] * len(problem.stock_sizes)
        self.top = max(problem.stock_sizes)
        order = sorted(range(len(problem.sizes)), key=lambda i: (problem.grades[i], i))
        for i in order:
            room = max(
                (s for s, g in zip(problem.stock_sizes, problem.stock_grades, strict=True) if g >= problem.grades[i]),
                default=0,
            )
            self._split(i, min(problem.demands[i], room // problem.sizes[i]))
            for j, grade in enumerate(problem.stock_grades):
                if grade >= problem.grades[i]:
                    self.after[j] = len(self.steps)
        self.read_at: dict[int, list[int]] = {}
        for j, after in enumerate(self.after):
            self.read_at.setdefault(after, []).append(j)
        self.taken = np.zeros((len(self.steps), self.top + 1), dtype=np.bool_)
        self.best: list[int] = [0] * len(problem.stock_sizes)

    def _split(self, item: int, most: int) -> None:
        lot = 1
        while most > 0:
            lot = min(lot, most)
            self.steps.append((item, lot, lot * self.problem.sizes[item]))
            most -= lot
            lot *= 2

    def solve(self, values: Values) -> list[int]:
        """Return the greatest value that each stock can hold when item i is worth ``values[i]`` (>= 0)."""
        table = np.zeros(self.top + 1, dtype=np.int64)
        worth = values.tolist()
        for row, (item, lot, size) in enumerate(self.steps):
            self._read(row, table)
            if worth[item] <= 0:
                self.taken[row] = False
                continue
            raised = table[:-size] + lot * worth[item]
            rest = table[size:]
            np.greater(raised, rest, out=self.taken[row, size:])
            np.maximum(raised, rest, out=rest)
        self._read(len(self.steps), table)
        return self.best

    def _read(self, row: int, table: Values) -> None:
        for j in self.read_at.get(row, ()):
            self.best[j] = int(table[self.problem.stock_sizes[j]])

    def pattern(self, stock: int) -> Counts:
        """Return the filling of ``stock`` behind the last ``solve``."""
        counts = [0] * len(self.problem.sizes)
        room = self.problem.stock_sizes[stock]
        for row in range(self.after[stock] - 1, -1, -1):
            if self.taken[row, room]:
                item, lot, size = self.steps[row]
                counts[item] += lot
                room -= size
        return tuple(counts)
