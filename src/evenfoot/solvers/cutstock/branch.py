"""Branch and bound over listed patterns: the cheapest plan, every branch that is given up proved in whole numbers."""

from __future__ import annotations

from dataclasses import dataclass

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.bound import Steps
from evenfoot.solvers.cutstock.greedy import Left, Use
from evenfoot.solvers.cutstock.master import Master
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.problem import Problem
from evenfoot.solvers.cutstock.relaxed import Columns, Floats, Ints, Relaxed, Rows

CUT_ROUNDS = 30
WHOLE = 1e-6
"""Fractions nearer than this to a whole number count as whole (a plan is checked in whole numbers all the same)."""
MOST_KEPT = 0.7
"""Patterns are left out of a branch when no more than this share of them stays."""
APART = 1e-4
"""A group of patterns is worth branching on from this far from whole."""


@dataclass(frozen=True, slots=True, eq=False)
class _Node:
    """One branch: its rows, the basis to start from, and the patterns that a plan in it below the ceiling may hold.

    The columns of the rows and the numbers of the basis are places in ``kept``.
    """

    rows: Rows
    basis: tuple[int, ...]
    kept: NDArray[np.intp]

    def part(self, keep: NDArray[np.bool_]) -> _Node:
        """Return the branch over some of its patterns, those of the basis among them."""
        place, shift = np.cumsum(keep) - 1, len(keep) - int(keep.sum())
        basis = tuple(int(place[b]) if b < len(keep) else b - shift for b in self.basis)
        return _Node(Rows(self.rows.matrix[:, keep], self.rows.right), basis, self.kept[keep])

    def branch(self, row: Ints, right: int) -> _Node:
        """Return a branch with one more row, whose surplus enters the basis."""
        surplus = len(self.kept) + len(self.rows)
        return _Node(self.rows.and_row(row, right), (*self.basis, surplus), self.kept)


