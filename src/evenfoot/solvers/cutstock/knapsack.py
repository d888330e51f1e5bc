"""The best way to fill each stock when every piece has a value: tables in whole numbers for all stocks at once."""

from __future__ import annotations

from dataclasses import replace

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem

Values = NDArray[np.int64]


class Knapsack:
    """Fills stocks for the greatest value; exact, since values and sizes are whole numbers.

    One table serves all stocks with the same rate. A stick with several clear runs is filled run by run, each as if
    all pieces were still wanted: the value is then no less than that of any way to fill it.
    With a coarse ``unit`` pieces are rounded up and stocks down: quick, always fits, not always the best.
    """

    def __init__(self, problem: Problem, unit: int = 1) -> None:
        """Make the tables ready."""
        self.problem = problem
        self.unit = unit
        counted = problem if unit == 1 else _coarse(problem, unit)
        self.tables = {rate: _Table(counted, rate) for rate in dict.fromkeys(problem.rates)}

    def solve(self, values: Values, scale: int = 1) -> list[int]:
        """Return the greatest value that each stock can hold when item i is worth ``values[i]`` (>= 0).

        What a stock charges for each unit of size that is cut, times ``scale``, is taken off the values.
        """
        sizes = np.array(self.problem.sizes, dtype=np.int64)
        for rate, table in self.tables.items():
            table.solve((values - rate * scale * sizes).tolist())
        return [
            sum(self.tables[rate].best[(grade, room // self.unit)] for room in runs)
            for rate, grade, runs in zip(self.problem.rates, self.problem.stock_grades, self.problem.runs, strict=True)
        ]

    def pattern(self, stock: int) -> Counts:
        """Return the filling of ``stock`` behind the last ``solve``, without pieces that are not wanted."""
        table, grade = self.tables[self.problem.rates[stock]], self.problem.stock_grades[stock]
        found = [table.pattern(grade, room // self.unit) for room in self.problem.runs[stock]]
        return tuple(min(d, sum(c)) for d, *c in zip(self.problem.demands, *found, strict=True))


def _coarse(problem: Problem, unit: int) -> Problem:
    return replace(
        problem,
        sizes=tuple(-(-size // unit) for size in problem.sizes),
        runs=tuple(tuple(room // unit for room in runs) for runs in problem.runs),
    )


class _Table:
    """Fills the stocks of one rate.

    Items stand in the order of their grade, so that the table after the items of one grade serves the stocks of
    that grade. Demands are broken into 1, 2, 4 .. pieces (bounded knapsack).
    """

    def __init__(self, problem: Problem, rate: int) -> None:
        """Make the steps ready: (item, how many at once, size)."""
        self.problem = problem
        rooms = [
            (grade, room)
            for grade, runs, own in zip(problem.stock_grades, problem.runs, problem.rates, strict=True)
            for room in runs
            if own == rate
        ]
        self.steps: list[tuple[int, int, int]] = []
        self.after = dict.fromkeys(rooms, 0)
        for i in sorted(range(len(problem.sizes)), key=lambda i: (problem.grades[i], i)):
            room = max((r for g, r in rooms if g >= problem.grades[i]), default=0)
            self._split(i, min(problem.demands[i], room // problem.sizes[i]))
            for place in self.after:
                if place[0] >= problem.grades[i]:
                    self.after[place] = len(self.steps)
        self.reads = frozenset(self.after.values())
        self.top = max(room for _, room in rooms)
        self.taken = np.zeros((len(self.steps), self.top + 1), dtype=np.bool_)
        self.raised = np.zeros(self.top + 1, dtype=np.int64)
        self.best = dict.fromkeys(rooms, 0)

    def _split(self, item: int, most: int) -> None:
        lot = 1
        while most > 0:
            lot = min(lot, most)
            self.steps.append((item, lot, lot * self.problem.sizes[item]))
            most -= lot
            lot *= 2

    def solve(self, worth: list[int]) -> None:
        """Fill a stick of every size at once."""
        table = np.zeros(self.top + 1, dtype=np.int64)
        for row, (item, lot, size) in enumerate(self.steps):
            if row in self.reads:
                self._read(row, table)
            if worth[item] <= 0:
                self.taken[row] = False
                continue
            rest, raised = table[size:], self.raised[size:]
            np.add(table[:-size], lot * worth[item], out=raised)
            np.greater(raised, rest, out=self.taken[row, size:])
            np.maximum(raised, rest, out=rest)
        self._read(len(self.steps), table)

    def _read(self, row: int, table: Values) -> None:
        for place, after in self.after.items():
            if after == row:
                self.best[place] = int(table[place[1]])

    def pattern(self, grade: int, room: int) -> Counts:
        """Return the filling of a run of ``room`` in a stick of ``grade``."""
        counts = [0] * len(self.problem.sizes)
        for row in range(self.after[(grade, room)] - 1, -1, -1):
            if self.taken[row, room]:
                item, lot, size = self.steps[row]
                counts[item] += lot
                room -= size
        return tuple(counts)
