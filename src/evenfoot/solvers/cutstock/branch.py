"""Branch and bound over listed patterns: the cheapest plan, every branch that is given up proved in whole numbers."""

from __future__ import annotations

from dataclasses import dataclass, replace

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
SHRUNK = 0.5
"""Rounding cuts are made anew in a branch that has come down to this share of the patterns."""
TIGHTEN_WORK = 10_000
"""Most work on the cuts of one branch."""
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
    cut_at: int
    """How many patterns there were when rounding cuts were last made."""
    last: tuple[Ints, int] | None = None
    """A further row, put to the others when the branch is worked on."""

    def whole(self) -> _Node:
        """Return the branch with its further row among the others."""
        if self.last is None:
            return self
        row, right = self.last
        return replace(self, rows=self.rows.and_rows(row[None, :], np.array([right])), last=None)

    def part(self, keep: NDArray[np.bool_]) -> _Node:
        """Return the branch over some of its patterns, those of the basis among them."""
        place, shift = np.cumsum(keep) - 1, len(keep) - int(keep.sum())
        basis = tuple(int(place[b]) if b < len(keep) else b - shift for b in self.basis)
        return replace(self, rows=self.rows.over(np.flatnonzero(keep)), basis=basis, kept=self.kept[keep])

    def branch(self, row: Ints, right: int) -> _Node:
        """Return a branch with one more row, whose surplus enters the basis."""
        surplus = len(self.kept) + len(self.rows)
        return replace(self, basis=(*self.basis, surplus), last=(row, right))


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
        self.groups: NDArray[np.int8] = np.zeros((0, 0), dtype=np.int8)
        self.caps: tuple[Problem, int] | None = None
        self.found: list[Use] | None = None
        master = Master(problem)
        master.add(patterns)
        master.solve()
        self.patterns = master.patterns
        n = master.rows
        matrix = master.matrix[:, n : master.columns].copy()
        self.base = n
        self.root = _Node(
            rows=Rows.of(matrix, np.rint(master.right).astype(np.int64)),
            basis=tuple(b - n if b >= n else len(self.patterns) + b for b in master.basis),
            kept=np.arange(len(self.patterns)),
            cut_at=len(self.patterns),
        )
        self._set_columns(matrix)

    def cap(self, other: Problem, most: int) -> None:
        """Allow only plans that cost at most ``most`` in another problem, the same but for its prices."""
        self.caps = (other, most)
        row = -other.price_each(self.stocks, self.items.T)
        self.root = self.root.branch(row, -most).whole()
        self.base += 1

    def _set_columns(self, matrix: Floats) -> None:
        """Note what the patterns cost and hold."""
        items = matrix[: len(self.problem.sizes)].astype(np.int64)
        demands = np.array(self.problem.demands, dtype=np.int64)[:, None]
        self.items = items
        self.stocks = np.array([stock for stock, _ in self.patterns], dtype=np.int64)
        self.columns = Columns(
            costs=self.problem.price_each(self.stocks, items.T),
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

    @property
    def is_closed(self) -> bool:
        """Whether there is nothing more to be had: all branches are done, or one cannot be."""
        return self.is_complete or self.is_stuck

    def _step(self, node: _Node, stack: list[_Node]) -> int:
        """Close a branch, or put its two halves on the stack; return the work."""
        node, spent = node.whole(), 0
        if len(node.kept) <= SHRUNK * node.cut_at:
            node, spent = self._tightened(node, TIGHTEN_WORK)
        relaxed = self._relaxed(node, self.ceiling)
        if relaxed.is_cut_off and not relaxed.is_proved_above(self.ceiling, self.steps):
            # Just above the ceiling, and lost in rounding: let the prices rise on, or branch after all.
            spent += relaxed.work
            relaxed = self._relaxed(node, self.ceiling + 1)
        group = None
        if not relaxed.is_cut_off:
            group, total = self._fraction(relaxed.solution(), node.kept)
            if group is not None:
                node = replace(node, basis=tuple(relaxed.basis))
                keep = self._in_doubt(node, relaxed)
                node, group = (node, group) if keep is None else (node.part(keep), group[keep])
                stack.append(node.branch(-group, -total))
                stack.append(node.branch(group, total + 1))
        if group is None and not relaxed.is_proved_above(self.ceiling, self.steps):
            self.is_stuck = True
        return spent + relaxed.work

    def _relaxed(self, node: _Node, ceiling: int) -> Relaxed:
        return Relaxed(self.columns.part(node.kept), node.rows, node.basis, ceiling)

    def _tighten(self, work: int) -> int:
        """Add rounding cuts to the root; leave patterns out for good that no plan below the ceiling can hold."""
        root, spent = self._tightened(self.root, work)
        self.patterns = [self.patterns[p] for p in root.kept]
        self.root = replace(root, kept=np.arange(len(self.patterns)))
        self._set_columns(root.rows.matrix)
        return spent

    def _tightened(self, node: _Node, work: int) -> tuple[_Node, int]:
        """Return a branch with rounding cuts, without the patterns that no plan below the ceiling can hold; the work.

        Cuts made from the rows of a branch hold in that branch.
        """
        first, spent = len(node.rows), 0
        for _ in range(CUT_ROUNDS):
            relaxed = self._relaxed(node, self.ceiling)
            spent += relaxed.work
            if relaxed.is_cut_off:
                break
            cuts, right = relaxed.cuts()
            rows, basis = relaxed.binding(first)
            surplus = range(len(node.kept) + len(rows), len(node.kept) + len(rows) + len(right))
            node = replace(node, rows=rows.and_rows(cuts, right), basis=(*basis, *surplus))
            keep = self._in_doubt(node, relaxed)
            if keep is not None:
                node = node.part(keep)
            if not len(right) or spent > work:
                break
        return replace(node, cut_at=len(node.kept)), spent

    def _in_doubt(self, node: _Node, relaxed: Relaxed) -> NDArray[np.bool_] | None:
        """Return which patterns would not lift every plan to the ceiling, with those of the basis; None for most."""
        if relaxed.in_doubt() > MOST_KEPT * len(node.kept):
            return None
        scale, total, above = relaxed.proof()
        keep: NDArray[np.bool_] = above <= (self.ceiling - 1) * scale - total
        keep[[b for b in node.basis if b < len(keep)]] = True
        return keep

    def _groups(self) -> NDArray[np.int8]:
        """Return 0/1 rows over the patterns: those of each stock, then those with each item at least k times."""
        rows = [self.stocks == j for j in range(len(self.problem.prices))]
        for row in self.items:
            rows.extend(row >= k for k in range(1, int(row.max(initial=0)) + 1))
        return np.array(rows, dtype=np.int8)

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
                group = groups[first + int(off[first:last].argmax())][kept].astype(np.int64)
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
