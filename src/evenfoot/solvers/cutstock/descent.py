"""A plan over listed patterns: one pattern after the other is kept in the fractional plan, time and again otherwise."""

from __future__ import annotations

from dataclasses import dataclass, replace
from random import Random

import numpy as np
from numpy.typing import NDArray

from evenfoot.solvers.cutstock.bound import Steps
from evenfoot.solvers.cutstock.branch import Branching, is_plan
from evenfoot.solvers.cutstock.dive import residual, widen
from evenfoot.solvers.cutstock.greedy import Left, Use
from evenfoot.solvers.cutstock.model import Counts
from evenfoot.solvers.cutstock.relaxed import NEAR, Columns, Floats, Ints, Relaxed, Rows

LAST_PIECES = 75
"""From this many pieces on, what is left is branched over."""
LAST_WORK = 20_000
"""Most work on what is left."""
STEP_WORK, END_WORK, QUICK_PART = 1_000, 10_000, 5_000
"""Work that a step and an ending cost at least; multiplications of an inverse that take the time of a thousand."""
SHARPNESS = 3
"""Power of a pattern's fraction in the odds that it is the one kept."""
WHOLE = 1e-6
WORTH_LESS = 0.9
"""Patterns are left out when no more than this share of them stays."""


@dataclass(frozen=True, slots=True, eq=False)
class _State:
    """What is kept so far, and what is left: its rows over the patterns ``kept`` that may still be of use."""

    rows: Rows
    columns: Columns
    basis: tuple[int, ...]
    kept: NDArray[np.intp]
    money: int
    """What the rest of the plan may cost."""
    uses: tuple[tuple[int, int], ...]
    """Pattern and times."""