class Branching:
    """Looks for the cheapest plan below a ceiling over given patterns; ``is_complete`` makes it a proof over them.

    Each branch asks for fewer or more sticks of one kind: of one stock, with so many of one item, with two items
    together, or of one pattern. A branch ends when its fractional plan costs too much, which is not believed from
    floating point: its dual prices are turned into whole numbers whose bound holds wherever they came from.
    """

    def __init__(self, problem: Problem, patterns: list[tuple[int, Counts]], ceiling: int, steps: Steps) -> None:
        """Solve the fractional plan once."""
        self.problem, self.ceiling, self.steps = problem, ceiling, steps
        self.is_complete = self.is_stuck = False
        self.stack: list[_Node] | None = None
        self.groups: Ints = np.zeros((0, 0), dtype=np.int64)
        self.caps: tuple[Problem, int] | None = None
        self.found: list[Use] | None = None
        master = Master(problem)
        master.add(patterns)
        master.solve()
        self.patterns = master.patterns
        n = master.rows
        matrix: Ints = np.rint(master.matrix[:, n : master.columns]).astype(np.int64)
        self.base = n
        self.root = _Node(
            rows=Rows(matrix, np.rint(master.right).astype(np.int64)),
            basis=tuple(b - n if b >= n else len(self.patterns) + b for b in master.basis),
            kept=np.arange(len(self.patterns)),
        )
        self._set_columns(matrix)

    def cap(self, other: Problem, most: int) -> None:
        """Allow only plans that cost at most ``most`` in another problem, the same but for its prices."""
        self.caps = (other, most)
        row = -np.array([other.price(*pattern) for pattern in self.patterns], dtype=np.int64)
        self.root = self.root.branch(row, -most)
        self.base += 1

    def _set_columns(self, matrix: Ints) -> None:
        """Note what the patterns cost and hold."""
        items = matrix[: len(self.problem.sizes)]
        demands = np.array(self.problem.demands, dtype=np.int64)[:, None]
        self.items = items
        self.stocks = np.array([stock for stock, _ in self.patterns], dtype=np.int64)
        self.columns = Columns(
            costs=np.array([self.problem.price(*pattern) for pattern in self.patterns], dtype=np.int64),
            most=np.where(items > 0, -(-demands // np.maximum(items, 1)), 0).max(axis=0),
        )

    def run(self, work: int) -> int:
        """Work through the branches, deepest first, until none is left or ``work`` is spent; return what was spent.

        What is left is gone on with when it is run again. A branch that cannot be proved stays left for good.
        """
        spent = 0
        if self.stack is None:
            spent = self._tighten(work // 2)
            self.groups = self._groups()
            self.stack = [self.root]
        while self.stack and not self.is_stuck and spent <= work:
            spent += self._step(self.stack.pop(), self.stack)
        self.is_complete = not self.stack and not self.is_stuck
        return spent

    def _step(self, node: _Node, stack: list[_Node]) -> int:
        """Close a branch, or put its two halves on the stack; return the work."""
        relaxed = Relaxed(self.columns.part(node.kept), node.rows, node.basis, self.ceiling)
        group = None
        if not relaxed.is_cut_off:
            group, total = self._fraction(relaxed.solution(), node.kept)
            if group is not None:
                node = _Node(node.rows, tuple(relaxed.basis), node.kept)
                keep = self._in_doubt(node, relaxed)
                node, group = (node, group) if keep is None else (node.part(keep), group[keep])
                stack.append(node.branch(-group, -total))
                stack.append(node.branch(group, total + 1))
        if group is None and not relaxed.is_proved_above(self.ceiling, self.steps):
            self.is_stuck = True
        return relaxed.work

    def _tighten(self, work: int) -> int:
        """Add rounding cuts to the root, then drop the patterns that no plan below the ceiling can hold."""
        spent = 0
        for _ in range(CUT_ROUNDS):
            relaxed = Relaxed(self.columns, self.root.rows, self.root.basis, self.ceiling)
            spent += relaxed.work
            if relaxed.is_cut_off:
                return spent
            cuts, right = relaxed.cuts()
            rows, basis = relaxed.binding(self.base)
            surplus = range(len(self.patterns) + len(rows), len(self.patterns) + len(rows) + len(right))
            rows = Rows(np.vstack([rows.matrix, cuts]), np.concatenate([rows.right, right]))
            self.root = _Node(rows, (*basis, *surplus), self.root.kept)
            keep = self._in_doubt(self.root, relaxed)
            if keep is not None:
                self._drop(keep)
            if not len(right) or spent > work:
                break
        return spent

    def _in_doubt(self, node: _Node, relaxed: Relaxed) -> NDArray[np.bool_] | None:
        """Return which patterns would not lift every plan to the ceiling, with those of the basis; None for most."""
        if relaxed.in_doubt() > MOST_KEPT * len(node.kept):
            return None
        scale, total, above = relaxed.proof()
        keep: NDArray[np.bool_] = above <= (self.ceiling - 1) * scale - total
        keep[[b for b in node.basis if b < len(keep)]] = True
        return keep

    def _drop(self, keep: NDArray[np.bool_]) -> None:
        """Leave patterns out for good."""
        root = self.root.part(keep)
        self.patterns = [self.patterns[p] for p in root.kept]
        self.root = _Node(root.rows, root.basis, np.arange(len(self.patterns)))
        self._set_columns(root.rows.matrix)

    def _groups(self) -> Ints:
        """Return 0/1 rows over the patterns: those of each stock, then those with each item at least k times."""
        rows = [self.stocks == j for j in range(len(self.problem.prices))]
        for row in self.items:
            rows.extend(row >= k for k in range(1, int(row.max(initial=0)) + 1))
        return np.array(rows, dtype=np.int64)

    def _fraction(self, x: Floats, kept: NDArray[np.intp]) -> tuple[Ints | None, int]:
        """Return a group of the patterns ``kept`` whose number is far from whole, and that number rounded down.

        A plan in whole numbers has none; it is taken here when it is cheaper.
        """
        support, groups = np.flatnonzero(x > WHOLE), self.groups
        apart = np.abs(x[support] - np.rint(x[support]))
        if apart.max(initial=0.0) <= WHOLE:
            self._take(x, kept)
            return None, 0
        totals = groups[:, kept[support]] @ x[support]
        off = np.abs(totals - np.rint(totals))
        stocks = len(self.problem.prices)
        group: Ints | None = None
        for first, last in ((0, stocks), (stocks, len(off))):
            if group is None and off[first:last].max(initial=0.0) > APART:
                group = groups[first + int(off[first:last].argmax())][kept]
        if group is None:
            group = self._pair(x, support, kept)
        if group is None:
            group = np.zeros(len(x), dtype=np.int64)
            group[support[int(apart.argmax())]] = 1
        return group, int(np.floor(float(group @ x)))

    def _pair(self, x: Floats, support: NDArray[np.intp], kept: NDArray[np.intp]) -> Ints | None:
        """Return the patterns that hold the two items whose common number is farthest from whole."""
        has = self.items[:, kept] > 0
        part = has[:, support].astype(np.float64)
        totals = (part * x[support]) @ part.T
        off = np.abs(totals - np.rint(totals))
        if off.max(initial=0.0) <= APART:
            return None
        one, two = divmod(int(off.argmax()), off.shape[1])
        both: Ints = (has[one] & has[two]).astype(np.int64)
        return both

    def _take(self, x: Floats, kept: NDArray[np.intp]) -> None:
        """Keep a whole-number plan when it cuts everything from what there is and costs less than the ceiling."""
        used = np.flatnonzero(x > 0.5)
        cut = [self.patterns[p] for p in kept[used]]
        uses: list[Use] = [(j, int(np.rint(n)), counts) for (j, counts), n in zip(cut, x[used], strict=True)]
        if self.caps is not None:
            other, most = self.caps
            if other.cost(uses) > most:
                return
        if self.problem.cost(uses) < self.ceiling and is_plan(self.problem, uses):
            self.found = uses
            self.ceiling = self.steps.down(self.problem.cost(uses) - 1) + 1


def is_plan(problem: Problem, uses: list[Use]) -> bool:
    """Return whether sticks cut everything that is wanted, with no more of any stock than there is."""
    used = [0] * len(problem.prices)
    for stock, times, _ in uses:
        used[problem.supply[stock]] += times
    if any(limit is not None and n > limit for n, limit in zip(used, problem.limits, strict=True)):
        return False
    return not any(Left.of(problem).less(uses).demands)