class Descent:
    """Looks for a plan below the ceiling of a branching that has not begun, over its patterns; it proves nothing.

    The dual simplex method goes on from the last basis when what is kept is taken off what is wanted, so a step costs
    a few pivots. Patterns count only for what is still wanted, and are left out when that makes them too dear. The
    first descent keeps the pattern used most, the others choose by odds, so that they end elsewhere.
    """

    def __init__(self, branching: Branching, chance: Random) -> None:
        """Take the fractional plan of a branching as the top of every descent."""
        self.problem, self.patterns, self.chance = branching.problem, branching.patterns, chance
        root = branching.root
        self.top = _State(root.rows, branching.columns, root.basis, root.kept, branching.ceiling - 1, ())
        self.spent = 0
        self.first: Relaxed | None = None

    def run(self, work: int) -> list[Use] | None:
        """Return a plan, or None when none was found before ``work`` more was spent."""
        end = self.spent + work
        while self.spent <= end:
            found = self._once(is_greedy=self.first is None)
            if found is not None or self._is_hopeless:
                return found
        return None

    @property
    def _is_hopeless(self) -> bool:
        return self.first is not None and self.first.is_cut_off

    def _once(self, *, is_greedy: bool) -> list[Use] | None:
        """Go down once; when that ends in nothing, branch from where few pieces were left."""
        state, last = self.top, None
        self.spent += STEP_WORK
        while True:
            relaxed = self._relaxed(state)
            if relaxed.is_cut_off:
                return None if last is None else self._ending(last)
            state, is_whole = self._step(state, relaxed, is_greedy=is_greedy)
            if is_whole:
                return self._checked(self._plan(state))
            if last is None and state.money >= 0 and 0 < int(self._wanted(state.rows).sum()) <= LAST_PIECES:
                last = state

    def _relaxed(self, state: _State) -> Relaxed:
        if state is self.top and self.first is not None:
            return self.first
        relaxed = Relaxed(state.columns, state.rows, state.basis, state.money + 1)
        self.spent += STEP_WORK + relaxed.work + len(state.rows) ** 3 // QUICK_PART
        if state is self.top:
            self.first = relaxed
        return relaxed

    def _step(self, state: _State, relaxed: Relaxed, *, is_greedy: bool) -> tuple[_State, bool]:
        """Keep what is used whole times and one pattern more; return what is left, and whether all was whole."""
        x = relaxed.solution()
        times = np.floor(x + WHOLE)
        rest = x - times
        able = np.flatnonzero(rest > WHOLE)
        if len(able):
            odds = rest[able] ** SHARPNESS
            one = int(odds.argmax()) if is_greedy else self.chance.choices(range(len(able)), odds.tolist())[0]
            times[able[one]] += 1
        used = np.flatnonzero(times)
        whole = times[used].astype(np.int64)
        right = state.rows.right - (state.rows.matrix[:, used] @ whole).astype(np.int64)
        width = len(self.problem.sizes)
        right[:width] = np.maximum(right[:width], 0)
        after = replace(
            state,
            rows=Rows(state.rows.matrix, right, state.rows.weights),
            basis=tuple(relaxed.basis),
            money=state.money - int(state.columns.costs[used] @ whole),
            uses=(*state.uses, *((int(state.kept[p]), int(n)) for p, n in zip(used, whole, strict=True))),
        )
        return (self._lessened(after, relaxed.duals) if len(able) else after), not len(able)

    def _wanted(self, rows: Rows) -> Ints:
        wanted: Ints = rows.right[: len(self.problem.sizes)]
        return wanted

    def _lessened(self, state: _State, duals: Floats) -> _State:
        """Return the state with no pattern holding more than is wanted, those that are then too dear left out."""
        width, basic = len(self.problem.sizes), [b for b in state.basis if b < len(state.kept)]
        matrix = state.rows.matrix.copy()
        matrix[:width] = np.minimum(matrix[:width], self._wanted(state.rows)[:, None])
        matrix[:, basic] = state.rows.matrix[:, basic]
        gap = state.money - float(duals @ state.rows.right)
        keep = state.columns.costs - duals @ matrix <= gap + NEAR
        keep[basic] = True
        if keep.mean() > WORTH_LESS:
            return replace(state, rows=Rows(matrix, state.rows.right, state.rows.weights))
        chosen, shift = np.flatnonzero(keep), len(keep) - int(keep.sum())
        place = np.cumsum(keep) - 1
        return replace(
            state,
            rows=Rows(matrix[:, chosen], state.rows.right, state.rows.weights[chosen]),
            columns=state.columns.part(chosen),
            basis=tuple(int(place[b]) if b < len(keep) else b - shift for b in state.basis),
            kept=state.kept[chosen],
        )

    def _plan(self, state: _State) -> list[Use]:
        return [(self.patterns[p][0], n, self.patterns[p][1]) for p, n in state.uses]

    def _ending(self, state: _State) -> list[Use] | None:
        """Return what was kept with the best of the patterns for what is left; None where there is none."""
        done = self._plan(state)
        limits = self.problem.limits
        used = [sum(n for j, n, _ in done if self.problem.supply[j] == k) for k in range(len(limits))]
        if any(limit is not None and n > limit for n, limit in zip(used, limits, strict=True)):
            return None
        smaller, items = residual(self.problem, Left.of(self.problem).less(done))
        branching = Branching(smaller, self._narrowed(state, items), state.money + 1, Steps(smaller, state.money + 1))
        self.spent += END_WORK + branching.run(LAST_WORK)
        if branching.found is None:
            return None
        return self._checked([*done, *widen(branching.found, items, len(self.problem.sizes))])

    def _narrowed(self, state: _State, items: list[int]) -> list[tuple[int, Counts]]:
        """Return the patterns that may still be of use, cut down to what is left."""
        wanted = self._wanted(state.rows)[items]
        counts = np.array([self.patterns[p][1] for p in state.kept], dtype=np.int64)[:, items]
        rows = np.minimum(counts, wanted).tolist()
        narrow = [(self.patterns[p][0], tuple(row)) for p, row in zip(state.kept.tolist(), rows, strict=True)]
        return [pattern for pattern in dict.fromkeys(narrow) if any(pattern[1])]

    def _checked(self, uses: list[Use]) -> list[Use] | None:
        is_cheap = self.problem.cost(uses) <= self.top.money
        return uses if is_cheap and is_plan(self.problem, uses) else None
